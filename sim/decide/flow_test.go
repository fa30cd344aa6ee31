package decide

import (
	"context"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// ledgers returns the first seasons of the plan as written, one by one.
func ledgers(t *testing.T, set trials.Setup, seasons int) (out []sim.RegionLedger) {
	t.Helper()
	for i := range seasons {
		l, err := set.Ledger(i)
		require.NoError(t, err)
		out = append(out, l)
	}
	return out
}

// meanOf returns the mean of a figure over ledgers, all sites together, and delivered that of
// what the hub delivered, late deliveries included.
func meanOf(id sim.FigureID, list []sim.RegionLedger) float64 {
	sum := 0.0
	for _, l := range list {
		for _, site := range l.Sites {
			sum += id.Figure().Season(site.Months)
		}
	}
	return sum / float64(len(list))
}

func delivered(list []sim.RegionLedger) float64 {
	sum := 0
	for _, l := range list {
		for _, m := range l.Hub {
			if m.Asked > 0 {
				sum += m.Delivered + m.MadeGood
			}
		}
	}
	return float64(sum) / float64(len(list))
}

// The flow of a plan is what the ledgers of its seasons say, figure by figure: hours to the
// minute and wood to the hectogram of each site. It is in JSON by the keys of the registry.
func TestFlowIsThatOfTheLedgers(t *testing.T) {
	const seasons = 8
	s, set := small(t)
	plan := PlanOf(&s.Region)
	result, err := Judge(tableOf(t, set, seasons, plan...), plan)
	require.NoError(t, err)
	list := ledgers(t, set, seasons)
	f, sites := &result.Flow, float64(len(plan))
	require.NotEmpty(t, sim.Figures())
	seen := 0
	for _, x := range sim.Figures() {
		want := meanOf(x.ID, list)
		switch x.ID {
		case sim.Opening:
			want += float64(s.Region.Hub.OpeningStock)
		case sim.Closing:
			for _, l := range list {
				want += float64(l.Hub[len(l.Hub)-1].Closing) / seasons
			}
		}
		if want > 0 {
			seen++
		}
		assert.InDelta(t, want, f.Of(x.ID).Mean, 0.5*sites/x.Unit.Fine()+1e-6, x.Key)
	}
	assert.Greater(t, seen, 20, "figures that are more than nothing")
	assert.InDelta(t, delivered(list), f.Delivered.Mean, 1e-6)
	spreadOfLedgers(t, f.Spread, list)

	data, err := json.Marshal(f)
	assert.InDelta(t, spoiled(list), f.Spoiled.Mean, 1e-6)
	require.NoError(t, err)
	var back Flow
	require.NoError(t, json.Unmarshal(data, &back))
	assert.Equal(t, Flow{f.Figures, f.Delivered, f.Spoiled, Spread{}}, back, "how seasons differ is drawn, not written")
	var keys map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(data, &keys))
	assert.Len(t, keys, len(sim.Figures())+2)
	assert.Contains(t, keys, "delivered_stalks")
	assert.Equal(t, 1, strings.Count(string(data), `"delivered_stalks":`))
	assert.Regexp(t, `"refused_at_gate_stalks":\{[^}]*\},"delivered_stalks":\{`, string(data), "after the figures of the gate")
	require.Error(t, json.Unmarshal([]byte(`{"cut": "many"}`), &back), "what is no mean")
	tasks := []sim.FigureID{sim.CutH, sim.TendingH, sim.NightH, sim.HandlingH, sim.GradingH, sim.SheetsH, sim.CollectionH, sim.HaulingH, sim.SpreadingH}
	require.Len(t, f.Tasks(), len(tasks))
	for k, x := range f.Tasks() { // part of a task follows it
		assert.Equal(t, tasks[k], x.On)
		assert.Equal(t, f.Of(x.On), x.Hours)
	}
	require.Len(t, f.Shift(), len(sim.DryerStates()))
	for k, x := range f.Shift() {
		assert.Equal(t, sim.DryerStates()[k].Figure(), x.On)
		assert.Equal(t, f.Of(x.On), x.Hours)
	}
}

// spreadOfLedgers checks how seasons differ: of fewer than 20 seasons the least and the most of them.
func spreadOfLedgers(t *testing.T, s Spread, list []sim.RegionLedger) {
	t.Helper()
	require.Less(t, len(list), 20)
	differ := 0
	for _, id := range []sim.FigureID{sim.Second, sim.ThrownOut, sim.RefusedAtGate, sim.DryerFiring.Figure(), sim.DryerNoStalks.Figure()} {
		low, high := math.Inf(1), math.Inf(-1)
		for i := range list {
			x := meanOf(id, list[i:i+1])
			low, high = min(low, x), max(high, x)
		}
		if high > low {
			differ++
		}
		assert.InDelta(t, low, s.Figures[id].P5, 0.1, id)
		assert.InDelta(t, high, s.Figures[id].P95, 0.1, id)
		assert.Equal(t, len(list), s.Figures[id].Seasons)
	}
	assert.Positive(t, differ, "figures that differ between seasons")
	for _, x := range []struct {
		of    string
		band  trials.Band
		means func([]sim.RegionLedger) float64
	}{{"delivered", s.Delivered, delivered}, {"spoiled at the hub", s.Spoiled, spoiled}} {
		low, high := math.Inf(1), math.Inf(-1)
		for i := range list {
			low, high = min(low, x.means(list[i:i+1])), max(high, x.means(list[i:i+1]))
		}
		assert.InDelta(t, low, x.band.P5, 1e-6, x.of)
		assert.InDelta(t, high, x.band.P95, 1e-6, x.of)
		assert.Equal(t, len(list), x.band.Seasons, x.of)
	}
	assert.Zero(t, s.Figures[sim.Cut], "what no picture shows has no seasons")
}

// The totals of a comparison are those of the ledgers of both plans, and their differences.
func TestTotalsOfAComparison(t *testing.T) {
	const seasons = 6
	s, set := small(t)
	more := *s.Region.Clone()
	more.Sites[0].Dryers++
	with := set
	with.Region = &more
	c, err := Compare(context.Background(), ComparisonQuestion{A: Side{Setup: set}, B: Side{Setup: with}, Seasons: seasons})
	require.NoError(t, err)
	a, b := ledgers(t, set, seasons), ledgers(t, with, seasons)
	var keys []string
	for _, d := range c.Totals {
		keys = append(keys, d.Of)
		wantA, wantB, off := delivered(a), delivered(b), 1e-6
		if d.Of == spoiledKey {
			wantA, wantB = spoiled(a), spoiled(b)
		} else if d.Of != DeliveredKey {
			var id sim.FigureID
			require.NoError(t, id.UnmarshalText([]byte(d.Of)))
			assert.Equal(t, string(id.Figure().Unit), d.Unit, d.Of)
			wantA, wantB = meanOf(id, a), meanOf(id, b)
			off += 0.5 * float64(len(more.Sites)) / id.Figure().Unit.Fine()
		}
		assert.InDelta(t, wantA, d.A.Mean, off, d.Of)
		assert.InDelta(t, wantB, d.B.Mean, off, d.Of)
		assert.InDelta(t, wantB-wantA, d.More.Mean, 2*off, d.Of)
	}
	want := []string{"delivered", "spoiled_at_hub", "cut"}
	for _, id := range append(sim.OfKinds(sim.Lost, sim.LostLater), sim.OfKinds(sim.NotCutFor, sim.NotWanted)...) { // every loss of the registry
		want = append(want, id.String())
	}
	assert.Subset(t, want, []string{"second_grade", "broken", "refused_at_gate", "not_cut_rain", "not_cut_stand_closed"})
	assert.Equal(t, append(want, "charges", "firing_h", "wood_kg", "cutting_person_h", "other_person_h"), keys)
}

// spoiled is the mean of what mould spoiled at the hub.
func spoiled(list []sim.RegionLedger) float64 {
	n := 0
	for i := range list {
		for k := range list[i].Hub {
			n += list[i].Hub[k].Spoiled
		}
	}
	return float64(n) / float64(len(list))
}
