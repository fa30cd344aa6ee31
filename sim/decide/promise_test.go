package decide

import (
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// madeUp is a question about June to August, asked for so many stalks, whose seasons are made
// up: judge tells in how many of n seasons the worst month of a region is met. What was asked
// for in June, or the stock where June is over, is written down run by run.
func madeUp(june, july, august int, judge func(r *sim.Region, first, n int) int) (*PromiseQuestion, *[]int) {
	var asked []int
	r := &sim.Region{
		Calendar: sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 92},
		Contract: sim.Contract{StalksByMonth: map[time.Month]int{time.June: june, time.July: july, time.August: august}},
		Hub:      sim.Hub{OpeningStock: 77},
		Sites:    []sim.Site{{OpeningStock: 5, Dryers: 1}, {OpeningStock: 6}},
	}
	q := &PromiseQuestion{Setup: trials.Setup{Region: r}, Target: 0.9, SearchSeasons: 10, Seasons: 100, StockAfter: NoStock}
	q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
		if r.Calendar.StartMonth == time.June {
			asked = append(asked, r.Contract.StalksByMonth[time.June])
		} else {
			asked = append(asked, r.Hub.OpeningStock)
		}
		odds := trials.NewOdds(judge(r, first, n), n)
		return PlanResult{Odds: odds, Months: []MonthResult{{Odds: odds}}}, nil
	}
	return q, &asked
}

// upTo meets every month in nine of ten seasons up to so many stalks a month, and in eight of
// ten beyond.
func upTo(limit int) func(r *sim.Region, first, n int) int {
	return func(r *sim.Region, _, n int) int {
		for _, stalks := range r.Contract.StalksByMonth {
			if stalks > limit {
				return 8 * n / 10
			}
		}
		return 9 * n / 10
	}
}

// The search for about where the limit lies, by hand: at half the contract, at all of it, then
// halving what lies between until it is at most 0.015. A share that reaches the target exactly
// is enough.
func TestAboutByHand(t *testing.T) {
	for _, tt := range []struct {
		limit int
		about float64
		asked []int
	}{
		{8000, 0.796875, []int{5000, 10_000, 7500, 8750, 8125, 7812, 7968, 8046}},
		{20_000, 1.99609375, []int{5000, 10_000, 25_000, 17_500, 21_250, 19_375, 20_312, 19_843, 20_078, 19_960}},
		{4000, 0.3984375, []int{5000, 2500, 3750, 4375, 4062, 3906, 3984}},
	} {
		q, asked := madeUp(10_000, 10_000, 0, upTo(tt.limit))
		run := q.live
		q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
			assert.Equal(t, []int{FirstSearchSeason, 10}, []int{first, n})
			return run(r, first, n)
		}
		f, err := q.about(t.Context(), 10_000)
		require.NoError(t, err)
		assert.Equal(t, tt.about, f)
		assert.Equal(t, tt.asked, *asked)
	}
}

// proven meets every month in all seasons up to so many stalks, which proves 0.9 on a hundred
// (0.9^100 is far below 0.025), and in nine of ten beyond, which proves nothing.
func proven(limit int) func(r *sim.Region, first, n int) int {
	return func(r *sim.Region, _, n int) int {
		if r.Contract.StalksByMonth[time.June] > limit {
			return 9 * n / 10
		}
		return n
	}
}

// The proof by hand: from the step below 0.93 of where the limit is thought to lie, one step of
// a hundredth after another upward until one fails; where the first fails, down by two steps,
// and below a third of the first by halves, until one holds.
func TestProveByHand(t *testing.T) {
	for _, tt := range []struct {
		limit      int
		begin      float64 // 0.93 of about
		flat, next int
		part       float64
		asked      []int
	}{
		{9050, 0.855, 9000, 9100, 0.90, []int{8500, 8600, 8700, 8800, 8900, 9000, 9100}},
		{9050, 0.905, 9000, 9100, 0.90, []int{9000, 9100}},
		{9050, 0.955, 8900, 9100, 0.89, []int{9500, 9300, 9100, 8900}},
		{9050, 0.915, 8900, 9100, 0.89, []int{9100, 8900}},
		{300, 0.315, 250, 900, 0.025, []int{3100, 2900, 2700, 2500, 2300, 2100, 1900, 1700, 1500, 1300, 1100, 900, 250}},
		{100, 0.315, 0, 250, 0, []int{3100, 2900, 2700, 2500, 2300, 2100, 1900, 1700, 1500, 1300, 1100, 900, 250}},
	} {
		q, asked := madeUp(10_000, 10_000, 0, proven(tt.limit))
		run, stages := q.live, 0
		q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
			assert.Equal(t, []int{0, 100}, []int{first, n}, "fresh seasons")
			assert.Equal(t, r.Contract.StalksByMonth[time.June], r.Contract.StalksByMonth[time.July])
			return run(r, first, n)
		}
		q.Progress = func(at Doing) {
			assert.Equal(t, Doing{Stage: Proving}, at)
			stages++
		}
		var p Promise
		require.NoError(t, q.prove(t.Context(), &p, 10_000, tt.begin/0.93))
		assert.Equal(t, tt.asked, *asked)
		assert.Len(t, tt.asked, stages)
		assert.Equal(t, tt.flat, p.Flat)
		assert.InDelta(t, tt.part, p.Part, 1e-9)
		assert.Equal(t, tt.next, p.Next)
		assert.Equal(t, trials.NewOdds(90, 100), p.NextOdds)
		if tt.flat > 0 {
			assert.Equal(t, trials.NewOdds(100, 100), p.Worst.Odds)
		}
	}
}

// How many seasons met prove 0.9, by hand: of 100 without a correction at 97.5 % it takes 96
// (of 100 at 0.9, 96 or more have a chance of 0.0237, 95 or more of 0.0576; binomial tables).
func TestWhatProvesAPromise(t *testing.T) {
	for met, flat := range map[int]int{95: 0, 96: 1000} {
		q, _ := madeUp(1000, 1000, 0, func(r *sim.Region, _, _ int) int {
			if r.Contract.StalksByMonth[time.June] == 1000 {
				return met
			}
			return 0
		})
		var p Promise
		require.NoError(t, q.prove(t.Context(), &p, 1000, 1.005/0.93))
		assert.Equal(t, flat, p.Flat, "%d of 100", met)
	}
}

// Each month alone raised, by hand: from the flat number to three times as many, halving what
// lies between until it is at most 0.07 of the flat number; a month that asks for nothing is
// left out, and the odds are those of what is said.
func TestMonthByMonthByHand(t *testing.T) {
	q, asked := madeUp(800, 1, 0, func(r *sim.Region, _, n int) int {
		june, july := r.Contract.StalksByMonth[time.June], r.Contract.StalksByMonth[time.July]
		if june > 1500 || july > 1200 {
			return n / 5
		}
		return n - (june+july)/10
	})
	q.Target, q.Seasons, q.SearchSeasons = 0.5, 1000, 300
	run := q.live
	q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
		assert.Equal(t, []int{0, 600}, []int{first, n}, "twice as many as the search, fresh")
		assert.Zero(t, r.Contract.StalksByMonth[time.August])
		return run(r, first, n)
	}
	p := Promise{Flat: 1000}
	require.NoError(t, q.monthByMonth(t.Context(), &p))
	assert.Equal(t, 600, p.MonthSeasons)
	assert.Equal(t, []Promised{
		{"June", 1500, trials.NewOdds(600-250, 600)},
		{"July", 1187, trials.NewOdds(600-218, 600)},
	}, p.Months)
	assert.Equal(t, []int{1000, 2000, 1500, 1750, 1625, 1562, 1000, 1000, 1000, 1000, 1000}, *asked, "as promised once, then June and July")

	q.Seasons = 500
	q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
		assert.Equal(t, 500, n, "no more than there are fresh ones")
		return run(r, first, n)
	}
	require.NoError(t, q.monthByMonth(t.Context(), &p))
	assert.Equal(t, 500, p.MonthSeasons)

	none := Promise{}
	require.NoError(t, q.monthByMonth(t.Context(), &none))
	assert.Equal(t, Promise{}, none, "where nothing can be promised no month is raised")
}

// The stock by hand: in steps of a two-hundredth of what the rest of the season asks for, the
// search halves what lies between none and all of it; from there on fresh seasons are asked
// step by step, until one is enough. The sites begin with nothing.
func TestStockByHand(t *testing.T) {
	search, fresh := 10_000, 10_600
	q, asked := madeUp(10_000, 20_000, 30_000, func(r *sim.Region, first, n int) int {
		need := fresh
		if first == FirstSearchSeason {
			need = search
		}
		if r.Hub.OpeningStock >= need {
			return 9 * n / 10
		}
		return 8 * n / 10
	})
	run := q.live
	q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
		assert.Equal(t, n, map[int]int{FirstSearchSeason: 10, 0: 100}[first])
		assert.Equal(t, sim.Calendar{StartMonth: time.July, StartDay: 1, Days: 62}, r.Calendar)
		assert.Equal(t, []int{0, 0, 1}, []int{r.Sites[0].OpeningStock, r.Sites[1].OpeningStock, r.Sites[0].Dryers})
		return run(r, first, n)
	}
	q.StockAfter = 0
	need, err := q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, &StockNeed{After: "June", Stalks: 10_750, Odds: trials.NewOdds(90, 100), Less: 10_500, LessIn: trials.NewOdds(80, 100), Seasons: 100}, need)
	assert.Equal(t, []int{25_000, 12_500, 6250, 9250, 10_750, 10_000, 9500, 9750, 10_000, 10_250, 10_500, 10_750}, *asked)

	search, fresh = 1e9, 1e9
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, &StockNeed{After: "June", Stalks: -1, Less: 50_250, LessIn: trials.NewOdds(80, 100), Seasons: 100}, need)

	search, fresh = 3, 3 // a small contract goes stalk by stalk
	q.Setup.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 9000, time.August: 150}
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, 3, need.Stalks)
	assert.Zero(t, need.Less, "nothing less was tried on fresh seasons")

	search, fresh = 1, 1 // one stalk is a contract too
	q.Setup.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 9000, time.July: 1}
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, 1, need.Stalks)

	q.Setup.Region.Contract.StalksByMonth = map[time.Month]int{time.June: 9000}
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Nil(t, need, "nothing is asked for after June")
	q.StockAfter = 2
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Nil(t, need, "nothing follows August")
}

// The whole question by hand, and what goes wrong on its way is told, wherever it happens: the
// limit is thought to lie at 0.9921875, the proof begins at 0.92, and 1.00 is the last step
// that holds.
func TestPromiseByHand(t *testing.T) {
	q, asked := madeUp(800, 1000, 500, proven(1000))
	q.Target, q.StockAfter = 0.95, 1
	p, err := FindPromise(t.Context(), *q)
	require.NoError(t, err)
	assert.Equal(t, 0.95, p.Target)
	assert.Equal(t, 100, p.Seasons)
	assert.Equal(t, 1000, p.Flat, "of the largest month")
	assert.InDelta(t, 1.0, p.Part, 1e-9)
	assert.Equal(t, 1010, p.Next)
	require.Len(t, p.Months, 3)
	assert.Equal(t, "August", p.Months[2].Name)
	assert.Equal(t, 20, p.MonthSeasons)
	require.NotNil(t, p.Stock)
	assert.Equal(t, "July", p.Stock.After)
	runs := len(*asked)
	require.Greater(t, runs, 30)

	q.StockAfter = NoStock
	without, err := FindPromise(t.Context(), *q)
	require.NoError(t, err)
	assert.Nil(t, without.Stock)

	one, _ := madeUp(1, 0, 0, proven(1))
	least, err := FindPromise(t.Context(), *one)
	require.NoError(t, err, "one stalk is a contract too")
	assert.Equal(t, 1, least.Flat)

	q.StockAfter = 1
	run, broken := q.live, errors.New("a season broke")
	for at := range runs {
		k := 0
		q.live = func(r *sim.Region, first, n int) (PlanResult, error) {
			if k++; k == at+1 {
				return PlanResult{Months: make([]MonthResult, 1)}, broken
			}
			return run(r, first, n)
		}
		_, err := FindPromise(t.Context(), *q)
		require.ErrorIs(t, err, broken, "run %d", at)
		require.Equal(t, at+1, k, "it ends there")
	}
}

// The rains begin with the first month of more than 100 mm on average: in the small region's
// climate (45 mm in April, 160 in May, 30 in November, 8 in December) the stock for them is that
// after April; in June they have begun, and in November they are over.
func TestBeforeTheRains(t *testing.T) {
	_, set := small(t)
	for start, want := range map[time.Month]int{time.April: 0, time.March: 1, time.June: NoStock, time.November: NoStock} {
		r := set.Region.Clone()
		r.Calendar = sim.Calendar{StartMonth: start, StartDay: 1, Days: 92}
		if start == time.November {
			r.Calendar.Days = 61
		}
		q := PromiseQuestion{Setup: set, SearchSeasons: 12}
		q.Setup.Region = r
		got, err := q.beforeTheRains(t.Context())
		require.NoError(t, err)
		assert.Equal(t, want, got, "%s", start)
	}
}

// steady is weather with as much rain each day.
type steady struct{ mm float64 }

func (s steady) Days(_, n int, _ *rand.Rand) []weather.Day {
	days := make([]weather.Day, n)
	for i := range days {
		days[i] = weather.Day{RainMM: s.mm, TmaxC: 30, TminC: 24, SunFraction: 0.4, VapourKPa: 2.8, WindMS: 1.5}
	}
	return days
}

// More than 100 mm are rains, by hand: 3.3 mm a day are 99 in the 30 days of April and 102 in
// the 31 of May, 3.34 are 100.2 in April.
func TestWhatRainsAre(t *testing.T) {
	_, set := small(t)
	for mm, want := range map[float64]int{3.2: NoStock, 3.3: 0, 3.34: -1} {
		q := PromiseQuestion{Setup: set, SearchSeasons: 2}
		q.Setup.Source = steady{mm}
		q.Setup.Region = set.Region.Clone()
		q.Setup.Region.Calendar = sim.Calendar{StartMonth: time.April, StartDay: 1, Days: 61}
		got, err := q.beforeTheRains(t.Context())
		require.NoError(t, err)
		assert.Equal(t, want, got, "%g mm a day", mm)
	}
}
