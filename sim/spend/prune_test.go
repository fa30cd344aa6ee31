package spend

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
)

// A dryer that brings nothing and the racks beyond the second are dropped, what brings a single
// stalk stays, and so does a dryer whose use is another step.
func TestStepsThatBringNothingAreDropped(t *testing.T) {
	s := toy(dryersAndRacks(), 1e6, 4, func(site *sim.Site, at, _ int) [2]int {
		if at == 1 {
			return [2]int{500, 400 + (site.Dryers - 2)}
		}
		return [2]int{500, 400 + 100*min(2, site.Dryers, int(site.OpenRackM2-100)/50)}
	})
	all := design{{3, 4}, {1, 3}, {0, 0}}
	d, err := s.pruned(t.Context(), all, all.steps())
	require.NoError(t, err)
	assert.Equal(t, design{{2, 2}, {1, 0}, {0, 0}}, d)
	assert.Equal(t, s.score(design{{3, 4}, {1, 3}, {0, 0}}), s.score(d), "nothing is lost")
}

// A chain of which each step alone brings nothing is one purchase; what brings something alone
// is one each.
func TestOnlyAChainIsBoughtInOne(t *testing.T) {
	s := toy(dryersAndRacks(), 1e6, 4, func(site *sim.Site, at, _ int) [2]int {
		if at == 1 {
			return [2]int{500, 100 + int(site.OpenRackM2) - 60}
		}
		return [2]int{500, 100 + 100*min(site.Dryers, int(site.OpenRackM2-100)/50)}
	})
	start := s.start()
	require.NoError(t, s.runAll(t.Context(), []design{start}))
	path, err := s.inOrder(t.Context(), design{{1, 1}, {0, 2}, {0, 0}})
	require.NoError(t, err)
	assert.Equal(t, []design{start, {{0, 0}, {0, 1}, {0, 0}}, {{0, 0}, {0, 2}, {0, 0}}, {{1, 1}, {0, 2}, {0, 0}}}, path)
}

// judgedAs is a judgement of plans that miss so many stalks in each of four seasons.
func judgedAs(s *search, missing func(d design) float64) *judging {
	j := &judging{search: s, stands: map[string]standing{}}
	j.run = func(d design) standing {
		m := missing(d)
		return standing{bought: Bought{Spent: s.cost(d)}, reached: []bool{true, true, false, false}, short: []float64{m, m, m, m + 1}}
	}
	return j
}

// A step after which more is missing is put last where it helps in the end, and is dropped where
// it never does. No step of what is left does harm.
func TestNoStepOfTheListDoesHarm(t *testing.T) {
	s := searchOf(village(), dryersAndRacks())
	start := s.start()
	path := []design{start, start.with(0, 0, 1), start.with(0, 0, 1).with(0, 1, 1)}
	helpsLater := judgedAs(s, func(d design) float64 { // a dryer alone does harm, on racks it helps
		return 1000 + float64(100*d[0][0]-200*d[0][1]-300*d[0][0]*d[0][1])
	})
	out, stands, dropped, err := helpsLater.harmless(t.Context(), path)
	require.NoError(t, err)
	assert.Equal(t, []design{start, start.with(0, 1, 1), path[2]}, out)
	assert.Equal(t, -1, firstHarm(stands))
	assert.Empty(t, dropped)

	never := judgedAs(s, func(d design) float64 { return 1000 + float64(100*d[0][0]-200*d[0][1]) })
	out, stands, dropped, err = never.harmless(t.Context(), path)
	require.NoError(t, err)
	assert.Equal(t, []design{start, start.with(0, 1, 1)}, out)
	assert.Equal(t, -1, firstHarm(stands))
	require.Len(t, dropped, 1, "what is dropped is named")
	assert.Equal(t, "Heron Point", dropped[0].Site)
	assert.Equal(t, []Quantity{{Dryers, 1, ""}}, dropped[0].What)
	assert.Equal(t, money.Of(100), dropped[0].Cost)
	assert.InDelta(t, -100, dropped[0].Fewer.Mean, 1e-9)
	assert.True(t, dropped[0].Harm, "by more than chance")

	last := judgedAs(s, func(d design) float64 { return 1000 + float64(-100*d[0][0]+200*d[0][1]) })
	out, _, _, err = last.harmless(t.Context(), path)
	require.NoError(t, err)
	assert.Equal(t, path[:2], out, "the last step is dropped alone")
}
