package trials

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// spoken is the setup of the tests with a hub that speaks to its two sites, and a contract of a size.
func spoken(t *testing.T, contract int, speaks sim.Speaks) Setup {
	t.Helper()
	s := tinySetup(2)
	s.Region = s.Region.Clone()
	s.Region.Hub.Speaks = speaks
	s.Region.Contract.StalksByMonth = map[time.Month]int{time.July: contract, time.August: contract}
	s.Region.Contract.TargetStock = map[time.Month]int{time.July: contract / 2}
	return s
}

// Plans of one region live side by side in a study as each by itself, whatever the number of
// workers; their months are those of whole seasons.
func TestCoupledPlansSideBySide(t *testing.T) {
	for _, speaks := range []sim.Speaks{sim.SpeaksDaily, sim.SpeaksAtCollections, sim.SpeaksByCutters} {
		s := spoken(t, 12_000, speaks)
		plans := [][]int{{0, 0}, {1, 0}, {1, 2}}
		var variants []Variant
		for _, p := range plans {
			variants = append(variants, Variant{Region: s.Region, Levels: Only(p)})
		}
		beside, err := s.Tables(context.Background(), 0, 6, variants, nil)
		require.NoError(t, err)
		s.Workers = 3
		for k, p := range plans {
			alone, err := s.Table(context.Background(), 0, 6, Only(p), nil)
			require.NoError(t, err)
			assert.Equal(t, alone.Digest(), beside[k].Digest(), "%v, speaks %d", p, speaks)
			one := s
			one.Region = s.Region.Clone()
			for i := range p {
				one.Region.Sites[i].Dryers = p[i]
			}
			led, err := one.Ledger(4)
			require.NoError(t, err)
			months, scratch := make([]sim.HubMonth, alone.Months()), &Arriving{}
			beside[k].Hub(months, scratch, p, 4)
			for m := range months {
				assert.Equal(t, led.Hub[m].Delivered, months[m].Delivered)
			}
		}
	}
}

// Where the hub tells sites what others bring, numbers of dryers are not put together from sites
// unless they are asked for apart; then sites never rest, and of what is left over no more is
// carried than 1.3 times the stock wanted ahead.
func TestCoupledSitesApart(t *testing.T) {
	s := spoken(t, 1000, sim.SpeaksDaily)
	_, err := s.Table(context.Background(), 0, 2, Upto([]int{1, 1}), nil)
	require.ErrorIs(t, err, ErrCoupled)
	_, err = s.Table(context.Background(), 0, 2, [][]int{{1}, nil}, nil)
	require.ErrorIs(t, err, ErrCoupled)
	apart, err := s.Tables(context.Background(), 0, 4, []Variant{{Region: s.Region, Levels: Upto([]int{1, 1}), Apart: true}}, nil)
	require.NoError(t, err)
	plan := []int{1, 1}
	whole, err := s.Table(context.Background(), 0, 4, Only(plan), nil)
	require.NoError(t, err)
	months, scratch := make([]sim.HubMonth, whole.Months()), &Arriving{}
	for i := range 4 {
		assert.Zero(t, apart[0].Sum(sim.NotCutTarget, plan, i))
		assert.Positive(t, whole.Sum(sim.NotCutTarget, plan, i), "there is enough early")
		apart[0].Hub(months, scratch, plan, i)
		for m := range months {
			most := int(1.3 * float64(s.Region.Contract.TargetStock[months[m].Month]))
			assert.LessOrEqual(t, months[m].Closing, max(most, months[m].Opening-months[m].Delivered))
		}
	}
	assert.Nil(t, GateApart(spoken(t, 1000, sim.SpeaksByCutters).Region).CarriesMost)
}

// A hub that carries no more than so much: what lay there before stays, what came last goes.
func TestCarriesMost(t *testing.T) {
	g := sim.Gate{
		Months: []time.Month{time.June, time.July, time.August}, Asked: []int{10, 10, 10}, Least: []int{10, 10, 10}, Opening: 50, CarriesMost: []int{5, 5, 5},
	}
	months := make([]sim.HubMonth, 3)
	g.Serve(months, sim.Arrivals{Arrived: []int{100, 0, 3}})
	assert.Equal(t, []int{40, 30, 20}, []int{months[0].Closing, months[1].Closing, months[2].Closing}, "of 50 that lay there 40 are left, and nothing is put beside them")
	g.Opening = 0
	g.Serve(months, sim.Arrivals{Arrived: []int{100, 0, 30}})
	assert.Equal(t, []int{5, 0, 5}, []int{months[0].Closing, months[1].Closing, months[2].Closing})
	assert.Equal(t, []int{10, 5, 10}, []int{months[0].Delivered, months[1].Delivered, months[2].Delivered})
}
