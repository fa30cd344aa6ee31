package money

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// moulding is the busy region without a dryer: both sites have much second grade.
func moulding(t *testing.T, seasons, years int) *Play {
	t.Helper()
	r, _ := busy(t, 1, 0)
	r.Sites[0].OpenRackM2, r.Sites[1].OpenRackM2 = 200, 120
	r.Sites[0].Crew = 0
	r.People.Pool = false
	set := setup(r)
	set.Source, set.YearsPerFuture = showers{}, years
	table, err := set.Table(t.Context(), 0, seasons, [][]int{{0}, {0}}, nil)
	require.NoError(t, err)
	y, err := NewPlay(r, table, []int{0, 0})
	require.NoError(t, err)
	return y
}

// No more second grade is sold in a month than buyers take, from all sites together: by hand,
// month by month. The sites share that by what they have, to the last minor unit; what is left
// over is not sold in the next month; a ceiling that is just reached takes nothing away.
func TestCeilingOnSecondGrade(t *testing.T) {
	y := moulding(t, 6, 0)
	p := prices()
	have := func(site, month, i int) int {
		return int(y.Table.MonthFigures(sim.Second, site, y.Plan[site], i)[month])
	}
	require.Greater(t, min(have(0, 0, 0), have(1, 0, 0)), 100, "each site has some to sell")
	capped, free := 0, 0
	for i := range 6 {
		in := [2]int{have(0, 0, i) + have(1, 0, i), have(0, 1, i) + have(1, 1, i)}
		for _, ceiling := range []int{0, in[0] / 2, in[0], in[0] + 1, 1 << 40} {
			p.SecondMost = ceiling
			got := y.Season(&p, i)
			for k := range 2 {
				sold := got[0][k][SecondGrade] + got[1][k][SecondGrade]
				if in[k] <= ceiling {
					free++
					for site := range got {
						assert.Equal(t, Of(float64(have(site, k, i))*0.021), got[site][k][SecondGrade])
					}
					continue
				}
				capped++
				assert.Equal(t, Of(float64(ceiling)*0.021), sold)
				assert.InDelta(t, sold.Units()*float64(have(0, k, i))/float64(in[k]), got[0][k][SecondGrade].Units(), 0.011)
			}
		}
		p.SecondMost = -1
		open := y.Year(&p, i)
		assert.InDelta(t, 0.021*float64(in[0]+in[1]), open[SecondGrade].Units(), 0.021, "no ceiling")
		p.SecondMost = 0
		none := y.Year(&p, i)
		assert.Zero(t, none[SecondGrade])
		assert.Equal(t, open.Net()-open[SecondGrade], none.Net(), "nothing else moves")
	}
	require.Positive(t, capped)
	require.Positive(t, free)
}

// A verdict hangs on second grade where it is another without it, for better and for worse, and
// only then; where second grade has no price it is not tried.
func TestVerdictHangsOnSecondGrade(t *testing.T) {
	npv := func(low, high float64) trials.Mean {
		return trials.Mean{Mean: (low + high) / 2, Low: low, High: high}
	}
	for _, tt := range []struct {
		stated, unsold trials.Mean
		hangs          bool
	}{
		{npv(1, 3), npv(0.5, 2), false},
		{npv(1, 3), npv(-1, 2), true},
		{npv(1, 3), npv(-3, -1), true},
		{npv(-1, 1), npv(-2, 2), false},
		{npv(-1, 1), npv(-3, -1), true},
		{npv(-3, -1), npv(1, 2), true},
		{npv(-3, -1), npv(-4, -2), false},
	} {
		b := Purchase{NPV: tt.stated, WhatIfs: []WhatIf{{Change: WoodTwice, NPV: npv(-9, -8)}, {Change: SecondGoes, NPV: tt.unsold}}}
		w, hangs := b.HangsOnSecond()
		assert.Equal(t, tt.hangs, hangs, "%v and %v", tt.stated, tt.unsold)
		assert.Equal(t, tt.unsold, w.NPV)
	}
	_, hangs := (&Purchase{NPV: npv(1, 3)}).HangsOnSecond()
	assert.False(t, hangs)

	_, y := busy(t, 4, 2)
	p := prices()
	p.PerSecondStalk = 0
	b, err := Judge(p, y, y, 2, []Item{{Of: Dryer, Site: "Stone Weir", Cost: Of(100), Years: 8}})
	require.NoError(t, err)
	require.Len(t, b.WhatIfs, 3)
	for _, w := range b.WhatIfs {
		assert.NotEqual(t, SecondGoes, w.Change)
	}
}
