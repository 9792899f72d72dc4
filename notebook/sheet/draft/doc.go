// Package draft writes a part note of what was read of a data sheet: names and
// units are brought to those of the language, what cannot be an entry is kept as
// a remark, and what is doubtful is asked. It reads no document itself.
package draft
