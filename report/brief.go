package report

import (
	"slices"
	"strings"
	"time"

	"drystalk/report/chart"
	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/tongue"
)

// Brief is what the paper of two pages of an answer shows besides its sentence.
type Brief struct {
	Words   words.Brief
	Chart   chart.Chart
	Reading string // how to read the chart
	Table   table.Table
	Seed    uint64
	Version string
}

// Background is what somebody must know to understand an answer who knows nothing of the region.
type Background = words.Background

// Asked is what the contract asks for in a month.
type Asked = words.Asked

// BriefFile is the name of the paper of two pages.
const BriefFile = "brief.html"

// errNoBrief is returned for answers that have no paper.
var errNoBrief error = tongue.Fault("this answer has no paper of two pages")

// How the charts of papers are read.
const (
	readOdds     tongue.Text = "Each disc is the share of trial seasons, the bar about it the range that chance leaves it (95 % sure). The dashed line is what was asked for."
	readSteps    tongue.Text = "Each disc is a step bought, by the share of trial seasons, the pale area the range that chance leaves it (95 % sure). The dashed line is what was asked for."
	readDiffers  tongue.Text = "Each mark is the share of trial seasons in which the month is met, the bar about it the range that chance leaves it (95 % sure). Both plans live through the same seasons."
	readSoFar    tongue.Text = "Each future is a row of years with weather and luck of its own. In nine of ten futures the money so far lies in the pale part, in half of them in the grey one."
	readNothing  tongue.Text = "Nothing can be promised, so no bar stands beside the contract as written."
	readPromised tongue.Text = "The same promise holds in every contract month. A ring is no offer: it is what one month might take if all others stay as promised."
)

// BriefHTML returns the paper of two pages of an answer, dated, as one self-contained page. It
// fails where an answer has none.
func (r Report) BriefHTML(date time.Time) ([]byte, error) {
	if r.Brief == nil {
		return nil, errNoBrief
	}
	return r.brief(date).HTML()
}

// brief returns what the paper of two pages says, and so the first sheet of the spreadsheet; the zero
// time is no date.
func (r Report) brief(date time.Time) paper.Brief {
	b := r.Brief
	measure := b.Words.Measure
	if len(measure) == 0 {
		measure = words.MeasureAnyway(r.Assumptions)
	}
	said := []paper.Passage{
		{Title: tongue.Say("What it costs, and who pays what"), Says: words.Paragraphs(append(slices.Clone(b.Words.Costs), b.Words.PaidSo()...), b.Words.Left)},
		{Title: tongue.Say("What would change the answer"), Says: words.Paragraphs(append(slices.Clone(b.Words.Changes), r.Last...))},
		{Title: tongue.Say("What to measure first"), Says: words.Paragraphs(measure)},
		{Title: tongue.Say("Cautions"), Says: []string{r.Caution() + " " + briefCaution.String()}},
	}
	return paper.Brief{
		Region: r.Background.Region, Date: longDate(date), Question: b.Words.Question, About: words.Paragraphs(r.Background.Sentences()),
		Sentence: r.Sentence, Answer: words.Paragraphs(append(slices.Clone(r.First), b.Words.Answer...)), Warnings: r.Warnings,
		Chart: b.Chart, Reading: b.Reading, Table: b.Table, Passages: said, Made: r.made(), Lines: r.Reproduce[:min(1, len(r.Reproduce))],
	}
}

// briefCaution is what a paper of two pages says beside the cautions of every answer.
const briefCaution tongue.Text = "Dry stalks are kindling, mouldy dust harms lungs, and nobody works alone on open water. A charge in a dryer is no plant-health treatment that an importing country would accept. Local codes, permits and licensed builders decide; the annex has all cautions."

// longDate writes a date: "26 November 2026"; "" for none.
func longDate(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return tongue.Sayf("%d %s %d", t.Day(), t.Month(), t.Year())
}

// made says how an answer was made.
func (r Report) made() string {
	b := r.Brief
	s := tongue.Sayf("By drystalk %s, a free program, from %s trial seasons (seed %d); the numbers are what its model says of the region as it was described, and no more.", b.Version, words.Grouped(b.Words.Seasons), b.Seed)
	if r.Weather != "" {
		s += " " + firstSentence(r.Weather)
	}
	var behind []string
	for _, line := range r.Reproduce[min(1, len(r.Reproduce)):] {
		if !strings.HasPrefix(line, "drystalk ") {
			behind = append(behind, line)
		}
	}
	if len(behind) > 0 {
		s += tongue.Sayf(" It rests on %s.", words.And(behind))
	}
	return s + tongue.Say(" The annex, report.html, has every table, every assumption with its source and all cautions.")
}

// firstSentence returns a text up to its first full stop.
func firstSentence(text string) string {
	if at := strings.Index(text, ". "); at >= 0 {
		return text[:at+1]
	}
	return text
}
