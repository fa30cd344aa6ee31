package decide

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// By hand: where good stalks earn a tenth each and nothing costs but the dryer, 8,000 over 8
// years without interest, a plan earns a tenth of its stalks less 1,000 for each of its dryers.
func TestEarnsByHand(t *testing.T) {
	s, set := small(t)
	const seasons = 12
	table := tableOf(t, set, seasons, 1)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	e, net, err := EarnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	judged, err := Judge(table, []int{1})
	require.NoError(t, err)
	delivered := judged.Flow.Delivered.Mean
	require.Positive(t, delivered)
	assert.Equal(t, 1, e.Dryers)
	assert.InDelta(t, delivered/10-1000, e.Net.Mean, 0.01)
	assert.InDelta(t, 1000/delivered, e.PerGood.Mean, 1e-9, "the dryer is all it costs")
	require.Len(t, net, seasons)
	require.Len(t, e.Parts, len(money.AllParts())+1)
	sum, perGood := 0.0, 0.0
	for _, part := range e.Parts {
		sum += part.Year.Mean
		perGood += part.PerGood.Mean
	}
	assert.InDelta(t, e.Net.Mean, sum, 1e-6, "the parts add up")
	assert.InDelta(t, e.Net.Mean/delivered, perGood, 1e-6)
	assert.InDelta(t, -1000, e.Parts[len(e.Parts)-1].Year.Mean, 1e-9)
	mean := 0.0
	for _, x := range net {
		mean += x / seasons
	}
	assert.InDelta(t, e.Net.Mean, mean, 1e-6)
}

// What members have is what is left over and all that they are paid for: cutting, other work and nights.
// Who hires the hands has what is left over.
func TestWhatMembersHave(t *testing.T) {
	s, set := small(t)
	table := tableOf(t, set, 12, 1)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8, PerStalkCut: 0.03, WagePerH: 1, Hands: money.Members}
	e, _, err := EarnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	paid := 0.0
	for _, part := range e.Parts {
		switch part.Of {
		case money.Cutting.String(), money.Wages.String(), money.Night.String():
			paid -= part.Year.Mean
		}
	}
	require.Positive(t, paid)
	require.NotNil(t, e.Members)
	assert.InDelta(t, e.Net.Mean+paid, e.Members.Mean, 1e-6)
	p.Hands = money.Hired
	e, _, err = EarnsOf(&p, &s.Region, table, []int{1})
	require.NoError(t, err)
	assert.Nil(t, e.Members)
}

// Every plan of an answer has its money, of its own number of dryers; what knowing more is
// worth is said where something is not known, and only there.
func TestAnswerWithMoney(t *testing.T) {
	s, set := small(t)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	ask := func(set trials.Setup) Answer {
		a, err := Dryers(context.Background(), Question{
			Setup: set, MaxDryers: []int{1}, Free: true, Target: 0.9, SearchSeasons: 10, Seasons: 150, Limit: 150, ShortSeasons: 2, Prices: &p,
		})
		require.NoError(t, err)
		return a
	}
	a := ask(set)
	require.Len(t, a.Plans, 2)
	require.Len(t, a.Money, 2)
	for k, e := range a.Money {
		assert.Equal(t, a.Plans[k].Dryers, e.Dryers)
		assert.InDelta(t, a.Plans[k].Flow.Delivered.Mean/10-1000*float64(k), e.Net.Mean, 0.01)
	}
	assert.Nil(t, a.Money[0].More, "than none there is nothing more")
	require.NotNil(t, a.Money[1].More)
	assert.InDelta(t, 1000, a.Money[1].More.Cost.Mean, 1e-6)
	for _, e := range a.Money {
		require.NotNil(t, e.ToFund)
		assert.Zero(t, e.ToFund.New, "the dryer of the plan stands already")
	}
	require.NotNil(t, a.Worth)
	assert.Len(t, a.Worth.Each, len(s.Knowledge.Ranges))
	best := 0
	for k := range a.Money {
		if a.Money[k].Net.Mean > a.Money[best].Net.Mean {
			best = k
		}
	}
	assert.Equal(t, best, a.Worth.Chosen)

	set.Knowledge.Fixed = true
	a = ask(set)
	assert.Nil(t, a.Worth, "everything is known")
	assert.Empty(t, a.Swings)
	assert.Len(t, a.Money, len(a.Plans))
}

// The cash of two plans by month: that of the accounts themselves, of each season, as bands;
// only what is bought has an own part and instalments; the month of the lowest balance is the one it
// falls in most often.
func TestAccountsOfAComparison(t *testing.T) {
	s, set := small(t)
	const n = 20
	table := tableOf(t, set, n, 1)
	p := money.Prices{PerGoodStalk: 0.05, PaidAfter: 2, PerStalkCut: 0.04, OpeningCash: money.Of(300), DryerCost: 3000, DryerYears: 8, LoanShare: 0.5, LoanMonths: 12, LoanRate: 0.1}
	y, err := money.NewPlay(&s.Region, table, []int{1})
	require.NoError(t, err)
	bills, err := p.Bills(&s.Region, []money.Item{{Of: money.Dryer, Size: 1, Site: s.Region.Sites[0].Name, Cost: money.Of(3000), Years: 8}}, 8)
	require.NoError(t, err)
	require.Len(t, bills[0].Instalments, 12)
	var c Comparison
	c.accounts(&p, y, false, nil)
	c.accounts(&p, y, true, bills)
	require.Len(t, c.Accounts, 2)
	for k, got := range c.Accounts {
		var lowest, first, last, uncovered []float64
		at := map[int]int{}
		for i := range n {
			a := y.Accounts(&p, i, 1, [][]money.Bill{nil, bills}[k])[0]
			lowest, uncovered = append(lowest, a.Lowest.Units()), append(uncovered, float64(len(a.Uncovered)))
			first, last = append(first, a.Months[0].Units()), append(last, a.Months[11].Units())
			at[a.LowestAt]++
		}
		assert.Equal(t, s.Region.Sites[0].Name, got.Site)
		assert.Equal(t, k == 1, got.Second)
		assert.Equal(t, trials.NewBand(lowest), got.Lowest)
		assert.Equal(t, trials.NewAmount(uncovered), got.Uncovered)
		require.Len(t, got.Months, 12)
		assert.Equal(t, Balance{"June", trials.NewBand(first)}, got.Months[0])
		assert.Equal(t, "January", got.Months[7].Month)
		assert.Equal(t, Balance{"May", trials.NewBand(last)}, got.Months[11])
		most := 0
		for month := range 12 {
			if at[month] > at[most] {
				most = month
			}
		}
		assert.Equal(t, time.Month((5+most)%12+1).String(), got.At)
	}
	assert.Less(t, c.Accounts[1].Lowest.Median, c.Accounts[0].Lowest.Median, "the loan is paid")
	assert.Positive(t, c.Accounts[1].Uncovered.Mean)
	assert.Zero(t, c.Accounts[0].Uncovered.Mean)
}

// The sum to fund by hand: of four dryers one stands, at the first site, so three at 6,000 are
// bought; half is grant, three tenths are borrowed over 20 months without interest, and the rest is
// the own part. A dryer that stands where the plan has none is no money back. The grant's share is
// said beside what a stalk costs, for it is not in that.
func TestSumToFundByHand(t *testing.T) {
	r := &sim.Region{Sites: []sim.Site{{Name: "Stone Weir", Cutters: 1, OutputPerPersonH: 1, Dryers: 1}, {Name: "Ferry Bank", Cutters: 1, OutputPerPersonH: 1}}}
	p := money.Prices{DryerCost: 6000, DryerYears: 8, GrantShare: 0.5, LoanShare: 0.3, LoanMonths: 20}
	f, err := toFund(&p, r, []int{2, 2})
	require.NoError(t, err)
	assert.Equal(t, &ToFund{3, money.Funding{Cost: money.Of(18_000), Grant: money.Of(9000), Own: money.Of(3600), Loan: money.Of(5400), Months: 20, Instalment: money.Of(270)}}, f)
	f, err = toFund(&p, r, []int{0, 1})
	require.NoError(t, err)
	assert.Equal(t, 1, f.New)
	p.GrantShare, p.LoanShare = 1, 0
	f, err = toFund(&p, r, []int{1, 1})
	require.NoError(t, err)
	assert.Equal(t, &ToFund{1, money.Funding{Cost: money.Of(6000), Grant: money.Of(6000)}}, f)
	p.DryerCost = 0
	f, err = toFund(&p, r, []int{1, 3})
	require.NoError(t, err)
	assert.Equal(t, &ToFund{New: 3}, f, "no price is stated")
	p.DryerCost, p.GrantShare, p.LoanShare, p.LoanMonths = 6000, 0, 1, 0
	_, err = toFund(&p, r, []int{1, 3})
	require.Error(t, err)

	s, set := small(t)
	e, _, err := EarnsOf(&money.Prices{DryerCost: 8000, DryerYears: 8, GrantShare: 1}, &s.Region, tableOf(t, set, 2, 1), []int{1})
	require.NoError(t, err)
	assert.Equal(t, 1.0, e.GrantShare)
	assert.Zero(t, e.Parts[len(e.Parts)-1].Year.Mean, "the dryer costs nothing by the year")
}
