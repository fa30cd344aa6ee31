package weather

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// levelClimate is a climate whose year begins on day 100 and whose every day has the same chance of
// rain, by state, and the same exponential amounts of mean 8 mm above 1 mm.
func levelClimate(chance [4]float64) Climate {
	c := Climate{StartDOY: 100, OnsetDay: 120, WithdrawalDay: 260, Rest: flatNormals(0.3, 9)}
	for k := range c.Chance {
		for d := range c.Chance[k] {
			c.Chance[k][d] = chance[k]
			c.ExcessMM[d] = 8
		}
	}
	for k := range c.Classes {
		c.Classes[k] = MixedExponential{0.5, 1, 1}
	}
	return c
}

// rainyBlock is a climate in which it rains on the clock days 10 to 19 and on no other.
func rainyBlock() Climate {
	c := levelClimate([4]float64{})
	for k := range c.Chance {
		for d := 10; d < 20; d++ {
			c.Chance[k][d] = 1
		}
	}
	return c
}

// wetDays lists the days with rain.
func wetDays(days []Day) (wet []int) {
	for i, d := range days {
		if d.RainMM >= 1 {
			wet = append(wet, i)
		}
	}
	return wet
}

func ten(from int) (days []int) {
	for d := range 10 {
		days = append(days, from+d)
	}
	return days
}

// Days of the calendar fall on the clock of a year that begins on day 100: its days 10 to 19 are days
// 110 to 119 of the year, whenever the season begins, over the turn of either year too. A field and
// the years of a simulation keep the same clock.
func TestSeasonsOnTheClock(t *testing.T) {
	c := rainyBlock()
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	one := [][]float64{{1}}
	f, err := NewField(sourcesOf(t, c), one, one)
	require.NoError(t, err)
	for _, tt := range []struct {
		from, n int
		want    []int
	}{{105, 20, ten(5)}, {95, 30, ten(15)}, {100, 365, ten(10)}, {365, 365, ten(110)}, {1, 365, ten(109)}, {119, 366, append([]int{0}, ten(356)...)}} {
		assert.Equal(t, tt.want, wetDays(s.Days(tt.from, tt.n, rand.New(rand.NewPCG(1, 1)))), "%+v", tt)
		fields := f.Days(tt.from, tt.n, rand.New(rand.NewPCG(1, 1)))
		require.Len(t, fields, 1)
		assert.Equal(t, tt.want, wetDays(fields[0]), "%+v", tt)
	}
	years := s.SimulatedYears(3, 1)
	require.Len(t, years, 3)
	for _, year := range years {
		require.Len(t, year, 365)
		for d, mm := range year {
			assert.Equal(t, d >= 10 && d < 20, mm >= 1, "day %d", d)
		}
	}
}

// A day by hand: the chance goes by yesterday and the day before, the slow part of the score persists,
// the amount is that of the exponential law at the score, and the temperature is the mean of the
// calendar's day and the residual drawn, less 0.28 °C for each √mm above the ordinary (mean √q of an
// exponential law: Γ(3/2) = 0.8862).
func TestDayOfAClimateByHand(t *testing.T) {
	chance := [4]float64{0.1, 0.3, 0.6, 0.9}
	c := levelClimate(chance)
	c.SlowShare, c.SlowPersistence, c.YearOccurrence = 0.36, 0.6, 0.75
	for m := range c.Rest.Months {
		c.Rest.Months[m].TmaxC += float64(m)
	}
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	year := yearLuck{widen: 1.25, shift: 0.2, scale: 1.5}
	states := []chainWalk{{}, {wetBefore: true}, {walk: walk{wet: true}}, {walk: walk{wet: true}, wetBefore: true}}
	for k, before := range states {
		limit := 1.25*distuv.UnitNormal.Quantile(chance[k]) + 0.2
		for _, wet := range []bool{true, false} {
			w := before
			w.slow = 1
			z := limit + 1e-6
			if wet {
				z = limit - 1e-6
			}
			day := s.step(&w, 300, &year, draws{z, 0.5, -0.25}, rand.New(rand.NewPCG(3, 3)))
			assert.Equal(t, wet, w.wet, "state %d", k)
			assert.Equal(t, before.wet, w.wetBefore)
			slow := 0.6*1 + 0.8*0.5
			assert.InDelta(t, slow, w.slow, 1e-12)
			score := 0.6*slow + 0.8*(-0.25)
			gap, index := 0.0, 0
			if wet {
				rain := 1 + 8*1.5*-math.Log(1-distuv.UnitNormal.CDF(score))
				assert.InDelta(t, rain, day.RainMM, 0.055)
				assert.InDelta(t, math.Round(10*day.RainMM), 10*day.RainMM, 1e-9)
				gap, index = math.Sqrt(day.RainMM)-0.8862*math.Sqrt(1+8*1.5), 1
			} else {
				assert.Zero(t, day.RainMM)
			}
			doy := (300 + 100 - 1) % 365 // of the calendar, from 0
			x := s.rest.mean[doy][index][0] + s.rest.sd[doy][index][0]*w.residual[0] - 0.28*gap
			assert.InDelta(t, x, day.TmaxC, 0.06)
			low := s.rest.mean[doy][index][1] + s.rest.sd[doy][index][1]*w.residual[1]
			assert.InDelta(t, min(low, x-1), day.TminC, 0.06)
		}
	}
}

// Years by hand: one number shifts chances and scales amounts, whose mean stays what it was; dates vary
// about theirs; a user's change adds to chance, amount and onset.
func TestYearsOfAClimate(t *testing.T) {
	c := levelClimate([4]float64{0.3, 0.3, 0.3, 0.3})
	c.ClockMoves, c.OnsetSD, c.WithdrawalSD = true, 6, 11
	c.YearOccurrence, c.YearAmount, c.Wetness = 0.4, 0.3, 1.28
	c.Change = Change{ChanceProbit: 0.1, AmountFactor: 1.2, OnsetDays: 15}
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(6, 1))
	var z, on, off []float64
	for range 20_000 {
		y := s.newYear(drawYear(rng))
		x := (y.shift - 0.1) / 0.4
		assert.InDelta(t, 1.2*math.Exp(0.3*x-0.045), y.scale, 1e-9)
		assert.InDelta(t, math.Sqrt(1.16), y.widen, 1e-12)
		assert.Equal(t, clock{true, 120, 260, y.clock.on, y.clock.off}, y.clock)
		z, on, off = append(z, x), append(on, y.clock.on), append(off, y.clock.off)
	}
	for name, tt := range map[string]struct {
		x        []float64
		mean, sd float64
	}{"wetness": {z, 1.28, 1}, "onset": {on, 135, 6}, "withdrawal": {off, 260, 11}} {
		mean, sd := stat.MeanStdDev(tt.x, nil)
		assert.InDelta(t, tt.mean, mean, 0.04*tt.sd, name)
		assert.InDelta(t, tt.sd, sd, 0.02*tt.sd, name)
	}
	c.Change = Change{}
	s, err = NewClimateSource(c)
	require.NoError(t, err)
	y := s.newYear(drawYear(rng))
	assert.InDelta(t, math.Exp(0.3*y.shift/0.4-0.045), y.scale, 1e-9, "an amount factor of 0 is none")
}

// Storms of many years: a Poisson number, as likely early as late in the rains, of the median total
// and its spread; none where their rate is 0.
func TestStormsOfAYear(t *testing.T) {
	c := levelClimate([4]float64{})
	rng := rand.New(rand.NewPCG(7, 1))
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	assert.Empty(t, s.newStorms(rng))
	c.Storms = Storms{PerYear: 2.5, TotalMM: 200, LogSD: 0.5}
	s, err = NewClimateSource(c)
	require.NoError(t, err)
	var counts, days, logs []float64
	for range 8000 {
		storms := s.newStorms(rng)
		counts = append(counts, float64(len(storms)))
		for _, st := range storms {
			require.True(t, st.day >= 120 && st.day < 260, "day %d", st.day)
			days = append(days, float64(st.day))
			logs = append(logs, math.Log(st.totalMM))
		}
	}
	mean, variance := stat.MeanVariance(counts, nil)
	assert.InDelta(t, 2.5, mean, 0.06)
	assert.InDelta(t, 2.5, variance, 0.15)
	mean, sd := stat.MeanStdDev(days, nil)
	assert.InDelta(t, 189.5, mean, 1)
	assert.InDelta(t, 140/math.Sqrt(12), sd, 0.6)
	mean, sd = stat.MeanStdDev(logs, nil)
	assert.InDelta(t, math.Log(200), mean, 0.015)
	assert.InDelta(t, 0.5, sd, 0.01)
}

// Storms pass over drawn days and over the end of the clock's year.
func TestStormsOfDrawnDays(t *testing.T) {
	c := levelClimate([4]float64{})
	c.Storms = Storms{PerYear: 1, TotalMM: 100}
	s, err := NewClimateSource(c)
	require.NoError(t, err)
	rain := 0.0
	for i := range 600 {
		for _, d := range s.Days(100, 365, rand.New(rand.NewPCG(9, uint64(i)))) {
			rain += d.RainMM / 600
			if d.RainMM >= 24 {
				assert.LessOrEqual(t, d.SunFraction, 0.05)
			}
		}
	}
	assert.InDelta(t, 100, rain, 12)
	days := make([]Day, 3)
	stormList{{day: 1, totalMM: 100}}.pass(days, 364)
	assert.Equal(t, []float64{0, 25, 50}, []float64{days[0].RainMM, days[1].RainMM, days[2].RainMM})
}

// The table of amounts: straight lines between its steps, level beyond scores of four.
func TestTabledAmounts(t *testing.T) {
	var table [scoreSteps + 1]float64
	for i := range table {
		table[i] = float64(i * i)
	}
	for score, want := range map[float64]float64{-9: 0, -4: 0, 0: 128 * 128, 1.0 / 64: (128*128 + 129*129) / 2.0, 3: 224 * 224} {
		assert.InDelta(t, want, tabled(&table, score), 1e-9, "score %g", score)
	}
	assert.InDelta(t, 65536, tabled(&table, 4), 1e-4)
	assert.InDelta(t, 65536, tabled(&table, 40), 1e-4)
}

// Stations of a field share the wetness of the year; the numbers behind the chance and those behind
// the amount are correlated each by their own matrix.
func TestFieldCorrelations(t *testing.T) {
	c := levelClimate([4]float64{0.5, 0.5, 0.5, 0.5})
	c.SlowShare, c.SlowPersistence = 0.5, 0.6
	matrix := func(r float64) [][]float64 { return [][]float64{{1, r}, {r, 1}} }
	drawn := func(occurrence, amount float64) (phi, r float64) {
		f, err := NewField(sourcesOf(t, c, c), matrix(occurrence), matrix(amount))
		require.NoError(t, err)
		out := f.Days(1, 20_000, rand.New(rand.NewPCG(2, 2)))
		var n [2][2]float64
		var x, y []float64
		for d := range out[0] {
			a, b := out[0][d].RainMM, out[1][d].RainMM
			n[wetOrDry(a)][wetOrDry(b)]++
			if a >= 1 && b >= 1 {
				x, y = append(x, math.Log(max(0.05, a-1))), append(y, math.Log(max(0.05, b-1)))
			}
		}
		return phiOf(n), stat.Correlation(x, y, nil)
	}
	phi, r := drawn(0.9, 0)
	// Two signs of normals with the correlation ρ: phi is 2/π arcsin ρ (Sheppard 1899).
	assert.InDelta(t, 2/math.Pi*math.Asin(0.9), phi, 0.02)
	assert.InDelta(t, 0, r, 0.03)
	phi, r = drawn(0, 0.9)
	assert.InDelta(t, 0, phi, 0.02)
	assert.Greater(t, r, 0.8)

	c.YearOccurrence = 1
	f, err := NewField(sourcesOf(t, c, c), matrix(0), matrix(0))
	require.NoError(t, err)
	var a, b []float64
	for i := range 60 {
		out := f.Days(1, 300, rand.New(rand.NewPCG(3, uint64(i))))
		a, b = append(a, float64(len(wetDays(out[0])))), append(b, float64(len(wetDays(out[1]))))
	}
	assert.Greater(t, stat.Correlation(a, b, nil), 0.95)

	_, err = NewField([]Source{&RealYears{}}, matrix(0), matrix(0))
	require.ErrorContains(t, err, "place 1 of 1 is drawn neither from normals nor from a fitted climate")
	assert.InDelta(t, 0.8*math.Exp(-0.5), CorrelationAt(37, 0.8, 74), 1e-12)
}
