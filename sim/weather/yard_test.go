package weather

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A slip in the weather of somebody's own days is refused with line, column, what was found and what
// is allowed; both ends of what is allowed are taken. The record of a station takes the same line.
func TestYardRefusesSlips(t *testing.T) {
	const head = "# yard\ndate,rain_mm,tmax_c,tmin_c,sunshine_fraction,vapour_pressure_kpa\n2026-03-01,0,33,22,0.5,2.4\n"
	for line, want := range map[string]string{
		"2026-03-02,0,92,68,0.5,2.4":    "w.csv: line 4: tmax_c: found 92, allowed: -20 to 55 (°C, not °F)",
		"2026-03-02,0,33,-30.5,0.5,2.4": "w.csv: line 4: tmin_c: found -30.5, allowed: -30 to 45 (°C, not °F)",
		"2026-03-02,0,20.1,33.1,0.5,2":  "w.csv: line 4: tmin_c: found 33.1, allowed: less than tmax_c, which is 20.1; look whether the two are swapped",
		"2026-03-02,0,33,22,53,2.4":     "w.csv: line 4: sunshine_fraction: found 53, allowed: 0 to 1 (hours of bright sunshine over the length of the day, neither hours nor per cent)",
		"2026-03-02,0,33,22,0.5,23.2":   "w.csv: line 4: vapour_pressure_kpa: found 23.2, allowed: 0 to 6 (kPa, a tenth of hPa)",
		"2026-03-02,-1,33,22,0.5,2.4":   "w.csv: line 4: rain_mm: found -1, allowed: 0 to 1900 (mm)",
	} {
		_, err := ReadYard("w.csv", strings.NewReader(head+line+"\n"))
		require.EqualError(t, err, want)
		_, err = ReadRecord("w.csv", strings.NewReader(head+line+"\n"))
		require.NoError(t, err)
	}
	for _, line := range []string{"2026-03-02,0,55,45,0,0", "2026-03-02,1900,-20,-30,1,6", "2026-03-02,,,,,"} {
		r, err := ReadYard("w.csv", strings.NewReader(head+line+"\n"))
		require.NoError(t, err, line)
		assert.Equal(t, 4, r.Line(time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)))
	}
	_, err := ReadYard("w.csv", strings.NewReader("date,rain_mm,tmin_c\n2026-03-01,0,22\n"))
	require.ErrorContains(t, err, "w.csv: line 1: tmax_c: found no such column, allowed: date, rain_mm, tmax_c and tmin_c")
}
