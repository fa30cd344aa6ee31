package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// The air of the hub is named, and what an open shed would do, with its interval; where nothing
// can be told from chance, so it is said.
func TestHubSentence(t *testing.T) {
	shed := func(low, mean, high float64) *decide.Shed {
		return &decide.Shed{Month: "August", Odds: trials.NewOdds(228, 400), Gain: trials.Mean{Mean: mean, Low: low, High: high, Seasons: 400}}
	}
	for _, tt := range []struct {
		hub  decide.HubAir
		want string
	}{
		{decide.HubAir{}, "The hub is taken as an open shed, in the outside air."},
		{decide.HubAir{Humidity: 0.85, Sealed: true}, "The hub is taken as a store at 85 % humidity, in sealed bags."},
		{decide.HubAir{Humidity: 0.65, Shed: shed(-0.38, -0.34, -0.29)}, "The hub is taken as a dry warehouse at 65 % humidity; in an open shed (outside air) the worst month, August, would be met in 57 % (52 to 62 %) of the first 400 seasons, 34 points less (29 to 38)."},
		{decide.HubAir{Humidity: 0.65, Shed: shed(-0.01, 0, 0.01)}, "The hub is taken as a dry warehouse at 65 % humidity; in an open shed (outside air) the worst month, August, would be met in 57 % (52 to 62 %) of the first 400 seasons, no difference that could be told from chance."},
		{decide.HubAir{Humidity: 0.9, Shed: shed(0.02, 0.05, 0.08)}, "The hub is taken as a store at 90 % humidity; in an open shed (outside air) the worst month, August, would be met in 57 % (52 to 62 %) of the first 400 seasons, 5 points more (2 to 8)."},
		{decide.HubAir{Beyond: &decide.BeyondWanted{Opening: 200_000, Wanted: 95_000}}, "The hub is taken as an open shed, in the outside air. Of the 200,000 good stalks that lie there at the start no more than 95,000 are wanted ahead: people rest until the others are used up, so that more stock at the start helps later months little unless more is wanted ahead (target_stock_stalks)."},
		{decide.HubAir{Beyond: &decide.BeyondWanted{Opening: 500}}, "The hub is taken as an open shed, in the outside air. Of the 500 good stalks that lie there at the start none are wanted ahead: people rest until they are used up, so that more stock at the start helps later months little unless more is wanted ahead (target_stock_stalks)."},
	} {
		assert.Equal(t, tt.want, HubSentence(tt.hub))
	}
}
