package decide

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// YearResult is a plan in one real year, with many draws of luck.
type YearResult struct {
	Year      int          `json:"year"`
	Shares    []float64    `json:"share_met"`      // of the draws, by contract month
	All       float64      `json:"share_all_met"`  // of the draws
	Missing   float64      `json:"missing_stalks"` // of the season, mean of the draws
	MostLost  sim.FigureID `json:"most_lost_to"`   // what took most stalks in all draws
	LostCount float64      `json:"most_lost_stalks"`
}

// YearsResult is a plan run through every complete season of a station's record, each with many
// draws of luck, beside the odds of the generator.
type YearsResult struct {
	Station   string        `json:"station"`
	Filled    int           `json:"days_filled"`    // of rain, in all years
	Draws     int           `json:"draws_per_year"` // of luck
	Suspected []string      `json:"suspected"`      // of the record, in plain words
	Changed   []string      `json:"changed"`        // keys by which the plan's climate differs from the record's: nothing is compared then
	Names     []string      `json:"contract_months"`
	Years     []YearResult  `json:"years"`
	All       trials.Mean   `json:"share_all_met"`
	Months    []MonthAgrees `json:"months"`
	Agree     bool          `json:"agree"` // no month tells the generator from the record
}

// MonthAgrees compares a month's odds in real years with those of the generator.
type MonthAgrees struct {
	Name      string      `json:"month"`
	Real      trials.Mean `json:"real"` // share of draws in which the month is met, over years
	Generator trials.Odds `json:"generator"`
	PValue    float64     `json:"p_value"`         // of real years as far off as these, if the generator is right
	Shows     float64     `json:"would_show_from"` // the difference that so many years show in four cases of five, fraction
}

// Years reads the years of a plan from a table of real years, in which so many rows in a row are
// the draws of one year. It returns the names of the contract months too.
func Years(t *trials.Table, plan []int, years []int, draws int) ([]YearResult, []string) {
	var out []YearResult
	var names []string
	months, scratch := make([]sim.HubMonth, t.Months()), &trials.Arriving{}
	for i, year := range years {
		r := YearResult{Year: year}
		lost := make([]int, len(losses))
		for row := i * draws; row < (i+1)*draws; row++ {
			t.Hub(months, scratch, plan, row)
			r.add(months)
			for k, l := range losses {
				lost[k] += t.Sum(l, plan, row)
			}
		}
		r.MostLost, r.LostCount = mostLost(lost)
		r.mean(float64(draws))
		out = append(out, r)
	}
	for _, m := range months {
		if m.Asked > 0 && len(out) > 0 {
			names = append(names, m.Month.String())
		}
	}
	return out, names
}

// add counts one draw.
func (r *YearResult) add(months []sim.HubMonth) {
	all, k := 1.0, 0
	for _, m := range months {
		if m.Asked == 0 {
			continue
		}
		if k == len(r.Shares) {
			r.Shares = append(r.Shares, 0)
		}
		if m.Met {
			r.Shares[k]++
		} else {
			all = 0
		}
		k++
		r.Missing += float64(m.Asked - m.Delivered)
	}
	r.All += all
}

// mean turns counts of so many draws into their mean.
func (r *YearResult) mean(draws float64) {
	for k := range r.Shares {
		r.Shares[k] /= draws
	}
	r.All /= draws
	r.Missing /= draws
	r.LostCount /= draws
}

// losses are what may take stalks of a season.
var losses = append(sim.OfKinds(sim.NotCutFor), sim.OfKinds(sim.Lost, sim.LostLater)...)

// mostLost returns what took most stalks, the first of equals; NoFigure for nothing.
func mostLost(lost []int) (id sim.FigureID, stalks float64) {
	id, most := sim.NoFigure, 0
	for k, n := range lost {
		if n > most {
			id, most = losses[k], n
		}
	}
	return id, float64(most)
}

// meanOfYears returns the mean of shares, one of each year, and the variance of that mean. Years
// that are all alike still say only so much: one year of 0 and one of 1 count besides in the
// variance (after Agresti & Coull 1998, American Statistician 52, 119, who add to both sides).
func meanOfYears(shares []float64) (mean, variance float64) {
	n := float64(len(shares))
	mean = stat.Mean(shares, nil)
	sum := mean*mean + (1-mean)*(1-mean)
	for _, s := range shares {
		sum += (s - mean) * (s - mean)
	}
	return mean, sum / (n + 1) / n
}

// intervalOfYears returns the mean of shares of years with its 95 % interval.
func intervalOfYears(shares []float64) trials.Mean {
	mean, variance := meanOfYears(shares)
	half := tOf(len(shares), 0.975) * math.Sqrt(variance)
	return trials.Mean{Mean: mean, Low: math.Max(0, mean-half), High: math.Min(1, mean+half), Seasons: len(shares)}
}

// tOf returns a quantile of Student's law for a mean of n values.
func tOf(n int, p float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(max(1, n-1))}.Quantile(p)
}

// oneSided is the quantile of the normal law that lets four cases of five show.
const oneSided = 0.842

// Compare compares each contract month of real years with the generator's result: the mean of
// the years' shares by Student's test, with the variance between years and that of the
// generator's share. A month disagrees below 0.05 over the number of months; how far off it
// would have to be to be seen so stands beside it.
func (r *YearsResult) Compare(generator PlanResult) {
	r.Agree = true
	var all []float64
	for _, y := range r.Years {
		all = append(all, y.All)
	}
	r.All = intervalOfYears(all)
	level := 0.05 / float64(max(1, len(generator.Months)))
	for k, m := range generator.Months {
		var shares []float64
		for _, y := range r.Years {
			shares = append(shares, y.Shares[k])
		}
		mean, variance := meanOfYears(shares)
		// One met and one missed season more keep the generator's variance above 0 too.
		g := float64(m.Odds.Met+1) / float64(m.Odds.Seasons+2)
		sd := math.Sqrt(variance + g*(1-g)/float64(m.Odds.Seasons))
		a := MonthAgrees{Name: m.Name, Real: intervalOfYears(shares), Generator: m.Odds}
		a.PValue = 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(max(1, len(shares)-1))}.Survival(math.Abs(mean-m.Odds.Share)/sd)
		a.Shows = math.Min(1, (tOf(len(shares), 1-level/2)+oneSided)*sd)
		r.Agree = r.Agree && a.PValue >= level
		r.Months = append(r.Months, a)
	}
}
