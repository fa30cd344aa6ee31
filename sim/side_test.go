package sim

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/internal/engine"
)

// copied returns what is left of a site-season when the runner runs again.
func copied(l *Lived) Lived {
	return Lived{slices.Clone(l.Months), l.Days, l.Water, append([]DryerHours{}, l.Each...), Kept{slices.Clone(l.Kept.Still), slices.Clone(l.Kept.Opening)}, slices.Clone(l.Loaded)}
}

// Sites that live side by side live as each alone, to the last bit, whatever the region looks
// like: with several numbers of dryers, sheets and nobody to pull them, and weathers of their
// own.
func TestSideBySideIsAsAlone(t *testing.T) {
	mixed, mixedHours := mixedDays(61)
	wet, wetHours := soaked(61)
	together := NewRunner(small(landing1(0)))
	rapid.Check(t, func(t *rapid.T) {
		r := anyRegion(t)
		n := r.Calendar.Days
		if rapid.Bool().Draw(t, "alike") {
			cutters := r.Sites[1].Cutters
			r.Sites[1] = r.Sites[0]
			r.Sites[1].Name, r.Sites[1].Cutters, r.Sites[1].HaulTo = "Old Sluice", cutters, ""
		}
		s := season(r, parameters(), mixed[:n], mixedHours[:24*n])
		s.Sheets = [][]bool{make([]bool, n), make([]bool, n)}
		for d := range n {
			s.Sheets[1][d] = d%3 == 0
		}
		other := s
		if rapid.Bool().Draw(t, "two weathers") {
			other = season(r, parameters(), wet[:n], wetHours[:24*n])
		}
		var lanes []Lane
		for _, dryers := range []int{0, 2} {
			lanes = append(lanes, Lane{0, dryers, s}, Lane{1, dryers, other})
		}
		if r.Hauls() { // the parcels of a site are those of its last number of dryers
			lanes = lanes[:2]
		}
		again := NewRunner(r)
		again.common, again.lanes = together.common, together.lanes // memory of an earlier season
		lived, err := again.Live(lanes)
		require.NoError(t, err)
		together.common, together.lanes = again.common, again.lanes
		var got []Lived
		for i := range lived {
			got = append(got, copied(&lived[i]))
		}
		alone := NewRunner(r)
		for i := range lanes {
			lived, err := alone.Live(lanes[i : i+1])
			require.NoError(t, err)
			require.Equal(t, copied(&lived[0]), got[i], "lane %d", i)
		}
	})
}

// A season that is drawn into the memory of another forgets the ways of its batches: stalks that were laid
// down alike, at the same hour, lie in the weather of the season at hand.
func TestSeasonInMemoryOfAnother(t *testing.T) {
	const n = 2 // days, so few that every hour has its place in the memory of the paths
	r := small(landing1(0), landing1(0))
	r.Sites[1].Name = "Old Sluice"
	r.Calendar.Days = n
	days, hours := calm(n)
	s := season(r, parameters(), days, hours)
	lanes := []Lane{{0, 0, s}, {1, 0, s}}
	run := NewRunner(r)
	lived, err := run.Live(lanes)
	require.NoError(t, err)
	dry := copied(&lived[1])
	days, hours = soaked(n)
	*s = *season(r, parameters(), days, hours)
	lived, err = run.Live(lanes)
	require.NoError(t, err)
	got := copied(&lived[1])
	lived, err = NewRunner(r).Live(lanes)
	require.NoError(t, err)
	assert.Equal(t, copied(&lived[1]), got)
	assert.NotEqual(t, dry.Water, got.Water)
}

// The room that is remembered from hour to hour is what counting anew finds, whatever the region looks
// like.
func TestRoomIsRemembered(t *testing.T) {
	mixed, mixedHours := mixedDays(61)
	remembered := 0
	regions := rapid.Custom(anyRegion)
	for seed := range 25 {
		r := regions.Example(seed)
		n := r.Calendar.Days
		s := season(r, parameters(), mixed[:n], mixedHours[:24*n])
		run := NewRunner(r)
		var lanes []Lane
		for i := range r.Sites {
			y := run.lane(i)
			y.engine = engine.New(func(nowH float64, e event) {
				y.yard.advance(int(nowH))
				if f := &y.yard.free; f.changes == y.yard.changes && f.hour < y.yard.advanced {
					require.Equal(t, y.yard.countRoom(), y.yard.roomForFresh(), "at hour %g", nowH)
					if f.hour < y.yard.advanced {
						remembered++
					}
				}
				y.handle(nowH, e)
			})
			lanes = append(lanes, Lane{i, r.Sites[i].Dryers, s})
		}
		if r.Hauls() {
			lanes = lanes[:1]
		}
		_, err := run.Live(lanes)
		require.NoError(t, err)
	}
	assert.Positive(t, remembered)
}

// A yard that lives through hours of several events only when somebody looks at it is to the last bit
// one that lives up to each event, whatever the region looks like.
func TestYardsLiveWhenLookedAt(t *testing.T) {
	mixed, mixedHours := mixedDays(61)
	regions := rapid.Custom(anyRegion)
	later := 0
	for seed := range 40 {
		r := regions.Example(seed)
		n := r.Calendar.Days
		s := season(r, parameters(), mixed[:n], mixedHours[:24*n])
		var lanes []Lane
		for i := range r.Sites {
			lanes = append(lanes, Lane{i, r.Sites[i].Dryers, s})
		}
		if r.Hauls() {
			lanes = lanes[:1]
		}
		run, plain := NewRunner(r), NewRunner(r)
		for i := range lanes {
			y := plain.lane(i)
			y.engine = engine.New(func(nowH float64, e event) {
				if !y.looksAtYard(nowH, e) {
					later++
				}
				y.yard.advance(int(nowH))
				y.handle(nowH, e)
			})
		}
		want, err := plain.Live(lanes)
		require.NoError(t, err)
		got, err := run.Live(lanes)
		require.NoError(t, err)
		require.NotEmpty(t, want)
		for i := range want {
			require.Equal(t, copied(&want[i]), copied(&got[i]), "region %d, lane %d", seed, i)
		}
	}
	assert.Positive(t, later)
}

// Batches laid down alike go one way and are worked out once, those laid down otherwise go their
// own: another hour, load, place or state, or other people to pull the sheets.
func TestBatchesLaidAlikeGoOneWay(t *testing.T) {
	a, b := landing1(0), landing1(0)
	a.SolidRoofM2, b.SolidRoofM2 = 10, 10
	r := small(a, b)
	s := showers(12, true)
	s = season(r, parameters(), s.Days, s.air)
	run := NewRunner(r)
	one, two := run.lane(0), run.lane(1)
	one.begin(run, &Lane{0, 0, s}, run.openDesk(0, 1, true))
	two.begin(run, &Lane{1, 0, s}, run.openDesk(1, 1, true))
	one.yard.lay(wetBatch(0, 10, 3))
	two.yard.lay(wetBatch(0, 900, 3))
	one.yard.advance(5)
	two.yard.advance(3)
	two.yard.lay(wetBatch(0, 10, 3)) // later
	one.yard.lay(wetBatch(0, 10, 2)) // drier
	two.yard.advance(5)
	one.yard.advance(9)
	require.Len(t, run.common.paths.all, 3)
	two.yard.advance(9)
	assert.Equal(t, one.yard.batches[0].state, two.yard.batches[0].state)
	assert.NotEqual(t, two.yard.batches[0].state, two.yard.batches[1].state)

	for h := 10; h < 9+2*pathHours; h++ { // the first yard goes on alone: its paths are not lost
		one.yard.advance(h)
		if h == 40 {
			one.yard.batches = one.yard.batches[:1]
		}
	}
	one.yard.lay(wetBatch(3, 10, 3))
	one.yard.advance(9 + 2*pathHours)
	assert.Len(t, run.common.paths.all, 3, "memory of a path that nobody goes is used again")
	alone := run.lane(2)
	run.common.alone = true
	alone.begin(run, &Lane{0, 0, s}, run.openDesk(0, 1, true))
	alone.yard.lay(wetBatch(0, 10, 3))
	alone.yard.advance(9 + 2*pathHours)
	assert.Equal(t, alone.yard.batches[0].state, one.yard.batches[0].state)
	two.yard.advance(20) // far behind: the path is begun anew where it was left
	two.yard.advance(9 + 2*pathHours)
	assert.Equal(t, alone.yard.batches[0].state, two.yard.batches[0].state)
	laidKg := two.yard.dryKg(900+10) * 3
	two.yard.close()
	water := &two.yard.water
	require.Positive(t, water.Evaporated)
	assert.InDelta(t, laidKg, two.yard.addWater(0)+water.Evaporated-water.Rain, 1e-9*laidKg, "water of both ways is booked")
}

// Whatever their number, few paths lie idle: of those that batches leave after an hour and those that they go
// along for four days, mixed, at most half as many again are kept than are needed at once.
func TestFewPathsLieIdle(t *testing.T) {
	var ps paths
	most := 0
	for hour := range 24 * 60 {
		for k := range 40 {
			p := ps.of(&laid{hour: hour, loadKgPerM2: float64(k)})
			if k%3 == 0 {
				p.used += 96
			}
		}
		needed := 0
		for _, p := range ps.all {
			if p.used >= hour-pathHours {
				needed++
			}
		}
		most = max(most, needed)
	}
	require.Greater(t, most, 40*pathHours)
	assert.LessOrEqual(t, len(ps.all), most*3/2)
}
