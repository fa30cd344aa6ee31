package trials

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/knowledge"
)

// drawn is how many seasons the laws of luck are checked on.
const drawn = 2000

// outputs draws the factors on output of many seasons, by season, site and day.
func outputs(s *Setup) [][][]float64 {
	b := &builder{setup: s, seasons: make([]sim.Season, 1)}
	var out [][][]float64
	for n := range uint64(drawn) {
		b.drawOutput(n)
		var season [][]float64
		for _, days := range b.seasons[0].Output {
			season = append(season, slices.Clone(days))
		}
		out = append(out, season)
	}
	return out
}

// isLogNormal checks values of a lognormal law of mean 1: the logarithm has the mean -sd²/2
// and the spread sd (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions; from
// memory), within four standard errors.
func isLogNormal(t *testing.T, sd float64, values []float64) {
	t.Helper()
	require.Len(t, values, drawn)
	logs := make([]float64, len(values))
	for i, v := range values {
		require.Positive(t, v)
		logs[i] = math.Log(v)
	}
	mean, got := stat.MeanStdDev(logs, nil)
	assert.InDelta(t, -sd*sd/2, mean, 4*sd/math.Sqrt(drawn))
	assert.InDelta(t, sd, got, 4*sd/math.Sqrt(2*drawn))
}

// Luck of output is shared by all sites and days of a season, by all days of a site, or by
// none, as stated, each lognormal with mean 1 and the stated spread.
func TestLuckOfOutput(t *testing.T) {
	for _, tt := range []struct {
		name               string
		luck               sim.Luck
		sitesLike, dayLike bool
	}{
		{"season", sim.Luck{OutputSeason: 0.3}, true, true},
		{"site", sim.Luck{OutputSiteSeason: 0.4}, false, true},
		{"day", sim.Luck{OutputDay: 0.5}, false, false},
	} {
		s := tinySetup(1)
		s.Region.Luck = tt.luck
		var at [3][]float64 // first day and another of a site, and the first of the other
		for _, season := range outputs(&s) {
			require.Len(t, season, 2)
			require.Len(t, season[0], 62)
			require.Len(t, season[1], 62)
			for k, x := range []float64{season[0][0], season[0][61], season[1][0]} {
				at[k] = append(at[k], x)
			}
		}
		sd := tt.luck.OutputSeason + tt.luck.OutputSiteSeason + tt.luck.OutputDay
		for k := range at {
			isLogNormal(t, sd, at[k])
		}
		alike := func(a, b []float64, same bool) {
			if same {
				assert.Equal(t, a, b, tt.name)
			} else {
				assert.InDelta(t, 0, stat.Correlation(a, b, nil), 4/math.Sqrt(drawn), tt.name)
			}
		}
		alike(at[0], at[1], tt.dayLike)
		alike(at[0], at[2], tt.sitesLike)
	}
}

// The share refused at the gate has a factor of its own at each site, lognormal with mean 1;
// there is none without a spread.
func TestLuckAtTheGate(t *testing.T) {
	s := tinySetup(1)
	b := &builder{setup: &s}
	assert.Nil(t, b.drawRefused(3))
	s.Region.Luck.RefusedSiteSeason = 0.3
	var first, second []float64
	for n := range uint64(drawn) {
		x := b.drawRefused(n)
		require.Len(t, x, 2)
		first, second = append(first, x[0]), append(second, x[1])
	}
	isLogNormal(t, 0.3, first)
	isLogNormal(t, 0.3, second)
	assert.InDelta(t, 0, stat.Correlation(first, second, nil), 4/math.Sqrt(drawn))
}

// Sheets are missed on as many days as stated, each site by itself, where any plan has sheets;
// nothing is drawn without a chance or without sheets.
func TestSheetsMissed(t *testing.T) {
	s := tinySetup(1)
	b := &builder{setup: &s}
	assert.Nil(t, b.drawMissed(1, "sheets", 0.2), "no sheets")
	with := *s.Region
	with.Sites = slices.Clone(with.Sites)
	with.Sites[1].Sheets = true
	b.variants = []Variant{{Region: &with}}
	assert.Nil(t, b.drawMissed(1, "sheets", 0), "no chance")
	missed, all, alike := 0, 0, 0
	for n := range uint64(100) {
		days, nights := b.drawMissed(n, "sheets", 0.2), b.drawMissed(n, "sheets at night", 0.2)
		require.Len(t, days, 2)
		for site := range days {
			require.Len(t, days[site], 62)
			for d := range days[site] {
				all++
				if days[site][d] {
					missed++
				}
			}
		}
		if slices.Equal(days[0], days[1]) || slices.Equal(days[0], nights[0]) {
			alike++
		}
	}
	assert.InDelta(t, 0.2, float64(missed)/float64(all), 4*math.Sqrt(0.2*0.8/float64(all)))
	assert.LessOrEqual(t, alike, 1)
}

// A dryer is out for the season with the stated chance; it breaks after exponential hours of
// fire with the stated mean, twelve times at most, and its repairs are lognormal about the
// stated median days. Nothing is drawn where nothing can happen.
func TestLuckOfDryers(t *testing.T) {
	s := tinySetup(1)
	s.Region.Sites[0].Dryers = 1
	b := &builder{setup: &s}
	assert.Nil(t, b.drawDryers(1))
	s.Region.Trouble = sim.Trouble{OutForSeason: 0.3, FiringHPerFail: 50, RepairDays: 3, RepairLogSD: 0.8}
	out := 0
	var gaps, repairs []float64
	for n := range uint64(drawn) {
		luck := b.drawDryers(n)
		require.Len(t, luck, 2)
		require.Len(t, luck[0], 1)
		require.Empty(t, luck[1], "no dryer there")
		l := luck[0][0]
		if l.Out {
			out++
		}
		require.Len(t, l.FailsAt, 12)
		require.Len(t, l.RepairH, 12)
		gaps = append(gaps, l.FailsAt[0], l.FailsAt[11]-l.FailsAt[10])
		repairs = append(repairs, math.Log(l.RepairH[5]))
	}
	assert.InDelta(t, 0.3, float64(out)/drawn, 4*math.Sqrt(0.3*0.7/drawn))
	mean, sd := stat.MeanStdDev(gaps, nil)
	assert.InDelta(t, 50, mean, 4*50/math.Sqrt(2*drawn))
	assert.InDelta(t, 50, sd, 4*50*math.Sqrt(2/(2*float64(drawn))), "an exponential law spreads as far as its mean")
	mean, sd = stat.MeanStdDev(repairs, nil)
	assert.InDelta(t, math.Log(72), mean, 4*0.8/math.Sqrt(drawn))
	assert.InDelta(t, 0.8, sd, 4*0.8/math.Sqrt(2*drawn))

	s.Region.Trouble = sim.Trouble{OutForSeason: 0.3}
	assert.Empty(t, b.drawDryers(1)[0][0].FailsAt, "out for the season is the only trouble")
	s.Region.Trouble = sim.Trouble{FiringHPerFail: 0.5}
	assert.Len(t, b.drawDryers(1)[0][0].FailsAt, 12, "breakdowns are the only trouble")
}

// Every dryer that a plan may have at a site, those on their way included, has its luck, and
// the first has the same with or without a second.
func TestEveryDryerHasItsLuck(t *testing.T) {
	s := tinySetup(1)
	s.Region.Sites[0].Dryers = 2
	s.Region.Moves = []sim.Move{{From: "North Landing", To: "Heron Point", Day: 5}}
	s.Region.Trouble = sim.Trouble{OutForSeason: 0.5, FiringHPerFail: 50, RepairDays: 3}
	few := &builder{setup: &s}
	many := &builder{setup: &s, variants: []Variant{{Region: s.Region, Levels: [][]int{{0, 1}, {0}}}, {Region: s.Region, Levels: [][]int{{4}, {3, 1}}}}}
	a, b := few.drawDryers(7), many.drawDryers(7)
	require.Len(t, a[0], 2)
	require.Len(t, a[1], 1, "the one that comes")
	require.Len(t, b[0], 4)
	require.Len(t, b[1], 4, "three and the one that comes")
	assert.Equal(t, a[0], b[0][:2])
	assert.Equal(t, a[1], b[1][:1])
	assert.NotEqual(t, b[0][0], b[0][1])
	assert.NotEqual(t, b[0][0], b[1][0])
}

// The years of one future share one draw of the knowledge and nothing else; without futures
// every season has its own.
func TestYearsShareTheirKnowledge(t *testing.T) {
	s := tinySetup(1)
	draws := func(years int) (all [][]float64, rain []float64) {
		s.YearsPerFuture = years
		b := &builder{setup: &s}
		for n := range 6 {
			season := b.build(n)[0]
			at := slices.IndexFunc(s.Knowledge.Ranges, func(r knowledge.Range) bool { return r.Key == knowledge.OutputFactor })
			assert.Equal(t, season.Parameters.OutputFactor, s.drawsOf(n)[at], "what is drawn once more is what the season lived by")
			all, rain = append(all, s.drawsOf(n)), append(rain, b.seasons[0].Days[0].RainMM+b.seasons[0].Days[1].RainMM+b.seasons[0].Days[2].RainMM+b.seasons[0].Days[3].RainMM)
		}
		return all, rain
	}
	own, rain := draws(0)
	shared, same := draws(3)
	assert.Equal(t, rain, same, "weather is that of the season's number")
	for n := range 6 {
		assert.Equal(t, own[n/3], shared[n])
		for k := range n {
			assert.NotEqual(t, own[k], own[n])
			assert.NotEqual(t, rain[k], rain[n])
		}
	}
}
