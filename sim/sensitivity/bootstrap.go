package sensitivity

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim/trials"
)

// Estimate is an estimate with its 95 % interval, by bootstrap over the rows of a design: what
// another draw of rows would have said. Seasons are not drawn again.
type Estimate struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// resamples is how often rows are drawn again for an interval.
const resamples = 1000

// bootstrap returns several statistics of n rows, each with its interval: the 2.5 and 97.5 %
// quantiles of the statistic over rows drawn again with replacement (Efron & Tibshirani 1993, An
// Introduction to the Bootstrap, ch. 13, the percentile interval; from memory). A statistic that a
// draw of rows leaves undefined (NaN) is not counted in that draw.
func bootstrap(n int, seed uint64, of func(rows []int) []float64) []Estimate {
	rows := make([]int, n)
	for i := range rows {
		rows[i] = i
	}
	all := of(rows)
	again := make([][]float64, len(all))
	chance := trials.Stream(seed, 0, trials.RegionWide, "bootstrap")
	for range resamples {
		for i := range rows {
			rows[i] = chance.IntN(n)
		}
		for k, x := range of(rows) {
			if !math.IsNaN(x) {
				again[k] = append(again[k], x)
			}
		}
	}
	estimates := make([]Estimate, len(all))
	for k, list := range again {
		slices.Sort(list)
		a := (1 - trials.Level) / 2
		estimates[k] = Estimate{all[k], stat.Quantile(a, stat.LinInterp, list, nil), stat.Quantile(1-a, stat.LinInterp, list, nil)}
	}
	return estimates
}
