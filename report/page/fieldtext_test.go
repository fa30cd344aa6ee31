package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// Every field reads as a sentence: words before its number, a unit or words behind it where it is a
// number, no keys of the file in it, and the money it is in.
func TestFieldsAreSentences(t *testing.T) {
	s := New("test")
	defer s.stop()
	demo, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	groups := demo.Entries()
	require.Greater(t, len(groups), 10)
	seen := map[string]bool{}
	for _, g := range groups {
		for _, e := range g.Entries {
			before, after := s.sentence(&g, &e, demo.Currency)
			section, _, _ := strings.Cut(e.Path, ".")
			if g.Site != "" {
				section = "site"
			}
			seen[section+"."+e.Key] = true
			assert.NotEmpty(t, before, e.Path)
			assert.NotContains(t, before+after, "_", e.Path)
			assert.True(t, after != "" || e.Choices != nil, "%s has no unit", e.Path)
			if section == "money" {
				assert.Contains(t, sentences, "money."+e.Key)
				assert.NotContains(t, before+after, "{", e.Path)
			}
		}
	}
	for key := range sentences {
		assert.True(t, seen[key], "%s is no field", key)
	}
}
