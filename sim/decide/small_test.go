package decide

import (
	"context"
	"fmt"
	"os"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// small is one site with one dryer through June and July, a contract in both: a season of it
// takes about a thousandth of a second.
func small(t testing.TB) (*scenarios.Scenario, trials.Setup) {
	t.Helper()
	data, err := os.ReadFile("../../testdata/scenarios/small.good.yaml")
	require.NoError(t, err)
	s, err := scenarios.Read("small", data)
	require.NoError(t, err)
	return s, SetupOf(t, s)
}

// SetupOf is a setup of a scenario, for the tests outside the package too.
func SetupOf(t testing.TB, s *scenarios.Scenario) trials.Setup {
	t.Helper()
	return trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Source: sourceOf(t, s), Seed: 1, Workers: 2}
}

// sources are the weather sources made so far, by what they are made of: making one takes a
// third of a second, and nearly all tests share one.
var sources sync.Map

func sourceOf(t testing.TB, s *scenarios.Scenario) weather.Source {
	t.Helper()
	key := fmt.Sprintf("%+v", s.Normals)
	if made, ok := sources.Load(key); ok {
		return made.(weather.Source)
	}
	source, err := s.Source()
	require.NoError(t, err)
	sources.Store(key, source)
	return source
}

// tableOf runs seasons of a plan.
func tableOf(t testing.TB, set trials.Setup, seasons int, plan ...int) *trials.Table {
	t.Helper()
	table, err := set.Table(context.Background(), 0, seasons, trials.Only(plan), nil)
	require.NoError(t, err)
	return table
}
