package decide

import (
	"context"
	"math"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Side is one of two plans that are compared, with the dryers of its sites.
type Side struct {
	Name  string
	Setup trials.Setup
	Goal  goal.Goal // what is asked of it; of the worst contract month unless stated
}

func (s *Side) plan() []int { return PlanOf(s.Setup.Region) }

// Difference is one figure of both plans, a mean over seasons, and what the second has more in
// the same seasons.
type Difference struct {
	Of   string      `json:"of"` // key of a figure, or a part of the money
	Unit string      `json:"unit"`
	A    trials.Mean `json:"first"`
	B    trials.Mean `json:"second"`
	More trials.Mean `json:"second_less_first"` // paired in the same seasons
}

// MonthDifference is a contract month under both plans.
type MonthDifference struct {
	Name   string      `json:"month"`
	OddsA  trials.Odds `json:"first"`
	OddsB  trials.Odds `json:"second"`
	Gain   trials.Mean `json:"gain_share"` // of the odds, fraction, paired
	PValue float64     `json:"p_value"`    // of as many or more one-sided changes by chance
	Stalks trials.Mean `json:"more_good_stalks"`
}

// DryerUse is what one dryer of a plan did in the hours of its shifts, in an average season.
type DryerUse struct {
	Site   string  `json:"site"`
	Dryer  int     `json:"dryer"` // from 1
	Second bool    `json:"of_second_plan"`
	Hours  []Spent `json:"hours"`
}

// Comparison is two plans in the same seasons.
type Comparison struct {
	Seasons     int               `json:"seasons"`
	A           PlanResult        `json:"first"`
	B           PlanResult        `json:"second"`
	Months      []MonthDifference `json:"months"`
	Totals      []Difference      `json:"totals"`
	Dryers      []DryerUse        `json:"dryers"`
	Correlation *float64          `json:"correlation,omitempty"` // of good stalks delivered; nil where a plan delivers the same in all seasons
	Money       []Difference      `json:"money,omitempty"`
	Cutters     string            `json:"cutters_are,omitempty"` // members or hired; "" without prices
	Accounts    []AccountResult   `json:"accounts,omitempty"`
	Members     *money.Livelihood `json:"members,omitempty"`  // what they have of both plans, over the futures of the purchase, or over the seasons where nothing is bought; nil where the hands are hired
	Purchase    *money.Purchase   `json:"purchase,omitempty"` // nil where nothing more is bought
	Unpriced    []money.Item      `json:"unpriced,omitempty"`
	Hub         HubAir            `json:"hub"` // of the second plan
}

// AccountResult is the cash of a site over the first year, with the own part of what is bought
// and the instalments of every loan taken off. Purchase.Cash tells the years after it.
type AccountResult struct {
	Site      string      `json:"site"`
	Second    bool        `json:"of_second_plan"`
	Lowest    trials.Band `json:"lowest_balance"`
	At        string      `json:"lowest_month"` // most often
	Uncovered trials.Mean `json:"instalments_not_covered"`
	Months    []Balance   `json:"months"`
}

// Balance is the cash of a site at the end of a month of the year.
type Balance struct {
	Month string      `json:"month"`
	Cash  trials.Band `json:"cash"`
}

// ComparisonQuestion is "what does the second plan do that the first does not?".
type ComparisonQuestion struct {
	A, B     Side
	Seasons  int
	Prices   *money.Prices // of the second plan; nil: nothing is said of money
	Futures  int           // sequences of years behind the payback
	Progress func(done, of int)

	// Lived, if any, is told of the seasons that each plan has lived through.
	Lived func(first, second *trials.Table)
}

// Compare runs both plans through the same seasons and judges the purchase over futures.
func Compare(ctx context.Context, q ComparisonQuestion) (Comparison, error) {
	c := Comparison{Seasons: q.Seasons}
	tables, err := q.seasons(ctx, &c)
	if err != nil {
		return Comparison{}, err
	}
	if q.Lived != nil {
		q.Lived(tables[0], tables[1])
	}
	planA, planB := q.A.plan(), q.B.plan()
	if c.A, err = JudgeFor(q.A.Goal, q.A.Setup.Region, tables[0], planA); err != nil {
		return c, err
	}
	if c.B, err = JudgeFor(q.B.Goal, q.B.Setup.Region, tables[1], planB); err != nil {
		return c, err
	}
	a, b := play(tables[0], planA), play(tables[1], planB)
	if x := stat.Correlation(a.delivered, b.delivered, nil); !math.IsNaN(x) {
		c.Correlation = &x
	}
	c.months(&a, &b, tables)
	c.totals(&a, &b, tables, planA, planB)
	c.dryers(&q, tables, planA, planB)
	if q.Prices == nil {
		return c, nil
	}
	return c, q.money(ctx, &c, tables, planA, planB)
}

// seasons runs both plans in the same seasons and says what an open shed would do to the second.
func (q *ComparisonQuestion) seasons(ctx context.Context, c *Comparison) ([]*trials.Table, error) {
	variants := q.variants()
	if variants == nil {
		tables, err := q.oneByOne(ctx, q.Seasons, 0, 0)
		if err != nil {
			return nil, err
		}
		c.Hub, err = HubOf(ctx, q.B.Setup, q.B.Setup.Region, tables[1], q.B.plan())
		return tables, err
	}
	r, plan := q.B.Setup.Region, q.B.plan()
	tables, shed, err := besideShed(ctx, q.A.Setup, variants, shedOf(r, plan), q.Seasons, q.told(0, 2))
	if err != nil {
		return nil, err
	}
	c.Hub, err = hubFrom(r, plan, tables[1], shed)
	return tables, err
}

// futures runs both plans through sequences of so many years.
func (q *ComparisonQuestion) futures(ctx context.Context, years int) ([]*trials.Table, error) {
	if variants := q.variants(); variants != nil {
		set := q.A.Setup
		set.YearsPerFuture = years
		return set.Tables(ctx, 0, q.Futures*years, variants, q.told(2*q.Seasons, 2))
	}
	return q.oneByOne(ctx, q.Futures*years, years, 2*q.Seasons)
}

// variants returns both plans as variants that live side by side, so that their seasons are drawn
// once; nil where something else than the region differs, or what a region's draws depend on.
func (q *ComparisonQuestion) variants() []trials.Variant {
	a, b := q.A.Setup, q.B.Setup
	b.Region = a.Region
	if !reflect.DeepEqual(a, b) {
		return nil
	}
	out := []trials.Variant{{Region: a.Region, Levels: trials.Only(q.A.plan())}, {Region: q.B.Setup.Region, Levels: trials.Only(q.B.plan())}}
	if reflect.DeepEqual(planned(a.Region, q.B.plan()), q.B.Setup.Region) {
		out[1].Region = a.Region // they share what happens in their yards
	}
	if _, err := a.Study(0, 0, out); err != nil {
		return nil
	}
	return out
}

// oneByOne runs each plan by itself, with its own parameters as written, in the same seasons.
func (q *ComparisonQuestion) oneByOne(ctx context.Context, seasons, years, before int) ([]*trials.Table, error) {
	var out []*trials.Table
	for k, side := range []*Side{&q.A, &q.B} {
		set := side.Setup
		set.YearsPerFuture = years
		t, err := set.Table(ctx, 0, seasons, trials.Only(side.plan()), q.told(before+k*seasons, 1))
		if err != nil {
			return out, err
		}
		out = append(out, t)
	}
	return out, nil
}

// told returns what is told of the seasons done, each of so many plans, after those before.
func (q *ComparisonQuestion) told(before, plans int) func(done int) {
	return func(done int) {
		for k := plans - 1; k >= 0 && q.Progress != nil; k-- {
			q.Progress(before+plans*done-k, q.work())
		}
	}
}

// work is how many seasons are run in all.
func (q *ComparisonQuestion) work() int {
	n := 2 * q.Seasons
	if q.Prices != nil {
		n += 2 * q.Futures * q.Prices.DryerYears
	}
	return n
}

func (c *Comparison) months(a, b *seasons, tables []*trials.Table) {
	gate := tables[1].Gate()
	for i, k := range b.asked {
		at := slices.Index(a.asked, k) // the first plan's place of the month
		if at < 0 {                    // its contract does not ask for it
			continue
		}
		gains, losses := 0, 0
		more := make([]float64, tables[0].Seasons)
		for s := range more {
			switch {
			case b.met[i][s] && !a.met[at][s]:
				gains++
			case a.met[at][s] && !b.met[i][s]:
				losses++
			}
			more[s] = (float64(gate.Asked[k]) - b.shortfall[i][s]) - (float64(tables[0].Gate().Asked[k]) - a.shortfall[at][s])
		}
		c.Months = append(c.Months, MonthDifference{
			gate.Months[k].String(), c.A.Months[at].Odds, c.B.Months[i].Odds, PairedGain(b.met[i], a.met[at]), trials.PairedTest(gains, losses), trials.NewMean(more),
		})
	}
}

// pairedOf returns the means of two lists of amounts over the same seasons, which never pass nothing,
// and of their difference, which may.
func pairedOf(of, unit string, a, b []float64) Difference {
	d := pairedLeft(of, unit, a, b)
	d.A, d.B = trials.NewAmount(a), trials.NewAmount(b)
	return d
}

// pairedLeft is pairedOf of what may be a loss or a gain.
func pairedLeft(of, unit string, a, b []float64) Difference {
	more := make([]float64, len(a))
	for i := range more {
		more[i] = b[i] - a[i]
	}
	return Difference{of, unit, trials.NewMean(a), trials.NewMean(b), trials.NewMean(more)}
}

// compared are the figures of a comparison besides what is delivered: what comes in, every
// loss, every reason for which stalks are not cut, and what it took.
var compared = slices.Concat(
	[]sim.FigureID{sim.Cut}, sim.OfKinds(sim.Lost, sim.LostLater), sim.OfKinds(sim.NotCutFor, sim.NotWanted),
	[]sim.FigureID{sim.Charges, sim.FiringH, sim.WoodKg, sim.CutH, sim.OtherH},
)

func (c *Comparison) totals(a, b *seasons, tables []*trials.Table, planA, planB []int) {
	c.Totals = append(c.Totals, pairedOf(DeliveredKey, string(sim.Stalks), a.delivered, b.delivered), pairedOf(spoiledKey, string(sim.Stalks), a.spoiled, b.spoiled))
	for _, id := range compared {
		c.Totals = append(c.Totals, pairedOf(id.String(), string(id.Figure().Unit), each(tables[0], id, planA), each(tables[1], id, planB)))
	}
}

// each returns a figure of a plan season by season, in its unit.
func each(t *trials.Table, id sim.FigureID, plan []int) []float64 {
	out := make([]float64, t.Seasons)
	for i := range out {
		out[i] = t.Of(id, plan, i)
	}
	return out
}

func (c *Comparison) dryers(q *ComparisonQuestion, tables []*trials.Table, planA, planB []int) {
	for k, plan := range [][]int{planA, planB} {
		side := []*Side{&q.A, &q.B}[k]
		for site, n := range plan {
			for d := range n + side.Setup.Region.Coming(site) {
				u := DryerUse{Site: side.Setup.Region.Sites[site].Name, Dryer: d + 1, Second: k == 1}
				for _, s := range sim.DryerStates() {
					values := make([]float64, tables[k].Seasons)
					for i := range values {
						values[i] = float64(tables[k].DryerMinutes(site, n, i, d)[s]) / 60
					}
					u.Hours = append(u.Hours, Spent{s.Figure(), trials.NewAmount(values)})
				}
				c.Dryers = append(c.Dryers, u)
			}
		}
	}
}

// money compares what the plans earn and judges what the second buys more.
func (q *ComparisonQuestion) money(ctx context.Context, c *Comparison, tables []*trials.Table, planA, planB []int) error {
	p := q.Prices
	a, err := money.NewPlay(q.A.Setup.Region, tables[0], planA)
	if err != nil {
		return err
	}
	b, err := money.NewPlay(q.B.Setup.Region, tables[1], planB)
	if err != nil {
		return err
	}
	c.Cutters = p.Hands.String()
	c.yearMoney(p, a, b)
	items, unpriced := money.Items(p, q.A.Setup.Region, q.B.Setup.Region, planA, planB)
	c.Unpriced = unpriced
	bills, err := p.Bills(q.B.Setup.Region, items, p.DryerYears)
	if err != nil {
		return err
	}
	c.accounts(p, a, false, nil)
	c.accounts(p, b, true, bills)
	if len(items) == 0 {
		c.Members = money.LivelihoodOf(p, a, b)
		return nil
	}
	years := p.DryerYears
	futures, err := q.futures(ctx, years)
	if err != nil {
		return err
	}
	without, err := money.NewPlay(q.A.Setup.Region, futures[0], planA)
	if err != nil {
		return err
	}
	with, err := money.NewPlay(q.B.Setup.Region, futures[1], planB)
	if err != nil {
		return err
	}
	purchase, err := money.Judge(*p, without, with, years, items)
	c.Purchase, c.Members = &purchase, purchase.Livelihood
	return err
}

func (c *Comparison) yearMoney(p *money.Prices, a, b *money.Play) {
	parts := make([][2][]float64, len(money.AllParts()))
	var net [2][]float64
	for k, y := range []*money.Play{a, b} {
		for i := range a.Table.Seasons {
			year := y.Year(p, i)
			for part := range year {
				parts[part][k] = append(parts[part][k], year[part].Units())
			}
			net[k] = append(net[k], year.Net().Units())
		}
	}
	for _, part := range money.AllParts() {
		c.Money = append(c.Money, pairedOf(part.String(), "", parts[part][0], parts[part][1]))
	}
	c.Money = append(c.Money, pairedLeft(NetBeforePurchase, "", net[0], net[1]))
}

// accounts tells the cash of each site through the first year after what is bought.
func (c *Comparison) accounts(p *money.Prices, y *money.Play, second bool, bills []money.Bill) {
	n := y.Table.Seasons
	lowest, uncovered := make([][]float64, len(y.Plan)), make([][]float64, len(y.Plan))
	at := make([][]int, len(y.Plan))             // month of the lowest balance, by site and season
	balances := make([][][]float64, len(y.Plan)) // by site and month
	for i := range n {
		for site, a := range y.Accounts(p, i, 1, bills) {
			for k, x := range a.Months[:12] {
				if len(balances[site]) <= k {
					balances[site] = append(balances[site], nil)
				}
				balances[site][k] = append(balances[site][k], x.Units())
			}
			lowest[site] = append(lowest[site], a.Lowest.Units())
			uncovered[site] = append(uncovered[site], float64(len(a.Uncovered)))
			at[site] = append(at[site], a.LowestAt)
		}
	}
	first := y.Region.Calendar.StartMonth
	for site := range y.Plan {
		named := func(k int) string { return monthName((int(first)-1+k)%12 + 1) }
		r := AccountResult{Site: y.Region.Sites[site].Name, Second: second, Lowest: trials.NewBand(lowest[site]), At: named(mostOften(at[site])), Uncovered: trials.NewAmount(uncovered[site])}
		for k, values := range balances[site] {
			r.Months = append(r.Months, Balance{named(k), trials.NewBand(values)})
		}
		c.Accounts = append(c.Accounts, r)
	}
}

// mostOften returns the value that is there most often, the smallest of equals; 0 of none.
func mostOften(values []int) int {
	times := map[int]int{}
	for _, v := range values {
		times[v]++
	}
	most := 0
	for v, n := range times {
		if n > times[most] || (n == times[most] && v < most) {
			most = v
		}
	}
	return most
}
