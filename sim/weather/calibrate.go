package weather

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// SimulatedYears draws the rain of n years that begin on the clock's first day, and nothing but
// rain. Year i is the same whatever n is.
func (s *ClimateSource) SimulatedYears(n int, seed uint64) [][]float64 {
	days := make([]Day, 365)
	years := make([][]float64, n)
	for i := range years {
		s.drawRain(days, rand.New(rand.NewPCG(seed, uint64(i))))
		years[i] = make([]float64, 365)
		for d := range days {
			years[i][d] = days[d].RainMM
		}
	}
	return years
}

// drawRain fills the rain of a year of the clock after a burn-in.
func (s *ClimateSource) drawRain(days []Day, rng *rand.Rand) {
	year := s.newYear(drawYear(rng))
	storms := s.newStorms(rng)
	var w chainWalk
	for i := -burnInDays; i < len(days); i++ {
		rain, _ := s.rain(&w, (i+365)%365, &year, draws{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()})
		if i >= 0 {
			days[i] = Day{RainMM: rain}
		}
	}
	storms.pass(days, 0)
}

// withGapsOf blanks in simulated years, one after another, the days that years of a record lack:
// what is found in them can then be held against the record.
func withGapsOf(record, simulated [][]float64) [][]float64 {
	if len(record) == 0 {
		return simulated
	}
	for i, year := range simulated {
		for d, v := range record[i%len(record)] {
			if !has(v) {
				year[d] = missing
			}
		}
	}
	return simulated
}

// calibrate finds what simulated years must reproduce: the spread of the dates, the means
// of the months, the spread of the season.
func (f *fitter) calibrate() error {
	for range 3 {
		if err := f.calibrateClock(); err != nil {
			return err
		}
		f.fitCurves()
		if err := f.correctMeans(fitYears); err != nil {
			return err
		}
	}
	if err := f.calibrateYear(); err != nil {
		return err
	}
	for _, years := range []int{fitYears, fitYears, lastYears} {
		if err := f.correctMeans(years); err != nil {
			return err
		}
	}
	return nil
}

// simulate draws years with the gaps of the record.
func (f *fitter) simulate(years int) ([][]float64, error) {
	s, err := newClimateSource(f.c, f.rest)
	if err != nil {
		return nil, err
	}
	return withGapsOf(f.years, s.SimulatedYears(years, f.opt.Seed)), nil
}

// calibrateClock takes off the observed spread of dates what finding them adds.
func (f *fitter) calibrateClock() error {
	if !f.c.ClockMoves {
		return nil
	}
	years, err := f.simulate(fitYears)
	if err != nil {
		return err
	}
	on, off := f.dates(years)
	for _, x := range []struct {
		sd            *float64
		observed, got float64
	}{{&f.c.OnsetSD, stat.StdDev(known(f.on), nil), stat.StdDev(known(on), nil)}, {&f.c.WithdrawalSD, stat.StdDev(known(f.off), nil), stat.StdDev(known(off), nil)}} {
		noise := x.got*x.got - *x.sd**x.sd
		*x.sd = math.Sqrt(max(0, x.observed*x.observed-noise))
	}
	return nil
}

// correctMeans moves chances and amounts by what the months of n simulated years miss.
func (f *fitter) correctMeans(n int) error {
	years, err := f.simulate(n)
	if err != nil {
		return err
	}
	want, got := monthly(f.years, f.c.StartDOY), monthly(years, f.c.StartDOY)
	for d := range 365 {
		m := monthOf((d + f.c.StartDOY - 1) % 365)
		w, g := want[m], got[m]
		if w.wet < 3 || g.wet < 3 {
			continue
		}
		probit := func(p float64) float64 { return distuv.UnitNormal.Quantile(max(1e-4, min(1-1e-4, p))) }
		shift := 0.6 * (probit(w.wet/w.days) - probit(g.wet/g.days))
		for k := range f.c.Chance {
			f.c.Chance[k][d] = distuv.UnitNormal.CDF(probit(f.c.Chance[k][d]) + shift)
		}
		f.c.ExcessMM[d] *= (w.rain/w.wet - 0.95) / (g.rain/g.wet - 0.95)
	}
	return nil
}

// monthSums are days, wet days and their rain in a calendar month over some years.
type monthSums struct{ days, wet, rain float64 }

func monthly(years [][]float64, startDOY int) (out [12]monthSums) {
	for _, year := range years {
		for d, v := range year {
			if has(v) {
				m := &out[monthOf((d+startDOY-1)%365)]
				m.days++
				if v >= 1 {
					m.wet++
					m.rain += v
				}
			}
		}
	}
	return out
}

// calibrateYear finds how much a year's wetness shifts chances and scales amounts, so that
// the spread of the rains between years is that of the record.
func (f *fitter) calibrateYear() error {
	spread := func(occurrence, amount float64) (count, total float64, err error) {
		f.c.YearOccurrence, f.c.YearAmount = occurrence, amount
		years, err := f.simulate(fitYears)
		if err != nil {
			return 0, 0, err
		}
		count, total = f.rainsSpread(years)
		return count, total, nil
	}
	wantCount, wantTotal := f.rainsSpread(f.years)
	count0, total0, err := spread(0, 0)
	if err != nil {
		return err
	}
	occurrence, amount := 0.08, 0.07
	for range 5 {
		count, total, err := spread(occurrence, amount)
		if err != nil {
			return err
		}
		occurrence *= correction(wantCount, count, count0)
		amount *= correction(wantTotal, total, total0)
		amount = max(amount, 0.005)
		occurrence = max(occurrence, 0.005)
	}
	f.c.YearOccurrence, f.c.YearAmount = min(occurrence, 0.5), min(amount, 0.6)
	return nil
}

// correction returns the factor by which a standard deviation must change for the spread
// to come out as wanted.
func correction(want, got, without float64) float64 {
	if want <= without {
		return 0
	}
	return max(0.4, min(2.5, math.Sqrt((want*want-without*without)/max(1e-9, got*got-without*without))))
}

// rainsSpread returns the standard deviations between years of wet days and of rain inside
// the rains, scaled to their length, of years that lack at most a quarter of them; of all years
// where fewer than ten are so whole.
func (f *fitter) rainsSpread(years [][]float64) (count, total float64) {
	from, to := int(f.c.OnsetDay), int(f.c.WithdrawalDay)
	var counts, totals, allCounts, allTotals []float64
	for _, year := range years {
		reports, n, sum := 0.0, 0.0, 0.0
		for _, v := range year[from:to] {
			if has(v) {
				reports++
				sum += v
				if v >= 1 {
					n++
				}
			}
		}
		scale := float64(to-from) / max(1, reports)
		allCounts, allTotals = append(allCounts, n*scale), append(allTotals, sum*scale)
		if reports >= wholeSpan*float64(to-from) {
			counts, totals = append(counts, n*scale), append(totals, sum*scale)
		}
	}
	if len(counts) < fewestYears {
		counts, totals = allCounts, allTotals
	}
	return stat.StdDev(counts, nil), stat.StdDev(totals, nil)
}
