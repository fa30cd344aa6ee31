package trials

import (
	"context"
	"math/rand/v2"
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"drystalk/sim"
	"drystalk/sim/weather"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// showers is a source of sunny days with showers, for tests.
type showers struct{}

func (showers) Days(_, n int, rng *rand.Rand) []weather.Day {
	days := make([]weather.Day, n)
	for i := range days {
		days[i] = weather.Day{TmaxC: 32, TminC: 24, SunFraction: 0.6, VapourKPa: 2.7, WindMS: 1.5}
		if rng.Float64() < 0.5 {
			days[i] = weather.Day{RainMM: 1 + 15*rng.ExpFloat64(), TmaxC: 29, TminC: 24, SunFraction: 0.2, VapourKPa: 2.9, WindMS: 1.5}
		}
	}
	return days
}

// tinySetup is a region of two sites through two months.
func tinySetup(workers int) Setup {
	site := sim.Site{
		Name: "North Landing", Cutters: 4, OutputPerPersonH: 120, CuttingHPerDay: 6,
		OpenRackM2: 100, ClearRoofM2: 8, LoadingKgPerM2: 10,
	}
	other := site
	other.Name, other.Cutters = "Heron Point", 3
	months := map[time.Month]int{time.July: 90_000, time.August: 90_000}
	return Setup{
		Region: &sim.Region{
			Name:     "Test Water",
			Place:    weather.Place{LatitudeDeg: 14},
			Calendar: sim.Calendar{StartMonth: time.July, StartDay: 1, Days: 62},
			Contract: sim.Contract{StalksByMonth: months, TargetStock: months},
			Hub:      sim.Hub{CollectionsPerMonth: 2},
			Sites:    []sim.Site{site, other},
			Dryer: sim.Dryer{
				HoldsFresh: 1000, HoldsPredried: 1500, ShiftStartH: 7, ShiftEndH: 19, HandlingH: 0.5,
				MinimumFill: 0.3, FireAtIndex: 0.3, BreakFraction: 0.03,
			},
			Yard: sim.Yard{MaxCutRainMM: 25, RestEveryDays: 7, DiscardBelowFullShare: 0.1, HeapDaysOfCut: 1},
			Luck: sim.Luck{OutputSeason: 0.1, OutputSiteSeason: 0.15, OutputDay: 0.25},
		},
		Base:      sim.DefaultParameters(),
		Knowledge: DefaultKnowledge(),
		Source:    showers{},
		Seed:      5,
		Workers:   workers,
	}
}

// The rows do not depend on the number of workers or the garbage collector, to the
// bit, nor on how many seasons are run or on the other levels.
func TestTableIsAlwaysTheSame(t *testing.T) {
	ctx := context.Background()
	want, err := tinySetup(1).Table(ctx, 0, 40, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	old := debug.SetGCPercent(1)
	for _, workers := range []int{2, 7} {
		got, err := tinySetup(workers).Table(ctx, 0, 40, Upto([]int{2, 1}), nil)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%d workers", workers)
	}
	debug.SetGCPercent(old)

	part, err := tinySetup(2).Table(ctx, 10, 5, Only([]int{2, 0}), nil)
	require.NoError(t, err)
	for i := range 5 {
		assert.Equal(t, want.row(0, 2, 10+i), part.row(0, 2, i))
		assert.Equal(t, want.row(1, 0, 10+i), part.row(1, 0, i))
		assert.Equal(t, want.Draws[10+i], part.Draws[i])
	}
	other := tinySetup(1)
	other.Seed = 6
	different, err := other.Table(ctx, 0, 40, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	assert.NotEqual(t, want.figures, different.figures)
}

// A plan put together from the table is the plan run whole: same months at the hub.
func TestTableAgreesWithWholeSeasons(t *testing.T) {
	s := tinySetup(2)
	table, err := s.Table(context.Background(), 0, 20, Upto([]int{2, 2}), nil)
	require.NoError(t, err)
	plan := []int{2, 1}
	s.Region.Sites[0].Dryers, s.Region.Sites[1].Dryers = plan[0], plan[1]
	months, scratch := make([]sim.HubMonth, table.Months()), make([]int, table.Months())
	for i := range 20 {
		l, err := s.Ledger(i)
		require.NoError(t, err)
		table.Hub(months, scratch, plan, i)
		cut, refused := 0, 0
		for _, site := range l.Sites {
			for _, m := range site.Months {
				cut += m.Cut
				refused += m.RefusedAtGate
			}
		}
		assert.Equal(t, cut, table.Sum(sim.Cut, plan, i))
		assert.Equal(t, refused, table.Sum(sim.RefusedAtGate, plan, i))
		for k := range months {
			assert.Equal(t, l.Hub[k].Delivered, months[k].Delivered)
			assert.Equal(t, l.Hub[k].Available(), months[k].Available())
			assert.Equal(t, l.Hub[k].Met, months[k].Met)
		}
	}
	assert.True(t, table.Has(plan))
	assert.False(t, table.Has([]int{3, 0}))
}

// A run that is stopped ends at once, with the reason, and leaves nothing running.
func TestStopping(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := tinySetup(2).Table(ctx, 0, 100_000, Upto([]int{1, 1}), func(done int) {
		if done == 5 {
			cancel()
		}
	})
	require.ErrorIs(t, err, context.Canceled)
}

// More dryers, rack or cutters never deliver less over the season in the same luck, but
// for seasons that are counted. A dryer or rack more shifts the hours at which charges
// are fired, and now and then a batch just misses its turn. More cutters, where dryers
// are short, also bring stalks that rot before a dryer is free and that take older
// batches' places: fewer stalks in up to a third of the seasons, more on average.
func TestMoreNeverDeliversLess(t *testing.T) {
	ctx := context.Background()
	const n = 150
	base := tinySetup(2)
	sum := func(s Setup, plan []int) []int {
		table, err := s.Table(ctx, 0, n, Only(plan), nil)
		require.NoError(t, err)
		months, scratch := make([]sim.HubMonth, table.Months()), make([]int, table.Months())
		out := make([]int, n)
		for i := range out {
			table.Hub(months, scratch, plan, i)
			for _, m := range months {
				out[i] += m.Delivered
			}
		}
		return out
	}
	with := func(change func(*sim.Site)) Setup {
		s := tinySetup(2)
		for i := range s.Region.Sites {
			change(&s.Region.Sites[i])
		}
		return s
	}
	before := sum(base, []int{1, 1})
	for _, tt := range []struct {
		name  string
		after []int
		allow int // of 150 seasons
	}{
		{"a dryer", sum(base, []int{2, 1}), 2},
		{"rack", sum(with(func(s *sim.Site) { s.OpenRackM2 *= 1.5 }), []int{1, 1}), 12},
		{"cutters", sum(with(func(s *sim.Site) { s.Cutters++ }), []int{1, 1}), 45},
	} {
		fewer, total := 0, 0
		for i := range before {
			if tt.after[i] < before[i] {
				fewer++
			}
			total += tt.after[i] - before[i]
		}
		t.Logf("%s more: fewer stalks in %d of %d seasons, %+d a season", tt.name, fewer, n, total/n)
		assert.LessOrEqual(t, fewer, tt.allow, tt.name)
		assert.GreaterOrEqual(t, total, 0, tt.name)
	}
}

func BenchmarkSeasons(b *testing.B) {
	for _, workers := range []int{1, 2} {
		b.Run(map[int]string{1: "one worker", 2: "two workers"}[workers], func(b *testing.B) {
			s := tinySetup(workers)
			for b.Loop() {
				if _, err := s.Table(context.Background(), 0, 100, Upto([]int{2, 2}), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
