package spend

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// hubs are those of which sites hear nothing in a search, and those of which they hear their share.
var hubs = []struct {
	speaks sim.Speaks
	room   int
	hears  bool
}{{sim.SpeaksDaily, 0, false}, {sim.SpeaksAtCollections, 0, false}, {sim.SpeaksDaily, 50_000, true}, {sim.SpeaksByCutters, 0, true}}

// hamlets is the village with cutters who cut, and a hub.
func hamlets(speaks sim.Speaks, room int) *sim.Region {
	r := village()
	for i := range r.Sites {
		r.Sites[i].OutputPerPersonH, r.Sites[i].CuttingHPerDay = 100, 6
	}
	r.Hub.Speaks, r.Hub.StoreStalks = speaks, room
	return r
}

// Every step that is bought at a site gives its rows another name, but a longer shift where no dryer is;
// what is bought at the hub does so where sites hear of it, and other sites keep their names where they
// do not. A row under a name that left out a step would stand for a site that has not got it.
func TestNamesTellEveryStep(t *testing.T) {
	for _, hub := range hubs {
		r := hamlets(hub.speaks, hub.room)
		s := searchOf(r, allPrices())
		require.Len(t, s.levers, 9)
		begun := s.start()
		fire := begun.with(0, 0, 1)
		require.Equal(t, Dryers, s.levers[0].key)
		for l := range s.levers {
			lever := &s.levers[l]
			for at := range r.Sites {
				where := []any{"%s at site %d, %+v", lever.key, at, hub}
				if lever.region {
					got := s.keys(begun.with(len(r.Sites), l, 1))
					assert.Equal(t, hub.hears, got[at] != s.keys(begun)[at], where...)
					continue
				}
				none := at == 0 && lever.key == LongerShifts // there is no dryer
				got := s.keys(begun.with(at, l, 1))
				assert.Equal(t, !none, got[at] != s.keys(begun)[at], where...)
				assert.NotEqual(t, s.keys(fire)[at], s.keys(fire.with(at, l, 1))[at], where...)
				shared := lever.key == Cutters && hub.hears // more cutters of one are another share for all
				assert.Equal(t, shared, got[1-at] != s.keys(begun)[1-at], where...)
			}
		}
		assert.NotEqual(t, s.keys(begun)[0], s.keys(begun)[1], "%+v", hub)
	}
}

// Sites of several designs that live side by side in one region have there what they have in their own,
// but for the numbers of dryers, which are all tried; and where they hear of it, their shares and the stock.
func TestSitesSideBySideHaveTheirOwn(t *testing.T) {
	for _, hub := range hubs {
		r := hamlets(hub.speaks, hub.room)
		third := r.Sites[0]
		third.Name, third.Dryers = "Reed Bay", 1
		r.Sites = append(r.Sites, third)
		s := searchOf(r, allPrices())
		s.MaxDryers = []int{3, 4, 3}
		designs := []design{s.start()}
		for _, b := range s.bundles() {
			if d := b.in(s.start()); len(b.levers) < 3 && s.allowed(d) {
				designs = append(designs, d)
			}
		}
		runs := s.runsOf(designs, func(string) bool { return false })
		variants, of := s.variants(runs)
		require.Len(t, of, len(runs))
		require.Greater(t, len(runs), 60)
		require.Less(t, len(variants), len(runs), "some live side by side")
		for k := range runs {
			own, there, site := runs[k].region, variants[of[k]].Region, runs[k].site
			want, got := own.Sites[site], there.Sites[site]
			assert.True(t, slices.Contains(variants[of[k]].Levels[site], want.Dryers))
			want.Dryers, got.Dryers = 0, 0
			assert.Equal(t, want, got, "%v of %+v", runs[k].design, hub)
			if hub.hears {
				assert.Equal(t, own.Shares(), there.Shares(), "%v of %+v", runs[k].design, hub)
				assert.Equal(t, own.Hub, there.Hub, "%v of %+v", runs[k].design, hub)
			}
		}
	}
}

// Where the list is judged with all that sites hear of one another, no name of the search stands for a row:
// a site has another row beside a site that has bought something.
func TestJudgedSitesHaveNamesOfTheirOwn(t *testing.T) {
	s := searchOf(hamlets(sim.SpeaksDaily, 0), allPrices())
	begun := s.start()
	beside := begun.with(1, 0, 1)
	require.Equal(t, s.keys(begun)[0], s.keys(beside)[0], "apart it is the same")
	whole := s.whole()
	assert.NotEqual(t, whole.keys(begun)[0], whole.keys(beside)[0])
}
