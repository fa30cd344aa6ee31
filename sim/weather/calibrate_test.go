package weather

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// The factor of a deviation by hand: what the year must add, in squares, over what it adds now, at
// least 0.4 and at most 2.5; nothing where days alone differ enough.
func TestCorrectionByHand(t *testing.T) {
	for _, tt := range []struct{ want, got, without, factor float64 }{
		{5, 5, 3, 1},
		{5, 3.605551275, 3, 2},   // 16 over 4
		{5, 7, 3, 0.632455532},   // 16 over 40
		{5, 9, 3, 0.471404521},   // 16 over 72
		{5, 11, 3, 0.4},          // 16 over 112
		{5, 3.4, 3, 2.5},         // 16 over 2.56 is exactly that
		{5, 3.35, 3, 2.5},        // and less
		{5, 3.42, 3, 2.43594698}, // 16 over 2.6964
		{5, 2, 3, 2.5},           // drawn by less than without: as far as it may
		{3, 5, 3, 0},
		{2, 5, 3, 0},
	} {
		assert.InDelta(t, tt.factor, correction(tt.want, tt.got, tt.without), 1e-6, "%+v", tt)
	}
}

// The spread of the rains by hand: of three years, days 2 to 4 count, a day of 1 mm is wet, and a
// year that lacks one is scaled to three; with ten whole years beside it, it is left out.
func TestSpreadOfTheRains(t *testing.T) {
	f := &fitter{c: Climate{OnsetDay: 2, WithdrawalDay: 5}}
	three := [][]float64{
		{50, 50, 1, 0.9, 2, 50}, // 2 wet days, 3.9 mm
		{0, 9, 0, 0, 0.9, 70},   // none, 0.9 mm
		{0, 0, 4, missing, 0.9}, // 1, 4.9 mm of two days: 1.5, 7.35 mm
	}
	count, total := f.rainsSpread(three)
	assert.InDelta(t, math.Sqrt(13.0/12), count, 1e-12, "deviations of 2, 0 and 1.5 from 7/6")
	assert.InDelta(t, 3.2276152187, total, 1e-9, "deviations of 3.9, 0.9 and 7.35 from 4.05")
	whole := slices.Clone(three)
	for range 8 {
		whole = append(whole, three[1])
	}
	count, total = f.rainsSpread(whole)
	assert.InDelta(t, math.Sqrt(0.4), count, 1e-12, "one of 2 days and nine of none")
	assert.InDelta(t, 3*math.Sqrt(0.1), total, 1e-12, "one of 3.9 mm and nine of 0.9")
}

// A record that simulated years reproduce to the last day is left as it is. With twice the rain above
// 1 mm on every wet day the amounts double, and with every other wet day of a month dry its chances
// fall by 0.6 of what the probit of its share misses; months with fewer than three wet days stay.
func TestMeansAreCorrected(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	rest, err := newRest(fitted.c.Rest)
	require.NoError(t, err)
	f := &fitter{c: fitted.c, rest: rest, opt: FitOptions{Seed: 5}}
	drawn, err := f.simulate(fitYears)
	require.NoError(t, err)
	require.Len(t, drawn, 1500)
	monthOfClock := func(d int) int { return monthOf((d + f.c.StartDOY - 1) % 365) }
	changed := func(change func(month, wet int, mm float64) float64) Climate {
		g := &fitter{c: f.c, rest: rest, opt: f.opt}
		var wet [12]int
		for _, year := range drawn {
			turned := make([]float64, 365)
			for d, mm := range year {
				turned[d] = mm
				if mm >= 1 {
					m := monthOfClock(d)
					turned[d] = change(m, wet[m], mm)
					wet[m]++
				}
			}
			g.years = append(g.years, turned)
		}
		require.NoError(t, g.correctMeans(fitYears))
		return g.c
	}
	same := changed(func(_, _ int, mm float64) float64 { return mm })
	twice := changed(func(_, _ int, mm float64) float64 { return 0.95 + 2*(mm-0.95) })
	half := changed(func(month, wet int, mm float64) float64 {
		if month == 6 && wet%2 == 1 {
			return 0
		}
		if (month == 1 && wet >= 3) || (month == 2 && wet >= 2) {
			return 0
		}
		return mm
	})
	sums := monthly(drawn, f.c.StartDOY)
	probit := distuv.UnitNormal.Quantile
	july := sums[6].wet / sums[6].days
	shift := 0.6 * (probit(july/2) - probit(july))
	few := 0.6 * (probit(max(1e-4, 3/sums[1].days)) - probit(sums[1].wet/sums[1].days))
	require.Greater(t, sums[1].wet, 5.0)
	require.Greater(t, sums[2].wet, 5.0)
	for d := range 365 {
		assert.InDelta(t, f.c.ExcessMM[d], same.ExcessMM[d], 1e-9)
		require.InEpsilon(t, 2*f.c.ExcessMM[d], twice.ExcessMM[d], 1e-9)
		for k := range 4 {
			was := max(1e-4, min(1-1e-4, f.c.Chance[k][d]))
			assert.InDelta(t, was, same.Chance[k][d], 1e-9)
			assert.InDelta(t, was, twice.Chance[k][d], 1e-9)
			want := was
			switch monthOfClock(d) {
			case 1:
				want = distuv.UnitNormal.CDF(probit(was) + few)
			case 2:
				want = f.c.Chance[k][d]
			case 6:
				want = distuv.UnitNormal.CDF(probit(was) + shift)
			}
			require.InDelta(t, want, half.Chance[k][d], 1e-9, "clock day %d", d)
		}
	}
}

// The deviations of dates: of the observed in squares what finding dates adds is taken off, which is
// what simulated years have beyond the deviation they were drawn with; never less than nothing.
func TestDatesAreCalibrated(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	rest, err := newRest(fitted.c.Rest)
	require.NoError(t, err)
	f := &fitter{c: fitted.c, rest: rest, opt: FitOptions{Seed: 5}}
	f.c.OnsetSD, f.c.WithdrawalSD = 5, 4
	before := f.c
	drawn, err := f.simulate(fitYears)
	require.NoError(t, err)
	on, off := datesOf(drawn)
	sdOn, sdOff := stat.StdDev(on, nil), stat.StdDev(off, nil)
	require.Greater(t, sdOn, 5.0)
	require.Greater(t, sdOff, 4.0)
	f.on, f.off = []float64{0, 9 * math.Sqrt2}, []float64{0, 0.1} // deviations of 9 and next to nothing
	require.NoError(t, f.calibrateClock())
	assert.InDelta(t, math.Sqrt(81-(sdOn*sdOn-25)), f.c.OnsetSD, 1e-6)
	assert.Zero(t, f.c.WithdrawalSD)
	f.c = before
	f.c.ClockMoves = false
	require.NoError(t, f.calibrateClock())
	assert.Equal(t, []float64{5, 4}, []float64{f.c.OnsetSD, f.c.WithdrawalSD}, "a clock that does not move has none")
}
