package stalk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/air"
)

// Stalks too dry for mould are dry enough at any temperature: CriticalHumidityPct is the least
// humidity at which it grows.
func TestDryStalksDoNotMould(t *testing.T) {
	for tempC := 0.0; tempC <= 60; tempC += 0.01 {
		a := newMouldAir(tempC)
		require.Less(t, 1-fallOff.at(-dryExponent), a.critical, "at %g °C", tempC)
		if a.critical <= 1 {
			require.Less(t, hendersonA*(tempC+hendersonC)*sorbed.at(100*dryMoisture), dryExponent, "at %g °C", tempC)
		}
	}
}

// Stalks in still air live as the guide says, step by step, whether they are too dry for mould or
// not.
func TestSettleByItsSteps(t *testing.T) {
	p := Default()
	rapid.Check(t, func(t *rapid.T) {
		a := NewStillAir(rapid.Float64Range(-5, 55).Draw(t, "temperature"), rapid.Float64Range(0.1, 1).Draw(t, "humidity"), &p)
		s := State{
			Moisture: DryBasis(rapid.Float64Range(0.02, 2).Draw(t, "moisture")), MouldIndex: rapid.Float64Range(0, 2).Draw(t, "mould"),
			AgeH: rapid.Float64Range(0, 60).Draw(t, "age"), StillH: rapid.Float64Range(0, 60).Draw(t, "still"),
		}
		s.PeakIndex = s.MouldIndex
		taken, hours := rapid.Float64Range(0, 1).Draw(t, "taken up"), rapid.Float64Range(0, 24).Draw(t, "hours")
		want := s
		want.Moisture += DryBasis(taken) * (a.emc - s.Moisture)
		want.mouldStep(&a.mould, activityAt(a.activity, want.Moisture, &p), hours, &p)
		s.Settle(&a, taken, hours, &p)
		require.Equal(t, want, s)
	})
}

// In an hour without sun the air at a rack is still air, to the last bit, under every cover.
func TestWithoutSun(t *testing.T) {
	p := Default()
	covers := []Cover{OpenRack(), ClearRoof(1.1), SolidRoof(0.2, 0.9), Sheet()}
	require.Len(t, covers, 4)
	for _, c := range covers {
		for tempC := -3.0; tempC < 55; tempC += 1.7 {
			h := NewHour(&air.Hour{TempC: tempC, Humidity: 0.83, RainMM: 2, ET0AirMM: 0.02}, c, &p)
			got, rate := h.WithoutSun()
			assert.Equal(t, NewStillAir(tempC, 0.83, &p), got)
			assert.Equal(t, DryingRatePerH(tempC, p.RateAt80CPerH, p.ActivationKJPerMol), rate)
		}
	}
}
