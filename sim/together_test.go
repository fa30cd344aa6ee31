package sim

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/internal/engine"
)

// plansOf returns plans of a region: its dryers as stated, and one more at each site.
func plansOf(t require.TestingT, r *Region, s *Season) [][]Lane {
	order, err := r.HaulOrder()
	require.NoError(t, err)
	var plans [][]Lane
	for more := range 2 {
		var lanes []Lane
		for _, site := range order {
			lanes = append(lanes, Lane{site, r.Sites[site].Dryers + more, s})
		}
		plans = append(plans, lanes)
	}
	return plans
}

// Plans of regions that live together live as those of each region by themselves, to the last bit, whatever
// the regions look like and in whatever order they come.
func TestTogetherIsAsAlone(t *testing.T) {
	days, hours := mixedDays(61)
	like := func(r, first *Region) *Region {
		r.Calendar, r.Yard.SheetsAtNight, r.Yard.SheetReactionH = first.Calendar, first.Yard.SheetsAtNight, first.Yard.SheetReactionH
		return r
	}
	regions := rapid.Custom(func(t *rapid.T) []*Region {
		first := anyRegion(t)
		much := like(anyRegion(t), first) // much the same sites, so that stalks are laid down alike
		much.Sites = slices.Clone(first.Sites)
		much.Sites[0].Sheets = !first.Sites[0].Sheets
		return []*Region{first, much, like(anyRegion(t), first)}
	})
	for seed := range 25 {
		all := regions.Example(seed)
		n := all[0].Calendar.Days
		s := season(all[0], parameters(), days[:n], hours[:24*n])
		s.Prepare(hours[:24*n], all...)
		s.Sheets = [][]bool{make([]bool, n), make([]bool, n)}
		for d := range n {
			s.Sheets[1][d] = d%3 == 0
		}
		var parties []Party
		for _, r := range all {
			parties = append(parties, Party{NewRunner(r), plansOf(t, r, s)})
		}
		require.NoError(t, LiveTogether(parties))
		require.NoError(t, LiveTogether(parties), "in memory of an earlier season")
		for k, p := range parties {
			alone, err := NewRunner(all[k]).LivePlans(p.Plans)
			require.NoError(t, err)
			require.Len(t, p.Run.Lived(), len(alone))
			for i := range alone {
				require.Equal(t, copied(&alone[i]), copied(&p.Run.Lived()[i]), "seed %d, region %d, lane %d", seed, k, i)
			}
		}
	}
}

// What stops one of several regions is said with its site, and regions of other calendars do not live
// together.
func TestTogetherTellsWhoFailed(t *testing.T) {
	days, hours := mixedDays(30)
	one, two := small(landing1(0)), small(landing1(0))
	one.Calendar.Days, two.Calendar.Days = 30, 30
	two.Sites[0].Name = "Stone Weir"
	s := season(one, parameters(), days, hours)
	parties := []Party{{NewRunner(one), plansOf(t, one, s)}, {NewRunner(two), plansOf(t, two, s)}}
	require.NoError(t, LiveTogether(parties))
	broken := *s
	broken.Output = nil
	for k, site := range []string{one.Sites[0].Name, "Stone Weir"} {
		for plan := range parties[k].Plans { // the first and the last lane of each
			parties[k].Plans[plan][0].Season = &broken
			require.ErrorContains(t, LiveTogether(parties), "season 7 cannot be lived through at "+site)
			parties[k].Plans[plan][0].Season = s
			require.NoError(t, LiveTogether(parties), "goes on after an error")
		}
	}
	two.Calendar.Days = 29
	parties[1].Run = NewRunner(two)
	assert.ErrorContains(t, LiveTogether(parties), "a season of 29 days, together with one of 30")
	slices.Reverse(parties)
	assert.ErrorContains(t, LiveTogether(parties), "a season of 30 days, together with one of 29", "the longer is not cut short")
}

// A bug in the middle of a season is said with the site at which it came, whichever of all lanes that is.
func TestTogetherTellsWhereABugWas(t *testing.T) {
	days, hours := mixedDays(30)
	one, two := small(landing1(0), landing1(0)), small(landing1(0))
	one.Calendar.Days, two.Calendar.Days = 30, 30
	one.Sites[1].Name, two.Sites[0].Name = "Ferry Bank", "Stone Weir"
	s := season(one, parameters(), days, hours)
	parties := []Party{{NewRunner(one), plansOf(t, one, s)}, {NewRunner(two), plansOf(t, two, s)}}
	require.NoError(t, LiveTogether(parties))
	var want []string
	for _, p := range parties {
		for _, plan := range p.Plans {
			for _, lane := range plan {
				want = append(want, p.Run.region.Sites[lane.Site].Name)
			}
		}
	}
	require.Len(t, want, 6)
	for bad, site := range want {
		var c engine.Clock
		c.Reset()
		for i := range want {
			e := engine.New(func(float64, int) {
				if i == bad {
					panic("a bug")
				}
			})
			e.At(26, 0, 0)
			c.Drive(e)
		}
		err := c.RunDays(4)
		require.ErrorContains(t, err, "a bug")
		assert.ErrorContains(t, failedAmong(parties, &c, err), "season 7, site "+site+": ", bad)
	}
}
