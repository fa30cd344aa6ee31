package money

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// Members are those who cut, without the crew.
func TestMembersByHand(t *testing.T) {
	assert.Equal(t, 7, heads(&sim.Region{Sites: []sim.Site{{Cutters: 4, Crew: 2}, {Cutters: 3}}}))
	assert.Zero(t, heads(&sim.Region{Sites: make([]sim.Site, 2)}))
}

// What the members of two groups of four and two have of two futures, by hand: money of a plan
// less what is bought by the year, hours, money of an hour, and of each member.
func TestLivelihoodByHand(t *testing.T) {
	var l lived
	l.add([2]float64{1000, 1200}, [2]float64{500, 400})
	l.add([2]float64{1400, 1300}, [2]float64{700, 600})
	l.gain, l.freed = []float64{150, -150}, []float64{100, 100}
	got := l.livelihood([2]int{4, 2}, 50)
	means := func(p Pair) []float64 { return []float64{p.A.Mean, p.B.Mean, p.More.Mean} }
	assert.Equal(t, []float64{1200, 1250, 50}, means(got.Before))
	assert.Equal(t, []float64{1200, 1200, 0}, means(got.Money))
	assert.Equal(t, []float64{600, 500, -100}, means(got.Hours))
	assert.InDeltaSlice(t, []float64{2, 2.4, 0.4}, means(got.PerHour), 1e-12)
	assert.Equal(t, []float64{300, 600, 300}, means(got.EachMoney))
	assert.Equal(t, []float64{150, 250, 100}, means(got.EachHours))
	assert.Equal(t, 50.0, got.Costs)
	assert.Equal(t, trials.NewMean([]float64{150, -150}), got.Money.More, "paired: 1150 less 1000, 1250 less 1400")
	assert.True(t, math.IsInf(got.PerHour.More.High, 0), "two futures do not tell the hours from nothing")
}

// At which worth of an hour a purchase pays, in all four quarters of money and hours, and where
// hours hardly change. The first takes 300 a year and frees 100 hours: it breaks even at 3.
func TestBreakEvenHourInAllQuarters(t *testing.T) {
	for name, tt := range map[string]struct {
		gain, freed float64
		pays        Pays
		worth       float64
	}{
		"takes money, frees hours":    {-300, 100, AboveWorth, 3},
		"brings money, frees hours":   {300, 100, AnyWorth, 0},
		"brings money, takes hours":   {300, -100, BelowWorth, 3},
		"takes money, takes hours":    {-300, -100, NoWorth, 0},
		"brings money, no hours told": {300, 0.01, SameHours, 0},
	} {
		var l lived
		for _, luck := range []float64{-1, 0, 1, 0.5, -0.5} {
			l.gain, l.freed = append(l.gain, tt.gain+10*luck), append(l.freed, tt.freed+3*luck*luck-1.5)
		}
		even := l.even()
		assert.Equal(t, tt.pays, even.Pays, name)
		if tt.worth == 0 {
			assert.Nil(t, even.Worth, name)
			continue
		}
		require.NotNil(t, even.Worth, name)
		assert.InDelta(t, tt.worth, even.Worth.Mean, 0.05, name)
		assert.True(t, even.Worth.Low < tt.worth && tt.worth < even.Worth.High, name)
	}
}

// The worth of an hour is what is stated, the wage of other work where nothing is, and none for
// hired hands, whose hours are paid for.
func TestWhichWorthOfAnHour(t *testing.T) {
	for _, tt := range []struct {
		p      Prices
		worth  float64
		stated bool
	}{
		{Prices{HourWorth: 2, WagePerH: 1}, 2, true},
		{Prices{HourWorth: 0, WagePerH: 1}, 0, true},
		{Prices{HourWorth: -1, WagePerH: 1}, 1, false},
		{Prices{Hands: Hired, HourWorth: 2, WagePerH: 1}, 0, false},
	} {
		worth, stated := tt.p.WorthOfHour()
		assert.Equal(t, []any{tt.worth, tt.stated}, []any{worth, stated})
	}
}

// The four verdicts, each end of their limits included: 190 of 200 futures are nearly all, 189 are
// not, and so for the instalments.
func TestVerdictsAtTheirLimits(t *testing.T) {
	gains := trials.Mean{Mean: 2, Low: 1, High: 3}
	odds := func(met int) *trials.Odds { return oddsOf(met, 200) }
	for _, tt := range []struct {
		npv        trials.Mean
		above      int
		notCovered *trials.Odds
		want       Verdict
	}{
		{gains, 190, nil, PaysInNearlyAll},
		{gains, 190, odds(10), PaysInNearlyAll},
		{gains, 190, odds(11), PaysOnAverage},
		{gains, 189, odds(0), PaysOnAverage},
		{gains, 189, nil, PaysOnAverage},
		{trials.Mean{Mean: 1, Low: 0, High: 2}, 200, nil, CannotBeTold},
		{trials.Mean{Mean: -1, Low: -2, High: 0}, 0, nil, CannotBeTold},
		{trials.Mean{Mean: -1, Low: -2, High: -0.1}, 90, odds(0), DoesNotPay},
	} {
		assert.Equal(t, tt.want, verdictOf(tt.npv, *odds(tt.above), tt.notCovered), "%v above in %d", tt.npv, tt.above)
	}
}

// Pay for good stalks goes by what the hub accepts, not by what is cut, and nothing else moves.
func TestPayForGoodStalks(t *testing.T) {
	_, y := busy(t, 4, 0)
	cut := prices()
	good := cut
	good.PayFor = ForGood
	for i := range 4 {
		a, b := y.Season(&cut, i), y.Season(&good, i)
		for site := range a {
			for k := range a[site] {
				assert.InDelta(t, -0.043*float64(y.Table.Accepted(site, y.Plan[site], i)[k]), b[site][k][Cutting].Units(), 0.005+1e-9)
				assert.Equal(t, a[site][k].Net()-a[site][k][Cutting], b[site][k].Net()-b[site][k][Cutting])
			}
		}
		assert.NotEqual(t, a, b)
	}
}

// What is left of a year is shared out at its end, all but the opening cash, the instalments of
// the next year and what is bought again before it, by hand: 100 to begin with, 10 a month owed
// over two years, a sheet for 30 bought again in the third. A year that leaves less shares nothing
// out, and what it lacks is missing in the next; the last year shares nothing out.
func TestWhatIsLeftIsSharedOut(t *testing.T) {
	b := Bill{Again: []Amount{0, 0, Of(30)}}
	for range 24 {
		b.Instalments = append(b.Instalments, Of(10))
	}
	year := func(first, second, third float64) []Amount {
		flows := make([]Amount, 36)
		flows[5], flows[17], flows[29] = Of(first), Of(second), Of(third)
		return flows
	}
	a := b.account(Of(100), year(400, 200, 0), 3)
	// 100 + 400 − 120 = 380; kept 100 + 120. Then 220 + 200 − 120 = 300; kept 100 + 30.
	assert.Equal(t, []Amount{Of(160), Of(170)}, a.Shared)
	assert.Equal(t, []Amount{Of(380), Of(300), Of(100)}, []Amount{a.Months[11], a.Months[23], a.Months[35]})
	assert.Equal(t, Of(210), a.Months[12], "220 less an instalment")
	assert.Empty(t, a.Uncovered)

	a = b.account(Of(100), year(140, -60, 300), 3)
	assert.Equal(t, []Amount{0, 0}, a.Shared)
	assert.Equal(t, []Amount{Of(120), -Of(60), Of(210)}, []Amount{a.Months[11], a.Months[23], a.Months[35]})
	assert.NotEmpty(t, a.Uncovered)
}

// A good year before a bad one does not pay the bad one's instalments beyond the reserve: with
// nothing shared out it would have.
func TestAGoodYearDoesNotPayForABadOne(t *testing.T) {
	b := Bill{}
	for range 24 {
		b.Instalments = append(b.Instalments, Of(10))
	}
	flows := make([]Amount, 24)
	flows[5], flows[12] = Of(5000), -Of(150)
	a := b.account(Of(100), flows, 2)
	require.Len(t, a.Shared, 1)
	// 100 + 120 are left after sharing out; 150 are spent at once: seven instalments are covered
	assert.Equal(t, []int{19, 20, 21, 22, 23}, a.Uncovered)
}
