package logs

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A weight in place of a count, or hours that are missing a digit, is refused with numbers as people
// write them.
func TestOutputFarFromStated(t *testing.T) {
	_, _, _, err := ReadOutput("cut.csv", []byte("date,hours,stalks\n2026-06-01,0.5,3410\n2026-06-02,5,600\n"), 117)
	require.EqualError(t, err, "cut.csv:2: stalks: found 3,410 stalks in 0.5 person-hours, 6,820 an hour, allowed: 15 to 936 an hour, 8 times less or more than the 117 that the scenario states: look whether kg stand for stalks, or hours of all for hours of each")
	for x, want := range map[float64]string{0.44: "0.4", 9.96: "10", 999.6: "1,000", 1234567: "1,234,567", 14.6: "15"} {
		require.Equal(t, want, grouped(x))
	}
}
