package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/decide"
)

// Every relief has words of its own, and no words are left without a relief.
func TestEveryReliefHasWords(t *testing.T) {
	require.NotEmpty(t, decide.Reliefs())
	assert.Len(t, reliefWords, len(decide.Reliefs()))
	seen := map[string]bool{}
	for _, key := range decide.Reliefs() {
		require.NotEmpty(t, Relief(key), key)
		seen[Relief(key)] = true
	}
	assert.Len(t, seen, len(decide.Reliefs()))
}

// Two things are joined; what met a month is told in the order of the alphabet, whatever the
// order in which it was tried.
func TestThingsInWords(t *testing.T) {
	assert.Equal(t, "wood kept dry", Things(decide.ShortOf{Things: []decide.Relief{decide.DryWood}}))
	assert.Equal(t, "a road that stays open, and wood kept dry", Things(decide.ShortOf{Things: []decide.Relief{decide.OpenRoad, decide.DryWood}}))
	w := decide.MonthWhy{Month: "July", Asked: 3000, Delivered: 1000, MetWith: []decide.Relief{decide.DryWood, decide.OpenRoad, decide.AnyRain}}
	assert.Equal(t, "July missed 2,000 of 3,000 stalks. In the same season each of these alone would have met it: a road that stays open, cutting in any rain and wood kept dry.", WhySentence(w))
	w.MetWith, w.Most, w.MostAdds = nil, decide.DryWood, 1500
	assert.Equal(t, "July missed 2,000 of 3,000 stalks. No single thing tried would have met it; wood kept dry would have added most, 1,500 stalks.", WhySentence(w))
	assert.Contains(t, WhySentence(decide.MonthWhy{Month: "July", Asked: 1}), "Nothing tried alone would have added a stalk.")
}
