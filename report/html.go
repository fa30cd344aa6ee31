package report

import (
	"bytes"
	_ "embed" // the page
	"fmt"
	"html/template"

	"drystalk/sim"
	"drystalk/sim/decide"
)

//go:embed page.gohtml
var pageText string

// templateFor parses the page; it is part of the program, so a fault is a bug.
var page = template.Must(template.New("page").Parse(pageText))

// Report is what the HTML file says.
type Report struct {
	Title       string
	Sentence    string
	Certainty   string
	Notes       []string // further plain sentences under the answer
	Sections    []Section
	Assumptions []sim.Assumption
	Warnings    []string
	Reproduce   []string
}

// Section is a heading with charts and tables under it.
type Section struct {
	Title  string
	Charts []Chart
	Tables []Table
}

// view is a Report made ready for the template.
type view struct {
	Report
	Parts    []part
	Assumed  Table
	Cautions []string
}

type part struct {
	Title  string
	Charts []drawing
	Tables []Table
}

type drawing struct {
	SVG template.HTML
	Alt string
}

// HTML returns the report as one self-contained page.
func (r Report) HTML() ([]byte, error) {
	v := view{Report: r, Assumed: AssumptionsTable(r.Assumptions), Cautions: Cautions()}
	for _, s := range r.Sections {
		p := part{Title: s.Title, Tables: s.Tables}
		for _, c := range s.Charts {
			svg, err := c.encode("svg")
			if err != nil {
				return nil, err
			}
			// The drawing is our own; only its labels hold words of the scenario,
			// which the drawing library escapes.
			p.Charts = append(p.Charts, drawing{template.HTML(withoutProlog(svg)), c.Alt})
		}
		v.Parts = append(v.Parts, p)
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

// ForDryers lays out the answer to "how many dryers, and where?".
func ForDryers(a decide.Answer) (Report, error) {
	at := a.Needed
	if at < 0 {
		at = a.Best()
	}
	p := a.Plans[at]
	oddsChart, err := OddsChart(a)
	if err != nil {
		return Report{}, err
	}
	rest, err := planSections(p)
	if err != nil {
		return Report{}, err
	}
	r := Report{Title: "How many dryers? " + a.Region, Sentence: Sentence(a), Certainty: Certainty(a)}
	for _, s := range swingWords(a, 2) {
		r.Notes = append(r.Notes, "It would be "+s+".")
	}
	r.Notes = append(r.Notes, measureFirst(a)...)
	r.Sections = append(r.Sections, Section{
		Title: "Odds by number of dryers", Charts: []Chart{oddsChart}, Tables: []Table{DryersTable(a), WhereTable(a)},
	})
	r.Sections = append(r.Sections, rest...)
	r.Sections = append(r.Sections, Section{Title: "What else would help", Tables: []Table{ReliefsTable(a)}})
	if len(a.Swings) > 0 {
		r.Sections = append(r.Sections, Section{Title: "What to measure first", Tables: []Table{SwingsTable(a, 8)}})
	}
	return r, nil
}

// planSections are the parts of a report about one plan.
func planSections(p decide.PlanResult) ([]Section, error) {
	months, err := MonthsChart(p)
	if err != nil {
		return nil, err
	}
	loss, err := LossChart(p)
	if err != nil {
		return nil, err
	}
	return []Section{
		{Title: "Month by month", Charts: []Chart{months}, Tables: []Table{MonthsTable(p)}},
		{Title: "From the cut to the buyer", Charts: []Chart{loss}, Tables: []Table{FlowTable(p), WorkTable(p)}},
	}, nil
}

// ForOdds lays out the odds of a plan as written.
func ForOdds(region string, target float64, sites []string, p decide.PlanResult) (Report, error) {
	sections, err := planSections(p)
	if err != nil {
		return Report{}, err
	}
	return Report{
		Title: "The odds of the plan: " + region, Sentence: OddsSentence(region, target, sites, p), Sections: sections,
		Certainty: fmt.Sprintf("All contract months of a season are met in %s of %s seasons.", odds(p.AllMonths), grouped(p.AllMonths.Seasons)),
	}, nil
}

// Text returns the answer for a terminal: sentences, then the tables.
func (r Report) Text() string {
	var b bytes.Buffer
	b.WriteString(r.Sentence + "\n")
	if r.Certainty != "" {
		b.WriteString(r.Certainty + "\n")
	}
	for _, n := range r.Notes {
		b.WriteString(n + "\n")
	}
	for _, s := range r.Sections {
		for _, t := range s.Tables {
			b.WriteString("\n" + t.Text())
		}
	}
	b.WriteString("\n")
	return b.String()
}
