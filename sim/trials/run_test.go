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
			Hub:      sim.Hub{CollectionsPerMonth: 2, Humidity: 0.65, Speaks: sim.SpeaksByCutters},
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
	want, err := tinySetup(1).Table(ctx, 0, 16, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	old := debug.SetGCPercent(1)
	for _, workers := range []int{2, 7} {
		got, err := tinySetup(workers).Table(ctx, 0, 16, Upto([]int{2, 1}), nil)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%d workers", workers)
	}
	debug.SetGCPercent(old)

	part, err := tinySetup(2).Table(ctx, 10, 5, Only([]int{2, 0}), nil)
	require.NoError(t, err)
	for i := range 5 {
		assert.Equal(t, want.row(0, 2, 10+i), part.row(0, 2, i))
		assert.Equal(t, want.row(1, 0, 10+i), part.row(1, 0, i))
		assert.Equal(t, want.Draws(10+i), part.Draws(i))
	}
	other := tinySetup(1)
	other.Seed = 6
	different, err := other.Table(ctx, 0, 16, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	assert.NotEqual(t, want.parts[0].season, different.parts[0].season)
}

// So it is with stalks spread over the free rack, thinner in wet weeks, and cut as far as they can
// be dried, which does not give what the other ways give.
func TestTableOfOtherWaysIsAlwaysTheSame(t *testing.T) {
	setup := func(workers int) Setup {
		s := tinySetup(workers)
		y := &s.Region.Yard
		y.Spreading, y.LeastLoadingKgPerM2, y.WetWeekMM = sim.SpreadOverFreeRack, 6, 40
		y.CutUntil, y.WetKgPerM2, y.WetCharges = sim.CutWhatCanDry, 7, 2
		s.Region.Sites[1].LoadingInWetWeeksKgPerM2 = 8
		return s
	}
	want, err := setup(1).Table(context.Background(), 0, 30, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	for _, workers := range []int{2, 5} {
		got, err := setup(workers).Table(context.Background(), 0, 30, Upto([]int{2, 1}), nil)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%d workers", workers)
	}
	part, err := setup(1).Table(context.Background(), 4, 2, Only([]int{2, 1}), nil)
	require.NoError(t, err)
	assert.Equal(t, want.row(0, 2, 5), part.row(0, 2, 1))
	old, err := tinySetup(1).Table(context.Background(), 0, 30, Upto([]int{2, 1}), nil)
	require.NoError(t, err)
	assert.NotEqual(t, old.Digest(), want.Digest())
}

// A plan put together from the table is the plan run whole: same months at the hub.
func TestTableAgreesWithWholeSeasons(t *testing.T) {
	s := tinySetup(2)
	table, err := s.Table(context.Background(), 0, 20, Upto([]int{2, 2}), nil)
	require.NoError(t, err)
	plan := []int{2, 1}
	s.Region.Sites[0].Dryers, s.Region.Sites[1].Dryers = plan[0], plan[1]
	months, scratch := make([]sim.HubMonth, table.Months()), &Arriving{}
	for i := range 20 {
		l, err := s.Ledger(i)
		require.NoError(t, err)
		table.Hub(months, scratch, plan, i)
		for k := range months {
			assert.Equal(t, l.Hub[k].Delivered, months[k].Delivered)
			assert.Equal(t, l.Hub[k].Available(), months[k].Available())
			assert.Equal(t, l.Hub[k].Met, months[k].Met)
		}
	}
	assert.True(t, table.Has(plan))
	assert.False(t, table.Has([]int{3, 0}))
}

// Every figure of the registry is in the table what the ledgers of the same seasons say: for
// the season, by month, by dryer, and the rain. Hours are kept to the minute and wood to the
// hectogram.
func TestTableHoldsTheLedgers(t *testing.T) {
	s := busySetup()
	plan := []int{2, 1}
	table, err := s.Table(context.Background(), 0, 12, Only(plan), nil)
	require.NoError(t, err)
	columns := sim.Columns()
	require.Len(t, columns, len(sim.Figures()))
	seen := map[string]bool{}
	for i := range 12 {
		l, err := s.DailyLedger(i)
		require.NoError(t, err)
		for _, c := range columns {
			want, unit := 0.0, c.Figure.Unit.Fine()
			for _, site := range l.Sites {
				want += seasonOf(c.Figure, site.Months)
			}
			seen[c.Name] = seen[c.Name] || want > 0
			assert.InDelta(t, want*unit, table.Sum(c.Figure.ID, plan, i), 0.5*float64(len(plan))+1e-6, c.Name)
			assert.InDelta(t, want, table.Of(c.Figure.ID, plan, i), (0.5*float64(len(plan))+1e-6)/unit, c.Name)
		}
		for site, n := range plan {
			for _, id := range monthly {
				got := table.MonthFigures(id, site, n, i)
				require.Len(t, got, 2)
				for k := range got {
					f := id.Figure()
					assert.InDelta(t, f.Of(&l.Sites[site].Months[k])*f.Unit.Fine(), got[k], 0.5+1e-6, "%s, month %d", f.Key, k)
				}
			}
			require.Len(t, l.Sites[site].Each, n)
			for d, h := range l.Sites[site].Each {
				for state, x := range h {
					assert.InDelta(t, 60*x, table.DryerMinutes(site, n, i, d)[state], 0.5+1e-6, "%s of dryer %d", sim.DryerState(state), d)
				}
			}
		}
		for k, span := range table.Spans() {
			mm := 0.0
			for _, day := range l.Sites[0].Days[span.FirstDay : span.LastDay+1] {
				mm += day.RainMM
			}
			assert.InDelta(t, mm, table.RainMM(i)[k], 1e-9)
			assert.Positive(t, mm)
		}
	}
	for _, c := range columns {
		assert.True(t, seen[c.Name], "no season has any of %s: the check above says nothing", c.Name)
	}
	assert.Panics(t, func() { table.MonthFigures(sim.Rejected, 0, 2, 0) })
}

// seasonOf adds up a figure over months; what lies there is that of the first or last.
func seasonOf(f *sim.Figure, months []sim.SiteMonth) (sum float64) {
	switch f.ID {
	case sim.Opening:
		return f.Of(&months[0])
	case sim.Closing:
		return f.Of(&months[len(months)-1])
	}
	for i := range months {
		sum += f.Of(&months[i])
	}
	return sum
}

// busySetup is a region in which every figure is counted in some season.
func busySetup() Setup {
	s := tinySetup(2)
	r := s.Region
	for i := range r.Sites {
		site := &r.Sites[i]
		site.Dryers, site.OpeningStock, site.Sheets, site.StandM2 = 2-i, 2000, true, 3000
	}
	r.Sites[0].OpenRackM2, r.Yard.DiscardBelowFullShare = 20, 0.9
	r.Sites[0].HaulTo, r.Sites[0].HaulStalksPerDay = r.Sites[1].Name, 200
	r.Sites[1].Closed = []sim.Closure{{FirstDay: 20, LastDay: 24, Why: "sprayed", Removed: 0.2}}
	r.Contract.TargetStock = map[time.Month]int{time.July: 5000, time.August: 2000}
	r.Contract.StalksByMonth = map[time.Month]int{time.July: 20_000, time.August: 5000}
	d := &r.Dryer
	d.ReadyAfterDays, d.ShiftEndH = 3, 24.5
	d.WoodLimited, d.OpeningWoodKg, d.WoodKgPerMonth = true, 100, 150
	d.BrownsPerH = 0.06
	r.People = sim.People{
		Pool: true, WorkHPerDay: 7, TendsDryers: 1, HandlingHPer1000: 4, GradingHPer1000: 2, SheetHPer100M2: 0.5, CollectionH: 2, HaulHPer1000: 2, SpreadingHPer100M2: 5,
		Away: []sim.Away{{FirstDay: 30, LastDay: 36, Fraction: 1}},
	}
	r.Trouble = sim.Trouble{OutForSeason: 0.1, FiringHPerFail: 60, RepairDays: 3}
	r.Road = sim.Road{MoistureLimit: 0.14, ClosedAboveMM: 20, MinimumStalks: 500}
	r.Store.Humidity = 0.8
	r.Stand = sim.Stand{GrowthPerDay: 0.05, CapacityKgM2: 40, StartKgM2: 20, KgPerStalk: 0.33, ThinAtKgM2: 18}
	r.Hub.CollectionsPerMonth = 4
	r.Yard.CutUntil, r.Yard.WetKgPerM2, r.Yard.WetCharges = sim.CutWhatCanDry, 9, 0.5
	return s
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
		months, scratch := make([]sim.HubMonth, table.Months()), &Arriving{}
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
