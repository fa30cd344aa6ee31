package decide

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// What is said of an open shed is what the odds of the plan with an open hub are, in the same
// seasons; a hub that is one already is not run again.
func TestTheOpenShedIsThePlanWithAnOpenHub(t *testing.T) {
	const seasons = 40
	ctx := context.Background()
	_, set := small(t)
	plan := PlanOf(set.Region)
	table, err := set.Table(ctx, 0, seasons, trials.Only(plan), nil)
	require.NoError(t, err)
	asIs, err := Judge(table, plan)
	require.NoError(t, err)
	hub, err := HubOf(ctx, set, set.Region, table, plan)
	require.NoError(t, err)
	require.NotNil(t, hub.Shed)

	open := set
	open.Region = set.Region.Clone()
	open.Region.Hub.Humidity = 0
	other, err := open.Table(ctx, 0, seasons, trials.Only(plan), nil)
	require.NoError(t, err)
	want, err := Judge(other, plan)
	require.NoError(t, err)
	assert.Equal(t, want.WorstMonth().Name, hub.Shed.Month)
	assert.Equal(t, want.WorstMonth().Odds, hub.Shed.Odds)
	assert.Equal(t, asIs.Months[want.Worst].Odds, hub.Shed.AsIs)
	assert.InDelta(t, want.WorstMonth().Odds.Share-asIs.Months[want.Worst].Odds.Share, hub.Shed.Gain.Mean, 1e-12)
	assert.Positive(t, want.Flow.Spoiled.Mean)
	assert.Less(t, asIs.Flow.Spoiled.Mean, want.Flow.Spoiled.Mean/10, "a dry warehouse spoils only what arrives damp")

	again, err := HubOf(ctx, open, open.Region, other, plan)
	require.NoError(t, err)
	assert.Nil(t, again.Shed)
}

// Opening stock beyond what is wanted ahead is said, and none else: what the last month that asks
// wants ahead counts for nothing.
func TestMoreStockThanIsWanted(t *testing.T) {
	r := sim.Region{
		Calendar: sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 122},
		Contract: sim.Contract{
			StalksByMonth: map[time.Month]int{time.June: 1000, time.July: 1000, time.August: 1000},
			TargetStock:   map[time.Month]int{time.June: 300, time.July: 500, time.August: 9000, time.September: 9000},
		},
	}
	r.Hub.OpeningStock = 500
	assert.Nil(t, AirOfHub(&r).Beyond)
	r.Hub.OpeningStock = 501
	assert.Equal(t, &BeyondWanted{501, 500}, AirOfHub(&r).Beyond)
	r.Contract.TargetStock = nil
	assert.Equal(t, &BeyondWanted{501, 0}, AirOfHub(&r).Beyond)
	r.Hub.OpeningStock = 0
	assert.Nil(t, AirOfHub(&r).Beyond)
}

// Where every month is met in a dry warehouse, the month that an open shed would spoil is named,
// not the first of the equally good ones: a dry month has nothing to fear of a shed.
func TestTheShedIsJudgedByTheMonthThatItSpoils(t *testing.T) {
	ctx := context.Background()
	_, set := small(t)
	set.Region = set.Region.Clone()
	asked := set.Region.Contract.StalksByMonth
	require.NotEmpty(t, asked)
	for k := range asked {
		asked[k] /= 5
	}
	plan := PlanOf(set.Region)
	table, err := set.Table(ctx, 0, 40, trials.Only(plan), nil)
	require.NoError(t, err)
	asIs, err := Judge(table, plan)
	require.NoError(t, err)
	for _, m := range asIs.Months {
		require.Equal(t, 40, m.Odds.Met, m.Name)
	}
	hub, err := HubOf(ctx, set, set.Region, table, plan)
	require.NoError(t, err)
	assert.NotEqual(t, asIs.WorstMonth().Name, hub.Shed.Month)
	assert.Negative(t, hub.Shed.Gain.Mean)
}

// A plan that lives through its seasons beside what it would do in an open shed does what it does
// alone, in more seasons than the shed is asked for and in fewer; a hub that is a shed has none beside.
func TestBesideTheShedIsAsAlone(t *testing.T) {
	for _, seasons := range []int{mostInTheShed + 30, mostInTheShed, 20} {
		_, set := small(t)
		plan := PlanOf(set.Region)
		alone, err := set.Table(t.Context(), 0, seasons, trials.Only(plan), nil)
		require.NoError(t, err)
		hub, err := HubOf(t.Context(), set, set.Region, alone, plan)
		require.NoError(t, err)
		told := 0
		table, beside, err := WithHub(t.Context(), set, seasons, func(done int) { told = max(told, done) })
		require.NoError(t, err)
		assert.Equal(t, hub, beside)
		assert.Equal(t, alone.Digest(), table.Digest())
		assert.Equal(t, seasons, told)
		want, err := Judge(alone, plan)
		require.NoError(t, err)
		got, err := Judge(table, plan)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, set := small(t)
	set.Region = set.Region.Clone()
	set.Region.Hub.Humidity = 0
	_, beside, err := WithHub(t.Context(), set, 10, nil)
	require.NoError(t, err)
	assert.Nil(t, beside.Shed)
}
