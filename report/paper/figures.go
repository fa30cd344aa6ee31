package paper

import (
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/floats"

	"drystalk/report/table"
	"drystalk/tongue"
)

// How a table of a paper comes out, in mm, and in em: how many times as wide as its letters are high.
const (
	tableHigh, tableRoom = 4.66, 1.1
	aroundTable          = 3.0
	aroundCellEm         = 8. / 11
	leastNameEm          = 32. / emMM
	emMM                 = 11 * 25.4 / 72
	lineEm               = 178. / emMM
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
		if sum(columns(t, kept)) <= lineEm {
			return kept
		}
	}
	return broken
}

// sum adds up how wide columns are with the room around their cells.
func sum(widths []float64) float64 {
	return floats.Sum(widths) + aroundCellEm*float64(len(widths))
}

// wide is how wide a text is in a wide font, DejaVu Sans, in em: figures are wider than sentences of as
// many letters.
func wide(text string) float64 {
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
	return em
}

// linesIn is in how many lines a text comes out that is broken between words and has so much room.
func linesIn(text string, roomEm float64) float64 {
	lines, used := 1., 0.
	for _, word := range tongue.Words(text) {
		em := wide(word)
		if used > 0 && used+wide(" ")+em > roomEm {
			lines, used = lines+1, 0
		}
		if used > 0 {
			used += wide(" ")
		}
		used += em
	}
	return lines
}

// columns returns how wide the columns of a table are at least, in em: names and heads are broken between
// words, figures as kept leaves it.
func columns(t table.Table, kept func(string) string) []float64 {
	out := make([]float64, len(t.Head))
	for i, h := range t.Head {
		texts := []string{h}
		for _, r := range t.Rows {
			if i < t.Left {
				texts = append(texts, r[i].Text)
			} else {
				texts = append(texts, kept(r[i].Text))
			}
		}
		for _, text := range texts {
			for _, word := range tongue.Words(text) {
				out[i] = max(out[i], wide(word))
			}
		}
	}
	if named(t) {
		out[0] = max(out[0], leastNameEm)
	}
	return out
}

// tableMM is how high the table is. Where not all fits on lines of its own, names have the room that
// figures leave, which a browser sets as narrow as they can be.
func (b Brief) tableMM() float64 {
	t := b.Table
	kept := figure(t)
	widths := columns(t, kept)
	spare := max(0, lineEm-sum(widths)) / float64(max(1, t.Left))
	for i := range t.Left {
		widths[i] += spare
	}
	heads := 1.
	for i, h := range t.Head {
		heads = max(heads, linesIn(h, widths[i]))
	}
	mm := aroundTable + linesOf(t.Title, lineLetters-8)*lineHigh + heads*tableHigh + tableRoom
	for _, r := range t.Rows {
		lines := 1.
		for i := range r {
			text := r[i].Text
			if i >= t.Left {
				text = kept(text)
			}
			lines = max(lines, linesIn(text, widths[i]))
		}
		mm += lines*tableHigh + tableRoom
	}
	return mm
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
