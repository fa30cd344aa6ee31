package paper

import (
	"bytes"
	_ "embed" // the paper
	"fmt"
	"html/template"
	"strings"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/tongue"
)

//go:embed brief.gohtml
var briefText string

// briefPage is the parsed paper; it is part of the program, so a fault in it is a bug.
var briefPage = template.Must(template.New("brief").Funcs(said).Funcs(template.FuncMap{"pieces": pieces, "bound": bound, "short": short}).Parse(briefText))

// pieces parts a command line before its options: nothing else of it is broken where there is room.
func pieces(line string) []string {
	parts := strings.Split(line, " --")
	for k := range parts[1:] {
		parts[k+1] = "--" + parts[k+1]
	}
	return parts
}

// bound keeps a number and its per cent on one line.
func bound(text string) string { return strings.ReplaceAll(text, " %", "\u00a0%") }

// Brief is a paper of two pages that reads as one whole, from top to bottom.
type Brief struct {
	Region   string
	Date     string
	Question string
	About    []string // what the region does and what is asked of it, in paragraphs
	Sentence string   // the answer in one sentence
	Answer   []string // what follows it, in paragraphs
	Warnings []string
	Chart    chart.Chart
	Reading  string // how to read the chart
	Table    table.Table
	Passages []Passage
	Made     string   // how the answer was made
	Lines    []string // the command line that gives the same numbers, and what it needs
}

// Headings that every paper has.
const (
	TheAnswer tongue.Text = "The answer"
	HowMade   tongue.Text = "How this paper was made"
)

// ThisLine leads to the command line; InTheAnnex says where it stands if it is too long for the paper.
const (
	ThisLine   tongue.Text = "This line gives the same numbers:"
	InTheAnnex tongue.Text = "The annex ends with the line that gives the same numbers."
)

// Passage is a heading with what stands under it.
type Passage struct {
	Title string
	Says  []string // its paragraphs
}

// HTML returns the paper as one self-contained file. It fails only if its chart cannot be drawn.
func (b Brief) HTML() ([]byte, error) {
	set := b.laidOut()
	svg, title, upright, err := b.Chart.ForPaper(set.ChartMM)
	if err != nil {
		return nil, err
	}
	last := ThisLine.String()
	if set.Annexed {
		last, b.Lines = InTheAnnex.String(), nil
	}
	var out bytes.Buffer
	err = briefPage.Execute(&out, struct {
		Brief
		Drawn             drawing
		Title, Upright    string
		Answered, HowMade string
		Tight, Named      bool
		Last              string
		Ahead, Then       []Passage
		Figure            func(string) string
	}{b, drawing{SVG: template.HTML(withoutProlog(svg)), Alt: b.Chart.Alt}, title, upright, TheAnswer.String(), HowMade.String(), set.Tight, named(b.Table), last, b.Passages[:set.Ahead], b.Passages[set.Ahead:], figure(b.Table)})
	if err != nil {
		return nil, fmt.Errorf("brief: %w", err)
	}
	return out.Bytes(), nil
}
