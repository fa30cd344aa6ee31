package decide_test

import (
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

func setupOf(t testing.TB, s *scenarios.Scenario) trials.Setup { return decide.SetupOf(t, s) }

// inTheRains shortens the season of a scenario to June and July, the first months of the
// rains: a test of how things hang together needs no more.
func inTheRains(s *scenarios.Scenario) *scenarios.Scenario {
	s.Region.Calendar = sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 61}
	return s
}

func ask(t testing.TB, s *scenarios.Scenario, seasons int) decide.Answer {
	t.Helper()
	a, err := decide.Dryers(context.Background(), decide.Question{
		Setup: setupOf(t, s), MaxDryers: s.MaxDryers, Target: s.TargetOdds, SearchSeasons: 25, Seasons: seasons, Limit: seasons, ShortSeasons: 20,
	})
	require.NoError(t, err)
	return a
}

// The demo's answer hangs together: odds rise with dryers, the needed number reaches the
// target and one fewer does not, stalks of the average season balance, and what is said
// of a number of dryers belongs to a plan of that many.
func TestAnswerOfTheDemo(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	a := ask(t, inTheRains(s), 60)
	require.GreaterOrEqual(t, a.Needed, 3, "too few dryers clearly fail")
	assert.GreaterOrEqual(t, a.Plans[a.Needed].WorstMonth().Odds.Share, a.Target)
	assert.Less(t, a.Plans[a.Needed-1].WorstMonth().Odds.Share, a.Target)
	assert.Less(t, a.Plans[0].WorstMonth().Odds.High, 0.1)
	require.Greater(t, len(a.Plans), a.Needed)
	for n, p := range a.Plans {
		require.Len(t, p.Months, 2)
		sum := 0
		for _, k := range p.PerSite {
			sum += k
		}
		assert.Equal(t, n, p.Dryers)
		assert.Equal(t, n, sum)
		asked := 0.0
		for _, m := range p.Months {
			asked += float64(m.Asked)
			assert.GreaterOrEqual(t, m.Odds.Met, p.WorstMonth().Odds.Met)
			assert.Equal(t, 60, m.Odds.Seasons)
		}
		assert.LessOrEqual(t, p.AllMonths.Met, p.WorstMonth().Odds.Met)
		assert.InDelta(t, p.Flow.Delivered.Mean/asked, p.Share.Mean, 1e-9)
		f := p.Flow
		in, out := f.Of(sim.Opening).Mean+f.Of(sim.Cut).Mean, f.Delivered.Mean+f.Spoiled.Mean
		for _, id := range sim.OfKinds(sim.Lost, sim.LostLater, sim.AtEnd) {
			out += f.Of(id).Mean
		}
		assert.InDelta(t, in, out, 1e-6*in)
		if n > 0 {
			assert.GreaterOrEqual(t, p.Share.Mean, a.Plans[n-1].Share.Mean-0.01)
		}
	}
	assert.Len(t, a.Steps, len(a.Plans)-1)
	assert.NotEmpty(t, a.Short.Single)
	assert.Len(t, a.Swings, len(s.Knowledge.Ranges))
}

// Placements grown one by one and improved are as good as the best of all, on the demo.
func TestGrownPlacementsAgainstAll(t *testing.T) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	most := []int{2, 2, 2, 1, 1, 1}
	s.Region.Hub.Speaks = sim.SpeaksByCutters
	table, err := setupOf(t, inTheRains(s)).Table(context.Background(), 0, 40, trials.Upto(most), nil)
	require.NoError(t, err)
	all, grown := decide.AllPlacements(table, make([]int, 6), most), decide.GrownPlacements(table, make([]int, 6), most)
	require.Len(t, all, 10)
	require.Len(t, grown, 10)
	for n := range all {
		best, err := decide.Judge(table, all[n])
		require.NoError(t, err)
		got, err := decide.Judge(table, grown[n])
		require.NoError(t, err)
		assert.InDelta(t, best.WorstMonth().Odds.Share, got.WorstMonth().Odds.Share, 0.051, "%d dryers", n)
	}
}

// The same region in the climate of one of the wettest and of one of the driest stations
// of the WMO normals 1991-2020 (Sittwe, 4,750 mm a year; Mandalay): in the wet one nothing
// is met without dryers, in the dry one nearly everything, and the wet one needs more.
func TestWetStationNeedsMoreDryers(t *testing.T) {
	data, err := os.ReadFile("../../testdata/scenarios/small.good.yaml")
	require.NoError(t, err)
	text := string(data)
	from, to := strings.Index(text, "weather:"), strings.Index(text, "contract:")
	at := func(station string) decide.Answer {
		s, err := scenarios.Read(station, []byte(text[:from]+"weather: {wmo_station: "+station+"}\n"+text[to:]))
		require.NoError(t, err)
		return ask(t, s, 60)
	}
	wet, dry := at("Sittwe"), at("Mandalay")
	none := func(a decide.Answer) float64 { return a.Plans[0].WorstMonth().Odds.Share }
	t.Logf("without dryers: wet %.2f, dry %.2f; needed: wet %d, dry %d", none(wet), none(dry), wet.Needed, dry.Needed)
	assert.Less(t, none(wet)+0.3, none(dry))
	require.GreaterOrEqual(t, dry.Needed, 0)
	more := func(a decide.Answer) int { // no number tried is enough: more than all of them
		if a.Needed < 0 {
			return len(a.Plans)
		}
		return a.Needed
	}
	assert.Greater(t, more(wet), more(dry))
}

// Without a contract there is nothing to meet.
func TestNoContract(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	inTheRains(s).Region.Contract.StalksByMonth = nil
	_, err = decide.Dryers(context.Background(), decide.Question{
		Setup: setupOf(t, s), MaxDryers: s.MaxDryers, Target: 0.9, SearchSeasons: 10, Seasons: 10,
	})
	require.ErrorIs(t, err, decide.ErrNoContract)
	_, err = decide.FindPromise(context.Background(), decide.PromiseQuestion{Setup: setupOf(t, s), Target: 0.9, SearchSeasons: 10, Seasons: 10})
	require.ErrorIs(t, err, decide.ErrNoContract)
}

// A plan that the seasons do not hold is an error, and no panic.
func TestPlanThatWasNotRun(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	set := setupOf(t, s)
	table, err := set.Table(context.Background(), 0, 2, trials.Only(decide.PlanOf(set.Region)), nil)
	require.NoError(t, err)
	for _, plan := range [][]int{nil, {999}} {
		_, err = decide.Judge(table, plan)
		require.ErrorContains(t, err, "the table holds")
		_, err = decide.WhatIsShort(context.Background(), set, decide.Missing{Region: set.Region, Table: table, Plan: plan, Most: 3})
		require.ErrorContains(t, err, "the table holds")
	}
}
