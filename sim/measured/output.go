package measured

import (
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/knowledge"
	"drystalk/tongue"
)

// Tally is what was cut by somebody, or by some together, on a day.
type Tally struct {
	Line    int
	Day     time.Time
	PersonH float64
	Stalks  float64
}

// OutputLog is a tally of cutting over some days of one season at one site.
type OutputLog struct {
	Tallies    []Tally
	StatedPerH float64 // what the scenario states, stalks per person-hour
	SeasonSD   float64 // of the logarithm of output between seasons and between sites of a season, which one season's tally does not show
	Range      knowledge.Range
}

// OutputDay is a day of a tally.
type OutputDay struct {
	Line    int     `json:"line"` // the first of the day
	Date    string  `json:"date"`
	PersonH float64 `json:"person_h"`
	PerH    float64 `json:"stalks_per_person_h"`
}

// OutputFit is what a tally tells.
type OutputFit struct {
	Estimates   []Estimate  `json:"estimates"` // output, as a factor on what is stated
	PerH        float64     `json:"stalks_per_person_h"`
	LowPerH     float64     `json:"stalks_per_person_h_low"` // of its 95 % interval, of this season
	HighPerH    float64     `json:"stalks_per_person_h_high"`
	StatedPerH  float64     `json:"stated_stalks_per_person_h"`
	DaySD       float64     `json:"day_sd"` // of the logarithm of output between days
	DaySDLow    float64     `json:"day_sd_low"`
	DaySDHigh   float64     `json:"day_sd_high"`
	Days        []OutputDay `json:"days"`
	Odd         []NotUsed   `json:"odd"`       // days that cannot be like the others: left out
	FarLines    []FarLine   `json:"far_lines"` // counted, and so far off that somebody should look
	MissingDays []string    `json:"missing_days"`
}

// leastDays is the smallest number of days of a tally that is fitted: a working week.
const leastDays = 5

// FitOutput estimates output as all stalks over all hours, with the days as what varies. A tally of
// too few days is an error.
func FitOutput(log OutputLog) (OutputFit, error) {
	fit := OutputFit{StatedPerH: log.StatedPerH}
	days := byDay(log.Tallies)
	fit.Odd, days = oddDays(days)
	if len(days) < leastDays {
		return fit, tongue.Errorf("found %d days with hours and stalks, allowed: %d or more", len(days), leastDays)
	}
	n := float64(len(days))
	stalks, hours := 0.0, 0.0
	for _, d := range days {
		stalks += d.PerH * d.PersonH
		hours += d.PersonH
	}
	fit.PerH, fit.Days = stalks/hours, days
	off, logs, mean := 0.0, 0.0, 0.0
	for _, d := range days {
		off += square(d.PersonH * (d.PerH - fit.PerH))
		mean += math.Log(d.PerH) / n
	}
	for _, d := range days {
		logs += square(math.Log(d.PerH) - mean)
	}
	se := math.Sqrt(off*n/(n-1)) / hours / fit.PerH // of a ratio of sums (Cochran 1977, from memory), relative
	half := studentT(len(days)-1) * se
	fit.LowPerH, fit.HighPerH = fit.PerH*math.Exp(-half), fit.PerH*math.Exp(half)
	chi := distuv.ChiSquared{K: n - 1}
	fit.DaySD = math.Sqrt(logs / (n - 1))
	fit.DaySDLow, fit.DaySDHigh = math.Sqrt(logs/chi.Quantile(0.975)), math.Sqrt(logs/chi.Quantile(0.025))
	whole := math.Hypot(se, log.SeasonSD)
	freedom := (n - 1) * math.Pow(whole/max(se, 1e-9), 4) // of the sum of both (Welch and Satterthwaite, from memory)
	e := estimate(log.Range, math.Log(fit.PerH/log.StatedPerH), whole, len(days), int(min(freedom, 1000)))
	switch {
	case !e.narrows():
		e.Carried, e.Range = false, e.Documented
		e.Why = tongue.Plainf("for any season %d days of one leave it between %.2g and %.2g, a range for a scenario no narrower than what is documented, which stands", len(days), e.Low, e.High)
	case log.SeasonSD > 0:
		e.Why = tongue.Plainf("its interval is wider because one season at one site does not show how seasons and sites differ (%.0f %% in the scenario)", 100*log.SeasonSD)
	}
	fit.Estimates, fit.FarLines = []Estimate{e}, farLines(log.Tallies, fit.PerH)
	return fit, nil
}

// narrows tells whether the range for a scenario is narrower than the documented one: it reaches
// further than the 95 % interval, as a triangle does.
func (e *Estimate) narrows() bool {
	return e.Carried && e.Range.High/e.Range.Low < e.Documented.High/e.Documented.Low
}

// FarLine is a line of a tally that says much more or less than the mean of all.
type FarLine struct {
	Line  int     `json:"line"`
	PerH  float64 `json:"stalks_per_person_h"`
	Times float64 `json:"times_the_mean"`
}

// farFrom is how many times the mean, or what part of it, a line says that somebody should look at.
const farFrom = 2

// farLines returns the lines that are far from a mean, stalks per person-hour.
func farLines(tallies []Tally, mean float64) (out []FarLine) {
	for _, t := range tallies {
		if perH := t.Stalks / t.PersonH; perH >= farFrom*mean || perH <= mean/farFrom {
			out = append(out, FarLine{t.Line, perH, perH / mean})
		}
	}
	return out
}

// byDay adds the tallies of a day, in the order of days.
func byDay(tallies []Tally) (out []OutputDay) {
	at := map[string]int{}
	sorted := slices.Clone(tallies)
	slices.SortStableFunc(sorted, func(a, b Tally) int { return a.Day.Compare(b.Day) })
	for _, t := range sorted {
		date := t.Day.Format("2006-01-02")
		i, ok := at[date]
		if !ok {
			i, at[date] = len(out), len(out)
			out = append(out, OutputDay{Line: t.Line, Date: date})
		}
		out[i].PerH += t.Stalks // stalks until all are added
		out[i].PersonH += t.PersonH
	}
	for i := range out {
		out[i].PerH /= out[i].PersonH
	}
	return out
}

// oddDays parts days whose output cannot be like that of the others from the rest: further off in the
// logarithm than four standard deviations, as the median of all tells them, and by more than a factor of 2.5: few days tell their spread badly.
func oddDays(days []OutputDay) (odd []NotUsed, kept []OutputDay) {
	if len(days) == 0 {
		return nil, nil
	}
	middle := medianOf(days, func(d OutputDay) float64 { return math.Log(max(d.PerH, 1e-3)) })
	off := func(d OutputDay) float64 { return math.Abs(math.Log(max(d.PerH, 1e-3)) - middle) }
	sd := medianOf(days, off) / 0.6745
	for _, d := range days {
		if x := off(d); x > oddAt*sd && x > math.Log(2.5) {
			odd = append(odd, NotUsed{Line: d.Line, Why: tongue.Plainf("%s: %.0f stalks per person-hour cannot be like the other days, about %.0f: look for a slip, mend it and fit again", d.Date, d.PerH, math.Exp(middle))})
		} else {
			kept = append(kept, d)
		}
	}
	return odd, kept
}

// medianOf returns the median of something of the days.
func medianOf(days []OutputDay, of func(d OutputDay) float64) float64 {
	var list []float64
	for _, d := range days {
		list = append(list, of(d))
	}
	slices.Sort(list)
	return list[len(list)/2]
}
