package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
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
	assert.Equal(t, "July missed 2,000 of 3,000 stalks. In the same season each of these alone would have met it: a road that stays open and wood kept dry.", WhySentence(w))
	w.MetWith = w.MetWith[:1]
	assert.Equal(t, "July missed 2,000 of 3,000 stalks. In the same season this alone would have met it: wood kept dry.", WhySentence(w))
	w.MetWith, w.Most, w.MostAdds = nil, decide.DryWood, 1500
	assert.Equal(t, "July missed 2,000 of 3,000 stalks. No single thing tried would have met it; wood kept dry would have added most, 1,500 stalks.", WhySentence(w))
	assert.Equal(t, "July missed 1 stalk.", whyInShort(decide.MonthWhy{Month: "July", Asked: 1}))
	assert.Contains(t, WhySentence(decide.MonthWhy{Month: "July", Asked: 1}), "July missed 1 of 1 stalk. Nothing tried alone would have added a stalk.")
}

// Cutting in heavy rain or from closed stands may explain a missed month and is never advised.
func TestNothingUnsafeIsAdvised(t *testing.T) {
	unsafe := []decide.ShortOf{{Things: []decide.Relief{decide.AnyRain}, Met: trials.NewOdds(39, 40)}, {Things: []decide.Relief{decide.OpenStands}, Met: trials.NewOdds(38, 40)}}
	s := decide.Shortage{Seasons: 30, OfAll: 300, Months: 40, Alone: trials.NewOdds(40, 40), Single: unsafe}
	assert.Equal(t, "No single thing tried would have helped much.", shortInShort(s))
	assert.Equal(t, []string{"Of 40 missed months in 300 seasons no single thing that may be advised would have met any."}, ShortParagraph(s))
	s.Single = append(s.Single, decide.ShortOf{Things: []decide.Relief{decide.EnoughWood}, Met: trials.NewOdds(20, 40)})
	assert.Equal(t, "Wood that never runs out would have met 20 of 40 missed months.", shortInShort(s))
	assert.NotContains(t, said(ShortParagraph(s)), "rain")
	assert.False(t, Advisable([]decide.Relief{decide.EnoughWood, decide.AnyRain}))
	for _, w := range []decide.MonthWhy{
		{Month: "July", Asked: 3000, MetWith: []decide.Relief{decide.AnyRain, decide.OpenStands}}, {Month: "July", Asked: 3000, Most: decide.AnyRain, MostAdds: 10},
	} {
		assert.Equal(t, "July missed 3,000 of 3,000 stalks. No single thing that may be advised would have met it.", WhySentence(w))
		assert.Equal(t, "July missed 3,000 stalks.", whyInShort(w))
	}
}
