package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Weather of a yard that lacks what a log needs is refused by its own file, line and column; weather
// without sunshine and humidity is said first. The example tally of cutting carries no range: none is
// written, and the report has no empty table of assumptions.
func TestFitNamesWhatItsWeatherLacks(t *testing.T) {
	logs, err := filepath.Abs("../../testdata/logs")
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join(logs, "lake_tavari_racks_weather.csv"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	fit := func(weather string) (int, string, string) {
		require.NoError(t, os.WriteFile("w.csv", []byte(weather), 0o644))
		return runHere(t, "fit", "racks", filepath.Join(logs, "lake_tavari_racks.csv"), "--scenario", "lake-tavari", "--record", "w.csv")
	}
	code, _, errOut := fit(strings.Replace(string(data), "2026-03-02,0.0,32.8,", "2026-03-02,0.0,,", 1))
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "--record: w.csv: line 4: tmax_c: found nothing for 2026-03-02, allowed: rain, highest and lowest temperature of every day of the log")
	code, _, errOut = fit(strings.Replace(string(data), "2026-03-02,0.0,32.8,22.0", "2026-03-02,0.0,92,68", 1))
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, errOut, "w.csv: line 4: tmax_c: found 92, allowed: -20 to 55 (°C, not °F)")
	var bare []string
	for _, line := range strings.Split(string(data), "\n") {
		bare = append(bare, strings.Join(strings.Split(line, ",")[:min(4, strings.Count(line, ",")+1)], ","))
	}
	code, out, errOut := fit(strings.Join(bare, "\n"))
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "Monthly normals stood in for sunshine and humidity, which the weather record lacks")

	code, out, errOut = runHere(t, "fit", "output", filepath.Join(logs, "lake_tavari_output.csv"), "--scenario", "lake-tavari", "--out", "cut")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "No range for a scenario is written")
	assert.NoFileExists(t, "cut/measured-output.yaml")
	page, err := os.ReadFile("cut/output-report.html")
	require.NoError(t, err)
	assert.NotContains(t, string(page), "What this rests on")
}
