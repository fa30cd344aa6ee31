package report

import (
	"bytes"
	_ "embed" // the page
	"fmt"
	"html/template"
	"strings"
	"unicode/utf8"

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
	Sentence    string   // the answer in one sentence
	Paragraph   []string // the answer for a decision paper, sentence by sentence
	Weather     string   // how the weather was made, and how that was proven
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
func ForDryers(a decide.Answer, currency string) (Report, error) {
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
	r := Report{Title: "How many dryers? " + a.Region, Sentence: losesFirst(a, at, currency) + Sentence(a)}
	if a.Stopped != "" {
		r.Paragraph = append(r.Paragraph, "Stopped "+a.Stopped+": this is what is known so far.")
	}
	r.Paragraph = append(r.Paragraph, neighbours(a), Proven(a))
	r.Paragraph = append(r.Paragraph, shortWords(a.Short)...)
	r.Paragraph = append(r.Paragraph, swingWords(a, 2)...)
	r.Paragraph = append(r.Paragraph, measureFirst(a)...)
	r.Paragraph = append(r.Paragraph, earnsWords(a, at, currency)...)
	r.Sections = append(r.Sections, Section{
		Title: "Odds by number of dryers", Charts: []Chart{oddsChart}, Tables: []Table{DryersTable(a), WhereTable(a)},
	})
	r.Sections = append(r.Sections, rest...)
	short, err := shortSection(a.Short)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, short...)
	if len(a.Money) > 0 {
		r.Sections = append(r.Sections, Section{Title: "Money", Tables: []Table{EarnsTable(a, currency), PartsTable(a.Money[at], currency)}})
	}
	if len(a.Swings) > 0 {
		s := Section{Title: "What to measure first", Tables: []Table{SwingsTable(a, 8)}}
		if a.Worth != nil {
			s.Tables = append(s.Tables, WorthTable(a.Worth, currency))
		}
		r.Sections = append(r.Sections, s)
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
	sections := []Section{
		{Title: "Month by month", Charts: []Chart{months}, Tables: []Table{MonthsTable(p)}},
		{Title: "From the cut to the buyer", Charts: []Chart{loss}, Tables: []Table{FlowTable(p)}},
	}
	work := Section{Title: "Dryers, people and wood", Tables: []Table{WorkTable(p)}}
	if p.Dryers > 0 && len(p.Flow.Shift) > 0 {
		hours, err := HoursChart(p)
		if err != nil {
			return nil, err
		}
		work.Charts = []Chart{hours}
	}
	sections = append(sections, work)
	if len(p.Rain) > 0 {
		sections = append(sections, Section{Title: "The weather behind it", Tables: []Table{RainTable(p)}})
	}
	return sections, nil
}

// Odds is what is said of a plan as written.
type Odds struct {
	Region   string
	Target   float64
	Sites    []string
	Plan     decide.PlanResult
	Short    decide.Shortage
	Money    *decide.Earns // nil where no prices are stated
	Currency string
}

// ForOdds lays out the odds of a plan as written.
func ForOdds(o Odds) (Report, error) {
	sections, err := planSections(o.Plan)
	if err != nil {
		return Report{}, err
	}
	short, err := shortSection(o.Short)
	if err != nil {
		return Report{}, err
	}
	r := Report{
		Title: "The odds of the plan: " + o.Region, Sentence: OddsSentence(o.Region, o.Target, o.Sites, o.Plan), Sections: append(sections, short...),
		Paragraph: []string{fmt.Sprintf("All contract months of a season are met in %s of %s seasons.", odds(o.Plan.AllMonths), grouped(o.Plan.AllMonths.Seasons))},
	}
	r.Paragraph = append(r.Paragraph, shortWords(o.Short)...)
	if e := o.Money; e != nil {
		r.Paragraph = append(r.Paragraph, fmt.Sprintf("A good stalk costs %s, dryers included, and the region earns %s a year.", prices(e.PerGood, o.Currency), amounts(e.Net, o.Currency)))
		r.Sections = append(r.Sections, Section{Title: "Money", Tables: []Table{PartsTable(*e, o.Currency)}})
		if e.Net.High < 0 {
			r.Sentence = "This plan loses money. " + r.Sentence
		}
	}
	return r, nil
}

// ended puts a full stop to a sentence that has none.
func ended(s string) string {
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, ":") {
		return s
	}
	return s + "."
}

// Words returns the paragraph as one text.
func (r Report) Words() string {
	var parts []string
	for _, s := range r.Paragraph {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " ")
}

// lineLength is where text for a terminal is broken.
const lineLength = 110

// wrapped breaks a text into lines between words.
func wrapped(text string) string {
	var b strings.Builder
	n := 0
	for _, word := range strings.Fields(text) {
		k := utf8.RuneCountInString(word)
		switch {
		case n == 0:
		case n+1+k > lineLength:
			b.WriteByte('\n')
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += k
	}
	return b.String()
}

// Text returns the answer for a terminal: sentences, then the tables.
func (r Report) Text() string {
	var b bytes.Buffer
	b.WriteString(wrapped(r.Sentence) + "\n")
	if words := r.Words(); words != "" {
		b.WriteString("\n" + wrapped(words) + "\n")
	}
	for _, s := range r.Sections {
		for _, t := range s.Tables {
			b.WriteString("\n" + t.Text())
		}
	}
	b.WriteString("\n")
	return b.String()
}
