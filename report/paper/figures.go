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
	out := widest(t, kept, tongue.Words)
	if named(t) {
		out[0] = max(out[0], leastNameEm)
	}
	return out
}

// widest returns how wide the widest part of each column of a table is, in em, where parts takes a text
// apart.
func widest(t table.Table, kept func(string) string, parts func(string) []string) []float64 {
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
			for _, part := range parts(text) {
				out[i] = max(out[i], wide(part))
			}
		}
	}
	return out
}

// set returns how wide a browser sets the columns: what room is left goes to those that want more than
// the least, by how much more they want.
func set(t table.Table, kept func(string) string) []float64 {
	least := columns(t, kept)
	want := widest(t, kept, func(text string) []string { return []string{text} })
	more := 0.
	for i := range want {
		want[i] = max(0, want[i]-least[i])
		more += want[i]
	}
	if spare := lineEm - sum(least); spare > 0 && more > 0 {
		floats.AddScaled(least, min(1, spare/more), want)
	}
	return least
}

// tableMM is how high the table is.
func (b Brief) tableMM() float64 {
	t := b.Table
	kept := figure(t)
	widths := set(t, kept)
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
