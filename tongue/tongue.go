// Package tongue is where every text that a user reads goes through. English in the code is the
// key: Say, Sayf and their like return it as it stands, or its translation in the language in use.
// english.yaml lists all texts of the program; a language is one file of the same form.
//
// A text is a constant: a literal handed to Say, Sayf, Plainf, Errorf, Fprintf or Several, or a constant of
// type Text, such as the values of a table of words, which is said where it is used, since tables
// are made before the language is known. A function that hands its own format on to one of these
// may be given texts as they are. Keys, names of files, units, heads of CSV and values of a format
// are the same in every language and never go through here.
package tongue

import (
	"fmt"
	"io"
	"slices"
	"sync/atomic"
	"time"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
)

// Text is an English text that is said where it is used: it formats as what it is in the language
// in use.
type Text string

// String says the text.
func (t Text) String() string { return Say(t) }

// Fault is an error whose text is said where it is shown, for errors that are compared.
type Fault Text

// Error says the fault.
func (f Fault) Error() string { return Say(Text(f)) }

// inUse is the language in use; nil: English.
var inUse atomic.Pointer[Language]

// Use makes a language the one in use; nil is English. It is called once, before anything is said.
func Use(l *Language) { inUse.Store(l) }

// Tag returns the tag of the language in use, as pages state it: "en".
func Tag() string {
	if l := inUse.Load(); l != nil {
		return l.tag.String()
	}
	return language.English.String()
}

// Say returns a text in the language in use, and in English where that language has none.
func Say(t Text) string {
	if l := inUse.Load(); l != nil {
		return l.said(string(t))
	}
	return string(t)
}

// Sayf formats as fmt.Sprintf does, by the format in the language in use.
func Sayf(format string, args ...any) string {
	l := inUse.Load()
	if l == nil {
		return fmt.Sprintf(format, marked(args)...)
	}
	return fmt.Sprintf(l.said(format), named(l, marked(args))...)
}

// Plainf formats as Sayf does, with numbers as files and flags take them, whatever marks are in use:
// for what is wrong with a file, what is allowed in it, and what stands in it.
func Plainf(format string, args ...any) string {
	l := inUse.Load()
	if l == nil {
		return fmt.Sprintf(format, args...)
	}
	return fmt.Sprintf(l.said(format), named(l, args)...)
}

// Errorf makes an error as fmt.Errorf does, by the format in the language in use.
func Errorf(format string, args ...any) error {
	l := inUse.Load()
	if l == nil {
		return fmt.Errorf(format, args...)
	}
	return fmt.Errorf(l.said(format), named(l, args)...)
}

// Fprintf writes as fmt.Fprintf does, by the format in the language in use.
func Fprintf(w io.Writer, format string, args ...any) (int, error) {
	l := inUse.Load()
	if l == nil {
		return fmt.Fprintf(w, format, marked(args)...)
	}
	return fmt.Fprintf(w, l.said(format), named(l, marked(args))...)
}

// Several says a number of things: one where there is a single one, else many, a format that takes
// what follows. A language has as many forms as its rules of plural tell apart.
func Several(n int, one, many string, args ...any) string {
	l := inUse.Load()
	switch {
	case l != nil:
		return l.several(n, one, many, marked(args))
	case n == 1:
		many = one
	}
	return fmt.Sprintf(many, used(many, marked(args))...)
}

// Month says the name of a month that an answer holds in English.
func Month(english string) string { return Say(Text(english)) }

// Months are the names of the months, January first.
var Months = [12]Text{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// Weekdays are the names of the days of the week, Sunday first.
var Weekdays = [7]Text{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}

// named says the names of months and days of the week among arguments, which answers hold in English.
func named(l *Language, args []any) []any {
	out := append([]any(nil), args...)
	for i, a := range out {
		switch m := a.(type) {
		case time.Month:
			out[i] = l.said(m.String())
		case time.Weekday:
			out[i] = Weekdays[m].String()
		case string:
			if slices.Contains(Months[:], Text(m)) {
				out[i] = l.said(m)
			}
		}
	}
	return out
}

// used returns the arguments that a format takes: a form for one may say none.
func used(format string, args []any) []any {
	if len(verbsOf(format)) == 0 {
		return nil
	}
	return args
}

// form returns which form of plural a number takes.
func form(tag language.Tag, n int) string {
	return forms[plural.Cardinal.MatchPlural(tag, max(n, -n), 0, 0, 0, 0)]
}

// forms are the names of the forms of plural in a file.
var forms = map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many", plural.Other: "other"}
