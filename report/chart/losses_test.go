package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
)

// What was in stock when the season began became something too: losses are shares of all that was cut or lay
// there.
func TestLossesAreOfTheStockToo(t *testing.T) {
	r := sample.Answer().Plans[3]
	r.Flow.Figures[sim.Cut].Mean, r.Flow.Figures[sim.Opening].Mean = 80_000, 20_000
	c, err := Losses(r)
	require.NoError(t, err)
	assert.Contains(t, c.Alt, "Of 100,000 stalks cut or in stock")
}
