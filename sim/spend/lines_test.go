package spend

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/trials"
)

// Where designs are lived through whole, the plan as written and the whole list are judged on all
// stated seasons, the lines between and all gains on the first of them; each line says so, and is what
// the plan does that is judged alone in as many.
func TestLinesBetweenHaveFewerSeasons(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	r := &s.Region
	r.Calendar = sim.Calendar{StartMonth: time.July, StartDay: 1, Days: 31}
	other := r.Sites[0]
	other.Name = "Old Sluice"
	r.Sites, s.MaxDryers = append(r.Sites, other), []int{4, 4}
	r.Contract.StalksByMonth = map[time.Month]int{time.July: 48_000}
	source, err := climate()
	require.NoError(t, err)
	set := trials.Setup{Region: r, Base: s.Base, Knowledge: s.Knowledge, Source: source, Seed: 3, Workers: 2}
	search := newSearch(Question{Setup: set, MaxDryers: s.MaxDryers, Prices: allPrices(), Target: 0.9, SearchSeasons: 10, Seasons: 120})
	dryers := 0
	for search.levers[dryers].key != Dryers {
		dryers++
	}
	start := search.start()
	path := []design{start, start.with(0, dryers, 1), start.with(0, dryers, 1).with(1, dryers, 1), start.with(0, dryers, 2).with(1, dryers, 1)}
	j, out := search.judging(), search.blank()
	require.NoError(t, j.judge(t.Context(), &out, path))
	require.GreaterOrEqual(t, len(out.Steps), 2, "%+v", out.Dropped)
	assert.True(t, out.LinesHaveFewer())
	assert.Equal(t, []int{120, 100}, []int{out.Seasons, out.LineSeasons})
	last := len(out.Steps) - 1
	assert.Equal(t, []int{120, 120}, []int{out.Start.Odds.Seasons, out.Steps[last].Odds.Seasons})
	for k, b := range out.Steps {
		assert.Equal(t, []int{100, 100}, []int{b.Gain.Seasons, b.Fewer.Seasons})
		if k < last {
			assert.Equal(t, 100, b.Odds.Seasons)
		}
	}
	few := search.judgingOn(100)
	alone, err := few.all(t.Context(), path[:2])
	require.NoError(t, err)
	assert.Equal(t, alone[1].bought.Worst, out.Steps[0].Worst)
	assert.InDelta(t, stat.Mean(alone[0].short, nil)-stat.Mean(alone[1].short, nil), out.Steps[0].Fewer.Mean, 1e-9)

	r.Hub.Speaks = sim.SpeaksByCutters // then lines share the sites that they have in common
	j = search.judging()
	assert.Same(t, j, j.lines())
	r.Hub.Speaks = sim.SpeaksDaily
	j = search.judging()
	assert.Equal(t, 100, j.lines().n)
	assert.Same(t, j.lines(), j.lines(), "what was lived through is kept")
	j.n = 1000
	j.few = nil
	assert.Equal(t, 200, j.lines().n, "a fifth")
	j.n, j.few = 100, nil
	assert.Same(t, j, j.lines())
}
