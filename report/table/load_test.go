package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/charge"
)

// The course of a load has each half hour once: an end that rounds to the last of them stands in its place.
func TestCourseEndsOnce(t *testing.T) {
	var curve []charge.Point
	for i := range 63 {
		curve = append(curve, charge.Point{H: float64(i) / 60, WoodKg: float64(i)})
	}
	ends := func() (said []string) {
		for _, row := range Load(curve).Rows {
			said = append(said, row[0].Text+" "+row[4].Text)
		}
		return said
	}
	assert.Equal(t, []string{"0.0 0.0", "0.5 30.0", "1.0 62.0"}, ends())
	curve = append(curve, charge.Point{H: 1.2, WoodKg: 70})
	assert.Equal(t, []string{"0.0 0.0", "0.5 30.0", "1.0 60.0", "1.2 70.0"}, ends())
}

// Where wood costs more in the rains its price says which it is, and what the load costs then stands below.
func TestWoodInTheRainsHasRowsOfItsOwn(t *testing.T) {
	load := LoadCosts{Name: "this load", Priced: true, Wood: 4.03, Total: 12.12, PerGood: 0.0124, WoodRains: 4.03, PerGoodRains: 0.0124}
	said := func() map[string]string {
		rows := map[string]string{}
		for _, row := range Costs([]LoadCosts{load}, "coins").Rows {
			rows[row[0].Text] = row[1].Text
		}
		return rows
	}
	require.Equal(t, "4.03", said()["wood, coins"])
	assert.NotContains(t, said(), "wood at its price in months of rain, coins")
	load.WoodRains, load.PerGoodRains = 6.05, 0.0145
	assert.Equal(t, "4.03", said()["wood at its price of dry months, coins"])
	assert.Equal(t, "6.05", said()["wood at its price in months of rain, coins"])
	assert.Equal(t, "0.0145", said()["a good stalk of that load then, coins"])
}
