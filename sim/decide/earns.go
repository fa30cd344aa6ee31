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
	y, err := money.NewPlay(r, t, plan)
	if err != nil {
		return Earns{}, earned{}, err
	}
	n := t.Seasons
	dryers := DryersYearly(p, plan)
	parts := make([][]float64, len(money.AllParts())+1)
	net, cost, others, good := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		year := y.Year(p, i)
		good[i] = float64(y.Delivered(i))
		for k := range year {
			parts[k] = append(parts[k], year[k].Units())
		}
		parts[len(year)] = append(parts[len(year)], -dryers)
		net[i] = year.Net().Units() - dryers
		cost[i] = year.Cost().Units() + dryers
		others[i] = dryers
		for _, k := range toOthers {
			others[i] -= year[k].Units()
		}
	}
	e := Earns{Dryers: total(plan), Cutters: p.Hands.String(), GrantShare: p.GrantShare, Net: trials.NewMean(net), PerGood: trials.NewRatio(cost, good)}
	for k := range parts {
		key := DryersByTheYear
		if k < len(money.AllParts()) {
			key = money.Part(k).String()
		}
		e.Parts = append(e.Parts, Part{key, trials.NewAmount(parts[k]), trials.NewRatio(parts[k], good)})
	}
	return e, earned{net, others}, nil
}
