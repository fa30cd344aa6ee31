package tidy

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/knowledge"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// By says what a table has a row for.
type By string

// What a table may have a row for.
const (
	Season    By = "season"
	Site      By = "site"       // each site in each season
	Month     By = "month"      // each month of each season
	SiteMonth By = "site-month" // each month of each site in each season
)

// Rows lists what a table may have a row for.
func Rows() []By { return []By{Season, Site, Month, SiteMonth} }

// Months tells whether the seasons must be run with every figure by month (trials.Setup.EveryMonth).
func (b By) Months() bool { return b == Month || b == SiteMonth }

func (b By) sites() bool { return b == Site || b == SiteMonth }

// Plan is a plan that has lived through seasons.
type Plan struct {
	Region   *sim.Region
	Table    *trials.Table // that holds the plan, with every figure by month for rows of months
	Dryers   []int         // by site
	Ranges   []knowledge.Range
	Goal     goal.Goal
	Prices   *money.Prices // nil: nothing is said of money
	Currency string

	// Number returns the number of the i-th season of the table; nil where they are numbered from
	// Table.First on.
	Number func(i int) int
}

// Columns returns the columns of a table of the plan. The table of seasons is not looked at.
func (p *Plan) Columns(by By) []Column {
	out := []Column{{"season", "", Whole, "number of the season: drystalk season --number shows it day by day"}}
	if by.sites() {
		out = append(out, Column{"site", "", Word, "name of the site"}, Column{"dryers", "", Whole, "dryers of the site"})
	}
	if by.Months() {
		out = append(out, Column{"month", "", Word, "calendar month"}, Column{"month_of_season", "", Whole, "1 for the first month of the season"})
	}
	for _, r := range p.Ranges {
		out = append(out, Column{"drawn_" + string(r.Key), string(r.Unit), Real, "drawn for the season: " + string(r.Name)})
	}
	out = append(out, Column{"rain_mm", "mm", Real, "rain, at the first site where sites lie apart"})
	out = append(out, p.hubColumns(by)...)
	for _, f := range sim.Figures() {
		out = append(out, Column{f.UnitKey(), string(f.Unit), kindOf(&f), "figure of the ledger: " + f.Key})
	}
	if p.Prices == nil {
		return out
	}
	for _, part := range money.AllParts() {
		out = append(out, Column{"money_" + part.String(), p.Currency, Real, "earned, or spent if below 0"})
	}
	out = append(out, Column{"money_" + money.NetBeforePurchase, p.Currency, Real, "sum of all that is earned and spent"})
	if by == Season {
		out = append(out, Column{"money_" + money.DryersByTheYear, p.Currency, Real, "what the dryers cost by the year, less their grant"},
			Column{"money_net", p.Currency, Real, "net less the dryers by the year"})
	}
	return out
}

// kindOf returns the kind of a figure: what is counted is whole.
func kindOf(f *sim.Figure) Kind {
	if f.Unit.Fine() == 1 {
		return Whole
	}
	return Real
}

// hubColumns are the columns of what the hub does, or of what a site brings there.
func (p *Plan) hubColumns(by By) []Column {
	stalks := func(name, meaning string) Column {
		return Column{name + "_stalks", string(sim.Stalks), Whole, meaning}
	}
	if by.sites() {
		return []Column{stalks("accepted", "good stalks of the site accepted at the hub")}
	}
	out := []Column{stalks("asked", "good stalks asked for by the contract")}
	if by == Month {
		out = append(out, stalks("available", "good stalks at the hub before delivery"))
	}
	out = append(out, stalks("delivered", "good stalks delivered, those made good a month later included"), stalks("missing", "asked and not delivered"),
		stalks("spoiled_at_hub", "good stalks that mould made less than full grade at the hub"), stalks("left_at_hub", "good stalks at the hub at the end"))
	if by == Month {
		return append(out, Column{"met", "", Yes, "the contract of the month is met"})
	}
	out = append(out, Column{"all_months_met", "", Yes, "every contract month is met"})
	if !p.Goal.ByMonth() {
		out = append(out, Column{"target_reached", "", Yes, "the season reaches the target of the contract"})
	}
	for _, name := range p.metNames() {
		out = append(out, Column{name, "", Yes, "the contract of the month is met; nothing where it asks for none"})
	}
	return out
}

// metNames returns the names of the columns of months met; a month that comes twice in a season has
// its place in the season in the second name.
func (p *Plan) metNames() (out []string) {
	for k, span := range p.Region.Calendar.Months() {
		name := "met_" + strings.ToLower(span.Month.String()[:3])
		if slices.Contains(out, name) {
			name = fmt.Sprintf("%s_%d", name, k+1)
		}
		out = append(out, name)
	}
	return out
}

// Each gives the rows of the plan to do, season after season; the cells are good until the next. A
// plan that its table does not hold is an error, and so is one of do.
func (p *Plan) Each(by By, do func(i int, row []Cell) error) error {
	if err := p.Table.CheckPlan(p.Dryers); err != nil {
		return err
	}
	w, err := newWork(p)
	if err != nil {
		return err
	}
	for i := range p.Table.Seasons {
		w.season(i)
		for _, at := range w.places(by) {
			w.row = w.row[:0]
			w.fill(by, i, at)
			if err := do(i, w.row); err != nil {
				return err
			}
		}
	}
	return nil
}

// place is a site and a month of a row; -1 for all of them.
type place struct{ site, month int }

// work is what rows are made of.
type work struct {
	*Plan
	row     []Cell
	hub     []sim.HubMonth
	arrived trials.Arriving
	play    *money.Play
	paid    [][]money.Parts // by site and month
	draws   []float64
	dryers  float64 // by the year
}

func newWork(p *Plan) (*work, error) {
	w := &work{Plan: p, hub: make([]sim.HubMonth, p.Table.Months())}
	if p.Prices == nil {
		return w, nil
	}
	for _, n := range p.Dryers {
		w.dryers += p.Prices.Yearly(money.Of(p.Prices.DryerCost), p.Prices.DryerYears) * float64(n)
	}
	var err error
	w.play, err = money.NewPlay(p.Region, p.Table, p.Dryers)
	return w, err
}

// income returns what the region earned in season i, with the pay of members, less its dryers by the
// year; 0 where the goal does not go by it.
func (w *work) income(i int) float64 {
	if w.Goal.Kind != goal.IncomeAtLeast {
		return 0
	}
	sum, second := money.Amount(0), make([][]int32, len(w.Dryers))
	for site, n := range w.Dryers {
		sum += w.Prices.SiteNet(w.Region, w.Table, site, n, i)
		second[site] = w.Table.MonthFigures(sim.Second, site, n, i)
	}
	return (sum + w.Prices.HubNet(w.hub, second)).Units() - w.dryers
}

// places returns what a season has a row for.
func (w *work) places(by By) (out []place) {
	sites, months := 1, 1
	if by.sites() {
		sites = len(w.Dryers)
	}
	if by.Months() {
		months = w.Table.Months()
	}
	for site := range sites {
		for month := range months {
			at := place{-1, -1}
			if by.sites() {
				at.site = site
			}
			if by.Months() {
				at.month = month
			}
			out = append(out, at)
		}
	}
	return out
}

// season works out what all rows of a season share.
func (w *work) season(i int) {
	w.Table.Hub(w.hub, &w.arrived, w.Dryers, i)
	w.draws = w.Table.Draws(i)
	if w.play != nil {
		w.paid = w.play.Season(w.Prices, i)
	}
}

func (w *work) add(cells ...Cell) { w.row = append(w.row, cells...) }

// fill writes a row, in the order of Columns.
func (w *work) fill(by By, i int, at place) {
	number := w.Table.First + i
	if w.Number != nil {
		number = w.Number(i)
	}
	w.add(Count(number))
	if by.sites() {
		w.add(Text(w.Region.Sites[at.site].Name), Count(w.Dryers[at.site]))
	}
	if by.Months() {
		w.add(Text(w.Table.Spans()[at.month].Month.String()), Count(at.month+1))
	}
	for _, x := range w.draws {
		w.add(Number(x))
	}
	rain := 0.0
	for k, mm := range w.Table.RainMM(i) {
		if at.month < 0 || k == at.month {
			rain += mm
		}
	}
	w.add(Number(rain))
	switch {
	case by.sites():
		w.add(Count(w.accepted(at, i)))
	case by == Month:
		w.month(at.month)
	default:
		w.whole(i)
	}
	for _, f := range sim.Figures() {
		w.add(Number(w.figure(f.ID, at, i)))
	}
	if w.play != nil {
		w.money(by, at)
	}
}

// accepted returns the good stalks that a site brought in a month, or in all.
func (w *work) accepted(at place, i int) int {
	sum := 0
	for k, n := range w.Table.Accepted(at.site, w.Dryers[at.site], i) {
		if at.month < 0 || k == at.month {
			sum += int(n)
		}
	}
	return sum
}

// month writes a month at the hub.
func (w *work) month(k int) {
	m := &w.hub[k]
	delivered, met := m.Delivered, None
	if k+1 < len(w.hub) {
		delivered += w.hub[k+1].MadeGood
	}
	if m.Asked > 0 {
		met = Truth(m.Met)
	}
	w.add(Count(m.Asked), Count(m.Available()), Count(delivered), Count(m.Asked-delivered), Count(m.Spoiled), Count(m.Closing), met)
}

// whole writes a season at the hub.
func (w *work) whole(i int) {
	asked, delivered, spoiled, all := 0, 0, 0, true
	for k := range w.hub {
		m := &w.hub[k]
		asked, delivered, spoiled = asked+m.Asked, delivered+m.Delivered+m.MadeGood, spoiled+m.Spoiled
		all = all && (m.Asked == 0 || m.Met)
	}
	w.add(Count(asked), Count(delivered), Count(asked-delivered), Count(spoiled), Count(w.hub[len(w.hub)-1].Closing), Truth(all))
	if !w.Goal.ByMonth() {
		w.add(Truth(w.Goal.Reached(w.hub, w.income(i))))
	}
	for k := range w.hub {
		if w.hub[k].Asked == 0 {
			w.add(None)
			continue
		}
		w.add(Truth(w.hub[k].Met))
	}
}

// figure returns a figure of some sites and months, in its unit.
func (w *work) figure(id sim.FigureID, at place, i int) float64 {
	switch {
	case at.site >= 0 && at.month < 0:
		return w.Table.At(id, at.site, w.Dryers[at.site], i)
	case at.month < 0:
		return w.Table.Of(id, w.Dryers, i)
	}
	sum := 0
	for site, n := range w.Dryers {
		if at.site < 0 || site == at.site {
			sum += int(w.Table.MonthFigures(id, site, n, i)[at.month])
		}
	}
	return float64(sum) / id.Figure().Unit.Fine()
}

// money writes what was earned and spent, by part, and its sum.
func (w *work) money(by By, at place) {
	var sum money.Parts
	for site, months := range w.paid {
		for k := range months {
			if (at.site < 0 || site == at.site) && (at.month < 0 || k == at.month) {
				for part := range sum {
					sum[part] += months[k][part]
				}
			}
		}
	}
	for _, a := range sum {
		w.add(Number(a.Units()))
	}
	net := sum.Net().Units()
	w.add(Number(net))
	if by == Season {
		w.add(Number(0-w.dryers), Number(net-w.dryers)) // 0 less nothing is 0, not -0
	}
}
