package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// A demo says that it is invented, and so does what is made from it until that is taken out.
func TestADemoIsInvented(t *testing.T) {
	for _, name := range []string{LakeTavari, OneCooperative} {
		s, err := Demo(name)
		require.NoError(t, err)
		assert.True(t, s.Invented, name)
		c, err := s.Setup(1)
		require.NoError(t, err)
		assert.True(t, c.Invented, name)
		copied, err := Read("mine.yaml", s.Write())
		require.NoError(t, err)
		assert.True(t, copied.Invented, name)
		own, err := copied.With([]string{"invented=false"})
		require.NoError(t, err)
		assert.False(t, own.Invented, name)
	}
	assert.False(t, read(t, tiny).Invented)
	assert.Equal(t, `f:8: invented: found "perhaps", allowed: true or false`, said(t, tiny+"invented: perhaps\n"))
}

// What is dangerous or inhuman is read, and warned of.
func TestDangerousWorkIsWarnedOf(t *testing.T) {
	for key, change := range map[string]string{
		"yard.no_cutting_above_rain_mm": "1000", "yard.rest_every_days": "0", "people.work_h_per_day": "16", "people.crew_h_per_day": "16", "dryer.shift_end_h": "30",
		"sites.Lower Channel.cutting_h_per_day": "11", "sites.Lower Channel.longer_shift_h": "8", "weather.normals.rain_mm[jul]": "1000",
	} {
		demo, err := Demo(LakeTavari)
		require.NoError(t, err)
		require.Empty(t, demo.Warnings)
		s, err := demo.With([]string{key + "=" + change})
		require.NoError(t, err, key)
		require.NotEmpty(t, s.Warnings, key)
		bare, _, _ := strings.Cut(key, "[")
		assert.Contains(t, s.Warnings[0], bare+": "+change, key)
	}
}

// The prices and numbers that a scenario states stand among what its answers rest on, and say of a
// demo that they are invented.
func TestStatedPricesStandAmongTheAssumptions(t *testing.T) {
	s, err := Demo(OneCooperative)
	require.NoError(t, err)
	found := map[string]sim.Assumption{}
	for _, a := range s.Assumptions() {
		found[a.Name] = a
	}
	price := found["money.dryer_cost (a dryer, put up and ready)"]
	assert.Equal(t, sim.Assumption{Name: price.Name, Value: "6000", Source: "invented"}, price, "%v", found)
	assert.Contains(t, found["site Heron Point"].Value, "cutters 6 people, ")
	assert.Contains(t, found["contract"].Value, "stalks_per_month.apr 30000 stalks")
	own := read(t, tiny+"money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1}\n")
	for _, a := range own.Assumptions() {
		assert.NotEqual(t, "invented", a.Source)
	}
}
