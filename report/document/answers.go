package document

import (
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/answers"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/plans"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// The bodies are what the JSON answers hold.
type (
	oddsBody struct {
		Header
		answers.OddsAnswer
	}
	dryersBody struct {
		Header
		answers.DryersAnswer
	}
	compareBody struct {
		Header
		answers.CompareAnswer
	}
	promiseBody struct {
		Header
		answers.PromiseAnswer
	}
	spendBody struct {
		Header
		answers.SpendAnswer
	}
	waysBody struct {
		Header
		answers.WaysAnswer
	}
	aheadBody struct {
		Header
		answers.AheadAnswer
	}
	seasonBody struct {
		Header
		Why    []decide.MonthWhy `json:"why"`
		Story  []string          `json:"story"`
		Ledger sim.RegionLedger  `json:"ledger"`
	}
	chargeBody struct {
		Header
		Load answers.LoadAnswer `json:"load"`
	}
	checkBody struct{ Header }
	fitBody   struct {
		Schema    int               `json:"schema_version"`
		Question  string            `json:"question"`
		Sentence  string            `json:"sentence"`
		Paragraph string            `json:"paragraph"`
		Notes     []report.Note     `json:"notes"`
		Caution   string            `json:"caution"`
		Cautions  []string          `json:"cautions"`
		Version   string            `json:"version"`
		Seed      uint64            `json:"seed"`
		Reproduce []string          `json:"reproduce"` // how to get the same numbers
		Warnings  []string          `json:"warnings"`
		Fit       weather.FitReport `json:"fit"`
	}
)

// bodies are all JSON answers by their question.
var bodies = []struct {
	question string
	body     any
}{
	{"odds", oddsBody{}},
	{"dryers", dryersBody{}},
	{"compare", compareBody{}},
	{"promise", promiseBody{}},
	{"spend", spendBody{}},
	{"ways", waysBody{}},
	{"ahead", aheadBody{}},
	{"season", seasonBody{}},
	{"charge", chargeBody{}},
	{"check", checkBody{}},
	{"fit weather", fitBody{}},
	{"fit charges", fitChargesBody{}},
	{"fit output", fitOutputBody{}},
	{"fit racks", fitRacksBody{}},
}

// Odds writes the odds of a plan down.
func (w Writer) Odds(a answers.OddsAnswer) (Document, error) {
	c := &a.Asked.Case
	r, err := report.ForOdds(report.Odds{Planned: report.Planned{Region: c.Setup.Region.Name, Target: a.Target, Goal: a.Goal, Sites: a.Sites, Plan: a.Plan, Hub: a.Hub, Short: a.Short, Money: a.Money}, Currency: c.Currency})
	if err != nil {
		return Document{}, err
	}
	r = withYears(r, a.Years)
	h := w.complete("odds", &r, &a.Asked)
	return with(r, oddsBody{h, a})
}

// Dryers writes down how many dryers are needed.
func (w Writer) Dryers(a answers.DryersAnswer) (Document, error) {
	at := a.Answer.Needed
	if at < 0 {
		at = a.Answer.Best()
	}
	r, err := report.ForDryers(a.Answer, a.Asked.Case.Currency, a.CompareCommand(at))
	if err != nil {
		return Document{}, err
	}
	if r, err = report.WithPlaces(r, placesOf(&a.Asked.Case, a.Answer.Plans[at].PerSite, a.Answer.Standing)); err != nil {
		return Document{}, err
	}
	if r, err = report.WithRival(withYears(r, a.Years), a.Rival, offering(report.SomeDryers, &a.Asked.Case)); err != nil {
		return Document{}, err
	}
	h := w.complete("dryers", &r, &a.Asked)
	return with(r, dryersBody{h, a})
}

// offering is what an answer about a plan offers.
func offering(of report.Offer, c *plans.Case) report.Offering {
	return report.Offering{Offer: of, Aim: report.Aim{Goal: c.Goal, Target: c.Target}, Currency: c.Currency}
}

// withYears adds the real years to a report.
func withYears(r report.Report, y *decide.YearsResult) report.Report {
	if y == nil {
		return r
	}
	r.Paragraph = append([]string{report.YearsInShort(*y)}, r.Paragraph...)
	r.Notes = append(r.Notes, report.Note{About: tongue.Say("Real years"), Says: report.YearsSentence(*y)})
	r.Sections = append(r.Sections, report.YearsSection(*y))
	return r
}

// ComparedOf returns what is said of a comparison.
func ComparedOf(a answers.CompareAnswer) report.Compared {
	second := &a.Second
	said := report.Compared{Region: a.Asked.Case.Setup.Region.Name, Result: a.Comparison, Tolerance: second.Setup.Region.Contract.Tolerance, Currency: second.Currency}
	if p := a.Comparison.Purchase; p != nil {
		first := a.Asked.Case
		if first.File == scenarios.LakeTavari {
			first.File = "" // stands for no name
		}
		said.Spend = answers.SpendLine(first, p.Cost)
	}
	if second.Prices != nil && second.Prices.LoanShare > 0 {
		said.LoanEnds = second.Prices.LoanMonths
	}
	if second.Goal.Kind == goal.WorstMonth {
		said.Worst = second.Target
	}
	for _, d := range a.Differences {
		change := report.Change{Key: strings.TrimPrefix(d.Key, "sites."), A: d.A, B: d.B}
		if d.Plan {
			said.Changes = append(said.Changes, change)
		} else {
			said.Outside = append(said.Outside, change)
		}
	}
	return said
}

// Compare writes a comparison down.
func (w Writer) Compare(a answers.CompareAnswer) (Document, error) {
	said := ComparedOf(a)
	r, err := report.ForCompare(said)
	if err != nil {
		return Document{}, err
	}
	if r, err = report.WithRival(r, a.Rival, offering(report.Purchase, &a.Second)); err != nil {
		return Document{}, err
	}
	h := w.complete("compare", &r, &a.Asked)
	return with(r, compareBody{h, a})
}

// Promise writes a promise down.
func (w Writer) Promise(a answers.PromiseAnswer) (Document, error) {
	c := &a.Asked.Case
	said := report.Promised{Region: c.Setup.Region.Name, Promise: a.Promise, Contract: contractOf(c.Setup.Region), Penalty: -1, Currency: c.Currency}
	if c.Prices != nil {
		said.Penalty = c.Prices.PerMissing
	}
	r, err := report.ForPromise(said)
	if err != nil {
		return Document{}, err
	}
	if r, err = report.WithRival(r, a.Rival, offering(report.Contract, c)); err != nil {
		return Document{}, err
	}
	h := w.complete("promise", &r, &a.Asked)
	return with(r, promiseBody{h, a})
}

// Spend writes a list of purchases down.
func (w Writer) Spend(a answers.SpendAnswer) (Document, error) {
	c := &a.Asked.Case
	r, err := report.ForSpend(c.Setup.Region.Name, c.Target, a.Spending, c.Currency)
	if len(a.Each) > 1 {
		r, err = report.ForBudgets(c.Setup.Region.Name, c.Target, a.Each, c.Currency)
	}
	if err != nil {
		return Document{}, err
	}
	if r, err = report.WithRival(r, a.Rival, offering(report.List, c)); err != nil {
		return Document{}, err
	}
	if err := paidSo(&r, &a); err != nil {
		return Document{}, err
	}
	h := w.complete("spend", &r, &a.Asked)
	return with(r, spendBody{h, a})
}

// paidSo says in the paper of a list how what is bought is paid for.
func paidSo(r *report.Report, a *answers.SpendAnswer) error {
	steps, c := a.Spending.Steps, &a.Asked.Case
	if len(steps) == 0 || c.Prices == nil {
		return nil
	}
	f, err := c.Prices.FundingOf(steps[len(steps)-1].Spent)
	if err != nil {
		return err
	}
	r.Brief.Words.Paid, r.Brief.Words.Currency = f, c.Currency
	return nil
}

// Ways writes better ways of working down.
func (w Writer) Ways(a answers.WaysAnswer) (Document, error) {
	r, err := report.ForWays(a.Ways, a.Asked.Case.Currency)
	if err != nil {
		return Document{}, err
	}
	h := w.complete("ways", &r, &a.Asked)
	return with(r, waysBody{h, a})
}

// Season writes a season down: a sentence, and the story of its months.
func (w Writer) Season(a answers.SeasonAnswer) (Document, error) {
	region := a.Asked.Case.Setup.Region
	story := report.Story(a.Ledger, region.Calendar.Months())
	r := report.ForSeason(region.Name, a.Ledger, a.Why, story, decide.AirOfHub(region))
	h := w.complete("season", &r, &a.Asked)
	return with(r, seasonBody{h, a.Why, story, a.Ledger})
}

// Load writes a load of a dryer down.
func (w Writer) Load(a answers.LoadAnswer) (Document, error) {
	r, err := report.ForLoad(laidOut(&a))
	if err != nil {
		return Document{}, err
	}
	h := w.complete("charge", &r, &a.Asked)
	return with(r, chargeBody{h, a})
}

// DoorCard returns the card for the dryer's door.
func (w Writer) DoorCard(a answers.LoadAnswer) (report.File, error) {
	return report.DoorCard(laidOut(&a), []string{a.Asked.Command, "drystalk " + w.Version})
}

// laidOut returns a load as a report has it.
func laidOut(a *answers.LoadAnswer) report.Load {
	c := &a.Asked.Case
	l := report.Load{
		LoadWords: report.LoadWords{
			Stalks: a.Stalks, MoistureWet: a.MoistureWet, SetC: a.SetC, DryingH: a.DryingH, Hours: drawnOf(a.Hours), Wood: drawnOf(a.Wood),
			CoolingH: a.CoolingH, WoodKg: a.WoodKg, EndMoistureWet: a.EndMoistureWet, OverdriedPart: a.OverdriedShare,
			Measured:     measuredHere(c),
			FreshPerGood: perGood(a.Costs, answers.FullFresh, false), PredriedPerGood: perGood(a.Costs, answers.FullPredried, false), Currency: c.Currency,
			FreshInRains: perGood(a.Costs, answers.FullFresh, true), PredriedInRains: perGood(a.Costs, answers.FullPredried, true),
			FreshWet: wetOf(a.Costs, answers.FullFresh), PredriedWet: wetOf(a.Costs, answers.FullPredried), Part: !a.Loaded,
		},
		Place: c.Setup.Region.Name, Invented: c.Invented, TargetWet: float64(c.Setup.Base.Cabinet.Target), WoodWet: a.WoodWet, AmbientC: a.AmbientC, Humidity: a.Humidity,
		Curve: a.Curve, Costs: loadCosts(a.Costs), Currency: c.Currency,
	}
	for _, f := range a.Full {
		full := report.FullLoad{MoistureWet: f.MoistureWet, Stalks: f.Stalks, LoadedKg: f.LoadedKg, DryingH: f.DryingH, WoodKg: f.WoodKg}
		if f.Hours.Draws > 0 {
			full.LowH, full.HighH, full.LowWood, full.HighWood = f.Hours.Low, f.Hours.High, f.Wood.Low, f.Wood.High
		}
		l.Full = append(l.Full, full)
	}
	return l
}

// measuredHere tells whether a log of the group stands behind some range of the plan.
func measuredHere(c *answers.Case) bool {
	return c.Setup.Knowledge.Measured()
}

// drawnOf returns a figure over draws as words have it.
func drawnOf(s answers.Spread) report.Drawn {
	return report.Drawn{Low: s.Low, High: s.High, Draws: s.Draws, Never: s.Never}
}

// loadNames are the loads of a comparison in words.
var loadNames = map[string]tongue.Text{
	answers.ThisLoad: "this load", answers.FullFresh: "a full load, fresh", answers.FullPredried: "a full load, pre-dried",
}

// perGood returns what a good stalk of a load costs, with wood at its price of dry months or of the rains; 0
// without prices.
func perGood(list []answers.LoadCosts, load string, rains bool) float64 {
	for _, l := range list {
		switch {
		case l.Load != load || l.Money == nil:
		case rains:
			return l.Money.PerGoodRains
		default:
			return l.Money.PerGoodStalk
		}
	}
	return 0
}

// wetOf returns the moisture of a load of a comparison, wet basis.
func wetOf(list []answers.LoadCosts, load string) float64 {
	for _, l := range list {
		if l.Load == load {
			return l.MoistureWet
		}
	}
	return 0
}

// loadCosts lays out what loads take and cost.
func loadCosts(list []answers.LoadCosts) []report.LoadCosts {
	var out []report.LoadCosts
	for _, l := range list {
		c := report.LoadCosts{
			Name: loadNames[l.Load].String(), Stalks: l.Stalks, GoodStalks: l.GoodStalks, DryingH: l.DryingH, WoodKg: l.WoodKg,
			TendingH: l.TendingH, HandlingH: l.HandlingH, GradingH: l.GradingH,
		}
		if m := l.Money; m != nil {
			c.WoodRains, c.PerGoodRains = m.WoodRains, m.PerGoodRains
			c.Priced, c.Wood, c.Tending, c.Handling, c.Grading, c.Upkeep, c.Total, c.PerGood = true, m.Wood, m.Tending, m.Handling, m.Grading, m.Upkeep, m.Total, m.PerGoodStalk
		}
		out = append(out, c)
	}
	return out
}

// Ahead writes down what lies ahead from today's stock.
func (w Writer) Ahead(a answers.AheadAnswer) (Document, error) {
	r, err := report.ForAhead(a.Ahead, a.Asked.Case.Currency)
	if err != nil {
		return Document{}, err
	}
	h := w.complete("ahead", &r, &a.Asked)
	return with(r, aheadBody{h, a})
}

// Check writes down a sentence about a plan and what stands behind all its answers.
func (w Writer) Check(sentence string, c answers.Case) (Document, error) {
	r := report.Report{Title: tongue.Say("The scenario"), Sentence: sentence, Paragraph: []string{report.DefaultsInShort(len(c.Assumptions))}}
	h := w.complete("check", &r, &answers.Asked{Case: c})
	return with(r, checkBody{h})
}

// Fit writes down how well a climate gives back the record it was fitted to.
func (w Writer) Fit(a answers.FitAnswer) (Document, error) {
	r, err := report.ForFit(a.Fit)
	if err != nil {
		return Document{}, err
	}
	r.Reproduce = []string{a.Command}
	for _, f := range a.Files {
		r.Reproduce = append(r.Reproduce, fileWords(f))
	}
	r.Reproduce = append(r.Reproduce, "drystalk "+w.Version)
	return with(r, fitBody{SchemaVersion, "fit weather", r.Sentence, r.Words(), r.Notes, r.Caution(), report.Cautions(), w.Version, a.Seed, r.Reproduce, r.Warnings, a.Fit})
}

// placesOf returns the sites of a plan with what stands at each.
func placesOf(c *answers.Case, perSite, standing []int) []report.Place {
	region := c.Setup.Region
	shares := region.Shares()
	out := make([]report.Place, len(region.Sites))
	for i := range region.Sites {
		s := &region.Sites[i]
		out[i] = report.Place{Name: s.Name, Dryers: perSite[i], Stand: min(standing[i], perSite[i]), RackM2: s.OpenRackM2 + s.ClearRoofM2 + s.SolidRoofM2, Share: shares[i]}
		if c.Coordinates != nil {
			out[i].At = &report.Point{LatitudeDeg: c.Coordinates[i][0], LongitudeDeg: c.Coordinates[i][1]}
		}
	}
	return out
}
