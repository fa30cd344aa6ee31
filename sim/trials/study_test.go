package trials

import (
	"context"
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/weather"
)

// apart is weather of two groups of sites that differ.
type apart struct{}

func (apart) Days(_, n int, rng *rand.Rand) [][]weather.Day {
	return [][]weather.Day{showers{}.Days(0, n, rng), showers{}.Days(0, n, rng)}
}

// broken is weather that cannot be: seasons without days from the given one of a record on.
type broken struct {
	showers
	from int
}

func (b broken) Seasons() int { return 1000 }
func (b broken) Season(i int, rng *rand.Rand) []weather.Day {
	if i >= b.from {
		return nil
	}
	return b.Days(0, 62, rng)
}

// Sites of the second group live through its weather, those of the first through theirs: the
// table of both is put together from those of regions in one weather each.
func TestSitesLiveInTheirGroup(t *testing.T) {
	s := tinySetup(1)
	s.Field, s.Group = apart{}, []int{1, 0}
	b := &builder{setup: &s}
	seasons := b.build(2)
	require.Len(t, seasons, 2)
	require.NotEqual(t, seasons[0].Days, seasons[1].Days)
	assert.Equal(t, []int{1, 0}, []int{s.groupOf(0), s.groupOf(1)})
	table, err := s.Table(context.Background(), 2, 1, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	l, err := s.Ledger(2)
	require.NoError(t, err)
	run := sim.NewRunner(s.Region)
	for site, g := range s.Group {
		want, err := run.Site(site, 0, &seasons[g])
		require.NoError(t, err)
		for k := range want {
			assert.EqualValues(t, want[k].ToHub-want[k].RefusedAtGate, table.Accepted(site, 0, 0)[k])
			assert.Equal(t, want[k].Cut, l.Sites[site].Months[k].Cut)
		}
	}
	rain := 0.0
	for _, day := range seasons[0].Days[:31] {
		rain += day.RainMM
	}
	assert.InDelta(t, rain, table.RainMM(0)[0], 1e-9, "the rain of a table is that of the first group")
	s.Field = nil
	assert.Equal(t, 1, s.groups(), "without a field all sites share one weather")
	assert.Equal(t, []int{0, 0}, []int{s.groupOf(0), s.groupOf(1)})
}

// A study run in pieces is the study run in one go; progress tells every season once, in
// order.
func TestStudyInPieces(t *testing.T) {
	ctx := context.Background()
	s := tinySetup(2)
	variants := []Variant{{Region: s.Region, Levels: Only([]int{1, 0})}}
	whole, err := s.Study(20, 60, variants)
	require.NoError(t, err)
	var told []int
	require.NoError(t, whole.Run(ctx, 60, func(done int) { told = append(told, done) }))
	require.Len(t, told, 60)
	for i, n := range told {
		assert.Equal(t, i+1, n)
	}
	parts, err := s.Study(20, 60, variants)
	require.NoError(t, err)
	for _, to := range []int{7, 7, 3, 55, 60} {
		require.NoError(t, parts.Run(ctx, to, nil))
	}
	assert.Equal(t, 60, parts.Tables[0].Seasons)
	assert.Equal(t, 20, parts.Tables[0].First)
	assert.Equal(t, whole.Tables, parts.Tables)
}

// A run that is stopped keeps the pieces of fifty seasons that were finished.
func TestStoppedStudyKeepsWholePieces(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s := tinySetup(2)
	study, err := s.Study(0, 200, []Variant{{Region: s.Region, Levels: Only([]int{0, 0})}})
	require.NoError(t, err)
	err = study.Run(ctx, 200, func(done int) {
		if done == 120 {
			cancel()
		}
	})
	require.ErrorIs(t, err, context.Canceled)
	require.ErrorContains(t, err, "seasons 100 to 149: ")
	assert.Equal(t, 100, study.Tables[0].Seasons)
	want, err := tinySetup(1).Table(context.Background(), 0, 100, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Equal(t, want.Digest(), study.Tables[0].Digest())
}

// patient is weather of which the first season takes until so many later ones have been drawn.
type patient struct {
	showers
	first, drawn *atomic.Int64
	least        int64
	enough       chan struct{}
}

func (p patient) Days(startDOY, n int, rng *rand.Rand) []weather.Day {
	if p.first.Add(1) == 1 {
		select {
		case <-p.enough:
		case <-time.After(20 * time.Second):
			panic("the others wait for this season")
		}
	} else if p.drawn.Add(1) == p.least {
		close(p.enough)
	}
	return p.showers.Days(startDOY, n, rng)
}

// No worker waits for another: while one season takes long, the other worker lives through many
// more than count together when a run is stopped.
func TestNoWorkerWaits(t *testing.T) {
	s := tinySetup(2)
	s.Source = patient{first: &atomic.Int64{}, drawn: &atomic.Int64{}, least: 3 * piece, enough: make(chan struct{})}
	table, err := s.Table(context.Background(), 0, 4*piece, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Equal(t, 4*piece, table.Seasons)
}

// A study of chosen seasons holds those seasons, in the order asked for.
func TestStudyOfChosenSeasons(t *testing.T) {
	ctx := context.Background()
	s := tinySetup(2)
	numbers := []int{9, 4, 6}
	study, err := s.StudyOf(numbers, []Variant{{Region: s.Region, Levels: Only([]int{1, 1})}})
	require.NoError(t, err)
	require.NoError(t, study.Run(ctx, 3, nil))
	table, err := s.Table(ctx, 0, 10, Only([]int{1, 1}), nil)
	require.NoError(t, err)
	for i, n := range numbers {
		for site := range 2 {
			assert.Equal(t, table.row(site, 1, n), study.Tables[0].row(site, 1, i))
		}
		assert.Equal(t, table.Draws(n), study.Tables[0].Draws(i))
		assert.Equal(t, table.RainMM(n), study.Tables[0].RainMM(i))
	}
}

// A season that breaks is an error with its number, not a panic, and ends the run.
func TestBrokenSeason(t *testing.T) {
	for _, workers := range []int{1, 3} {
		s := tinySetup(workers)
		s.Source = broken{from: 30}
		told := 0
		_, err := s.Table(context.Background(), 0, 1000, Only([]int{0, 0}), func(done int) { told = max(told, done) })
		require.ErrorContains(t, err, "seasons 0 to 49: ")
		require.ErrorContains(t, err, "season 30 cannot be lived through")
		assert.LessOrEqual(t, told, 30+workers)
	}
}

// meeting is weather that waits until two seasons are drawn at the same time.
type meeting struct {
	showers
	met chan struct{}
}

func (m meeting) Days(startDOY, n int, rng *rand.Rand) []weather.Day {
	select {
	case m.met <- struct{}{}:
	case <-m.met:
	case <-time.After(20 * time.Second):
		panic("no other season came")
	}
	return m.showers.Days(startDOY, n, rng)
}

// Two workers draw seasons side by side; none stated is one.
func TestWorkers(t *testing.T) {
	s := tinySetup(2)
	s.Source = meeting{met: make(chan struct{})}
	_, err := s.Table(context.Background(), 0, 2, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	want, err := tinySetup(1).Table(context.Background(), 0, 2, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	got, err := tinySetup(0).Table(context.Background(), 0, 2, Only([]int{0, 0}), nil)
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

// Where stalks are hauled or dryers moved only whole plans can be run, and the site that
// sends runs first.
func TestHauledStalksGoWhole(t *testing.T) {
	ctx := context.Background()
	s := tinySetup(1)
	s.Region.Moves = []sim.Move{{From: "North Landing", To: "Heron Point", Day: 5}}
	s.Region.Sites[0].Dryers = 1
	_, err := s.Table(ctx, 0, 1, [][]int{{1}, {0, 1}}, nil)
	require.ErrorIs(t, err, ErrMoving)
	_, err = s.Table(ctx, 0, 1, Only([]int{1, 0}), nil)
	require.NoError(t, err)

	s = tinySetup(1)
	s.Region.Sites[1].HaulTo, s.Region.Sites[1].HaulStalksPerDay = "North Landing", 500
	_, err = s.Table(ctx, 0, 1, [][]int{{0, 1}, {0}}, nil)
	require.ErrorIs(t, err, ErrHauling)
	order, err := haulOrder(Variant{Region: s.Region, Levels: Only([]int{1, 0})})
	require.NoError(t, err)
	assert.Equal(t, []int{1, 0}, order)
}

// Two tables joined are the table of all their seasons, also where they hold other numbers of
// dryers.
func TestJoin(t *testing.T) {
	ctx := context.Background()
	s := tinySetup(2)
	table := func(first, n int, levels [][]int) *Table {
		got, err := s.Table(ctx, first, n, levels, nil)
		require.NoError(t, err)
		return got
	}
	levels := [][]int{{0, 1}, {1}}
	want := table(3, 9, levels)
	same := func(got *Table) {
		t.Helper()
		require.Equal(t, want.Seasons, got.Seasons)
		assert.Equal(t, want.First, got.First)
		assert.Equal(t, want.Digest(), got.Digest())
		for i := range 9 {
			assert.Equal(t, want.Draws(i), got.Draws(i))
			assert.Equal(t, want.RainMM(i), got.RainMM(i))
			assert.Equal(t, want.AheadMM(i), got.AheadMM(i))
			assert.Equal(t, want.row(0, 1, i)[:keptAt(2)+pairs(2)], got.row(0, 1, i)[:keptAt(2)+pairs(2)], "season %d", i)
			assert.Equal(t, want.DryerMinutes(0, 1, i, 0), got.DryerMinutes(0, 1, i, 0))
		}
	}
	same(Join(table(3, 4, levels), table(7, 5, levels)))
	same(Join(Join(table(3, 2, levels), table(5, 2, levels)), table(7, 5, levels)))
	same(Join(table(3, 2, levels), Join(table(5, 2, levels), table(7, 5, levels))))

	wide := Join(table(3, 4, Upto([]int{3, 2})), table(7, 5, levels))
	same(wide)
	assert.Error(t, wide.CheckPlan([]int{3, 1}), "the later seasons do not hold three dryers")
	early := wide.Holding([]int{3, 1})
	assert.Equal(t, 4, early.Seasons)
	require.NoError(t, early.CheckPlan([]int{3, 1}))
	assert.Equal(t, table(3, 4, Upto([]int{3, 2})).Digest(), early.Digest())
	assert.Same(t, wide, wide.Holding([]int{1, 1}))
	none := wide.Holding([]int{4, 1})
	assert.Zero(t, none.Seasons)
	assert.Error(t, none.CheckPlan([]int{4, 1}))
	assert.Zero(t, wide.Holding([]int{1, 1, 1}).Seasons, "a plan of more sites")
	for _, n := range []int{0, 1, 4, 5, 9} {
		some := wide.Before(n)
		assert.Equal(t, n, some.Seasons)
		assert.Equal(t, n <= 4, some.CheckPlan([]int{3, 1}) == nil, "%d seasons", n)
	}
	assert.Equal(t, 9, wide.Before(99).Seasons)
}

// A fingerprint tells every season, row and draw apart, and does not count what a study has
// room for but has not run.
func TestDigest(t *testing.T) {
	s := tinySetup(2)
	study, err := s.Study(0, 4, []Variant{{Region: s.Region, Levels: [][]int{{0, 1}, {1}}}})
	require.NoError(t, err)
	require.NoError(t, study.Run(context.Background(), 3, nil))
	table := study.Tables[0]
	want := table.Digest()
	assert.Len(t, want, 16)
	changes := func(x *int32) bool {
		*x++
		defer func() { *x-- }()
		return table.Digest() != want
	}
	rows := 0
	require.Len(t, digested, 14)
	for site, levels := range table.levels() {
		for _, dryers := range levels {
			for i := range 4 {
				row := table.row(site, dryers, i)
				assert.Equal(t, i < 3, changes(&row[0]), "stalks of the first month, season %d", i)
				assert.Equal(t, i < 3, changes(&row[1]), "stalks of the last month, season %d", i)
				for _, id := range digested {
					assert.Equal(t, i < 3, changes(&row[2+int(id)]), "%s, season %d", id, i)
				}
				rows++
			}
		}
	}
	require.Equal(t, 12, rows)
	y := table.years[0]
	y.numbers = []int{0, 1, 2, 3}
	for i := range 4 {
		y.numbers[i] += 40
		assert.Equal(t, i < 3, table.Digest() != want, "draws of season %d", i)
		y.numbers[i] -= 40
	}
	ranges := y.setup.Knowledge.Ranges
	y.setup.Knowledge.Ranges = slices.Clone(ranges)
	y.setup.Knowledge.Ranges[len(ranges)-1].High++
	assert.NotEqual(t, want, table.Digest(), "last parameter drawn")
	y.setup.Knowledge.Ranges = ranges
	assert.Equal(t, want, table.Digest())
}
