package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Digits with a mark between them are no count, since nobody knows what the mark parts.
func TestCountsWithoutMarks(t *testing.T) {
	with := map[string]string{"118.000": "118000", "118,000": "118000", "1'118'000": "1118000", "118_000": "118000", "118 000": "118000", "90.5": "90", "1180.000": "1180"}
	require.Len(t, with, 7)
	for text, such := range with {
		allowed, ok := withoutMarks(text)
		assert.True(t, ok, text)
		assert.Equal(t, "a whole number without marks, such as "+such, allowed)
	}
	for _, text := range []string{"", "118000", "900 kg", "-3", "1e3", ".5", "5.", "a.000"} {
		_, ok := withoutMarks(text)
		assert.False(t, ok, text)
	}
}
