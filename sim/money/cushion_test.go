package money

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/sim/trials"
)

// With more cash to begin with, which is kept back at the end of every year, all balances are higher by just
// as much and the same is shared out; so every instalment is covered from what was lacking on, and not before.
func TestMoreCashLiftsEveryBalance(t *testing.T) {
	lacking := 0
	rapid.Check(t, func(t *rapid.T) {
		years := rapid.IntRange(1, 4).Draw(t, "years")
		b := Bill{Funding: Funding{Own: Of(rapid.Float64Range(0, 300).Draw(t, "own"))}}
		for range rapid.IntRange(1, 48).Draw(t, "months") {
			b.Instalments = append(b.Instalments, Of(rapid.Float64Range(0, 80).Draw(t, "due")))
		}
		for range years {
			b.Again = append(b.Again, Of(rapid.SampledFrom([]float64{0, 0, 90}).Draw(t, "again")))
		}
		flows := make([]Amount, 12*years+2)
		for k := range flows {
			flows[k] = Of(rapid.Float64Range(-150, 250).Draw(t, "flow"))
		}
		opening := Of(rapid.Float64Range(0, 500).Draw(t, "opening"))
		a := b.account(opening, flows, years)
		require.Equal(t, len(a.Uncovered) > 0, a.Short > 0)
		if a.Short == 0 {
			return
		}
		lacking++
		more := b.account(opening+a.Short, flows, years)
		require.Empty(t, more.Uncovered)
		require.Equal(t, a.Shared, more.Shared)
		for k := range a.Months {
			require.Equal(t, a.Months[k]+a.Short, more.Months[k])
		}
		require.NotEmpty(t, b.account(opening+a.Short-1, flows, years).Uncovered, "the smallest unit less")
	})
	assert.Positive(t, lacking)
}

// By hand: of 40 futures 38 must cover every instalment. Of five that lack something the third least decides, in
// whole coins, and what those coins cover too is counted with it; of three the least.
func TestCushionByHand(t *testing.T) {
	tallyOf := func(futures int, short ...float64) *siteTally {
		s := &siteTally{failed: len(short)}
		for k := range futures {
			x := Amount(0)
			if k < len(short) {
				x = Of(short[k])
			}
			s.short = append(s.short, x)
		}
		return s
	}
	assert.Equal(t, &Cushion{31, trials.NewOdds(1, 40)}, tallyOf(40, 400, 30.5, 20, 30.75, 10.25).cushion())
	assert.Equal(t, &Cushion{30, trials.NewOdds(2, 40)}, tallyOf(40, 400, 30.01, 30, 20, 10).cushion())
	assert.Equal(t, &Cushion{11, trials.NewOdds(2, 40)}, tallyOf(40, 400, 30.75, 10.25).cushion())
	assert.Nil(t, tallyOf(40, 400, 30.75).cushion(), "19 of 20 cover theirs as it is")
	assert.Nil(t, tallyOf(40).cushion())
	assert.Equal(t, &Cushion{5, trials.NewOdds(0, 1)}, tallyOf(1, 5).cushion())
}
