package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// priced is a scenario with a price of a dryer, read where numbers are written as in a language.
func priced(language, cost string) string {
	return tiny + "\nnumbers_as_in: " + language + "\nmoney: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: " + cost + "}\n"
}

// Where thousands are parted by a point, 7.000 may be 7 or 7000 and is refused, in a file, by a change
// and by a form; elsewhere it is the decimal that it is in every file.
func TestPointOfThousandsIsRefused(t *testing.T) {
	for cost, allowed := range map[string]string{"7.000": "7000 or 7, whichever", "4.500": "4500 or 4.5, whichever", "118.025": "118025 or 118.0250, whichever"} {
		_, err := Read("plan.yaml", []byte(priced("de", cost)))
		require.ErrorContains(t, err, "money.dryer_cost: found "+cost+", allowed: "+allowed)
		s, err := Read("plan.yaml", []byte(priced("pt-BR", "7000")))
		require.NoError(t, err)
		_, err = s.With([]string{"money: dryer_cost=" + cost})
		require.ErrorContains(t, err, "--with: money.dryer_cost: found "+cost+", allowed: "+allowed)
		_, err = s.WithValues(map[string]string{"money.dryer_cost": cost})
		require.ErrorContains(t, err, "money.dryer_cost: found "+cost+", allowed: "+allowed)
		for _, language := range []string{"en", "en-IN", "fr"} {
			_, err = Read("plan.yaml", []byte(priced(language, cost)))
			require.NoError(t, err, language)
		}
	}
	for _, cost := range []string{"7.0", "0.125", "1.1250", "7000", "7000.500"} {
		_, err := Read("plan.yaml", []byte(priced("de", cost)))
		require.NoError(t, err, cost)
	}
	// what would be too much as thousands can be read in one way only
	_, err := Read("plan.yaml", []byte(priced("de", "1")+"knowledge: {mould_factor: {low: 1.125, mode: 1.500, high: 2.500}}\n"))
	require.NoError(t, err)
}

// What the program writes of such a scenario reads back as the same, decimals included.
func TestWrittenPointsReadBack(t *testing.T) {
	s, err := Read("plan.yaml", []byte(priced("de", "7.1250")))
	require.NoError(t, err)
	assert.Contains(t, string(s.Write()), "dryer_cost: 7.1250\n")
	again, err := Read("plan.yaml", s.Write())
	require.NoError(t, err)
	assert.Equal(t, s.Hash, again.Hash)
	shown := map[string]string{}
	for _, g := range s.Entries() {
		for _, e := range g.Entries {
			shown[e.Path] = e.Value
		}
	}
	require.Equal(t, "7.1250", shown["money.dryer_cost"])
	_, err = s.WithValues(shown)
	require.NoError(t, err)
}

// A file with every key stated names how numbers are written, and is the same scenario.
func TestAllKeysNameHowNumbersAreWritten(t *testing.T) {
	for _, language := range []string{"", "de"} {
		text := tiny
		if language != "" {
			text += "\nnumbers_as_in: " + language + "\n"
		}
		s := read(t, text)
		want := language
		if want == "" {
			want = "en"
		}
		assert.Equal(t, 1, strings.Count(string(s.WriteAll()), "\nnumbers_as_in: \""+want+"\"\n"))
		assert.Contains(t, s.Explain(), "default en, 1,322,350.5): "+want+"\n")
		again, err := Read("plan.yaml", s.WriteAll())
		require.NoError(t, err)
		assert.Equal(t, s.Hash, again.Hash)
	}
}
