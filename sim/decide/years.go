package decide

import (
	"math"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// YearResult is a plan in one real year.
type YearResult struct {
	Year      int          `json:"year"`
	Met       int          `json:"months_met"`
	Asked     int          `json:"months_asked"`
	Missed    []string     `json:"missed"`         // names of the months
	Worst     string       `json:"worst_month"`    // with the largest part missing; "" if none is
	Missing   int          `json:"missing_stalks"` // of the season
	MostLost  sim.FigureID `json:"most_lost_to"`   // what took most stalks of the season
	LostCount int          `json:"most_lost_stalks"`
}

// YearsResult is a plan run through every complete season of a station's record, beside
// the odds of the generator.
type YearsResult struct {
	Station string        `json:"station"`
	Filled  int           `json:"days_filled"` // of rain, in all years
	Years   []YearResult  `json:"years"`
	Months  []MonthAgrees `json:"months"`
	Agree   bool          `json:"agree"` // no month tells the generator from the record
}

// MonthAgrees compares a month's odds in real years with those of the generator.
type MonthAgrees struct {
	Name      string      `json:"month"`
	Real      trials.Odds `json:"real"`
	Generator trials.Odds `json:"generator"`
	PValue    float64     `json:"p_value"` // of real years as far off as these, if the generator is right
}

// Years reads the years of a plan from a table of real years.
func Years(t *trials.Table, plan []int, years []int) []YearResult {
	var out []YearResult
	months, scratch := make([]sim.HubMonth, t.Months()), make([]int, t.Months())
	for i, year := range years {
		t.Hub(months, scratch, plan, i)
		r := YearResult{Year: year}
		worst := 0.0
		for _, m := range months {
			if m.Asked == 0 {
				continue
			}
			r.Asked++
			r.Missing += m.Asked - m.Delivered
			if m.Met {
				r.Met++
			} else {
				r.Missed = append(r.Missed, m.Month.String())
			}
			if part := 1 - float64(m.Delivered)/float64(m.Asked); part > worst {
				worst, r.Worst = part, m.Month.String()
			}
		}
		r.MostLost, r.LostCount = mostLost(t, plan, i)
		out = append(out, r)
	}
	return out
}

// losses are what may take stalks of a season.
var losses = append(sim.OfKinds(sim.NotCutFor), sim.OfKinds(sim.Lost, sim.LostLater)...)

// mostLost returns what took most stalks of a season, the first of equals; NoFigure for
// nothing.
func mostLost(t *trials.Table, plan []int, i int) (sim.FigureID, int) {
	id, most := sim.NoFigure, 0
	for _, l := range losses {
		if n := t.Sum(l, plan, i); n > most {
			id, most = l, n
		}
	}
	return id, most
}

// Agree compares each contract month of real years with the generator's result. The
// p-value is that of a two-sample test of proportions with the pooled share (Fisher's
// exact test by the hypergeometric law); a month disagrees below 0.05 over the number of
// months.
func Agree(real, generator PlanResult) (months []MonthAgrees, agree bool) {
	agree = true
	for k, m := range real.Months {
		g := generator.Months[k].Odds
		a := MonthAgrees{m.Name, m.Odds, g, fisher(m.Odds.Met, m.Odds.Seasons, g.Met, g.Seasons)}
		if a.PValue < 0.05/float64(len(real.Months)) {
			agree = false
		}
		months = append(months, a)
	}
	return months, agree
}

// fisher returns the two-sided p-value of Fisher's exact test that a of n and b of m come
// from one probability: the chance of tables no likelier than this one.
func fisher(a, n, b, m int) float64 {
	logChoose := func(n, k int) float64 {
		x, _ := math.Lgamma(float64(n + 1))
		y, _ := math.Lgamma(float64(k + 1))
		z, _ := math.Lgamma(float64(n - k + 1))
		return x - y - z
	}
	met := a + b
	at := func(k int) float64 { return logChoose(n, k) + logChoose(m, met-k) - logChoose(n+m, met) }
	here, p := at(a), 0.0
	for k := max(0, met-m); k <= min(n, met); k++ {
		if l := at(k); l <= here+1e-9 {
			p += math.Exp(l)
		}
	}
	return math.Min(1, p)
}
