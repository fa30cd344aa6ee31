package scenarios

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// A file that does not say how its groups work has stalks spread over the free rack and cutting
// that stops at what can dry; both demos say that they work as they do now.
func TestHowGroupsWork(t *testing.T) {
	y := read(t, tiny).Region.Yard
	assert.Equal(t, sim.SpreadOverFreeRack, y.Spreading)
	assert.Equal(t, sim.CutWhatCanDry, y.CutUntil)
	assert.Equal(t, []float64{6, 50}, []float64{y.LeastLoadingKgPerM2, y.WetWeekMM})
	for _, name := range []string{LakeTavari, OneCooperative} {
		s, err := Demo(name)
		require.NoError(t, err)
		assert.Equal(t, sim.SpreadAtFullLoad, s.Region.Yard.Spreading, name)
		assert.Equal(t, sim.CutIntoFullYard, s.Region.Yard.CutUntil, name)
	}
}

// Each way of working is a lever: a change of a line, by its group, its path or its site.
func TestWaysOfSpreadingAreLevers(t *testing.T) {
	s, err := Demo(LakeTavari)
	require.NoError(t, err)
	s, err = s.With([]string{
		"yard: stalks_are_spread=over_free_rack, cutting_stops_at=what_can_dry", "yard.wet_kg_per_m2=5.5",
		"Heron Point: loading_in_wet_weeks_kg_per_m2=7", "sites.Old Sluice.loading_in_wet_weeks_kg_per_m2=8",
	})
	require.NoError(t, err)
	y := s.Region.Yard
	assert.Equal(t, []int{int(sim.SpreadOverFreeRack), int(sim.CutWhatCanDry)}, []int{int(y.Spreading), int(y.CutUntil)})
	assert.Equal(t, 5.5, y.WetKgPerM2)
	assert.Equal(t, []float64{0, 7, 8}, []float64{s.Region.Sites[0].LoadingInWetWeeksKgPerM2, s.Region.Sites[1].LoadingInWetWeeksKgPerM2, s.Region.Sites[2].LoadingInWetWeeksKgPerM2})
	_, err = s.With([]string{"yard: stalks_are_spread=thinly"})
	require.ErrorContains(t, err, `yard.stalks_are_spread: found "thinly", allowed: at_full_load, over_free_rack`)
}

// tables returns seasons of the plan of a scenario.
func tables(t *testing.T, s *Scenario, seasons int) *trials.Table {
	t.Helper()
	c, err := s.Setup(1)
	require.NoError(t, err)
	c.Setup.Workers = 2
	table, err := c.Setup.Table(context.Background(), 0, seasons, trials.Only(c.Plan()), nil)
	require.NoError(t, err)
	return table
}

// Six dryers at the lake, with stalks spread over the free rack: of the same seasons more meet
// every month, a smaller part ends as second grade, less wood is burned and more hours are spent
// spreading. Where besides cutting stops at what can dry, less is cut, less is lost and a smaller
// part ends as second grade still.
func TestFreeRackIsWorthUsing(t *testing.T) {
	const seasons = 60
	var met [3]int
	var cut, second, lost, wood, spreading [3]float64
	for k, ways := range [][]string{nil, {"yard: stalks_are_spread=over_free_rack"}, {"yard: stalks_are_spread=over_free_rack, cutting_stops_at=what_can_dry"}} {
		s := lakeWithDryers(t, ways...)
		table, plan := tables(t, s, seasons), []int{1, 1, 1, 1, 1, 1}
		months, scratch := make([]sim.HubMonth, table.Months()), &trials.Arriving{}
		for i := range seasons {
			table.Hub(months, scratch, plan, i)
			all := true
			for m := range months {
				all = all && months[m].Met
			}
			if all {
				met[k]++
			}
			cut[k] += table.Of(sim.Cut, plan, i)
			second[k] += table.Of(sim.Second, plan, i)
			lost[k] += table.Of(sim.Rejected, plan, i) + table.Of(sim.ThrownOut, plan, i)
			wood[k] += table.Of(sim.WoodKg, plan, i)
			spreading[k] += table.Of(sim.SpreadingH, plan, i)
		}
	}
	assert.Greater(t, met[1], met[0]+3)
	assert.Less(t, second[1]/cut[1], 0.8*second[0]/cut[0])
	assert.Less(t, wood[1], 0.9*wood[0])
	assert.Greater(t, spreading[1], 2*spreading[0])
	assert.Less(t, cut[2], 0.98*cut[1])
	assert.Less(t, lost[2], 0.6*lost[1])
	assert.Less(t, second[2]/cut[2], second[1]/cut[1])
	assert.InDelta(t, met[1], met[2], 4, "and the months are met as often")
}

// Every key of spreading and cutting is a promise at both its ends: seasons are lived through and
// their stalks and water balance, whichever way stalks are spread.
func TestEndsOfSpreadingAndCutting(t *testing.T) {
	base := read(t, tiny)
	ends := 0
	for _, f := range append(yardFields[:len(yardFields):len(yardFields)], siteFields...) {
		switch f.key {
		case "loading_kg_per_m2", "loading_in_wet_weeks_kg_per_m2", "least_loading_kg_per_m2", "wet_week_mm", "wet_kg_per_m2", "wet_charges_per_dryer":
		default:
			continue
		}
		for _, end := range []float64{f.low, f.high} {
			change := "yard: " + f.key + "=" + plain(end)
			if f.key == "loading_kg_per_m2" || f.key == "loading_in_wet_weeks_kg_per_m2" {
				change = "Stone Weir: " + f.key + "=" + plain(end)
			}
			for _, way := range []string{"at_full_load", "over_free_rack"} {
				s, err := base.With([]string{change, "Ferry Bank: loading_in_wet_weeks_kg_per_m2=4", "yard: stalks_are_spread=" + way})
				require.NoError(t, err, change)
				tables(t, s, 2)
				ends++
			}
		}
	}
	assert.Equal(t, 6*2*2, ends)
}
