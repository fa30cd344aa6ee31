package answers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What may be one number or several, or thousands or decimals, is refused; what is written for a
// list reads back as it.
func TestListsOfNumbersAreReadInOneWay(t *testing.T) {
	refused := map[string]string{
		"5,500": `allowed: 5500, or "5, 500" with`, "10,000": "allowed: 10000", " 1,250,000 ": "allowed: 1250000",
		"5.500": "allowed: 5500, or 5.5", "20000, 1.125": "allowed: 1125, or 1.1250", "1.000.000": "a number without thousands apart",
		"5_500 coins": "a number without thousands apart", "": "a number without thousands apart", "5500,": "a number without thousands apart",
	}
	require.Len(t, refused, 9)
	for text, want := range refused {
		_, err := ReadList("budget", text)
		require.ErrorContains(t, err, "--budget: found ", "%q", text)
		assert.ErrorContains(t, err, want, "%q", text)
	}
	for text, want := range map[string][]float64{"5500": {5500}, "5000,10000": {5000, 10000}, "5, 500": {5, 500}, "1.1250": {1.125}, "0.125": {0.125}, "5500.500": {5500.5}, "5.5,6": {5.5, 6}} {
		got, err := ReadList("budget", text)
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, got, "%q", text)
		again, err := ReadList("budget", listed(got))
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, again, "%q", text)
	}
}
