package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/measured"
)

// Each column of what a log tells has a head, wide or turned; the interval of a tally is that of its
// season, as its sentence has it.
func TestHeadsOfWhatALogTells(t *testing.T) {
	e := measured.Estimate{Name: "output of a cutter", Unit: "times the stated", Value: 1.1, Low: 0.75, High: 1.6, Carried: true}
	f := measured.OutputFit{Estimates: []measured.Estimate{e}, PerH: 128.7, LowPerH: 111, HighPerH: 149, StatedPerH: 117}
	got := MeasuredOutput(f)
	assert.Contains(t, got.Title, "widened, because one season does not show what differs between seasons")
	require.Len(t, got.Rows, 1)
	assert.Equal(t, "1.1 (0.949 to 1.27)", got.Rows[0][2].Text)
	for _, one := range append(got.Fitted(40), got, Measured(f.Estimates)) {
		require.NotEmpty(t, one.Head)
		for _, head := range one.Head {
			assert.NotEmpty(t, head)
			assert.NotEqual(t, ", unit", head)
		}
	}
	lines := NotUsed([]measured.NotUsed{{Line: 5, Before: 4, Why: "a slip"}, {Line: 9, Why: "rain"}})
	assert.Equal(t, [][]string{{"4 or 5", "a slip"}, {"9", "rain"}}, lines.Words())
}
