package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/spend"
)

// Every lever and every ending has its words, each its own, and so much of a lever names its
// number.
func TestWordsOfSpending(t *testing.T) {
	require.NotEmpty(t, spend.Levers())
	assert.Len(t, leverWords, len(spend.Levers()), "no words without a lever")
	names, much := map[string]bool{}, map[string]bool{}
	for _, key := range spend.Levers() {
		require.Contains(t, leverWords, key)
		w := leverWords[key]
		require.NotEmpty(t, w.name, key)
		names[w.name.String()], much[OfLever(spend.StepOf(key))] = true, true
	}
	assert.Len(t, names, len(spend.Levers()))
	assert.Len(t, much, len(spend.Levers()))
	assert.Contains(t, much, "1 dryer")
	assert.Contains(t, much, "room for 5,000 stalks")
	assert.Equal(t, "1500 m² of open rack", OfLever(spend.Quantity{Of: spend.OpenRacks, Size: 1500, Unit: "m²"}))

	require.NotEmpty(t, spend.Endings())
	assert.Len(t, endingWords, len(spend.Endings()))
	ways := map[string]bool{}
	for _, e := range spend.Endings() {
		require.NotEmpty(t, endingWords[e], e)
		ways[endingWords[e].String()] = true
	}
	assert.Len(t, ways, len(spend.Endings()))
}

// What was not tried: what has no price by its name, and the steps as they are.
func TestNotTried(t *testing.T) {
	out := notTried(spend.Answer{NoPrice: []spend.Lever{spend.OpenRacks, spend.StockAhead}})
	require.Len(t, out, 5)
	assert.Equal(t, "open racks: no price is stated", out[0])
	assert.Equal(t, "stock ahead: no price is stated", out[1])
	assert.Equal(t, "other steps than 50 m² of rack, 20 m² of roof, 2 cutters, 2 h of shift and 20,000 stalks of stock, more than 6 of them at a site, and more than twice the cutters", out[2])
}

// Where lines of a list have fewer seasons than its end, it is said beside the answer.
func TestSeasonsBehindAList(t *testing.T) {
	assert.Equal(t, "1,000 fresh seasons", freshOf(spend.Answer{Seasons: 1000, LineSeasons: 1000}))
	assert.Equal(t, "1,000 fresh seasons, those of the lines between the first and the last and all gains of the first 200 of them", freshOf(spend.Answer{Seasons: 1000, LineSeasons: 200}))
}
