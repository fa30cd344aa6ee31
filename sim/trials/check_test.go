package trials

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// recorded is a record of three seasons.
type recorded struct{ showers }

func (recorded) Season(_ int, rng *rand.Rand) []weather.Day { return showers{}.Days(0, 62, rng) }
func (recorded) Seasons() int                               { return 3 }

// alike is weather of sites apart that gives each of two groups the same days.
type alike struct{}

func (alike) Days(_, n int, rng *rand.Rand) [][]weather.Day {
	days := showers{}.Days(0, n, rng)
	return [][]weather.Day{days, days}
}

// What is nonsense in a setup is an error that says what was found and what is allowed, from
// every way in, and never a panic.
func TestNonsenseInASetup(t *testing.T) {
	ctx := context.Background()
	for want, spoil := range map[string]func(*Setup){
		"setup: no region":                       func(s *Setup) { s.Region = nil },
		"no source of weather":                   func(s *Setup) { s.Source = nil },
		"a season of 0 days, allowed: 1 or more": func(s *Setup) { s.Region.Calendar.Days = 0 },
		"-1 workers, allowed: 0 to 10000":        func(s *Setup) { s.Workers = -1 },
		"10001 workers, allowed: 0 to 10000":     func(s *Setup) { s.Workers = 10_001 },
		"-2 years a future, allowed: 0 or more":  func(s *Setup) { s.YearsPerFuture = -2 },
		"0 groups of weather for 2 sites":        func(s *Setup) { s.Field = alike{} },
		"0 places for 1 groups of weather":       func(s *Setup) { s.Places = []weather.Place{} },
		"1 places for 2 groups of weather": func(s *Setup) {
			s.Field, s.Group, s.Places = alike{}, []int{0, 1}, make([]weather.Place, 1)
		},
		"site 2 in group 2, allowed: 0 to 1":           func(s *Setup) { s.Group = []int{0, 2} },
		"site 1 in group -1, allowed: 0 to 1":          func(s *Setup) { s.Group = []int{-1, 0} },
		`found "moonlight", allowed: each parameter`:   func(s *Setup) { s.Knowledge.Ranges[3].Key = "moonlight" },
		`found "output_factor", allowed: each paramet`: func(s *Setup) { s.Knowledge.Ranges[3].Key = knowledge.OutputFactor },
		"low 9, mode 1, high 1.5, allowed: finite":     func(s *Setup) { s.Knowledge.Ranges[0].Low = 9 },
	} {
		s := tinySetup(1)
		spoil(&s)
		_, err := s.Table(ctx, 0, 1, Only([]int{0, 0}), nil)
		require.ErrorContains(t, err, want)
		_, err = s.Season(0)
		require.ErrorContains(t, err, want)
		_, err = s.Ledger(0)
		require.ErrorContains(t, err, want)
		_, err = s.DailyLedger(0)
		require.ErrorContains(t, err, want)
		_, err = s.StudyOf([]int{0}, []Variant{{Region: s.Region, Levels: Only([]int{0, 0})}})
		require.ErrorContains(t, err, want)
	}
	s := tinySetup(MostWorkers)
	s.Group = []int{0, 1}
	require.NoError(t, s.check(), "as many as allowed, and groups without a field")
	s.Source, s.Field = nil, alike{}
	require.NoError(t, s.check(), "a field is a source of weather")
}

// So are numbers of seasons and of dryers that cannot be.
func TestNonsenseInNumbers(t *testing.T) {
	ctx := context.Background()
	s := tinySetup(1)
	for _, tt := range []struct {
		first, n int
		levels   [][]int
		want     string
	}{
		{-1, 1, Only([]int{0, 0}), "first season -1, allowed: 0 to 10000000"},
		{MostSeasons + 1, 1, Only([]int{0, 0}), "first season 10000001, allowed: 0 to 10000000"},
		{0, -1, Only([]int{0, 0}), "-1 seasons, allowed: 0 to 10000000"},
		{0, MostSeasons + 1, Only([]int{0, 0}), "10000001 seasons, allowed: 0 to 10000000"},
		{0, 1, Only([]int{0}), "numbers of dryers for 1 sites, want one list for each of the 2"},
		{0, 1, Only([]int{0, 0, 0}), "numbers of dryers for 3 sites"},
		{0, 1, Only([]int{0, -1}), "Heron Point: -1 dryers among [-1], allowed: 0 to 1000, each once"},
		{0, 1, Only([]int{1001, 0}), "North Landing: 1001 dryers among [1001], allowed: 0 to 1000, each once"},
		{0, 1, [][]int{{0, 1, 0}, {0}}, "North Landing: 0 dryers among [0 1 0]"},
		{0, MostSeasons, Upto([]int{3, 0}), "more than fit"},
	} {
		_, err := s.Table(ctx, tt.first, tt.n, tt.levels, nil)
		require.ErrorContains(t, err, tt.want)
	}
	_, err := s.Study(0, 1, nil)
	require.ErrorContains(t, err, "no plan to run")
	_, err = s.Study(0, 1, []Variant{{Region: nil, Levels: Only([]int{0, 0})}})
	require.ErrorContains(t, err, "a plan without a region")
	_, err = s.StudyOf([]int{4, -4}, []Variant{{Region: s.Region, Levels: Only([]int{0, 0})}})
	require.ErrorContains(t, err, "first season -4")
	_, err = s.Ledger(-1)
	require.ErrorContains(t, err, "first season -1")

	none, err := s.Table(ctx, 0, 0, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Zero(t, none.Seasons)
	study, err := s.Study(0, 2, []Variant{{Region: s.Region, Levels: [][]int{{1}, nil}}})
	require.NoError(t, err, "a site that is not asked about has no number of dryers")
	require.ErrorContains(t, study.Run(ctx, -1, nil), "-1 seasons, allowed: 0 or more")
	require.NoError(t, study.Run(ctx, 9, nil))
	assert.Equal(t, 2, study.Tables[0].Seasons, "no more than there is room for")
}

// A table says which plans it holds, and why it does not hold another.
func TestPlansOfATable(t *testing.T) {
	table, err := tinySetup(1).Table(context.Background(), 0, 1, [][]int{{0, 2}, {1}}, nil)
	require.NoError(t, err)
	require.NoError(t, table.CheckPlan([]int{2, 1}))
	for want, plan := range map[string][]int{
		"a plan of 1 sites, the table holds 2":                   {0},
		"a plan of 3 sites, the table holds 2":                   {0, 1, 0},
		"a plan of 1 dryers at site 1, the table holds [0 2]":    {1, 1},
		"a plan of 3 dryers at site 1, the table holds [0 2]":    {3, 1},
		"a plan of -1 dryers at site 2, the table holds [1]":     {0, -1},
		"a plan of 100000 dryers at site 2, the table holds [1]": {0, 100_000},
	} {
		require.EqualError(t, table.CheckPlan(plan), want)
		assert.False(t, table.Has(plan))
	}
	assert.True(t, table.Has([]int{0, 1}))
}

// A record has so many years and no more.
func TestYearsOfARecord(t *testing.T) {
	s := tinySetup(1)
	s.Source = recorded{}
	table, err := s.Table(context.Background(), 0, 3, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Equal(t, 3, table.Seasons)
	_, err = s.Table(context.Background(), 1, 3, Only([]int{0, 0}), nil)
	require.ErrorContains(t, err, "seasons 1 to 3, allowed: 0 to 2, the years of the record")
	_, err = s.Season(3)
	require.ErrorContains(t, err, "seasons 3 to 3, allowed: 0 to 2")
}

// The seasons are drawn for one region, so a plan that would need others is refused, whichever
// of the two it is that has them; what a plan may change is taken from the plan.
func TestVariantsShareTheirSeasons(t *testing.T) {
	ctx := context.Background()
	for what, change := range map[string]func(*sim.Region){
		"calendar":                     func(r *sim.Region) { r.Calendar.StartMonth = time.June },
		"place":                        func(r *sim.Region) { r.Place.ElevationM = 900 },
		"spread of luck":               func(r *sim.Region) { r.Luck.RefusedSiteSeason = 0.3 },
		"trouble":                      func(r *sim.Region) { r.Trouble.OutForSeason = 0.5 },
		"time until sheets are pulled": func(r *sim.Region) { r.Yard.SheetReactionH = 2 },
		"sheets at night":              func(r *sim.Region) { r.Yard.SheetsAtNight = true },
	} {
		plain, changed := tinySetup(1), tinySetup(1)
		change(changed.Region)
		for _, both := range [][2]Setup{{plain, changed}, {changed, plain}} {
			_, err := both[0].Tables(ctx, 0, 1, []Variant{{Region: both[0].Region, Levels: Only([]int{0, 0})}, {Region: both[1].Region, Levels: Only([]int{0, 0})}}, nil)
			require.ErrorContains(t, err, "the plan of Test Water has another "+what+" than Test Water")
		}
	}
	more := tinySetup(1)
	more.Region.Sites = append(more.Region.Sites, more.Region.Sites[0])
	_, err := tinySetup(1).Tables(ctx, 0, 1, []Variant{{Region: more.Region, Levels: Only([]int{0, 0, 0})}}, nil)
	require.ErrorContains(t, err, "another number of sites")
}

// Dryers out for the season stand in every plan that does not ignore it: a plan that ignores
// trouble is the plan of a region without any, and a plan that keeps its wood dry burns what a
// region with dry wood burns, beside one that does not.
func TestVariantsTakeTheirOwn(t *testing.T) {
	ctx := context.Background()
	plan := Only([]int{1, 1})
	run := func(s Setup, variants ...Variant) []*Table {
		tables, err := s.Tables(ctx, 0, 12, variants, nil)
		require.NoError(t, err)
		require.Len(t, tables, len(variants))
		return tables
	}
	troubled := tinySetup(1)
	troubled.Region.Trouble = sim.Trouble{OutForSeason: 0.7, FiringHPerFail: 40, RepairDays: 5, RepairLogSD: 0.5}
	ignores := *troubled.Region
	ignores.Trouble.Ignore = true
	free := tinySetup(1)
	both := run(troubled, Variant{Region: troubled.Region, Levels: plan}, Variant{Region: &ignores, Levels: plan})
	want := run(free, Variant{Region: free.Region, Levels: plan})
	assert.Equal(t, want[0].Digest(), both[1].Digest())
	assert.NotEqual(t, want[0].Digest(), both[0].Digest(), "some dryers were out")

	wet := tinySetup(1)
	wet.Region.Dryer.WetWood = stalk.WetBasis(0.5)
	kept := *wet.Region
	kept.Dryer.WetWood = 0
	beside := run(wet, Variant{Region: wet.Region, Levels: plan}, Variant{Region: &kept, Levels: plan})
	assert.Equal(t, want[0].Digest(), beside[1].Digest())
	turned := run(free, Variant{Region: &kept, Levels: plan}, Variant{Region: wet.Region, Levels: plan})
	assert.Equal(t, beside[0].Digest(), turned[1].Digest())
	wood := func(t *Table) int {
		n := 0
		for i := range t.Seasons {
			n += t.Sum(sim.WoodKg, []int{1, 1}, i)
		}
		return n
	}
	assert.Greater(t, wood(beside[0]), wood(beside[1]), "wet wood burns more")
}

// Two groups of sites have rain of their own even where their days are the same: as much each
// day, in other hours. The first group has the rain of a region with one weather.
func TestGroupsHaveRainOfTheirOwn(t *testing.T) {
	apart, one := tinySetup(1), tinySetup(1)
	apart.Field, apart.Group = alike{}, []int{0, 1}
	b, whole := &builder{setup: &apart}, &builder{setup: &one}
	require.Len(t, b.build(4), 2)
	require.Len(t, whole.build(4), 1)
	require.Len(t, b.hours[0], 62*24)
	require.Len(t, b.hours[1], 62*24)
	assert.Equal(t, whole.hours[0], b.hours[0])
	otherHours, rainy := 0, 0
	for d := range 62 {
		first, second := 0.0, 0.0
		for h := 24 * d; h < 24*(d+1); h++ {
			first += b.hours[0][h].RainMM
			second += b.hours[1][h].RainMM
			if b.hours[0][h].RainMM != b.hours[1][h].RainMM {
				otherHours++
			}
		}
		assert.InDelta(t, first, second, 1e-9)
		if first > 0 {
			rainy++
		}
	}
	require.Greater(t, rainy, 20)
	assert.Greater(t, otherHours, rainy)
}

// The hours of each group are those of its own place: the air of a mountain is thinner, the sun of
// another latitude stands elsewhere. Where none is stated, all lie where the region does.
func TestHoursOfEachPlace(t *testing.T) {
	build := func(places []weather.Place) *builder {
		s := tinySetup(1)
		s.Field, s.Group, s.Places = alike{}, []int{0, 1}, places
		require.NoError(t, s.check())
		b := &builder{setup: &s}
		require.Len(t, b.build(4), 2)
		return b
	}
	home := tinySetup(1).Region.Place
	plain, same, other := build(nil), build([]weather.Place{home, home}), build([]weather.Place{home, {LatitudeDeg: -30, ElevationM: 1800}})
	require.Len(t, plain.hours[1], 62*24)
	assert.Equal(t, plain.hours, same.hours)
	assert.Equal(t, plain.hours[0], other.hours[0])
	assert.NotEqual(t, plain.hours[1], other.hours[1])
}
