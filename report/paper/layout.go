package paper

import (
	"slices"
	"unicode/utf8"

	"drystalk/report/table"
	"drystalk/tongue"
)

// A paper has two pages of A4 whatever its answer says. How high its parts come out is reckoned with a
// wide font, since a browser may not have the one that is named, and the chart is drawn as high as
// they leave room for: so that the table stands on the first page too, if that can be.
// All sizes are those of brief.gohtml, in mm; letters are those of a line.
const (
	pageHigh    = 265. // between the margins, less a little
	lineHigh    = 5.12
	lineLetters = 88

	titleHigh, titleLetters       = 6.35, 56
	answerHigh, answerLetters     = 5.82, 69
	tableHigh, tableRoom          = 4.66, 1.1
	codeLetters                   = 73
	headHigh                      = 6.8 // a heading with its room beyond that of a paragraph
	underParagraph, underTop      = 1.41, 8.1
	aroundAnswer, aroundFigure    = 4.3, 11.2
	aroundTable, aroundWarning    = 3.0, 2.5
	tightened                     = 0.93 // what of its height a line has where a paper is set tight
	mostChartHigh, leastChartHigh = 73., 61.
	chartStep                     = 2.
)

// layout is how a paper is set.
type layout struct {
	ChartMM float64 // how high its chart is
	Tight   bool    // lines close to each other
	Annexed bool    // the command line stands in the annex alone
}

// laidOut returns how a paper fits on two pages.
func (b Brief) laidOut() layout {
	for _, l := range []layout{{}, {Tight: true}, {Annexed: true}, {Tight: true, Annexed: true}} {
		high := 1.
		if l.Tight {
			high = tightened
		}
		before, beside, after := b.aboveChart()*high, b.tableMM()*high, b.underTable(l.Annexed)*high
		for _, together := range []float64{beside, 0} { // the table on the first page, or on the second
			for mm := mostChartHigh; mm >= leastChartHigh; mm -= chartStep {
				first := before + aroundFigure + linesOf(b.Reading, lineLetters)*lineHigh*high + mm
				if first+together <= pageHigh && beside-together+after <= pageHigh {
					l.ChartMM = mm
					return l
				}
			}
		}
	}
	return layout{leastChartHigh, true, true}
}

// aboveChart is how high is what stands above the chart.
func (b Brief) aboveChart() float64 {
	mm := underTop + linesOf(b.Question, titleLetters)*titleHigh + underParagraph + headHigh
	mm += linesOf(b.Sentence, answerLetters)*answerHigh + aroundAnswer
	for _, p := range slices.Concat(b.About, b.Answer) {
		mm += paragraphMM(p)
	}
	for _, w := range b.Warnings {
		mm += paragraphMM(w) + aroundWarning
	}
	return mm
}

// underTable is how high is what stands under the table.
func (b Brief) underTable(annexed bool) float64 {
	mm := 0.
	for _, p := range b.Passages {
		mm += headHigh
		for _, says := range p.Says {
			mm += paragraphMM(says)
		}
	}
	mm += headHigh + paragraphMM(b.Made+" "+ThisLine.String())
	if annexed {
		return mm
	}
	for _, l := range b.Lines {
		mm += linesOf(l, codeLetters)*lineHigh + underParagraph
	}
	return mm
}

// valueLetters are so many letters that a figure with its interval may have before a browser sets it in
// two lines, to give the names of the rows more room.
const valueLetters = 22

// tableMM is how high the table is.
func (b Brief) tableMM() float64 {
	t := b.Table
	widths, heads := make([]int, len(t.Head)), 1.
	for i, h := range t.Head {
		for _, word := range tongue.Words(h) {
			widths[i] = max(widths[i], utf8.RuneCountInString(word))
		}
		for _, r := range t.Rows {
			if i >= t.Left {
				widths[i] = max(widths[i], utf8.RuneCountInString(r[i].Text))
			}
		}
	}
	left := lineLetters - 2*len(widths)
	for _, w := range widths[t.Left:] {
		left -= w
	}
	for i := range t.Left {
		widths[i] = max(widths[i], left/t.Left)
	}
	for i, h := range t.Head {
		heads = max(heads, linesOf(h, widths[i]))
	}
	mm := aroundTable + linesOf(t.Title, lineLetters-8)*lineHigh + heads*tableHigh + tableRoom
	for _, r := range t.Rows {
		lines := 1.
		for i := range r {
			if i < t.Left {
				lines = max(lines, linesOf(r[i].Text, widths[i]))
			} else {
				lines = max(lines, linesOf(r[i].Text, valueLetters))
			}
		}
		mm += lines*tableHigh + tableRoom
	}
	return mm
}

// paragraphMM is how high a paragraph is.
func paragraphMM(text string) float64 {
	return linesOf(text, lineLetters)*lineHigh + underParagraph
}

// linesOf is in how many lines of so many letters a text comes out that is broken between words.
func linesOf(text string, letters int) float64 {
	lines, used := 1, 0
	for _, word := range tongue.Words(text) {
		n := utf8.RuneCountInString(word)
		if used > 0 && used+1+n > letters {
			lines, used = lines+1, 0
		}
		if used > 0 {
			used++
		}
		used += n
	}
	return float64(lines)
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
