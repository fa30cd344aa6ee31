package ways

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
)

// demo is a demo with some changes.
func demo(t *testing.T, name string, changes ...string) *scenarios.Scenario {
	t.Helper()
	s, err := scenarios.Demo(name)
	require.NoError(t, err)
	s, err = s.With(changes)
	require.NoError(t, err)
	return s
}

// spaceOf is the space of a scenario's ways.
func spaceOf(t *testing.T, s *scenarios.Scenario, a Allowed) *space {
	t.Helper()
	return newSpace(s.WithoutWeather(1).Setup, a, nil)
}

// Every value of every lever is a change that a scenario takes, with all its checks, and the scenario
// then is what the search lived with; so is the whole of the lowest and of the highest values.
func TestWaysAreEdits(t *testing.T) {
	for _, s := range []*scenarios.Scenario{demo(t, scenarios.OneCooperative), demo(t, scenarios.LakeTavari, "Heron Point: dryers=2, longer_shift_h=1, loading_kg_per_m2=8")} {
		p := spaceOf(t, s, Allowed{Night: true, MostC: 95})
		require.Len(t, p.levers, len(table)-1, "every lever is offered but that of a hub that does not speak")
		low, high := p.written, p.written
		designs := []design{}
		for l, ladder := range p.ladders {
			for at := range ladder {
				designs = append(designs, p.written.with(l, at))
			}
			low, high = low.with(l, 0), high.with(l, len(ladder)-1)
		}
		designs = append(designs, low, high)
		require.Greater(t, len(designs), 50)
		for _, d := range designs {
			region, base := p.apply(d)
			edits := p.edits(d)
			if len(p.changed(d)) > 0 {
				require.NotEmpty(t, edits)
			}
			with, err := s.With(edits)
			require.NoError(t, err, "%v", edits)
			forgetNothings(region, &with.Region)
			assert.Equal(t, region, &with.Region, "%v", edits)
			assert.Equal(t, base, with.Base, "%v", edits)
		}
	}
}

// forgetNothings takes stocks of nothing off both: stated or not they are the same.
func forgetNothings(regions ...*sim.Region) {
	for _, r := range regions {
		for m, n := range r.Contract.TargetStock {
			if n == 0 {
				delete(r.Contract.TargetStock, m)
			}
		}
	}
}

// What each lever does to one cooperative, by hand: its present value, the highest value that is safe
// without anybody's word, what that sets and what a scenario says then.
func TestEachLeverByHand(t *testing.T) {
	lines := 0
	for _, tt := range []struct {
		of            Lever
		present, most float64
		edits         []string // of the highest value
	}{
		{Loading, 10, 12, []string{"Heron Point: loading_kg_per_m2=12"}},
		{WetLoading, 0, 8, []string{"Heron Point: loading_in_wet_weeks_kg_per_m2=8"}},
		{Spreading, 0, 1, []string{"yard.stalks_are_spread=over_free_rack"}},
		{CuttingRule, 0, 1, []string{"yard.cutting_stops_at=what_can_dry"}},
		{StockAhead, 1, 4, []string{
			"contract.target_stock_stalks.mar=60000", "contract.target_stock_stalks.apr=60000", "contract.target_stock_stalks.may=60000", "contract.target_stock_stalks.jun=60000",
			"contract.target_stock_stalks.jul=60000", "contract.target_stock_stalks.aug=60000", "contract.target_stock_stalks.sep=60000", "contract.target_stock_stalks.oct=60000",
		}},
		{Collections, 2, 6, []string{"hub.collections_per_month=6"}},
		{CuttingH, 1, 1.25, []string{"Heron Point: cutting_h_per_day=7.5"}},
		{Heap, 1, 1, nil},
		{ThrowOut, 0.1, 0.3, []string{"yard.thrown_out_below_full_share=0.3"}},
		{ClosingUp, 0.7, 0.9, []string{"yard.predried_moisture_dry_basis=0.9"}},
		{FiredFirst, 0, 3, []string{"dryer.loads_first=oldest"}},
		{FiredAt, 0.3, 0.5, []string{"dryer.fire_at_mould_index=0.5"}},
		{AtRisk, 0.1, 0.3, []string{"dryer.at_risk_fraction=0.3"}},
		{LeastCharge, 0.3, 0.5, []string{"dryer.minimum_fill_fraction=0.5"}},
		{Temperature, 80, 80, nil},
		{ShiftStart, 7, 8, []string{"dryer.shift_start_h=8"}},
		{ShiftEnd, 19, 22, []string{"dryer.shift_end_h=22"}},
	} {
		p := newSpaceOf(t, tt.of)
		ladder := p.ladders[0]
		assert.Equal(t, tt.present, ladder[p.written[0]].x, tt.of)
		last := len(ladder) - 1
		assert.Equal(t, tt.most, ladder[last].x, tt.of)
		assert.Equal(t, tt.edits, p.edits(design{last}), tt.of)
		lines++
	}
	assert.Equal(t, len(Levers())-1, lines, "every lever has a line here, or below")
	mute := spaceOf(t, demo(t, scenarios.LakeTavari, "hub: speaks=by_cutters"), Allowed{})
	require.Equal(t, HubSpeaks, mute.levers[0].key)
	assert.Equal(t, []rung{{0, false}, {2, true}}, mute.ladders[0])
	assert.Equal(t, []string{"hub.speaks=daily"}, mute.edits(mute.written.with(0, 0)))
}

// newSpaceOf is the space of one lever at one cooperative.
func newSpaceOf(t *testing.T, of Lever) *space {
	t.Helper()
	p := newSpace(demo(t, scenarios.OneCooperative).WithoutWeather(1).Setup, Allowed{}, []Lever{of})
	require.Len(t, p.levers, 1, of)
	return p
}

// Nothing unsafe is in any ladder: no rule of rest, rain or closed stands is touched, no night without
// the word of those who work it, no hotter dryer than now without the user's, no larger heap, no day
// in the water beyond the hours that people work and bear.
func TestNothingUnsafeIsTried(t *testing.T) {
	s := demo(t, scenarios.OneCooperative, "people: work_h_per_day=7")
	p := spaceOf(t, s, Allowed{})
	seen := 0
	for l, ladder := range p.ladders {
		for at := range ladder {
			seen++
			r, base := p.apply(p.written.with(l, at))
			was := &s.Region
			assert.Equal(t, was.Yard.MaxCutRainMM, r.Yard.MaxCutRainMM)
			assert.Equal(t, was.Yard.RestEveryDays, r.Yard.RestEveryDays)
			assert.Equal(t, was.Yard.SheetsAtNight, r.Yard.SheetsAtNight)
			assert.Equal(t, was.People, r.People)
			assert.Equal(t, was.Stand, r.Stand)
			assert.Equal(t, was.Road, r.Road)
			assert.Equal(t, was.Sites[0].Closed, r.Sites[0].Closed)
			assert.LessOrEqual(t, r.Sites[0].CuttingHPerDay, 7.0)
			assert.LessOrEqual(t, r.Yard.HeapDaysOfCut, was.Yard.HeapDaysOfCut)
			assert.LessOrEqual(t, r.Dryer.ShiftEndH, 22.0)
			assert.GreaterOrEqual(t, r.Dryer.ShiftStartH, 6.0)
			assert.LessOrEqual(t, base.Cabinet.SetC, 80.0)
			assert.Equal(t, was.Contract.StalksByMonth, r.Contract.StalksByMonth)
			assert.Equal(t, was.Sites[0].Cutters, r.Sites[0].Cutters)
		}
	}
	require.Greater(t, seen, 40)
	night := spaceOf(t, s, Allowed{Night: true, MostC: 90})
	require.Len(t, night.ladders, len(p.ladders))
	most := map[Lever]float64{}
	for l, ladder := range night.ladders {
		most[night.levers[l].key] = ladder[len(ladder)-1].x
	}
	assert.Equal(t, 26.0, most[ShiftEnd], "with their word")
	assert.Equal(t, 90.0, most[Temperature])
}

// Where no dryer stands, levers of the dryer mean nothing and are not tried; a plan that works by
// night already may go on so.
func TestLeversThatMeanSomething(t *testing.T) {
	for _, l := range spaceOf(t, demo(t, scenarios.LakeTavari), Allowed{}).levers {
		assert.False(t, l.dryers, l.key)
	}
	late := spaceOf(t, demo(t, scenarios.OneCooperative, "dryer: shift_end_h=24"), Allowed{})
	seen := false
	for l, ladder := range late.ladders {
		if late.levers[l].key == ShiftEnd {
			seen = true
			assert.Equal(t, rung{24, true}, ladder[len(ladder)-1])
		}
	}
	assert.True(t, seen)
}
