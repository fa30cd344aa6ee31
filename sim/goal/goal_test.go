package goal

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/money"
)

// What counts as reached, by hand: two contract months of 100 stalks and one that asks for none.
func TestReachedByHand(t *testing.T) {
	season := func(june, late, july int, met bool) []sim.HubMonth {
		return []sim.HubMonth{
			{Asked: 100, Delivered: june, MadeGood: 0, Met: june >= 95 || met}, {Asked: 100, Delivered: july, MadeGood: late, Met: july >= 95}, {},
		}
	}
	prices := &money.Prices{PerMissing: 0.5}
	for _, tt := range []struct {
		name   string
		goal   Goal
		months []sim.HubMonth
		income float64
		want   bool
	}{
		{"both months met within the tolerance", Goal{Kind: AllMonths}, season(95, 0, 100, false), 0, true},
		{"one missed by a stalk", Goal{Kind: AllMonths}, season(94, 0, 100, false), 0, false},
		{"a month that asks for none is never missed", Goal{Kind: AllMonths}, []sim.HubMonth{{}, {Asked: 1, Delivered: 1, Met: true}}, 0, true},
		{"a month that asks for one stalk is missed without it", Goal{Kind: AllMonths}, []sim.HubMonth{{Asked: 1}}, 0, false},
		{"part of a stalk is a stalk", Goal{Kind: ShareDelivered, Share: 0.900025}, season(80, 0, 100, false), 0, false},
		{"exactly the share", Goal{Kind: ShareDelivered, Share: 0.95}, season(90, 0, 100, false), 0, true},
		{"a stalk below the share", Goal{Kind: ShareDelivered, Share: 0.95}, season(89, 0, 100, false), 0, false},
		{"what is made good counts", Goal{Kind: ShareDelivered, Share: 0.95}, season(89, 1, 100, false), 0, true},
		{"all of it", Goal{Kind: ShareDelivered, Share: 1}, season(100, 0, 100, false), 0, true},
		{"exactly the penalty", Goal{Kind: PenaltyAtMost, MostPenalty: money.Of(10), Prices: prices}, season(90, 0, 90, false), 0, true},
		{"a stalk above the penalty", Goal{Kind: PenaltyAtMost, MostPenalty: money.Of(10), Prices: prices}, season(90, 0, 89, false), 0, false},
		{"no penalty at all", Goal{Kind: PenaltyAtMost, Prices: prices}, season(100, 0, 99, false), 0, false},
		{"exactly the income", Goal{Kind: IncomeAtLeast, LeastIncome: money.Of(1000)}, season(0, 0, 0, false), 1000, true},
		{"below the income", Goal{Kind: IncomeAtLeast, LeastIncome: money.Of(1000)}, season(100, 0, 100, false), 999.99, false},
	} {
		assert.Equal(t, tt.want, tt.goal.Reached(tt.months, tt.income), tt.name)
	}
}

// Keys are those of a scenario, in the order in which choices are read, and JSON names them.
func TestKindsHaveKeys(t *testing.T) {
	assert.Equal(t, []string{"worst_month", "all_months", "share_delivered", "penalty_at_most", "income_at_least"}, Keys())
	text, err := json.Marshal(Goal{Kind: ShareDelivered, Share: 0.9, Tolerance: 0.05})
	require.NoError(t, err)
	assert.JSONEq(t, `{"of": "share_delivered", "delivered_share": 0.9, "tolerance_share": 0.05}`, string(text))
	var back Goal
	require.NoError(t, json.Unmarshal(text, &back))
	assert.Equal(t, ShareDelivered, back.Kind)
	require.NoError(t, json.Unmarshal([]byte(`{"of": "worst_month"}`), &back))
	assert.Equal(t, WorstMonth, back.Kind)
	assert.Error(t, json.Unmarshal([]byte(`{"of": "best_month"}`), &back))
	byMonth := Goal{}
	assert.True(t, byMonth.ByMonth())
	for k := AllMonths; k < kinds; k++ {
		g := Goal{Kind: k}
		assert.False(t, g.ByMonth(), k.String())
		assert.Equal(t, k == PenaltyAtMost || k == IncomeAtLeast, k.NeedsPrices(), k.String())
	}
}
