package book

import (
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/office"
	"drystalk/sim"
)

// The ledger opens in LibreOffice, and the totals that it adds up are those of the ledger.
func TestLedgerInLibreOffice(t *testing.T) {
	l := sim.RegionLedger{
		Season: 4,
		Hub:    []sim.HubMonth{{Month: time.July, Arrived: 900, RefusedAtGate: 90, Asked: 1000, Delivered: 810}, {Month: time.August, Arrived: 1300, Delivered: 1000, Closing: 300}},
		Sites: []sim.SiteLedger{
			{Site: "Stone: Weir/1", Months: []sim.SiteMonth{
				{Cut: 1000, ToHub: 900, WoodKg: 12.25, Shift: sim.DryerHours{sim.DryerFiring: 7.5}, Tasks: sim.TaskHours{Grading: 1.25}},
				{Cut: 1500, ToHub: 1300, WoodKg: 20.5, Shift: sim.DryerHours{sim.DryerFiring: 3}, Tasks: sim.TaskHours{Grading: 2}},
			}},
		},
	}
	book, err := Ledger("Here", l, []string{"Cautions", "never fire in a closed room"})
	require.NoError(t, err)
	sheets := office.Sheets(t, book)
	require.Len(t, sheets, 3)
	assert.Equal(t, "never fire in a closed room", sheets["About"][1][0])
	total := func(sheet, column string) float64 {
		rows := sheets[sheet]
		require.NotEmpty(t, rows, "%s of %v", sheet, sheets)
		for c, head := range rows[1] {
			if head == column {
				last := rows[len(rows)-1]
				assert.Equal(t, "total", last[0])
				x, err := strconv.ParseFloat(last[c], 64)
				require.NoError(t, err)
				return x
			}
		}
		t.Fatalf("no column %q in %v", column, rows[1])
		return 0
	}
	assert.Equal(t, 2200.0, total("Hub", "arrived_stalks"))
	assert.Equal(t, 1810.0, total("Hub", "delivered_stalks"))
	assert.Equal(t, 2500.0, total("Stone Weir1", "cut_stalks"))
	assert.Equal(t, 32.75, total("Stone Weir1", "wood_kg"))
	assert.Equal(t, 10.5, total("Stone Weir1", "firing_dryer_h"))
	assert.Equal(t, 3.25, total("Stone Weir1", "grading_person_h"))
}
