package decide

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// earns writes what each plan costs and earns, and what knowing more would be worth to the
// choice between them.
func (d *dryers) earns(a *Answer) error {
	if d.Prices == nil {
		return nil
	}
	nets := make([][]float64, len(d.judged))
	var fewest earned
	for k, c := range d.judged {
		e, year, err := earnsOf(d.Prices, c.region, c.table, c.plan)
		if err != nil {
			return err
		}
		nets[k] = year.net
		if k == 0 {
			fewest = year
		} else {
			e.More = d.more(year, fewest, k)
		}
		e.Dryers = a.Plans[k].Dryers
		if e.ToFund, err = toFund(d.Prices, d.Setup.Region, c.plan); err != nil {
			return err
		}
		a.Money = append(a.Money, e)
	}
	if !d.Setup.Knowledge.Fixed {
		a.Worth = d.worth(nets)
	}
	return nil
}

// worth returns what knowing more would be worth to the choice among the plans that lived through
// as many seasons as it takes: the others were left out because they are clearly too few and
// clearly earn less.
func (d *dryers) worth(nets [][]float64) *Worth {
	seasons := d.toKnow()
	var among [][]float64
	var plans []int
	for k := range nets {
		if len(nets[k]) >= seasons {
			among, plans = append(among, nets[k][:seasons]), append(plans, k)
		}
	}
	if len(plans) < 2 {
		return nil
	}
	w := ValueOfKnowing(d.Setup.Knowledge.Ranges, d.judged[plans[0]].table.AllDraws(seasons), among)
	if w != nil {
		w.Chosen = plans[w.Chosen]
	}
	return w
}

// toKnow is through how many seasons plans live among which the one that earns most is chosen: a
// fifth of those that are stated, and no fewer than anything can be told from.
func (d *dryers) toKnow() int { return min(d.Seasons, max(d.Seasons/5, fewestToKnow)) }

// earners returns the indexes of the plans that may earn most: in the seasons that all share, their
// net is not clearly lower than that of the one that does there; two at least, for a choice. None
// where there are no prices, or nothing is left to know.
func (d *dryers) earners() []int {
	if d.Prices == nil || d.Setup.Knowledge.Fixed {
		return nil
	}
	n := d.judged[0].seasons()
	for _, c := range d.judged {
		n = min(n, c.seasons())
	}
	nets := make([][]float64, len(d.judged))
	for k, c := range d.judged {
		_, nets[k], _ = EarnsOf(d.Prices, c.region, c.table.Before(n), c.plan)
	}
	order := indexes(0, len(nets)-1)
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(stat.Mean(nets[b], nil), stat.Mean(nets[a], nil)) })
	var out []int
	for place, k := range order {
		diff := make([]float64, n)
		for i := range diff {
			diff[i] = nets[k][i] - nets[order[0]][i]
		}
		if place < 2 || trials.NewMean(diff).High >= 0 {
			out = append(out, k)
		}
	}
	return out
}

// more returns what the k-th plan meets and costs more than the first, in the seasons that both
// lived through. What a grant pays of the dryers is counted: somebody pays it.
func (d *dryers) more(now, fewest earned, k int) *More {
	granted := d.Prices.GrantShare * money.Of(d.Prices.DryerCost).Units() * money.LevelPayment(d.Prices.Discount, d.Prices.DryerYears) *
		float64(total(d.plans[k])-total(d.plans[0]))
	n := min(len(now.others), len(fewest.others))
	cost, months, stalks := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		cost[i] = now.others[i] - fewest.others[i] + granted
		months[i] = d.played[k].monthsMet(i) - d.played[0].monthsMet(i)
		stalks[i] = d.played[k].delivered[i] - d.played[0].delivered[i]
	}
	return &More{trials.NewMean(cost), trials.NewMean(months), trials.NewMean(stalks), trials.NewRatio(cost, months), trials.NewRatio(cost, stalks)}
}

// monthsMet returns how many contract months of a season were met.
func (p *seasons) monthsMet(i int) float64 {
	n := 0.0
	for _, met := range p.met {
		if met[i] {
			n++
		}
	}
	return n
}

// toFund returns what the dryers of a plan cost that do not stand in the region as it is: those
// that stand at their sites are there already.
func toFund(p *money.Prices, r *sim.Region, plan []int) (*ToFund, error) {
	standing := PlanOf(r)
	items, unpriced := money.Items(p, r, r, standing, plan)
	bills, err := p.Bills(r, items, 1)
	if err != nil {
		return nil, err
	}
	f := ToFund{Funding: money.InAll(bills)}
	for _, i := range append(items, unpriced...) {
		f.New += int(i.Size)
	}
	return &f, nil
}

// Keys of money beside the parts of a season.
const (
	DryersByTheYear   = money.DryersByTheYear
	NetBeforePurchase = money.NetBeforePurchase
)

// earned is what a plan earns season by season and what it pays to others, its dryers included in
// both less their grant.
type earned struct{ net, others []float64 }

// toOthers are the parts of the money that leave the group. Pay to its own people is their income
// and no cost that a purchase saves; penalties are counted by the months that are missed.
var toOthers = []money.Part{money.Crew, money.Wood, money.Collections, money.Bags, money.Upkeep, money.Rent}

// EarnsOf returns what a plan costs and earns in a year, with the yearly cost of its dryers less
// their grant, and the net of each season.
func EarnsOf(p *money.Prices, r *sim.Region, t *trials.Table, plan []int) (Earns, []float64, error) {
	e, year, err := earnsOf(p, r, t, plan)
	return e, year.net, err
}

func earnsOf(p *money.Prices, r *sim.Region, t *trials.Table, plan []int) (Earns, earned, error) {
	year := newEarning(t.Seasons)
	if err := year.add(p, r, t, plan); err != nil {
		return Earns{}, earned{}, err
	}
	e, of := year.say(p, plan)
	return e, of, nil
}

// earning is the money of a plan season by season, as seasons are added.
type earning struct {
	most  int
	parts [][]money.Amount // by part; nil of one that was nothing so far
	good  []float64        // stalks delivered
}

// newEarning returns the money of no season yet, with room for so many.
func newEarning(seasons int) *earning {
	return &earning{seasons, make([][]money.Amount, len(money.AllParts())), make([]float64, 0, seasons)}
}

// add adds the seasons of a table that holds the plan.
func (e *earning) add(p *money.Prices, r *sim.Region, t *trials.Table, plan []int) error {
	y, err := money.NewPlay(r, t, plan)
	if err != nil {
		return err
	}
	for i := range t.Seasons {
		year := y.Year(p, i)
		for k, amount := range year {
			if amount != 0 && e.parts[k] == nil {
				e.parts[k] = make([]money.Amount, len(e.good), e.most)
			}
			if e.parts[k] != nil {
				e.parts[k] = append(e.parts[k], amount)
			}
		}
		e.good = append(e.good, float64(y.Delivered(i)))
	}
	return nil
}

// year returns the money of a season by part.
func (e *earning) year(i int) (year money.Parts) {
	for k, part := range e.parts {
		if part != nil {
			year[k] = part[i]
		}
	}
	return year
}

// say returns what the plan costs and earns in a year, and season by season.
func (e *earning) say(p *money.Prices, plan []int) (Earns, earned) {
	n, dryers := len(e.good), DryersYearly(p, plan)
	net, theirs, cost, others := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		year := e.year(i)
		net[i] = year.Net().Units() - dryers
		theirs[i] = p.Theirs(&year).Units() - dryers
		cost[i] = year.Cost().Units() + dryers
		others[i] = dryers
		for _, k := range toOthers {
			others[i] -= year[k].Units()
		}
	}
	out := Earns{Dryers: total(plan), Cutters: p.Hands.String(), GrantShare: p.GrantShare, Net: trials.NewMean(net), PerGood: trials.NewRatio(cost, e.good)}
	if p.Hands == money.Members {
		members := trials.NewMean(theirs)
		out.Members = &members
	}
	values := make([]float64, n)
	tell := func(key string, of func(i int) float64) {
		for i := range values {
			values[i] = of(i)
		}
		out.Parts = append(out.Parts, Part{key, trials.NewAmount(values), trials.NewRatio(values, e.good)})
	}
	for _, k := range money.AllParts() {
		tell(k.String(), func(i int) float64 { year := e.year(i); return year[k].Units() })
	}
	tell(DryersByTheYear, func(int) float64 { return -dryers })
	return out, earned{net, others}
}
