package notebook

import (
	"errors"
	"fmt"
	"regexp"
	"time"

	"guardband/units"
)

// Date is a calendar day of the Gregorian calendar, written as ISO 8601 writes
// it: 2026-11-02. The zero Date is none.
type Date struct{ text string }

var (
	// ErrDateForm is of a text that is not written as a date.
	ErrDateForm = errors.New("not written as a date")
	// ErrNoSuchDay is of a text that is, and names no day of the calendar.
	ErrNoSuchDay = errors.New("not a date")
)

// ParseDate reads a date. The error is or wraps ErrDateForm or ErrNoSuchDay.
func ParseDate(s string) (Date, error) {
	if !dateForm.MatchString(s) {
		return Date{}, ErrDateForm
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() == 0 {
		return Date{}, fmt.Errorf("%w as %s", ErrNoSuchDay, s)
	}
	return Date{s}, nil
}

var dateForm = regexp.MustCompile(`^\d{4}-\d\d-\d\d$`)

// After says that d comes after another day.
func (d Date) After(o Date) bool { return d.text > o.text }

// Days is the number of days from o to d.
func (d Date) Days(o Date) int { return int(d.time().Sub(o.time()).Hours() / 24) }

func (d Date) time() time.Time {
	t, _ := time.Parse(time.DateOnly, d.text)
	return t
}

// IsZero says that no day is meant.
func (d Date) IsZero() bool { return d.text == "" }

func (d Date) String() string { return d.text }

// dateRule says what dates a label holds.
type dateRule uint8

const (
	noDates   dateRule = iota
	someDates          // among other words
	oneDate            // and nothing else
)

// checkDates complains of days that the calendar does not have, and of a value
// that should be a day and is none.
func (r *reader) checkDates(t Text, rule dateRule) {
	if rule == noDates || t.Empty() {
		return
	}
	if _, err := ParseDate(t.S); rule == oneDate && errors.Is(err, ErrDateForm) {
		r.errorAt("date-form", t, 0, len(t.S), quote(units.Clip(t.S))+" is not a date", "write the year, the month and the day: 2026-11-02")
		return
	}
	const width = len(time.DateOnly)
	for i := 0; i+width <= len(t.S); i++ {
		if i > 0 && dateByte(t.S[i-1]) || i+width < len(t.S) && dateByte(t.S[i+width]) {
			continue
		}
		if _, err := ParseDate(t.S[i : i+width]); errors.Is(err, ErrNoSuchDay) {
			r.errorAt("date-impossible", t, i, i+width, "not a date: "+t.S[i:i+width], dateHint(t.S[i:i+width]))
		}
	}
}

// dateByte says that a byte would make more of a date than a date.
func dateByte(b byte) bool {
	return b >= '0' && b <= '9' || b == '-' || b == '_' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z'
}

// dateHint names the last day of the month, or the form.
func dateHint(s string) string {
	t, err := time.Parse("2006-01", s[:7])
	if err != nil || t.Year() == 0 {
		return "the year, then the month from 01 to 12, then the day"
	}
	return fmt.Sprintf("the last day of %s is %s", t.Format("January 2006"), t.AddDate(0, 1, -1).Format(time.DateOnly))
}
