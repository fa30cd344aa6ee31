package trials

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/weather"
)

// Figures are kept in whole numbers, by hand: stalks as they are, hours to the nearest minute,
// wood to the nearest hectogram, and no more than a million hours: a repair may outlast any
// season.
func TestFineByHand(t *testing.T) {
	for _, tt := range []struct {
		unit sim.Unit
		x    float64
		want int32
	}{
		{sim.Stalks, 1234, 1234},
		{sim.Stalks, 3_000_000, 3_000_000},
		{sim.Hours, 1.5, 90},
		{sim.Hours, 0.0083, 0},
		{sim.Hours, 0.0084, 1}, // 0.504 minutes
		{sim.Hours, 1e6, 60_000_000},
		{sim.Hours, 1e9, 60_000_000},
		{sim.Hours, math.Inf(1), 60_000_000},
	} {
		assert.Equal(t, tt.want, fine(tt.unit, tt.x), "%g %s", tt.x, tt.unit)
	}
	assert.Equal(t, int32(123), fine(sim.WoodKg.Figure().Unit, 12.34))
}

// A row has the good stalks by month, what money goes by by month, every figure of the season,
// and the states of each dryer that any of the plans has at a site, those on their way included.
func TestRowsHaveRoom(t *testing.T) {
	r := tinySetup(1).Region
	figures, states := int(sim.FigureCount), len(sim.DryerStates())
	const months, byMonth = 2, 9
	assert.Equal(t, months*(1+byMonth)+figures+months*(months+1)/2, strideOf(r, Only([]int{0, 0})))
	assert.Equal(t, months*(1+byMonth)+figures+months*(months+1)/2+3*states, strideOf(r, [][]int{{0, 3}, {1}}))
	r.Moves = []sim.Move{{From: "North Landing", To: "Heron Point", Day: 5}}
	assert.Equal(t, months*(1+byMonth)+figures+months*(months+1)/2+3*states, strideOf(r, [][]int{{0, 3}, {1}}), "the other site has most")
	assert.Equal(t, months*(1+byMonth)+figures+months*(months+1)/2+4*states, strideOf(r, [][]int{{0}, {3}}))

	// As many rows as fit are allowed, one more is not; rows are seasons times plans of a site.
	s := tinySetup(1)
	for _, levels := range [][][]int{{{0}, nil}, {{0}, {0, 1}}} {
		rows := len(levels[0]) + len(levels[1])
		fit := (1 << 31) / strideOf(s.Region, levels)
		require.NoError(t, s.checkLevels(s.Region, levels, fit/rows))
		require.ErrorContains(t, s.checkLevels(s.Region, levels, fit/rows+1), "more than fit")
		wide := s
		wide.EveryMonth = true
		require.ErrorContains(t, wide.checkLevels(s.Region, levels, fit/rows), "more than fit")
	}
}

// The largest numbers that are allowed are allowed.
func TestBoundsAreAllowed(t *testing.T) {
	s := tinySetup(1)
	require.NoError(t, s.checkSeasons(MostSeasons, MostSeasons))
	require.NoError(t, s.checkSeasons(0, 0))
	require.NoError(t, s.checkLevels(s.Region, Only([]int{MostDryers, 0}), 1))
	s.Region.Calendar.Days, s.Group, s.YearsPerFuture = 1, []int{1, 1}, 1
	require.NoError(t, s.check())
	s.Source = recorded{}
	require.NoError(t, s.checkSeasons(0, 3))
	require.NoError(t, s.checkSeasons(2, 1))
	require.Error(t, s.checkSeasons(2, 2))
}

// Numbers of dryers of plans, by hand.
func TestLevelsOfPlans(t *testing.T) {
	assert.Equal(t, [][]int{{0, 1, 2}, {0}}, Upto([]int{2, 0}))
	assert.Equal(t, [][]int{{2}, {0}}, Only([]int{2, 0}))
	assert.Equal(t, [][]int{nil}, Upto([]int{-1}))
}

// Good stalks of a row are those sent less those refused; a row that is written again forgets
// what it held; rain goes by the days of each month.
func TestPutByHand(t *testing.T) {
	s := tinySetup(1)
	s.Region.Sites[0].Dryers = 1
	study, err := s.Study(0, 2, []Variant{{Region: s.Region, Levels: Only([]int{1, 0})}})
	require.NoError(t, err)
	table := study.Tables[0]
	lane := sim.Lane{Site: 0, Dryers: 1}
	table.put(lane, 1, &sim.Lived{
		Months: []sim.SiteMonth{{ToHub: 900, RefusedAtGate: 40, Cut: 1000}, {ToHub: 500, Cut: 600}}, Each: []sim.DryerHours{{1, 2}},
		Kept: sim.Kept{Still: []int{860, 700, 500}},
	})
	assert.Equal(t, []int32{860, 500}, table.Accepted(0, 1, 1))
	assert.Equal(t, []int32{1000, 600}, table.MonthFigures(sim.Cut, 0, 1, 1))
	assert.Equal(t, 1600, table.Sum(sim.Cut, []int{1, 0}, 1))
	assert.Equal(t, []int32{60, 120}, table.DryerMinutes(0, 1, 1, 0)[:2])
	assert.Equal(t, []int32{0, 0}, table.Accepted(0, 1, 0), "the other season")
	assert.Equal(t, []int32{860, 700, 500}, table.Kept(0, 1, 1))
	assert.Nil(t, table.Kept(0, 1, 0), "all keep")
	table.put(lane, 1, &sim.Lived{Months: make([]sim.SiteMonth, 2)})
	for _, x := range table.row(0, 1, 1) {
		assert.Zero(t, x)
	}
	days := make([]weather.Day, 62)
	days[0].RainMM, days[30].RainMM, days[31].RainMM, days[61].RainMM = 1, 2, 4, 8
	study.years.putRain(1, days)
	assert.Equal(t, []float64{0, 0}, table.RainMM(0))
	assert.Equal(t, []float64{3, 12}, table.RainMM(1))
}

// The hub of a table is that of the whole region with its stock from the start: what was there
// before is forgotten, season by season.
func TestHubForgets(t *testing.T) {
	s := busySetup()
	s.Region.Hub.OpeningStock = 3000 // in an open shed: some of it spoils
	plan := []int{2, 1}
	table, err := s.Table(context.Background(), 0, 3, Only(plan), nil)
	require.NoError(t, err)
	months, scratch := make([]sim.HubMonth, 2), &Arriving{accepted: []int{9999, 9999}, still: []int{1, 2, 3}}
	for i := range 3 {
		l, err := s.Ledger(i)
		require.NoError(t, err)
		table.Hub(months, scratch, plan, i)
		assert.Equal(t, 3000, months[0].Opening)
		for k, m := range l.Hub {
			assert.Equal(t, m.Available(), months[k].Available())
			assert.Equal(t, m.Delivered, months[k].Delivered)
			assert.Equal(t, m.Closing, months[k].Closing)
		}
		for site := range l.Sites {
			assert.Empty(t, l.Sites[site].Days, "days are kept where asked for")
		}
	}
	daily, err := s.DailyLedger(1)
	require.NoError(t, err)
	assert.Len(t, daily.Sites[0].Days, 62)
}

// Each group of sites has a season of its own: its days, its hours; number, parameters and the
// luck of people, sheets, dryers and gate are those of the season, day and night apart.
func TestSeasonOfEachGroup(t *testing.T) {
	s := tinySetup(1)
	s.Field, s.Group = apart{}, []int{0, 1}
	s.Region.Sites[0].Sheets = true
	s.Region.Trouble = sim.Trouble{SheetsMissed: 1, OutForSeason: 1}
	s.Region.Luck.RefusedSiteSeason = 0.3
	s.Region.Sites[0].Dryers = 1
	b := &builder{setup: &s}
	seasons := b.build(7)
	require.Len(t, seasons, 2)
	always := make([]bool, 62)
	for d := range always {
		always[d] = true
	}
	for g := range seasons {
		season := &seasons[g]
		assert.Equal(t, 7, season.Number)
		assert.Equal(t, seasons[0].Parameters, season.Parameters)
		assert.Equal(t, seasons[0].Output, season.Output)
		assert.Equal(t, [][]bool{always, always}, season.Sheets, "missed on every day")
		assert.Nil(t, season.Nights, "and in no night")
		assert.Equal(t, [][]sim.DryerLuck{{{Out: true}}, nil}, season.Dryers)
		require.Len(t, season.Refused, 2)
		assert.Equal(t, b.drawRefused(7), season.Refused)
		require.Len(t, season.Days, 62)
	}
	assert.NotEqual(t, seasons[0].Days, seasons[1].Days)
	s.Region.Trouble = sim.Trouble{NightMissed: 1}
	seasons = b.build(8)
	require.Len(t, seasons, 2)
	assert.Nil(t, seasons[1].Sheets)
	assert.Equal(t, [][]bool{always, always}, seasons[1].Nights)

	// The years of a record are the same for all sites.
	s.Source = recorded{}
	seasons = b.build(1)
	require.Len(t, seasons, 2)
	assert.Equal(t, seasons[0].Days, seasons[1].Days)
}

// year is a record in which the rain of a day is the number of its season.
type year struct{}

func (year) Days(_, n int, _ *rand.Rand) []weather.Day { panic("a record is asked by season") }
func (year) Seasons() int                              { return 3 }
func (year) Season(i int, rng *rand.Rand) []weather.Day {
	days := showers{}.Days(0, 62, rng)
	for d := range days {
		days[d].RainMM = float64(i)
	}
	return days
}

// Of a record each season is that of its number.
func TestSeasonsOfARecord(t *testing.T) {
	s := tinySetup(2)
	s.Source = year{}
	table, err := s.Table(context.Background(), 0, 3, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Equal(t, [][]float64{{0, 0}, {31, 31}, {62, 62}}, [][]float64{table.RainMM(0), table.RainMM(1), table.RainMM(2)})
}

// A ratio by hand: over what is always 10 it is a tenth of the mean, and so are the ends of its
// interval; over what is always −10 the same below nothing. One season has no interval.
func TestRatioByHand(t *testing.T) {
	num := []float64{1, 2, 6}
	m := NewMean(num)
	for _, den := range []float64{10, -10} {
		r := NewRatio(num, []float64{den, den, den})
		assert.InDelta(t, m.Mean/den, r.Mean, 1e-12)
		assert.InDelta(t, min(m.Low/den, m.High/den), r.Low, 1e-12)
		assert.InDelta(t, max(m.Low/den, m.High/den), r.High, 1e-12)
		assert.Equal(t, 3, r.Seasons)
	}
	// Two seasons: what the ratio leaves of each is as far above as below nothing, so that is the
	// standard error; Student's t is 12.7062 (tables).
	pair := NewRatio([]float64{1002, 1005}, []float64{1001, 1003})
	assert.InDelta(t, 2007.0/2004, pair.Mean, 1e-12)
	rest := (1002 - 1001*2007.0/2004) / 1002
	assert.InDelta(t, 12.7062*math.Abs(rest), pair.High-pair.Mean, 1e-6)
	one := NewRatio([]float64{3}, []float64{2})
	assert.Equal(t, Mean{1.5, math.Inf(-1), math.Inf(1), 1}, one)
	// A mean of 1 with an interval that reaches nothing from above or below tells nothing.
	assert.True(t, math.IsInf(NewRatio([]float64{1, 2}, []float64{0, 2}).Low, -1))
	assert.True(t, math.IsInf(NewRatio([]float64{1, 2}, []float64{0, -2}).High, 1))
}

// Means and bands of few values, by hand: 1 and 3 have the mean 2, a standard error of 1 and a
// Student t of 12.7062 (tables).
func TestFewValues(t *testing.T) {
	m := NewMean([]float64{1, 3})
	assert.InDelta(t, 2, m.Mean, 1e-12)
	assert.InDelta(t, 2-12.7062, m.Low, 1e-4)
	assert.InDelta(t, 2+12.7062, m.High, 1e-4)
	assert.Equal(t, 2, m.Seasons)
	one := NewMean([]float64{3})
	assert.Equal(t, Mean{3, math.Inf(-1), math.Inf(1), 1}, one)
	values := []float64{3, 1, 2}
	assert.Equal(t, Band{1, 2, 3, 3}, NewBand(values))
	assert.Equal(t, []float64{3, 1, 2}, values, "what was given stays as it was")
	assert.Equal(t, Band{7, 7, 7, 1}, NewBand([]float64{7}))
	var twenty []float64
	for i := range 20 {
		twenty = append(twenty, float64(i+1))
	}
	assert.Equal(t, Band{1, 10, 19, 20}, NewBand(twenty))
	assert.Equal(t, 1.0, NewOdds(4, 4).Share)
	assert.Equal(t, 1.0, NewOdds(1, 1).Share)
	assert.InDelta(t, 0.025, NewOdds(1, 1).Low, 1e-9)
	assert.InDelta(t, 0.975, NewOdds(0, 1).High, 1e-9)
	assert.InDelta(t, math.Pow(0.025, 0.25), NewOdds(4, 4).Low, 1e-9, "p⁴ = 0.025")
	assert.Equal(t, 1.0, NewOdds(4, 4).High)
	assert.InDelta(t, 1, PairedTest(1, 0), 1e-12)
	assert.InDelta(t, 0.5, PairedTest(0, 2), 1e-12)
}

// Progress may be left out, a study run twice to the same number runs nothing more, and years
// of a future go by the number of the season, wherever a table begins.
func TestStudyOfFutures(t *testing.T) {
	s := tinySetup(2)
	s.YearsPerFuture = 2
	table, err := s.Table(context.Background(), 3, 4, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.NotEqual(t, table.Draws(0), table.Draws(1), "season 3 is the last year of its future")
	assert.Equal(t, table.Draws(1), table.Draws(2))
	assert.NotEqual(t, table.Draws(2), table.Draws(3))
	assert.Equal(t, []time.Month{time.July, time.August}, []time.Month{table.Spans()[0].Month, table.Spans()[1].Month})
	assert.Equal(t, 2, table.Months())
}
