package money

import (
	"slices"

	"drystalk/sim"
)

// Funding is how a purchase is paid for. Grant, loan and own part add up to what it costs, to
// the last minor unit.
type Funding struct {
	Cost       Amount `json:"cost"`
	Grant      Amount `json:"grant"`              // nobody pays it back
	Own        Amount `json:"own_part"`           // paid in cash before the first season
	Loan       Amount `json:"loan"`               // borrowed
	Months     int    `json:"loan_months"`        // over which it is paid back; 0 where nothing is borrowed
	Instalment Amount `json:"instalment_a_month"` // the last may differ by what rounding left
	Interest   Amount `json:"interest_in_all"`
}

// AfterGrant returns what is paid sooner or later: own part and loan.
func (f *Funding) AfterGrant() Amount { return f.Cost - f.Grant }

func (f *Funding) add(o *Funding) {
	f.Cost += o.Cost
	f.Grant += o.Grant
	f.Own += o.Own
	f.Loan += o.Loan
	f.Months = max(f.Months, o.Months)
	f.Instalment += o.Instalment
	f.Interest += o.Interest
}

// Bill is what one site pays for what is bought: its own part before the first season, then
// instalments, and things bought again when they are worn out.
type Bill struct {
	Funding
	Instalments []Amount // due at the end of each month, from that of the first season
	Again       []Amount // by year: what is bought again before it, in cash, without grant or loan
}

// now returns what a bill is worth before the first season at a discount rate a year: the own
// part, each instalment at the end of its year, and what is bought again.
func (b *Bill) now(discount float64) float64 {
	years := append([]float64{b.Own.Units()}, make([]float64, max((len(b.Instalments)+11)/12, len(b.Again)))...)
	for k, due := range b.Instalments {
		years[k/12+1] += due.Units()
	}
	for y, cost := range b.Again {
		years[y] += cost.Units()
	}
	return PresentValue(discount, years)
}

// Bills returns what each site pays for items over so many years. What is bought for the hub
// is shared among the sites by their shares of the contract, a moved dryer is paid by the site
// that gets it. Loans of no months or at a negative rate are an error.
func (p *Prices) Bills(r *sim.Region, items []Item, years int) ([]Bill, error) {
	bills := make([]Bill, len(r.Sites))
	for site := range bills {
		bills[site].Again = make([]Amount, years)
	}
	shares := r.Shares()
	for _, item := range items {
		for site, cost := range split(item.Cost, payers(r, &item, shares)) {
			b := &bills[site]
			b.Cost += cost
			for y := item.Years; y > 0 && y < years; y += item.Years {
				b.Again[y] += cost
			}
		}
	}
	for site := range bills {
		if err := p.fund(&bills[site]); err != nil {
			return nil, err
		}
	}
	return bills, nil
}

// payers returns the weights by which sites pay for an item.
func payers(r *sim.Region, item *Item, shares []float64) []float64 {
	at := item.Site
	if item.To != "" {
		at = item.To
	}
	site := slices.IndexFunc(r.Sites, func(s sim.Site) bool { return s.Name == at })
	if site < 0 {
		return shares
	}
	one := make([]float64, len(r.Sites))
	one[site] = 1
	return one
}

// fund splits what a bill costs into grant, loan and own part, and sets its instalments.
func (p *Prices) fund(b *Bill) error {
	b.Grant = Of(b.Cost.Units() * p.GrantShare)
	loan := p.Loan(b.Cost)
	loan.Principal = min(loan.Principal, b.Cost-b.Grant) // rounding must not borrow what the grant pays
	b.Loan = loan.Principal
	b.Own = b.Cost - b.Grant - b.Loan
	schedule, err := loan.Schedule()
	if err != nil || len(schedule) == 0 {
		return err
	}
	b.Months, b.Instalment = loan.Months, schedule[0].Paid
	for _, x := range schedule {
		b.Instalments = append(b.Instalments, x.Paid)
		b.Interest += x.Interest
	}
	return nil
}

// InAll returns what the bills of all sites come to.
func InAll(bills []Bill) Funding {
	var all Funding
	for k := range bills {
		all.add(&bills[k].Funding)
	}
	return all
}

// FundingOf returns how a purchase is paid for where one payer buys all of it. A loan of no months
// or at a negative rate is an error.
func (p *Prices) FundingOf(cost Amount) (Funding, error) {
	b := Bill{Funding: Funding{Cost: cost}}
	err := p.fund(&b)
	return b.Funding, err
}
