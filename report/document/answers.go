package document

import (
	"strings"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/answers"
	"drystalk/sim/decide"
)

// Odds writes the odds of a plan down.
func (w Writer) Odds(a answers.OddsAnswer) (Document, error) {
	c := &a.Asked.Case
	r, err := report.ForOdds(report.Odds{Region: c.Setup.Region.Name, Target: a.Target, Sites: a.Sites, Plan: a.Plan, Short: a.Short, Money: a.Money, Currency: c.Currency})
	if err != nil {
		return Document{}, err
	}
	r = withYears(r, a.Years)
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		answers.OddsAnswer
	}{h, a})
}

// Dryers writes down how many dryers are needed.
func (w Writer) Dryers(a answers.DryersAnswer) (Document, error) {
	r, err := report.ForDryers(a.Answer, a.Asked.Case.Currency)
	if err != nil {
		return Document{}, err
	}
	r = withYears(r, a.Years)
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		answers.DryersAnswer
	}{h, a})
}

// withYears adds the real years to a report.
func withYears(r report.Report, y *decide.YearsResult) report.Report {
	if y == nil {
		return r
	}
	r.Paragraph = append(r.Paragraph, report.YearsSentence(*y))
	r.Sections = append(r.Sections, report.YearsSection(*y))
	return r
}

// Compare writes a comparison down.
func (w Writer) Compare(a answers.CompareAnswer) (Document, error) {
	second := &a.Second
	said := report.Compared{Region: a.Asked.Case.Setup.Region.Name, Result: a.Comparison, Currency: second.Currency}
	if second.Prices != nil && second.Prices.LoanShare > 0 {
		said.LoanEnds = second.Prices.LoanMonths
	}
	for _, d := range a.Differences {
		change := report.Change{Key: strings.TrimPrefix(d.Key, "sites."), A: d.A, B: d.B}
		if d.Plan {
			said.Changes = append(said.Changes, change)
		} else {
			said.Outside = append(said.Outside, change)
		}
	}
	r, err := report.ForCompare(said)
	if err != nil {
		return Document{}, err
	}
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		answers.CompareAnswer
	}{h, a})
}

// Promise writes a promise down.
func (w Writer) Promise(a answers.PromiseAnswer) (Document, error) {
	r := report.ForPromise(a.Asked.Case.Setup.Region.Name, a.Promise)
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		answers.PromiseAnswer
	}{h, a})
}

// Spend writes a list of purchases down.
func (w Writer) Spend(a answers.SpendAnswer) (Document, error) {
	c := &a.Asked.Case
	r, err := report.ForSpend(c.Setup.Region.Name, c.Target, a.Spending, c.Currency)
	if err != nil {
		return Document{}, err
	}
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		answers.SpendAnswer
	}{h, a})
}

// Season writes a season down: a sentence, and the story of its months.
func (w Writer) Season(a answers.SeasonAnswer) (Document, error) {
	region := a.Asked.Case.Setup.Region
	r := report.Report{Sentence: report.SeasonSentence(region.Name, a.Ledger), Paragraph: report.Story(a.Ledger, region.Calendar.Months())}
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		Why    []decide.MonthWhy `json:"why"`
		Story  []string          `json:"story"`
		Ledger sim.RegionLedger  `json:"ledger"`
	}{h, a.Why, r.Paragraph, a.Ledger})
}

// Load writes a load of a dryer down.
func (w Writer) Load(a answers.LoadAnswer) (Document, error) {
	r := report.ForLoad(report.Load{LoadWords: report.LoadWords{
		Stalks: a.Stalks, MoistureWet: a.MoistureWet, SetC: a.SetC, DryingH: a.DryingH, FastestH: a.HighRateDryingH, SlowestH: a.LowRateDryingH,
		CoolingH: a.CoolingH, WoodKg: a.WoodKg, EndMoistureWet: a.EndMoistureWet, OverdriedPart: a.OverdriedShare,
	}, Curve: a.Curve})
	h := w.Complete(&r, &a.Asked)
	return with(r, struct {
		Header
		Load answers.LoadAnswer `json:"load"`
	}{h, a})
}

// Header writes down a sentence about a plan and what stands behind all its answers.
func (w Writer) Header(sentence string, c answers.Case) (Document, error) {
	r := report.Report{Sentence: sentence}
	h := w.Complete(&r, &answers.Asked{Case: c})
	return with(r, h)
}
