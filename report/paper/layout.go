package paper

import (
	"slices"
	"unicode/utf8"

	"drystalk/tongue"
)

// A paper has two pages of A4 whatever its answer says. How high its parts come out is reckoned with a
// wide font, since a browser may not have the one that is named, and the chart is drawn as high as
// they leave room for: so that the table stands on the first page too, if that can be. Where it cannot,
// the passages that follow it come before it, so that the first page is full.
// All sizes are those of brief.gohtml, in mm; letters are those of a line.
const (
	pageHigh    = 265. // between the margins, less a little
	lineHigh    = 5.12
	lineLetters = 88

	titleHigh, titleLetters       = 6.35, 56
	answerHigh, answerLetters     = 5.82, 69
	codeLetters                   = 73
	headHigh                      = 6.8 // a heading with its room beyond that of a paragraph
	underParagraph, underTop      = 1.41, 8.1
	aroundAnswer, aroundFigure    = 4.3, 11.2
	aroundWarning                 = 2.5
	tightened                     = 0.93 // what of its height a line has where a paper is set tight
	mostChartHigh, leastChartHigh = 73., 61.
	chartStep                     = 2.
	mostFree                      = 18. // so much of the first page may stay empty before the next passage is tried
)

// layout is how a paper is set.
type layout struct {
	ChartMM float64 // how high its chart is
	Ahead   int     // so many passages stand before the table
	Tight   bool    // lines close to each other
	Annexed bool    // the command line stands in the annex alone
}

// laidOut returns how a paper fits on two pages.
func (b Brief) laidOut() layout {
	for _, l := range []layout{{}, {Tight: true}, {Annexed: true}, {Tight: true, Annexed: true}} {
		if set, fits := b.filled(l); fits {
			return set
		}
	}
	return layout{ChartMM: leastChartHigh, Tight: true, Annexed: true}
}

// filled returns the layout like l that leaves little of the first page empty: with the table under the
// chart, if that fits there, otherwise with as few passages before it as fill the page.
func (b Brief) filled(l layout) (best layout, fits bool) {
	least := pageHigh
	for l.Ahead = 0; l.Ahead <= len(b.Passages); l.Ahead++ {
		for l.ChartMM = mostChartHigh; l.ChartMM >= leastChartHigh; l.ChartMM -= chartStep {
			f := b.flows(l)
			if f.pages > 2 {
				continue
			}
			if free := f.free; free < least-1e-9 {
				best, least, fits = l, free, true
			}
			if l.Ahead == 0 && f.table == 1 || l.Ahead > 0 && f.free <= mostFree {
				return l, true
			}
		}
	}
	return best, fits
}

// flows returns how a paper fills its pages.
func (b Brief) flows(l layout) flow {
	f := flow{pages: 1, line: lineHigh}
	high := 1.
	if l.Tight {
		high = tightened
	}
	f.line *= high
	f.whole(b.aboveChart()*high + aroundFigure + linesOf(b.Reading, lineLetters)*f.line + l.ChartMM)
	for k, p := range b.Passages {
		if k == l.Ahead {
			f.put(b.tableMM() * high)
		}
		f.passage(p.Says)
	}
	if l.Ahead >= len(b.Passages) {
		f.put(b.tableMM() * high)
	}
	f.passage([]string{b.Made + " " + ThisLine.String()})
	if !l.Annexed {
		for _, line := range b.Lines {
			f.paragraph(0, linesOf(line, codeLetters))
		}
	}
	return f
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
