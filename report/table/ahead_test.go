package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
)

// The first charge is loaded at a time of day as a clock shows it; its number stays in hours.
func TestFirstChargeByTheClock(t *testing.T) {
	said := map[float64]string{7.5: "7:30", 7: "7:00", 8.254: "8:15", 23.9999: "0:00", 26.25: "2:15"}
	require.Len(t, said, 5)
	for atH, want := range said {
		assert.Equal(t, want, clock(atH).Text)
		assert.Equal(t, atH, clock(atH).Value)
	}
	load := AheadLoad(sample.Ahead())
	require.Len(t, load.Rows, 2)
	assert.Equal(t, "at", load.Head[4])
	assert.Equal(t, "7:30", load.Rows[0][4].Text)
	assert.Equal(t, "", load.Rows[1][4].Text, "nothing is loaded there")
}
