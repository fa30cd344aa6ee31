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
// for in June, or the stock where June is over, is written down run by run, with the seasons.
func madeUp(june, july, august int, judge func(r *sim.Region, first, n int) int) (*PromiseQuestion, *[][2]int) {
	var asked [][2]int
	r := &sim.Region{
		Calendar: sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 92},
		Contract: sim.Contract{StalksByMonth: map[time.Month]int{time.June: june, time.July: july, time.August: august}},
		Hub:      sim.Hub{OpeningStock: 77},
		Sites:    []sim.Site{{OpeningStock: 5, Dryers: 1}, {OpeningStock: 6}},
	}
	q := &PromiseQuestion{Setup: trials.Setup{Region: r}, Target: 0.9, SearchSeasons: 10, Seasons: 100, StockAfter: NoStock}
	q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
		what := r.Hub.OpeningStock
		if r.Calendar.StartMonth == time.June {
			what = r.Contract.StalksByMonth[time.June]
		}
		asked = append(asked, [2]int{what, n})
		return trials.NewOdds(judge(r, first, n), n), nil
	}
	return q, &asked
}

// upTo meets every month in all seasons up to so many stalks a month, and in eight of ten beyond.
func upTo(limit int) func(r *sim.Region, first, n int) int {
	return func(r *sim.Region, _, n int) int {
		for _, stalks := range r.Contract.StalksByMonth {
			if stalks > limit {
				return 8 * n / 10
			}
		}
		return n
	}
}

// stalksOf returns what was asked for, try by try.
func stalksOf(asked [][2]int) (out []int) {
	for k, a := range asked {
		if k == 0 || a[0] != asked[k-1][0] {
			out = append(out, a[0])
		}
	}
	return out
}

// The search for about where the limit lies, by hand: at half the contract, at all of it and at
// twice, then three tries between the largest that is reached and the smallest that is not, until
// these are fewer than four hundredths apart.
func TestAboutByHand(t *testing.T) {
	for _, tt := range []struct {
		limit int
		about int
		asked []int
	}{
		{8000, 78, []int{5000, 10_000, 20_000, 6200, 7500, 8700, 7800, 8100, 8400}},
		{20_000, 200, []int{5000, 10_000, 20_000, 25_000, 30_000, 35_000, 21_200, 22_500, 23_700, 20_300, 20_600, 20_900}},
		{4000, 40, []int{5000, 10_000, 20_000, 1200, 2500, 3700, 4000, 4300, 4600}},
		{10, 1, []int{5000, 10_000, 20_000, 1200, 2500, 3700, 300, 600, 900}},
	} {
		q, asked := madeUp(10_000, 10_000, 0, upTo(tt.limit))
		run := q.made
		q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
			assert.Equal(t, []int{FirstSearchSeason, 10}, []int{first, n})
			return run(r, first, n)
		}
		about, err := q.about(t.Context(), 10_000)
		require.NoError(t, err)
		assert.Equal(t, tt.about, about)
		assert.Equal(t, tt.asked, stalksOf(*asked))
	}
}

// What share of search seasons makes it likely that fresh ones prove a step, by hand: 0.9 of 100 is
// proven by itself with 1.96 standard deviations of 0.03 more; with ten search seasons the
// difference of the two has a spread of 0.3 · √(1/100 + 1/10) = 0.0995.
func TestShareThatIsLikelyProven(t *testing.T) {
	q, _ := madeUp(1000, 0, 0, upTo(0))
	assert.InDelta(t, 0.9588, q.share(0), 1e-4)
	q.Target = 0.5
	assert.InDelta(t, 0.5+0.5*(0.19600+0.33166), q.share(1), 1e-4)
	q.Target = 0.99
	assert.Equal(t, 1.0, q.share(1), "no share is more than all")
}

// Where the proof begins, by hand: of a half, 0.7, 0.85 and 0.95 of where the limit is thought to lie the
// largest that is likely to hold; from there a quarter of the way at a time. Where none is it
// begins at a half.
func TestWhereTheProofBegins(t *testing.T) {
	for _, tt := range []struct {
		limit, about, start, stride int
		asked                       []int
	}{
		{8700, 100, 85, 4, []int{5000, 7000, 8500, 9500}},
		{9900, 100, 95, 2, []int{5000, 7000, 8500, 9500}},
		{4900, 100, 50, 13, []int{5000, 7000, 8500, 9500}},
		{300, 3, 2, 1, []int{100, 200}},
		{200, 1, 1, 1, nil},
	} {
		q, asked := madeUp(10_000, 10_000, 0, upTo(tt.limit))
		start, stride, err := q.safely(t.Context(), 10_000, tt.about)
		require.NoError(t, err)
		assert.Equal(t, []int{tt.start, tt.stride}, []int{start, stride})
		assert.Equal(t, tt.asked, stalksOf(*asked))
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

// The proof by hand. It goes up by its stride to where the limit is thought to lie and by three
// hundredths from there, where one fails in between by ones; where the first fails it begins again
// four strides below, then twice as many further. Three steps live side by side up to the look at 50
// seasons, two up to the last; 50 of 50 prove nothing yet (0.9^50 is 0.005, the error there 0.001),
// and 45 of 50 are given up.
func TestProveByHand(t *testing.T) {
	for _, tt := range []struct {
		limit                int
		start, stride, about int
		flat, next           int
		asked                [][2]int
	}{
		{9050, 85, 5, 95, 9000, 9100, [][2]int{
			{8500, 50},
			{9000, 50},
			{9500, 50},
			{8500, 100},
			{9000, 100},
			{9100, 50},
			{9200, 50},
			{9300, 50},
		}},
		{9050, 90, 1, 91, 9000, 9100, [][2]int{{9000, 50}, {9100, 50}, {9200, 50}, {9000, 100}}},
		{9950, 90, 4, 94, 9900, 10_000, nil},
		{9050, 95, 2, 99, 9000, 9100, nil},
		{8050, 95, 2, 99, 8000, 8100, nil},
		{250, 31, 4, 40, 200, 300, nil},
		{50, 31, 1, 32, 0, 100, nil},
	} {
		q, asked := madeUp(10_000, 10_000, 0, proven(tt.limit))
		run := q.made
		q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
			assert.Zero(t, first, "fresh seasons")
			assert.Equal(t, r.Contract.StalksByMonth[time.June], r.Contract.StalksByMonth[time.July])
			return run(r, first, n)
		}
		q.Progress = func(at Doing) { assert.Equal(t, Doing{Stage: Proving}, at) }
		var p Promise
		require.NoError(t, q.prove(t.Context(), &p, ascentFrom(q, 10_000, climbsFrom(tt.start, tt.stride, tt.about))))
		if tt.asked != nil {
			assert.Equal(t, tt.asked, *asked)
		}
		assert.Equal(t, tt.flat, p.Flat, "limit %d", tt.limit)
		assert.InDelta(t, float64(tt.flat)/10_000, p.Part, 1e-9)
		assert.Equal(t, tt.next, p.Next, "limit %d", tt.limit)
		assert.Contains(t, []trials.Odds{trials.NewOdds(45, 50), trials.NewOdds(90, 100)}, p.NextOdds, "given up: 51 of the other 50 would have to be met")
		if tt.flat > 0 {
			assert.Equal(t, trials.NewOdds(100, 100), p.Worst.Odds)
		}
	}
}

// The ways up and what they may spend: 5 % in all, however many there are. Each ends where the one before
// began, and the last begins at the lowest step.
func TestClimbs(t *testing.T) {
	for _, tt := range [][3]int{{95, 2, 99}, {1, 1, 1}, {5, 1, 6}, {300, 25, 400}} {
		climbs := climbsFrom(tt[0], tt[1], tt[2])
		require.NotEmpty(t, climbs)
		spends := betweenSpends / (1 - 0.25) // of the strides that are gone through again
		for k, c := range climbs {
			spends += c.spends
			if k > 0 {
				assert.Equal(t, climbs[k-1].from, c.below)
				assert.Less(t, c.from, c.below)
			}
		}
		assert.LessOrEqual(t, spends, 2.0, "halves of 5 %%")
		assert.Equal(t, 1, climbs[len(climbs)-1].from)
	}
	up := climb{from: 80, stride: 6, about: 90, short: 3}
	assert.Equal(t, []int{86, 90, 93, 96}, []int{up.after(80), up.after(86), up.after(90), up.after(93)})
}

// How many seasons met prove 0.9, by hand: of 40, too few for early looks, without a correction at
// 97.5 % it takes 40 (0.9^40 is 0.0148; 39 or more have a chance of 0.0805), and of 60 it takes 59
// (0.0018 and 0.0138; 58 or more have 0.0530), with a look at 30 no longer possible.
func TestWhatProvesAPromise(t *testing.T) {
	for _, tt := range []struct{ met, seasons, flat int }{{39, 40, 0}, {40, 40, 1000}, {58, 60, 0}, {59, 60, 1000}} {
		q, _ := madeUp(1000, 1000, 0, func(r *sim.Region, _, n int) int {
			if r.Contract.StalksByMonth[time.June] == 1000 {
				return tt.met
			}
			return 0
		})
		q.Seasons = tt.seasons
		var p Promise
		require.NoError(t, q.prove(t.Context(), &p, ascentFrom(q, 1000, []climb{{100, 200, 1, 100, 1, firstSpends}})))
		assert.Equal(t, tt.flat, p.Flat, "%d of %d", tt.met, tt.seasons)
	}
}

// What is clearly too much is given up, and says how many seasons it was looked at: 35 of 50 cannot
// be 0.9.
func TestWhatIsGivenUp(t *testing.T) {
	q, _ := madeUp(10_000, 10_000, 0, func(r *sim.Region, _, n int) int {
		if r.Contract.StalksByMonth[time.June] > 9000 {
			return 7 * n / 10
		}
		return n
	})
	q.Seasons = 1000
	var p Promise
	require.NoError(t, q.prove(t.Context(), &p, ascentFrom(q, 10_000, climbsFrom(88, 1, 90))))
	assert.Equal(t, []int{9000, 9100}, []int{p.Flat, p.Next})
	assert.Equal(t, trials.NewOdds(1000, 1000), p.Odds)
	assert.Equal(t, trials.NewOdds(35, 50), p.NextOdds)
}

// When a step is given up, by hand: of 1,000 seasons 0.9 takes 0.9 + 2.00 · 0.0095 = 0.919 (the last
// look has 0.91 of the error of 0.025). After 500 the rest must then do 0.938 where 450 were met, 0.038
// more, against a spread of the difference of 0.3 · √(2/500) = 0.019, twice that; where 455 were met 0.928, 0.018
// more, once that.
func TestWhenAStepIsGivenUp(t *testing.T) {
	q, _ := madeUp(1000, 0, 0, upTo(0))
	q.Seasons = 1000
	a := ascentFrom(q, 1000, climbsFrom(1, 1, 1))
	for met, up := range map[int]bool{450: true, 455: false, 500: false, 0: true} {
		assert.Equal(t, up, a.hopeless(trials.NewOdds(met, 500), 1), "%d", met)
	}
	assert.False(t, a.hopeless(trials.NewOdds(800, 1000), 1), "there is nothing left to give up")
}

// Each month alone raised, by hand: from the flat number to three times as many, halving what
// lies between until it is at most 0.07 of the flat number; a month that asks for nothing is
// left out, and the odds are those of what is said, in all its seasons. What is clear is not lived
// through to the end: 1 of 5 seasons of 600 is clearly not 0.5.
func TestMonthByMonthByHand(t *testing.T) {
	q, asked := madeUp(800, 1, 0, func(r *sim.Region, _, n int) int {
		june, july := r.Contract.StalksByMonth[time.June], r.Contract.StalksByMonth[time.July]
		if june > 1500 || july > 1200 {
			return n / 5
		}
		return n - n*(june+july)/6000
	})
	q.Target, q.Seasons, q.SearchSeasons = 0.5, 1000, 300
	run := q.made
	q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
		assert.Zero(t, first, "fresh")
		assert.LessOrEqual(t, n, 600, "twice as many as the search")
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
	tried := map[[2]int]bool{}
	for _, a := range *asked {
		tried[a] = true
	}
	for _, june := range []int{1000, 2000, 1500, 1750, 1625, 1562} {
		assert.True(t, tried[[2]int{june, 20}] || june == 1000, "%d", june)
		assert.Equal(t, june <= 1500, tried[[2]int{june, 600}], "%d in all seasons", june)
	}

	q.Seasons = 500
	q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
		assert.LessOrEqual(t, n, 500, "no more than there are fresh ones")
		return run(r, first, n)
	}
	require.NoError(t, q.monthByMonth(t.Context(), &p))
	assert.Equal(t, 500, p.MonthSeasons)

	none := Promise{}
	require.NoError(t, q.monthByMonth(t.Context(), &none))
	assert.Equal(t, Promise{}, none, "where nothing can be promised no month is raised")
}

// What looked early as if it reached the target, and does not in all seasons, is taken off: what
// was reached before stands.
func TestMonthThatLookedGoodEarly(t *testing.T) {
	q, _ := madeUp(1000, 0, 0, func(r *sim.Region, _, n int) int {
		if june := r.Contract.StalksByMonth[time.June]; june <= 1500 {
			return 92 * n / 100
		} else if n < 200 {
			return n
		}
		return 80 * n / 100
	})
	q.Seasons, q.SearchSeasons = 200, 100
	p := Promise{Flat: 1000}
	require.NoError(t, q.monthByMonth(t.Context(), &p))
	assert.Equal(t, []Promised{{"June", 1000, trials.NewOdds(184, 200)}}, p.Months)
}

// The stock by hand: in steps of a two-hundredth of what the rest of the season asks for, the
// search halves what lies between none and all of it; from there on fresh seasons are asked
// step by step, until one is enough. The sites begin with nothing. What is clearly not enough ends
// early: of 50 32 of 40 cannot become 0.9.
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
	run := q.made
	q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
		assert.LessOrEqual(t, n, map[int]int{FirstSearchSeason: 10, 0: 50}[first], "five times as many fresh ones as the search has")
		assert.Equal(t, sim.Calendar{StartMonth: time.July, StartDay: 1, Days: 62}, r.Calendar)
		assert.Equal(t, []int{0, 0, 1}, []int{r.Sites[0].OpeningStock, r.Sites[1].OpeningStock, r.Sites[0].Dryers})
		return run(r, first, n)
	}
	q.StockAfter = 0
	need, err := q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, &StockNeed{After: "June", Stalks: 10_750, Odds: trials.NewOdds(45, 50), Less: 10_500, LessIn: trials.NewOdds(32, 40), Seasons: 50}, need)
	assert.Equal(t, []int{25_000, 12_500, 6250, 9250, 10_750, 10_000, 9500, 9750, 10_000, 10_250, 10_500, 10_750}, stalksOf(*asked))

	search, fresh = 1e9, 1e9
	need, err = q.stock(t.Context())
	require.NoError(t, err)
	assert.Equal(t, &StockNeed{After: "June", Stalks: -1, Less: 50_250, LessIn: trials.NewOdds(32, 40), Seasons: 50}, need)

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
	run, broken := q.made, errors.New("a season broke")
	for at := range runs {
		k := 0
		q.made = func(r *sim.Region, first, n int) (trials.Odds, error) {
			if k++; k == at+1 {
				return trials.Odds{}, broken
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
