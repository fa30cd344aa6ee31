package folder

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/plans"
	"drystalk/sim/study"
)

// Two studies in one folder are told apart by what differs, and by their fingerprints only where
// nothing else is known.
func TestWhatDiffersIsSaid(t *testing.T) {
	of := func(change func(m *Manifest)) *Manifest {
		m := &Manifest{Study: "two", Hash: "aa", Seed: 5, Seasons: 60, Block: 50, Sampling: "plain", Points: []Point{{Name: "one", Scenario: "s"}}, Inputs: []plans.File{{Name: "two.yaml", Content: "c"}}}
		change(m)
		return m
	}
	here := of(func(*Manifest) {})
	for want, change := range map[string]func(m *Manifest){
		"seasons 200 there, 60 here":                                     func(m *Manifest) { m.Seasons = 200 },
		`study "one" there, "two" here; seed 7 there, 5 here`:            func(m *Manifest) { m.Study, m.Seed, m.Points[0].Scenario = "one", 7, "other seed" },
		"another design":                                                 func(m *Manifest) { m.Design = &study.Design{} },
		`the point "old" there, "one" here`:                              func(m *Manifest) { m.Points[0].Name = "old" },
		`the scenario of the point "one" is another (changed: two.yaml)`: func(m *Manifest) { m.Points[0].Scenario, m.Inputs[0].Content = "t", "d" },
		"bb there, aa here":                                              func(m *Manifest) { m.Hash = "bb" },
		"seasons 1 there, 60 here; seed 1 there, 5 here; block_seasons 1 there, 50 here": func(m *Manifest) { m.Seasons, m.Seed, m.Block, m.Sampling = 1, 1, 1, "halton" },
	} {
		assert.Equal(t, want, here.differsFrom(of(change)))
	}
	assert.Equal(t, "2 points there, 1 here", here.differsFrom(of(func(m *Manifest) { m.Points = append(m.Points, Point{}) })))
}
