package trials

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/sim/weather"
)

// Every parameter of the table sets something, takes one draw whatever the others are, and
// fixed knowledge leaves the parameters as written.
func TestKnowledge(t *testing.T) {
	base := sim.DefaultParameters()
	k := DefaultKnowledge()
	require.Len(t, k.Ranges, len(setters))
	p, values := k.Draw(base, Stream(1, 2, RegionWide, "knowledge"))
	require.Len(t, values, len(k.Ranges))
	assert.Equal(t, p.Stalk.RateAt80CPerH, p.Cabinet.RateAt80CPerH, "one draw for rack and cabinet")
	for i, r := range k.Ranges {
		assert.GreaterOrEqual(t, values[i], r.Low)
		assert.LessOrEqual(t, values[i], r.High)
		one := Knowledge{Ranges: []knowledge.Range{r}}
		q, _ := one.Draw(base, Stream(1, 3, RegionWide, "knowledge"))
		assert.NotEqual(t, base, q, r.Key)
		got, ok := k.Of(r.Key)
		assert.True(t, ok)
		assert.Equal(t, r, got)
	}
	_, ok := k.Of(knowledge.SolidRoofAir)
	assert.False(t, ok, "what a rank stands for is not drawn by itself")
	wide := DefaultKnowledge()
	wide.Ranges[0].High = 3
	_, other := wide.Draw(base, Stream(1, 2, RegionWide, "knowledge"))
	assert.Equal(t, values[1:], other[1:], "a wider range of one leaves the others")
	k.Fixed = true
	fixed, _ := k.Draw(base, Stream(1, 2, RegionWide, "knowledge"))
	assert.Equal(t, base, fixed)
}

// The defaults of the model are the modes of the table: where every parameter is set to
// something else first, fixed knowledge brings the defaults back. What a rank stands for is
// left as the scenario has it.
func TestDefaultsAreTheModes(t *testing.T) {
	spoilt := sim.DefaultParameters()
	for _, r := range knowledge.Table() {
		if !r.IsRank() {
			setters[r.Key](&spoilt, r.Mode+r.High)
		}
	}
	require.NotEqual(t, sim.DefaultParameters(), spoilt)
	k := DefaultKnowledge()
	k.Fixed = true
	back, _ := k.Draw(spoilt, Stream(1, 2, RegionWide, "knowledge"))
	assert.Equal(t, sim.DefaultParameters(), back)
}

// The ranks of stores and of a solid roof move what they stand for together, from low to high.
func TestRanks(t *testing.T) {
	low, high := sim.DefaultParameters(), sim.DefaultParameters()
	for _, rank := range []knowledge.Key{knowledge.StoreRank, knowledge.SolidRoofRank} {
		setters[rank](&low, 0)
		setters[rank](&high, 1)
	}
	assert.Equal(t, []float64{0.02, 0.001, 0.1, 0.8}, []float64{low.StoreExchangeOpenPerH, low.StoreExchangeSealedPerH, low.SolidRoofSunFactor, low.SolidRoofAirFactor})
	assert.Equal(t, []float64{0.10, 0.02, 0.3, 1.0}, []float64{high.StoreExchangeOpenPerH, high.StoreExchangeSealedPerH, high.SolidRoofSunFactor, high.SolidRoofAirFactor})
}

// What is pinned has its value in every season, ranks included; the others are drawn as they were,
// and of fixed knowledge stay as written.
func TestPinned(t *testing.T) {
	base, k := sim.DefaultParameters(), DefaultKnowledge()
	stream := func() *rand.Rand { return Stream(1, 2, RegionWide, "knowledge") }
	plain, drawn := k.Draw(base, stream())
	keys := []knowledge.Key{knowledge.StoreRank, knowledge.MouldFactor}
	pinned, err := k.Pinned(keys, []float64{1, 2.25})
	require.NoError(t, err)
	got, values := pinned.Draw(base, stream())
	require.Len(t, values, len(drawn))
	drawn[1], drawn[11] = 2.25, 1
	assert.Equal(t, drawn, values)
	assert.Equal(t, 2.25, got.Stalk.MouldFactor)
	assert.Equal(t, 0.10, got.StoreExchangeOpenPerH)
	assert.Equal(t, plain.OutputFactor, got.OutputFactor)

	k.Fixed = true
	pinned, err = k.Pinned(keys, []float64{1, 2.25})
	require.NoError(t, err)
	got, _ = pinned.Draw(base, stream())
	want := base
	want.Stalk.MouldFactor, want.StoreExchangeOpenPerH, want.StoreExchangeSealedPerH = 2.25, 0.10, 0.02
	assert.Equal(t, want, got)

	_, err = k.Pinned(keys, []float64{1})
	assert.EqualError(t, err, "1 values for 2 parameters")
	for _, bad := range []knowledge.Key{"moonlight", knowledge.MouldFactor} {
		_, err = k.Pinned([]knowledge.Key{knowledge.MouldFactor, bad}, []float64{1, 1})
		assert.ErrorContains(t, err, `found "`+string(bad)+`", allowed: each parameter that is drawn, once`)
	}
	_, err = k.Pinned(keys, []float64{1, math.Inf(1)})
	assert.ErrorContains(t, err, "allowed: finite")
	_, err = k.Pinned(keys, []float64{1, math.NaN()})
	assert.ErrorContains(t, err, "allowed: finite")
}

// Assumptions show the three numbers of what is drawn, and the mode alone of what is fixed.
func TestAssumptions(t *testing.T) {
	k := DefaultKnowledge()
	drawn := k.Assumptions()
	k.Fixed = true
	fixed := k.Assumptions()
	require.Len(t, drawn, len(k.Ranges))
	require.Len(t, fixed, len(k.Ranges))
	assert.Equal(t, sim.Assumption{Name: "evaporation of a dryer for a thousand fresh stalks", Value: "8, 13, 20 kg/h", Source: "bracketed together with the drying rate by one cabinet run (Purbono, Ainuri & Suryandono, Agritech 30(2), 2010); within that, assumption", VariedInTrials: true}, drawn[4])
	assert.Equal(t, sim.Assumption{Name: "evaporation of a dryer for a thousand fresh stalks", Value: "13 kg/h", Source: "bracketed together with the drying rate by one cabinet run (Purbono, Ainuri & Suryandono, Agritech 30(2), 2010); within that, assumption"}, fixed[4])
}

// moist is a source of showers whose days take points of humidity as a hundredth of a kPa each.
type moist struct{ showers }

func (moist) Moisten(days []weather.Day, _ int, points float64) {
	for i := range days {
		days[i].VapourKPa += points / 100
	}
}

// Every season's days are as humid as its draw of the knowledge has the rains; a source that cannot
// be moistened keeps its days, and rain stays what it is.
func TestSeasonsAreAsHumidAsDrawn(t *testing.T) {
	plain, damp := tinySetup(1), tinySetup(1)
	damp.Source = moist{}
	seen := map[bool]bool{}
	for n := range 6 {
		dry, err := plain.Season(n)
		require.NoError(t, err)
		wet, err := damp.Season(n)
		require.NoError(t, err)
		points := wet.Parameters.RainsHumidityPoints
		require.NotZero(t, points)
		require.Equal(t, points, dry.Parameters.RainsHumidityPoints)
		seen[points > 0] = true
		require.Len(t, wet.Days, 62)
		for d := range wet.Days {
			assert.InDelta(t, dry.Days[d].VapourKPa+points/100, wet.Days[d].VapourKPa, 1e-12)
			assert.Equal(t, dry.Days[d].RainMM, wet.Days[d].RainMM)
		}
	}
	assert.Len(t, seen, 2, "more humid and less")
}
