package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Climates at the edge run through the program, or are refused in one line: months without rain, a year
// without, rain on no rain day, rain on every day, a southern season over New Year with and without a
// monsoon of its own, two rains a year at the equator. The mean rain of a month is that of its normals.
func TestClimatesAtTheEdge(t *testing.T) {
	const (
		north  = "    tmax_c: [29, 31, 34, 35, 34, 31, 30, 30, 31, 31, 30, 29]\n    tmin_c: [16, 18, 21, 24, 25, 25, 24, 24, 24, 23, 20, 17]\n"
		south  = "    tmax_c: [30, 30, 30, 29, 27, 25, 25, 27, 30, 31, 31, 30]\n    tmin_c: [20, 20, 19, 16, 11, 8, 7, 9, 13, 17, 19, 20]\n"
		rains  = "    rain_mm: [300, 280, 200, 60, 10, 0, 0, 0, 5, 30, 90, 220]\n    rain_days: [18, 16, 13, 5, 1, 0, 0, 0, 0.5, 3, 8, 15]\n" + south
		summer = "season: {start: 1 jun, days: 92}\ncontract: {stalks_per_month: {jul: 3000, aug: 3000}}\n"
		turn   = "season: {start: 1 oct, days: 243}\ncontract: {stalks_per_month: {nov: 3000, jan: 3000}}\n"
		year   = "season: {start: 1 jan, days: 365}\ncontract: {stalks_per_month: {apr: 3000, nov: 3000}}\n"
		order  = ": weather.monsoon: found onset and withdrawal in this order, allowed: onset after 20 january"
	)
	none := "[" + strings.Repeat("0, ", 11) + "0]"
	for name, tt := range map[string]struct {
		weather, season string
		month           string
		mm              [2]float64 // mean of the month, between
		refused         string
	}{
		"four dry months":               {"latitude_deg: 17\n  normals:\n    rain_mm: [0, 0, 0, 0, 160, 380, 520, 470, 290, 120, 0, 0]\n    rain_days: [0, 0, 0, 0, 10, 19, 25, 23, 17, 8, 0, 0]\n" + north, summer, "July", [2]float64{400, 640}, ""},
		"a year without":                {"latitude_deg: 17\n  normals:\n    rain_mm: " + none + "\n    rain_days: " + none + "\n" + north, summer, "July", [2]float64{0, 1}, ""},
		"none, with monsoon":            {"latitude_deg: 17\n  monsoon: {onset: 6 jun, withdrawal: 28 sep}\n  normals:\n    rain_mm: " + none + "\n    rain_days: " + none + "\n" + north, summer, "June", [2]float64{0, 1}, ""},
		"a little on no day":            {"latitude_deg: 17\n  normals:\n    rain_mm: [0, 0, 0, 0, 0, 0, 10, 0, 0, 0, 0, 0]\n    rain_days: " + none + "\n" + north, summer, "July", [2]float64{0, 1}, ""},
		"much on no day":                {"latitude_deg: 17\n  normals:\n    rain_mm: [0, 0, 0, 0, 0, 0, 16, 0, 0, 0, 0, 0]\n    rain_days: " + none + "\n" + north, summer, "", [2]float64{}, ": weather.normals.rain_days[jul]: found 0, allowed: some days for 16 mm of rain"},
		"on every day":                  {"latitude_deg: 17\n  normals:\n    rain_mm: [500, 500, 500, 500, 500, 500, 500, 500, 500, 500, 500, 500]\n    rain_days: [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]\n" + north, summer, "July", [2]float64{400, 600}, ""},
		"over New Year":                 {"latitude_deg: -15\n  normals:\n" + rains, turn, "January", [2]float64{230, 370}, ""},
		"and a monsoon":                 {"latitude_deg: -15\n  monsoon: {onset: 1 dec, withdrawal: 25 mar}\n  normals:\n" + rains, turn, "January", [2]float64{230, 370}, ""},
		"a monsoon the wrong way round": {"latitude_deg: 17\n  monsoon: {onset: 28 sep, withdrawal: 6 jun}\n  normals:\n    rain_mm: [0, 0, 0, 0, 160, 380, 520, 470, 290, 120, 0, 0]\n    rain_days: [0, 0, 0, 0, 10, 19, 25, 23, 17, 8, 0, 0]\n" + north, summer, "", [2]float64{}, order},
		"a dry season too short":        {"latitude_deg: -15\n  monsoon: {onset: 1 may, withdrawal: 25 mar}\n  normals:\n" + rains, turn, "", [2]float64{}, order},
		"two rains a year": {
			"latitude_deg: 1\n  normals:\n    rain_mm: [60, 80, 150, 250, 180, 70, 40, 50, 90, 200, 280, 140]\n    rain_days: [6, 8, 13, 18, 15, 7, 5, 6, 9, 16, 20, 12]\n" +
				"    tmax_c: [28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28, 28]\n    tmin_c: [18, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18, 18]\n", year, "July", [2]float64{20, 65}, "",
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			file := filepath.Join(dir, "edge.yaml")
			text := "region: Edge\nweather:\n  " + tt.weather + tt.season + "sites: {Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75}}\n"
			require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
			var out, errs bytes.Buffer
			code := run(context.Background(), []string{"odds", file, "--seasons", "60", "--short", "0", "--out", filepath.Join(dir, "out")}, &out, &errs)
			if tt.refused != "" {
				assert.Equal(t, exitUsage, code)
				said := strings.Split(strings.TrimSpace(errs.String()), "\n")
				assert.Contains(t, said[len(said)-1], tt.refused)
				assert.Empty(t, out.String())
				return
			}
			require.Equal(t, exitDone, code, errs.String())
			_, rain, found := strings.Cut(out.String(), "Rain of the 60 seasons")
			require.True(t, found)
			mean := regexp.MustCompile(tt.month + ` +(\d+) `).FindStringSubmatch(rain)
			require.Len(t, mean, 2)
			mm, err := strconv.ParseFloat(mean[1], 64)
			require.NoError(t, err)
			assert.GreaterOrEqual(t, mm, tt.mm[0])
			assert.LessOrEqual(t, mm, tt.mm[1])
		})
	}
}
