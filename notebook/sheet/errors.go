package sheet

import "errors"

// Errors of documents; test with errors.Is. A file that cannot be read gives
// the error of the operating system, wrapped.
var (
	ErrNotPDF    = errors.New("not a PDF document")
	ErrEncrypted = errors.New("the document is encrypted and needs a password")
	ErrDamaged   = errors.New("the document is damaged")
	ErrTooLarge  = errors.New("the document or page is too heavy")
	ErrTimeout   = errors.New("the page is too heavy: it takes too long to read")
	ErrNoPage    = errors.New("the document has no such page")
)
