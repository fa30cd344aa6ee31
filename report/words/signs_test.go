package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// An end of an interval below nothing is never written as nothing: whether chance explains a difference hangs
// on it.
func TestPointsKeepTheirSign(t *testing.T) {
	assert.Equal(t, "+3 (-0.4 to +6)", Points(trials.Mean{Mean: 0.03, Low: -0.004, High: 0.06}))
	assert.Equal(t, "+0 (-0.1 to +0)", Points(trials.Mean{Mean: 0.0004, Low: -0.0004, High: 0.001}))
	assert.Equal(t, "+1 (+0 to +2)", Points(trials.Mean{Mean: 0.01, Low: 0, High: 0.02}))
	assert.Equal(t, "-2 (-3 to -1)", Points(trials.Mean{Mean: -0.02, Low: -0.03, High: -0.006}))
}

// 36 instalments of 119.57 coins are not 36 times 120.
func TestInstalmentsThatAreNotWhole(t *testing.T) {
	f := money.Funding{Loan: money.Of(3600), Instalment: money.Of(119.57), Interest: money.Of(704.52), Months: 36}
	assert.Contains(t, Funding(f, "coins"), "36 monthly instalments of about 120 coins (interest in all 705 coins)")
	f.Instalment = money.Of(120)
	assert.Contains(t, Funding(f, "coins"), "36 monthly instalments of 120 coins")
}

// A larger contract that came out as well as the proven one is not said to have done worse.
func TestPromiseThatCameOutAsWell(t *testing.T) {
	p := decide.Promise{Target: 0.9, Flat: 32_400, Seasons: 100, Odds: trials.NewOdds(96, 100), Next: 32_700, NextOdds: trials.NewOdds(96, 100)}
	assert.Contains(t, PromiseNotes(p)[0].Says, "32,700 are not proven: they came out as well, met in 96 % (90 to 99 %), but several sizes were tried")
	p.NextOdds = trials.NewOdds(91, 100)
	assert.Contains(t, PromiseNotes(p)[0].Says, "32,700 are not proven: met in 91 % (84 to 96 %).")
}
