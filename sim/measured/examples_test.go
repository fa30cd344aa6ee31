package measured

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
)

var update = flag.Bool("update", false, "rewrite the example logs")

// example compares an example log with the file of its name (go test ./sim/measured -update writes
// it).
func example(t *testing.T, name string, lines []string) {
	t.Helper()
	path, text := filepath.Join("../../testdata/logs", name), strings.Join(lines, "\n")+"\n"
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), text, "%s: go test ./sim/measured -update", name)
}

// tavari is what the made-up dryer and stalks of Lake Tavari are like in the example logs.
var tavari = truth{rate: 1.1, evaporates: 14, spread: 0.18, efficiency: 0.35, between: 0.03}

// The example log of loads is made by simulation, and its fit finds what it was made with.
func TestExampleLogOfLoads(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 2026))
	log := tavari.log(14, rng)
	lines := []string{
		"# Made up by simulation, seed 2026: a dryer at Lake Tavari, which is no place, that dries stalks by 1.1 an hour at 80 °C and",
		"# evaporates at most 14 kg an hour; spread between stalks 0.18, furnace 0.35. Read as a clerk reads.",
		"date,load,stalks,weight_in_kg,weight_out_kg,moisture_out_percent,chamber_c,fire_hours,wood_kg,outside_c,outside_humidity_percent,stalks_read,wettest_out_percent",
	}
	day := time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)
	for i := range log.Loads {
		l := &log.Loads[i]
		h, minutes := math.Modf(l.Hours)
		humidity := 100 * l.Outside.VapourKPa / air.SaturationKPa(l.Outside.TempC)
		lines = append(lines, fmt.Sprintf("%s,%d,%.0f,%.1f,%.1f,%.0f,%.0f,%.0f:%02.0f,%.1f,%.0f,%.0f,%d,%.0f", day.AddDate(0, 0, i/2).Format("2006-01-02"), i%2+1, l.Stalks, l.InKg, l.OutKg,
			100*l.Out, l.ChamberC, h, 60*minutes, l.WoodKg, l.Outside.TempC, humidity, l.Sampled, 100*l.Wettest))
	}
	example(t, "lake_tavari_charges.csv", lines)
	fit, err := FitCharges(log)
	require.NoError(t, err)
	for j, want := range []float64{1.1, 14, 0.18, 0.35} {
		e := fit.Estimates[j]
		assert.True(t, e.Carried, e.Key)
		assert.True(t, e.Low <= want && want <= e.High, "%+v", e)
	}
}
