package report

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/office"
	"drystalk/report/internal/sample"
)

// The workbook of an answer opens in LibreOffice with its figures.
func TestReportInLibreOffice(t *testing.T) {
	r, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	book, err := r.Spreadsheet()
	require.NoError(t, err)
	sheets := office.Sheets(t, book)
	rows := sheets["Odds by number of dryers"]
	require.NotEmpty(t, rows)
	assert.Equal(t, "93.4%", rows[5][3])
	flow := sheets["Where stalks went"]
	require.NotEmpty(t, flow)
	in, out := 0.0, 0.0
	for _, row := range flow[2:11] {
		x, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err, "%v", row)
		switch row[0] {
		case "in stock on the first day", "cut":
			in += x
		default:
			out += x
		}
	}
	assert.Equal(t, in, out, "what was cut or in stock went somewhere")
}
