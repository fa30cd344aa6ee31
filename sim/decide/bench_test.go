package decide_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/stalk"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// The benchmarks of the developers' guide. All are of the demo of six sites, and seasons have their
// weather given unless said otherwise.

func benchDemo(b *testing.B) (*scenarios.Scenario, trials.Setup) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(b, err)
	return s, setupOf(b, s)
}

// BenchmarkBareLoop is the yardstick: the hours of a season that one batch after another lives
// through on an open rack, eight days each, in a bare loop: no site, no clock, no book.
func BenchmarkBareLoop(b *testing.B) {
	s, set := benchDemo(b)
	season, err := set.Season(3)
	require.NoError(b, err)
	p := &season.Parameters.Stalk
	var table []stalk.Hour
	air := weather.HoursInto(nil, season.Days, s.Region.Calendar.StartDOY(), s.Region.Place, rand.New(rand.NewPCG(1, 2)))
	for i := range air {
		table = append(table, stalk.NewHour(&air[i], stalk.OpenRack(), p))
	}
	load := p.DryLoadKgPerM2(s.Region.Sites[0].LoadingKgPerM2)
	for b.Loop() {
		var state stalk.State
		for h := range table {
			if h%(8*24) == 0 {
				state = stalk.Fresh(p)
			}
			state.RackHour(&table[h], load, p)
		}
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N*len(table)), "ns/hour")
}

// BenchmarkDemoSiteSeason is one site alone through one season.
func BenchmarkDemoSiteSeason(b *testing.B) {
	s, set := benchDemo(b)
	season, err := set.Season(3)
	require.NoError(b, err)
	run := sim.NewRunner(&s.Region)
	for _, dryers := range []int{0, 1, 2} {
		b.Run(fmt.Sprintf("dryers=%d", dryers), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := run.Site(1, dryers, season); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDemoSideBySide is what a site-season costs where all sites live side by side: in a plan
// with so many dryers at each site, and with all numbers from none to two.
func BenchmarkDemoSideBySide(b *testing.B) {
	s, set := benchDemo(b)
	season, err := set.Season(3)
	require.NoError(b, err)
	run := sim.NewRunner(&s.Region)
	for name, numbers := range map[string][]int{"dryers=0": {0}, "dryers=1": {1}, "dryers=2": {2}, "dryers=0to2": {0, 1, 2}} {
		var lanes []sim.Lane
		for site := range s.Region.Sites {
			for _, dryers := range numbers {
				lanes = append(lanes, sim.Lane{Site: site, Dryers: dryers, Season: season})
			}
		}
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := run.Live(lanes); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed())/float64(b.N*len(lanes)), "ns/site-season")
		})
	}
}

// BenchmarkDemoSeasons is 50 seasons of all sites, each without, with one and with two dryers,
// their weather drawn.
func BenchmarkDemoSeasons(b *testing.B) {
	_, set := benchDemo(b)
	for _, workers := range []int{1, 2} {
		set.Workers = workers
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				if _, err := set.Table(context.Background(), 0, 50, trials.Upto([]int{2, 2, 2, 2, 2, 2}), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDemoDryers asks how many dryers and where, of the rains alone and few seasons.
func BenchmarkDemoDryers(b *testing.B) {
	s, _ := benchDemo(b)
	set := setupOf(b, inTheRains(s))
	for b.Loop() {
		_, err := decide.Dryers(context.Background(), decide.Question{
			Setup: set, MaxDryers: s.MaxDryers, Target: s.TargetOdds, SearchSeasons: 10, Seasons: 20, Limit: 20, ShortSeasons: 10,
		})
		require.NoError(b, err)
	}
}
