package trials

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim"
)

// Rows come out of a pack as they were put in, whatever they hold and lean on, the least and the
// largest whole number among them.
func TestPackedRowsAreThemselves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, wide := rapid.IntRange(1, 70).Draw(t, "rows"), rapid.IntRange(1, 9).Draw(t, "figures")
		most := rapid.SampledFrom([]int32{0, 1, 63, 64, 70_000, math.MaxInt32}).Draw(t, "most")
		rows := rapid.SliceOfN(rapid.Int32Range(-most, most), n*wide, n*wide).Draw(t, "values")
		if rapid.Bool().Draw(t, "least") {
			rows[0], rows[len(rows)-1] = math.MinInt32, math.MaxInt32
		}
		var leans [][]int
		for c := range wide { // on columns before it only, so that none leans on itself
			if c == 0 || rapid.Bool().Draw(t, "alone") {
				leans = append(leans, nil)
				continue
			}
			leans = append(leans, rapid.SliceOfN(rapid.IntRange(0, c-1), 1, 3).Draw(t, "on"))
		}
		p := pack(rows, wide, leans)
		for i := range n {
			for c := range wide {
				require.Equal(t, rows[i*wide+c], p.at(i, c), "row %d, figure %d", i, c)
			}
		}
	})
}

// Figures that are the same in all rows, or told by others, take no room; others as many bits as their
// spread: 8 rows of a figure from 100 to 107 are three bytes, which lie in one word.
func TestPackTakesWhatSpreads(t *testing.T) {
	var rows []int32
	for i := range int32(8) {
		rows = append(rows, 5_000_000, 100+i, 100+i)
	}
	p := pack(rows, 3, [][]int{nil, nil, {1}})
	assert.Equal(t, []uint8{0, 3, 0}, []uint8{p.columns[0].wide, p.columns[1].wide, p.columns[2].wide})
	assert.Len(t, p.words, 2, "the word, and the one after it that reading looks into")
	assert.Equal(t, uint64(0o76543210), p.words[0])
}

// Seasons of a long table in tests, and windows of which they make two and a part of one.
const (
	long  = 30
	short = 12
)

// inWindows returns a study of one plan whose table is packed in short windows.
func inWindows(t *testing.T, s Setup, plan []int) *Study {
	t.Helper()
	study, err := s.Study(0, long, []Variant{{Region: s.Region, Levels: Only(plan)}})
	require.NoError(t, err)
	study.Tables[0].parts = partsOf(s.Region, long, Only(plan), short)
	if s.EveryMonth {
		study.Tables[0].keepEveryMonth()
	}
	require.Len(t, study.Tables[0].parts, 3)
	return study
}

// sameTable asserts that two tables say the same of a plan in all their seasons.
func sameTable(t *testing.T, want, got *Table, plan []int) {
	t.Helper()
	require.Equal(t, want.Seasons, got.Seasons)
	require.Equal(t, want.Digest(), got.Digest())
	months, again, sums := make([]sim.HubMonth, want.Months()), make([]sim.HubMonth, want.Months()), &Arriving{}
	for i := range want.Seasons {
		want.Hub(months, sums, plan, i)
		got.Hub(again, sums, plan, i)
		require.Equal(t, months, again)
		require.Equal(t, want.RainMM(i), got.RainMM(i))
		require.Equal(t, want.OpeningKept(i), got.OpeningKept(i))
		for site, dryers := range plan {
			require.Equal(t, want.row(site, dryers, i), got.row(site, dryers, i), "season %d", i)
			require.Equal(t, want.Kept(site, dryers, i), got.Kept(site, dryers, i), "season %d", i)
			require.Equal(t, want.At(sim.WoodKg, site, dryers, i), got.At(sim.WoodKg, site, dryers, i))
		}
	}
}

// A long table is packed window by window and says the same as one that is not, with any number of
// workers, where stalks spoil at the hub, and when it was interrupted in a window and went on.
func TestLongTablesSayTheSame(t *testing.T) {
	plan, set := []int{1, 0}, tinySetup(1)
	set.Region.Hub.Humidity, set.Region.Hub.OpeningStock = 0.95, 20_000
	want, err := set.Table(context.Background(), 0, long, Only(plan), nil)
	require.NoError(t, err)
	require.Len(t, want.parts, 1)
	for _, workers := range []int{1, 3} {
		set.Workers = workers
		study := inWindows(t, set, plan)
		got := study.Tables[0]
		require.NoError(t, study.Run(context.Background(), 7, nil))
		ctx, stop := context.WithCancel(context.Background())
		err := study.Run(ctx, long, func(done int) {
			if done == 20 {
				stop()
			}
		})
		require.ErrorIs(t, err, context.Canceled)
		require.Equal(t, 7, got.Seasons, "no whole piece more, though a window was packed")
		require.NotNil(t, got.parts[0].season.packed)
		sameTable(t, want.Before(7), got, plan)
		require.NoError(t, study.Run(context.Background(), long, nil))
		for _, p := range got.parts {
			require.NotNil(t, p.season.packed)
			require.Nil(t, p.season.open)
			require.Contains(t, p.spoils, true, "or nothing is said of what keeps")
		}
		sameTable(t, want, got, plan)
		sameTable(t, want.Before(20), got.Before(20), plan)
		joined := Join(got.Before(15), got)
		sameTable(t, Join(want.Before(15), want), joined, plan)
		assert.Equal(t, want.row(0, 1, 22), joined.row(0, 1, 37))
		assert.Equal(t, want.Draws(22), joined.Draws(37))
	}
}

// So it is with every figure by month.
func TestLongTablesKeepEveryMonth(t *testing.T) {
	plan, set := []int{0, 1}, tinySetup(2)
	set.EveryMonth = true
	want, err := set.Table(context.Background(), 0, long, Only(plan), nil)
	require.NoError(t, err)
	study := inWindows(t, set, plan)
	require.NoError(t, study.Run(context.Background(), long, nil))
	figures := sim.Figures()
	require.Greater(t, len(figures), 40)
	for i := range long {
		for _, f := range figures {
			require.Equal(t, want.MonthFigures(f.ID, 1, 1, i), study.Tables[0].MonthFigures(f.ID, 1, 1, i), "%s of season %d", f.Key, i)
		}
	}
}

// A table of a plan is packed; those that searches read again and again stay as they are.
func TestRowsOfSearchesAreNotPacked(t *testing.T) {
	set := tinySetup(1)
	study, err := set.Study(0, 3*window, []Variant{{Region: set.Region, Levels: Upto([]int{1, 1}), Apart: true}, {Region: set.Region, Levels: Only([]int{1, 1})}})
	require.NoError(t, err)
	require.Len(t, study.Tables[0].parts, 1)
	assert.False(t, study.Tables[0].parts[0].packs)
	require.Len(t, study.Tables[1].parts, 3)
	assert.True(t, study.Tables[1].parts[2].packs)
}

// made is a site-season of figures that spread as widely as those of a group with a dryer do.
func made(rng *rand.Rand) *sim.Lived {
	did := &sim.Lived{Each: []sim.DryerHours{{rng.Float64() * 400, rng.Float64() * 300}}}
	for range 2 {
		cut := 30_000 + rng.IntN(60_000)
		refused, hours := cut/20+rng.IntN(3000), float64(100+rng.IntN(400))
		did.Months = append(did.Months, sim.SiteMonth{
			Cut: cut, ToHub: cut / 2, RefusedAtGate: refused, Second: cut / 5, CutH: hours, OtherH: 2 * hours, FiringH: rng.Float64() * 300,
			WoodKg: rng.Float64() * 9000, Trips: 2, Closing: rng.IntN(20_000),
		})
	}
	return did
}

// What a long table keeps of a site-season is a fraction of a row as it is written, 344 bytes here, and
// of the draws nothing: a table that grows with its seasons again is noticed.
func TestTableKeepsFewBytesOfASeason(t *testing.T) {
	kept := func(windows int) uint64 {
		rng, set := rand.New(rand.NewPCG(1, 2)), tinySetup(1)
		before := inUse()
		study, err := set.Study(0, windows*window, []Variant{{Region: set.Region, Levels: Only([]int{1, 1})}})
		require.NoError(t, err)
		table := study.Tables[0]
		require.Equal(t, 344, 4*table.parts[0].season.wide)
		for i := range windows * window {
			for site := range 2 {
				table.put(sim.Lane{Site: site, Dryers: 1}, i, made(rng))
			}
			table.wrote(i)
		}
		after := inUse()
		runtime.KeepAlive(table)
		return after - before
	}
	kept(1)
	few, many := kept(4), kept(20)
	perSeason := float64(many-few) / (16 * window)
	assert.Less(t, perSeason, 200.0, "bytes a season of two sites")
	assert.Greater(t, perSeason, 20.0, "or nothing is kept at all")
}

// inUse returns the bytes that are reachable.
func inUse() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
