package words

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"drystalk/tongue"
)

// Note is a row of the table beside an answer: what it is about, and what is to be said of it.
type Note struct {
	About string `json:"about"`
	Says  string `json:"says"`
}

// note joins the sentences of a row; without any there is no row.
func note(about string, sentences ...string) []Note {
	var parts []string
	for _, s := range sentences {
		if s != "" {
			parts = append(parts, s)
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []Note{{about, strings.Join(parts, " ")}}
}

// notes joins rows.
func notes(rows ...[]Note) []Note {
	var out []Note
	for _, r := range rows {
		out = append(out, r...)
	}
	return out
}

// What a paragraph for a decision may hold at most.
const (
	MostWords   = 94
	MostNumbers = 12
)

// figures are the numbers of a text: digits with what groups and parts them.
var figures = regexp.MustCompile(`[0-9]+(?:[.,'\x{2019}\x{a0}][0-9]+)*`)

// Count returns how many words and how many numbers a text has. A number is a word too; signs
// alone, such as %, are none.
func Count(text string) (words, numbers int) {
	isWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for _, w := range tongue.Words(text) {
		if strings.ContainsFunc(w, isWord) {
			words++
		}
	}
	return words, len(figures.FindAllString(text, -1))
}

// Paragraph puts together what is said first and last whatever else there is to say, and between
// them, from the most telling downward, the sentences that there is room for. What finds none
// stands in the table beside the answer. A sentence that says what one of the last says, and goes on,
// takes its place: nothing is said twice.
func Paragraph(first, may, last []string) []string {
	room, numbers := MostWords, MostNumbers
	// fits tells whether there is room for a sentence in the place of another, and takes it where there is.
	fits := func(s, instead string) bool {
		w, n := Count(s)
		had, numbered := Count(instead)
		if w-had > room || n-numbered > numbers {
			return false
		}
		room, numbers = room-(w-had), numbers-(n-numbered)
		return true
	}
	always := func(list []string) (out []string) {
		for _, s := range list {
			if s != "" {
				w, n := Count(s)
				room, numbers = room-w, numbers-n
				out = append(out, s)
			}
		}
		return out
	}
	out, after := always(first), always(last)
	for _, s := range may {
		at := slices.IndexFunc(after, func(said string) bool { return strings.HasPrefix(s, strings.TrimSuffix(said, ".")) })
		switch {
		case at >= 0 && fits(s, after[at]):
			after[at] = s
		case at < 0 && s != "" && fits(s, ""):
			out = append(out, s)
		}
	}
	return append(out, after...)
}
