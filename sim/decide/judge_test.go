package decide

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Two seasons at the hub by hand: months that ask for nothing are left out, what made good the
// month before counts as delivered in the season, a season is met where all its months are.
func TestSeasonsByHand(t *testing.T) {
	p := seasons{asked: []int{0, 2}, met: make([][]bool, 2), available: make([][]float64, 2), shortfall: make([][]float64, 2)}
	p.add([]sim.HubMonth{
		{Opening: 10, Arrived: 90, RefusedAtGate: 5, Asked: 100, Delivered: 80, Closing: 15},
		{Arrived: 50, Closing: 65},
		{Opening: 65, Arrived: 60, Asked: 100, MadeGood: 20, Delivered: 100, Closing: 5, Met: true},
	})
	p.add([]sim.HubMonth{
		{Arrived: 200, Asked: 100, Delivered: 100, Closing: 100, Met: true},
		{Closing: 100},
		{Opening: 100, Asked: 100, Delivered: 100, Met: true},
	})
	assert.Equal(t, [][]bool{{false, true}, {true, true}}, p.met)
	assert.Equal(t, [][]float64{{95, 200}, {125, 100}}, p.available)
	assert.Equal(t, [][]float64{{20, 0}, {0, 0}}, p.shortfall)
	assert.Equal(t, []bool{false, true}, p.allMet)
	assert.Equal(t, []float64{1, 1}, p.share, "180 and the 20 made good, of 200")
	assert.Equal(t, []float64{200, 200}, p.delivered)
	assert.Equal(t, []float64{5, 0}, p.left)
	assert.Equal(t, 0, p.worst())
}

// What is said of a plan is what the ledgers of its seasons say: months, stalks, all months
// together, and the rain.
func TestJudgeIsThatOfTheLedgers(t *testing.T) {
	const n = 8
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 18_000, time.July: 19_000}
	plan := PlanOf(&s.Region)
	got, err := Judge(tableOf(t, set, n, plan...), plan)
	require.NoError(t, err)
	require.Len(t, got.Months, 2)
	require.Len(t, got.Rain, 2)
	met, all := make([]int, 2), 0
	available, short, rain := make([][]float64, 2), make([][]float64, 2), make([][]float64, 2)
	var share []float64
	for i := range n {
		l, err := set.DailyLedger(i)
		require.NoError(t, err)
		delivered := 0
		for k, m := range l.Hub {
			if m.Met {
				met[k]++
			}
			available[k], short[k] = append(available[k], float64(m.Available())), append(short[k], float64(m.Asked-m.Delivered))
			delivered += m.Delivered + m.MadeGood
			mm := 0.0
			for d, day := range l.Sites[0].Days {
				if d/30 == k || d == 60 && k == 1 {
					mm += day.RainMM
				}
			}
			rain[k] = append(rain[k], mm)
		}
		if l.Hub[0].Met && l.Hub[1].Met {
			all++
		}
		share = append(share, float64(delivered)/37_000)
	}
	require.True(t, 0 < met[0]+met[1] && met[0]+met[1] < 2*n, "%v", met)
	worst := 0
	if met[1] < met[0] {
		worst = 1
	}
	for k, m := range got.Months {
		assert.Equal(t, MonthResult{
			time.Month(6 + k), time.Month(6 + k).String(), []int{18_000, 19_000}[k], trials.NewOdds(met[k], n), trials.NewBand(available[k]), trials.NewAmount(short[k]), trials.NewFan(available[k]),
		}, m)
		assert.Equal(t, time.Month(6+k).String(), got.Rain[k].Name)
		assert.InDelta(t, trials.NewMean(rain[k]).Mean, got.Rain[k].Mean.Mean, 1e-9)
		assert.InDelta(t, trials.NewBand(rain[k]).Median, got.Rain[k].MM.Median, 1e-9)
	}
	assert.Equal(t, worst, got.Worst)
	assert.Equal(t, trials.NewOdds(all, n), got.AllMonths)
	assert.InDelta(t, trials.NewMean(share).Mean, got.Share.Mean, 1e-12)
	assert.Equal(t, 1, got.Dryers)
	assert.Equal(t, []int{1}, got.PerSite)
}

// What each dryer of both plans did is what the ledgers say, a dryer that is moved at both its
// sites; and a person's income is what the year leaves, what people are paid included, by hand:
// a tenth for each good stalk less a thousandth for the bag of each that was sent and what the crew
// gets, over six cutters.
func TestDryersAndPeopleOfAComparison(t *testing.T) {
	const n = 3
	s, set := small(t)
	site := s.Region.Sites[0]
	site.Name, site.Dryers = "Upper Channel", 0
	s.Region.Sites[0].Crew, s.Region.People.CrewHPerDay = 2, 6
	s.Region.Dryer.ShiftEndH = 24
	s.Region.Sites = append(s.Region.Sites[:1:1], site)
	set.Region = &s.Region
	moved := set
	moved.Region = s.Region.Clone()
	moved.Region.Moves = []sim.Move{{From: "Lower Channel", To: "Upper Channel", Day: 20}}
	p := money.Prices{PerGoodStalk: 0.1, PerStalkCut: 0.02, WagePerH: 0.5, NightExtraPerH: 0.25, CrewPerH: 0.3, BagPerStalk: 0.001, DryerYears: 3}
	c, err := Compare(t.Context(), ComparisonQuestion{A: Side{Setup: set}, B: Side{Setup: moved}, Seasons: n, Prices: &p})
	require.NoError(t, err)
	assert.Nil(t, c.Purchase, "nothing is bought")

	lists := [][]sim.RegionLedger{ledgers(t, set, n), ledgers(t, moved, n)}
	want := []DryerUse{{"Lower Channel", 1, false, nil}, {"Lower Channel", 1, true, nil}, {"Upper Channel", 1, true, nil}}
	require.Len(t, c.Dryers, len(want))
	for k, u := range c.Dryers {
		assert.Equal(t, want[k].Site, u.Site)
		assert.Equal(t, want[k].Second, u.Second)
		assert.Equal(t, 1, u.Dryer)
		list, at := lists[min(k, 1)], max(0, k-1)
		require.Len(t, u.Hours, len(sim.DryerStates()))
		for state, spent := range u.Hours {
			sum := 0.0
			for _, l := range list {
				sum += l.Sites[at].Each[0][sim.DryerStates()[state]]
			}
			assert.Equal(t, sim.DryerStates()[state].Figure(), spent.On)
			assert.InDelta(t, sum/n, spent.Hours.Mean, 0.01, "%s of dryer %d", spent.On, k)
		}
	}
	assert.NotEqual(t, c.Dryers[0].Hours, c.Dryers[1].Hours, "it was moved away")

	require.NotNil(t, c.Members)
	require.Positive(t, meanOf(sim.NightH, lists[0]), "people tend fires at night")
	for k, got := range []float64{c.Members.EachMoney.A.Mean, c.Members.EachMoney.B.Mean} {
		sent := meanOf(sim.ToHub, lists[k])
		assert.InDelta(t, (0.1*delivered(lists[k])-0.001*sent-0.3*2*6*61)/6, got, 0.02)
	}
	for k, got := range []float64{c.Members.EachHours.A.Mean, c.Members.EachHours.B.Mean} {
		sum := 0.0
		for _, l := range lists[k] {
			for site := range l.Sites {
				for m, month := range l.Sites[site].Months {
					sum += month.CutH + max(0, month.OtherH-[]float64{12, 0}[site]*[]float64{30, 31}[m])
				}
			}
		}
		assert.InDelta(t, sum/n/6, got, 0.01, "the crew's hours are not members'")
	}
	assert.Equal(t, 6, c.Members.MembersA)
	require.Len(t, c.Members.Sites, 2)
	assert.Equal(t, "members", c.Cutters)
	require.Len(t, c.Money, len(money.AllParts())+1)
	assert.Equal(t, NetBeforePurchase, c.Money[len(c.Money)-1].Of)
	assert.InDelta(t, -0.02*meanOf(sim.Cut, lists[0]), c.Money[money.Cutting].A.Mean, 0.02)
	assert.InDelta(t, -2*6*61*0.3, c.Money[money.Crew].B.Mean, 0.02)
	require.Len(t, c.Accounts, 4)
}

// Money of a purchase by hand: two dryers more at the second site, one of three at the first
// gone: what is bought is owed, with the loan that pays for it, and what is gone brings nothing.
func TestPurchaseOfAComparison(t *testing.T) {
	s, set := small(t)
	site := s.Region.Sites[0]
	site.Name, site.Dryers = "Upper Channel", 0
	s.Region.Sites = append(s.Region.Sites[:1:1], site)
	s.Region.Sites[0].Dryers = 3
	set.Region = &s.Region
	with := set
	with.Region = planned(&s.Region, []int{2, 2})
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 3000, DryerYears: 2, LoanShare: 0.5, LoanMonths: 12}
	told, of := 0, 0
	c, err := Compare(t.Context(), ComparisonQuestion{A: Side{Setup: set}, B: Side{Setup: with}, Seasons: 2, Prices: &p, Futures: 2, Progress: func(done, all int) { told, of = done, all }})
	require.NoError(t, err)
	require.NotNil(t, c.Purchase)
	assert.Equal(t, money.Of(6000), c.Purchase.Cost)
	assert.Equal(t, 2, c.Purchase.Futures)
	assert.Equal(t, money.Funding{Cost: money.Of(6000), Own: money.Of(3000), Loan: money.Of(3000), Months: 12, Instalment: money.Of(250)}, c.Purchase.Funding)
	assert.Equal(t, []int{2*2 + 2*2*2, 2*2 + 2*2*2}, []int{told, of})
	require.Len(t, c.Accounts, 4)
	y, err := money.NewPlay(with.Region, tableOf(t, with, 2, 2, 2), []int{2, 2})
	require.NoError(t, err)
	bill := money.Bill{Funding: c.Purchase.Funding}
	for range 12 {
		bill.Instalments = append(bill.Instalments, money.Of(250))
	}
	var want Comparison
	want.accounts(&p, y, true, []money.Bill{{}, bill}) // the site that has more of them pays
	assert.Equal(t, want.Accounts, c.Accounts[2:])
}

// One stalk asked for is a contract: it is judged, missed where nobody cuts, and said why.
func TestOneStalkIsAContract(t *testing.T) {
	s, set := small(t)
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: 1}
	s.Region.Sites[0].OutputPerPersonH = 0
	set.Region = &s.Region
	table := tableOf(t, set, 2, 1)
	got, err := Judge(table, []int{1})
	require.NoError(t, err)
	require.Len(t, got.Months, 1)
	assert.Equal(t, trials.NewOdds(0, 2), got.Months[0].Odds)
	var short Shortage
	assert.Equal(t, []miss{{0, 1}, {1, 1}}, missedMonths(table, []int{1}, 5, &short))
	why, err := Why(set, 0)
	require.NoError(t, err)
	require.Len(t, why, 1)
	assert.Equal(t, "July", why[0].Month)
	tally := NewTally(goal.Goal{}, []int{1})
	tally.Add([]sim.HubMonth{{Asked: 1}}, 0)
	assert.Equal(t, Score{WorstMet: 0, Shortfall: 1}, tally.Score())
}

// Where no dryer may be placed there is one plan, and everything is said of it.
func TestOnlyOnePlan(t *testing.T) {
	_, set := small(t)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	a, err := Dryers(t.Context(), Question{Setup: set, MaxDryers: []int{0}, Free: true, Target: 0.5, SearchSeasons: 5, Seasons: 60, ShortSeasons: 2, Prices: &p})
	require.NoError(t, err)
	require.Len(t, a.Plans, 1)
	assert.Equal(t, []int{0}, a.Plans[0].PerSite)
	assert.Equal(t, 1, a.Proof.Planned, "no limit is one look")
	assert.Equal(t, 60, a.Proof.Seasons)
	assert.Empty(t, a.Steps)
	assert.Len(t, a.Swings, len(set.Knowledge.Ranges))
	assert.Len(t, a.Money, 1)
	assert.Nil(t, a.Worth, "there is nothing to choose")
	assert.Equal(t, 2, a.Short.Seasons)
	assert.Empty(t, a.Phases)

	a, err = Dryers(t.Context(), Question{Setup: set, MaxDryers: []int{0}, Target: 0.5, SearchSeasons: 5, Seasons: 60, ShortSeasons: 2})
	require.NoError(t, err)
	require.Len(t, a.Plans, 1)
	assert.Equal(t, []int{1}, a.Plans[0].PerSite, "the one that stands stays")
}

// The month that comes up most often, the earliest of equals.
func TestMostOften(t *testing.T) {
	assert.Equal(t, 3, mostOften([]int{5, 3, 7, 3, 5, 3}))
	assert.Equal(t, 2, mostOften([]int{9, 2, 9, 2, 4}))
	assert.Equal(t, 0, mostOften([]int{0, 6}))
	assert.Equal(t, 6, mostOften([]int{0, 6, 6}))
	assert.Equal(t, 0, mostOften(nil))
}
