package decide

import (
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
	var nets [][]float64
	for k, c := range d.judged {
		e, net, err := EarnsOf(d.Prices, c.region, c.table, c.plan)
		if err != nil {
			return err
		}
		e.Dryers = a.Plans[k].Dryers
		if e.ToFund, err = toFund(d.Prices, d.Setup.Region, c.plan); err != nil {
			return err
		}
		a.Money = append(a.Money, e)
		nets = append(nets, net[:len(d.played[0].allMet)])
	}
	if !d.Setup.Knowledge.Fixed {
		a.Worth = ValueOfKnowing(d.Setup.Knowledge.Ranges, d.judged[0].table.Draws[:len(nets[0])], nets)
	}
	return nil
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
	DryersByTheYear   = "dryers_by_the_year"
	NetBeforePurchase = "net_before_what_is_bought"
	IncomeOfAPerson   = "income_of_a_person"
)

// EarnsOf returns what a plan costs and earns in a year, with the yearly cost of its dryers less
// their grant, and the net of each season.
func EarnsOf(p *money.Prices, r *sim.Region, t *trials.Table, plan []int) (Earns, []float64, error) {
	y, err := money.NewPlay(r, t, plan)
	if err != nil {
		return Earns{}, nil, err
	}
	n := t.Seasons
	dryers := p.Yearly(money.Of(p.DryerCost), p.DryerYears) * float64(total(plan))
	parts := make([][]float64, len(money.AllParts())+1)
	net, cost, good := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		year := y.Year(p, i)
		good[i] = float64(y.Delivered(i))
		for k := range year {
			parts[k] = append(parts[k], year[k].Units())
		}
		parts[len(year)] = append(parts[len(year)], -dryers)
		net[i] = year.Net().Units() - dryers
		cost[i] = year.Cost().Units() + dryers
	}
	e := Earns{Dryers: total(plan), GrantShare: p.GrantShare, Net: trials.NewMean(net), PerGood: trials.NewRatio(cost, good)}
	for k := range parts {
		key := DryersByTheYear
		if k < len(money.AllParts()) {
			key = money.Part(k).String()
		}
		e.Parts = append(e.Parts, Part{key, trials.NewMean(parts[k]), trials.NewRatio(parts[k], good)})
	}
	return e, net, nil
}
