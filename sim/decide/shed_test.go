package decide

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, asIs.WorstMonth().Name, hub.Shed.Month)
	assert.Equal(t, asIs.WorstMonth().Odds, hub.Shed.AsIs)
	assert.Equal(t, want.Months[asIs.Worst].Odds, hub.Shed.Odds)
	assert.InDelta(t, want.Months[asIs.Worst].Odds.Share-asIs.WorstMonth().Odds.Share, hub.Shed.Gain.Mean, 1e-12)
	assert.Positive(t, want.Flow.Spoiled.Mean)
	assert.Less(t, asIs.Flow.Spoiled.Mean, want.Flow.Spoiled.Mean/10, "a dry warehouse spoils only what arrives damp")

	again, err := HubOf(ctx, open, open.Region, other, plan)
	require.NoError(t, err)
	assert.Nil(t, again.Shed)
}
