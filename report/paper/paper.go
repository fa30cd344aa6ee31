// Package paper lays a report out as one HTML page that needs nothing from elsewhere.
package paper

import (
	"bytes"
	_ "embed" // the page
	"fmt"
	"html/template"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/tongue"
)

//go:embed page.gohtml
var pageText string

// page is the parsed page; it is part of the program, so a fault in it is a bug.
var page = template.Must(template.New("page").Funcs(said).Parse(pageText))

// Page is what the HTML file says, from top to bottom.
type Page struct {
	Title     string
	Sentence  string // the answer in one sentence
	Words     string // the answer for a decision paper
	Warnings  []string
	Sections  []Section
	Weather   string // how the weather was made, and how that was proven
	Assumed   table.Table
	Cautions  []string
	Reproduce []string // commands that give the same numbers
}

// Section is a heading with charts and tables under it.
type Section struct {
	Title  string
	Charts []chart.Chart
	Tables []table.Table
}

// view is a Page with its charts drawn.
type view struct {
	Page
	Parts   []part
	Sorting template.JS
}

// part is a Section with its charts drawn.
type part struct {
	Title  string
	Charts []drawing
	Tables []table.Table
}

// drawing is a chart as it stands in the page.
type drawing struct {
	SVG  template.HTML
	Alt  string
	Tall bool
}

// lettersWide is how many letters of a table fit between the margins of A4.
const lettersWide = 104

// HTML returns the page as one self-contained file. It fails only if a chart cannot be
// drawn.
func (p Page) HTML() ([]byte, error) {
	v := view{Page: p, Sorting: Sorting()}
	v.Assumed = table.AssumptionsOnce(p.Assumed)
	for _, s := range p.Sections {
		drawn := part{Title: s.Title}
		for _, t := range s.Tables {
			drawn.Tables = append(drawn.Tables, t.Fitted(lettersWide)...)
		}
		for _, c := range s.Charts {
			svg, err := c.Encode("svg")
			if err != nil {
				return nil, err
			}
			// The drawing is our own; only its labels hold words of the scenario,
			// which the drawing library escapes.
			drawn.Charts = append(drawn.Charts, drawing{template.HTML(withoutProlog(svg)), c.Alt, c.Tall()})
		}
		v.Parts = append(v.Parts, drawn)
	}
	var b bytes.Buffer
	if err := page.Execute(&b, v); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return b.Bytes(), nil
}

// withoutProlog drops everything before the drawing itself.
func withoutProlog(svg []byte) []byte {
	if at := bytes.Index(svg, []byte("<svg")); at > 0 {
		return svg[at:]
	}
	return svg
}

// said lets a template say its texts in the language in use, and state that language.
var said = template.FuncMap{
	"say":  func(text string) string { return tongue.Say(tongue.Text(text)) },
	"lang": tongue.Tag,
}
