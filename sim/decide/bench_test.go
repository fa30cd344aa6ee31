package decide_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/trials"
)

// BenchmarkDemoSiteSeason is one site of the demo through one season.
func BenchmarkDemoSiteSeason(b *testing.B) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(b, err)
	season, err := setupOf(b, s).Season(3)
	if err != nil {
		b.Fatal(err)
	}
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

// BenchmarkDemoSeasons is 50 seasons of the demo's six sites, each without, with one and
// with two dryers.
func BenchmarkDemoSeasons(b *testing.B) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(b, err)
	set := setupOf(b, s)
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
