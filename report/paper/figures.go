package paper

import (
	"math"
	"strings"
	"unicode/utf8"

	"drystalk/report/table"
	"drystalk/tongue"
)

// How a table of a paper comes out, in mm and letters.
const (
	tableHigh, tableRoom = 4.66, 1.1
	aroundTable          = 3.0
	betweenColumns       = 2
	leastNameLetters     = 16 // the least room of the names of rows
)

// unbroken keeps all of a figure on one line.
func unbroken(figure string) string { return strings.ReplaceAll(figure, " ", "\u00a0") }

// whole keeps the words of a figure and its interval on one line; what follows the interval may stand
// under it.
func whole(figure string) string { return strings.ReplaceAll(unbroken(figure), "),\u00a0", "), ") }

// broken is whole, but that the interval may stand under the figure: a table that is wider than the
// paper would make a browser print the whole paper smaller.
func broken(figure string) string { return strings.ReplaceAll(whole(figure), "\u00a0(", " (") }

// figure returns how the figures of a table are kept on lines: with all that stands beside them, or with
// their intervals, or alone, whichever the paper is wide enough for.
func figure(t table.Table) func(string) string {
	for _, kept := range []func(string) string{unbroken, whole} {
		sum := 0
		for i, w := range columns(t, kept) {
			if i < t.Left {
				w = max(w, leastNameLetters)
			}
			sum += w + betweenColumns
		}
		if sum <= lineLetters {
			return kept
		}
	}
	return broken
}

// lineEm is how many times as wide as its letters are high a line of a paper is.
const lineEm = 178 / (11 * 25.4 / 72)

// wide is how many letters of a line are as wide as a text in a wide font: figures are wider than sentences
// of as many letters. The widths are those of DejaVu Sans.
func wide(text string) int {
	em := 0.
	for _, letter := range text {
		switch {
		case strings.ContainsRune(" \u00a0.,", letter):
			em += 0.32
		case strings.ContainsRune("()-", letter):
			em += 0.39
		case letter == '+':
			em += 0.84
		case letter == '%':
			em += 0.95
		default:
			em += 0.63
		}
	}
	return int(math.Ceil(em * lineLetters / lineEm))
}

// columns returns how wide the columns of a table are at least: names and heads are broken between words,
// figures as kept leaves it.
func columns(t table.Table, kept func(string) string) []int {
	out := make([]int, len(t.Head))
	put := func(i int, text string) {
		for _, piece := range tongue.Words(text) {
			out[i] = max(out[i], wide(piece))
		}
	}
	for i, h := range t.Head {
		put(i, h)
		for _, r := range t.Rows {
			if i < t.Left {
				put(i, r[i].Text)
			} else {
				put(i, kept(r[i].Text))
			}
		}
	}
	return out
}

// tableMM is how high the table is. Where not all fits on lines of its own, names have the room that
// figures leave, which a browser sets as narrow as they can be.
func (b Brief) tableMM() float64 {
	t := b.Table
	kept := figure(t)
	widths := columns(t, kept)
	oneLine, left := b.onOneLine(), lineLetters-betweenColumns*len(widths)
	for _, w := range widths[t.Left:] {
		left -= w
	}
	for i := range t.Left {
		widths[i] = max(widths[i], left/t.Left)
	}
	heads := 1.
	for i, h := range t.Head {
		heads = max(heads, linesOf(h, widths[i]))
	}
	mm := aroundTable + linesOf(t.Title, lineLetters-8)*lineHigh + heads*tableHigh + tableRoom
	for _, r := range t.Rows {
		lines := 1.
		for i := range r {
			if i < t.Left {
				lines = max(lines, linesOf(r[i].Text, widths[i]))
			} else if !oneLine {
				lines = max(lines, linesOf(kept(r[i].Text), widths[i]))
			}
		}
		mm += lines*tableHigh + tableRoom
	}
	return mm
}

// onOneLine tells whether each row fits on one line.
func (b Brief) onOneLine() bool {
	sum := 0
	for i, h := range b.Table.Head {
		most := 0
		for _, piece := range tongue.Words(h) {
			most = max(most, wide(piece))
		}
		for _, r := range b.Table.Rows {
			most = max(most, wide(r[i].Text))
		}
		sum += most + betweenColumns
	}
	return sum <= lineLetters
}

// namedLetters are so many letters that the names of rows want a column of their own width.
const namedLetters = 18

// named tells whether the rows of a table begin with names.
func named(t table.Table) bool {
	for _, r := range t.Rows {
		if len(r) > 0 && utf8.RuneCountInString(r[0].Text) > namedLetters {
			return true
		}
	}
	return false
}
