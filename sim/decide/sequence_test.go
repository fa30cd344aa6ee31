package decide

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// A number that is hopeless is not lived through to the end, and every row says how many seasons
// are behind it: its figures are those of the plan judged alone in its first so many seasons. The
// number to fund has all that are stated, the phases have the rows that there are, and the
// search seasons stay apart.
func TestHopelessNumbersAreLeftOut(t *testing.T) {
	set := sites(t, 26_000, 3)
	p := money.Prices{PerGoodStalk: 0.1, DryerCost: 8000, DryerYears: 8}
	q := Question{Setup: set, MaxDryers: []int{2, 1, 1}, Free: true, Target: 0.8, SearchSeasons: 12, Seasons: 120, Limit: 120, ShortSeasons: 1, Prices: &p}
	a, err := Dryers(t.Context(), q)
	require.NoError(t, err)
	require.GreaterOrEqual(t, a.Needed, 2, "%+v", a.Proof)
	require.GreaterOrEqual(t, len(a.Plans), 4)
	assert.Equal(t, []int{60, 120}, []int{a.Plans[0].AllMonths.Seasons, a.Seasons}, "without a dryer nothing is met; the number to fund has what is stated")
	for k, r := range a.Plans {
		n := r.AllMonths.Seasons
		require.Contains(t, []int{60, 120}, n)
		table, err := set.Table(t.Context(), 0, n, trials.Only(r.PerSite), nil)
		require.NoError(t, err)
		alone, err := Judge(table, r.PerSite)
		require.NoError(t, err)
		assert.Equal(t, alone, r, "%d dryers", r.Dryers)
		assert.Equal(t, n, a.Money[k].Net.Seasons)
		earns, _, err := EarnsOf(&p, set.Region, table, r.PerSite)
		require.NoError(t, err)
		assert.Equal(t, earns.Net, a.Money[k].Net)
		if k > 0 {
			assert.Equal(t, min(n, a.Plans[k-1].AllMonths.Seasons), a.Steps[k-1].Gain.Seasons, "the seasons that both lived through")
			assert.Equal(t, 60, a.Money[k].More.Cost.Seasons)
		}
	}
	require.Len(t, a.Phases, a.Plans[a.Needed].Dryers)
	for _, phase := range a.Phases {
		table, err := set.Table(t.Context(), 0, phase.Odds.Seasons, trials.Only(phase.PerSite), nil)
		require.NoError(t, err)
		alone, err := Judge(table, phase.PerSite)
		require.NoError(t, err)
		assert.Equal(t, alone.WorstMonth().Odds, phase.Odds)
	}

	set.Workers = 1
	q.Setup = set
	one, err := Dryers(t.Context(), q)
	require.NoError(t, err)
	assert.Equal(t, a, one, "whatever the number of workers")
}

// Where no number is enough all may be given up early; the best is then judged in all seasons that
// are stated, with the one before it.
func TestTheBestOfNoneIsJudgedInFull(t *testing.T) {
	set := sites(t, 60_000, 2)
	a, err := Dryers(t.Context(), Question{Setup: set, MaxDryers: []int{1, 1}, Free: true, Target: 0.9, SearchSeasons: 10, Seasons: 110, Limit: 110, ShortSeasons: 1})
	require.NoError(t, err)
	require.Equal(t, -1, a.Needed)
	require.Empty(t, a.Proof.Undecided, "%+v", a.Proof)
	assert.Equal(t, 55, a.Proof.Seasons)
	assert.Equal(t, 110, a.Seasons)
	assert.Equal(t, 110, a.Plans[a.Best()].Odds.Seasons)
}
