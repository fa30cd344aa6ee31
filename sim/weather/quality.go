package weather

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"

	"drystalk/tongue"
)

// Limits of what a record may look like. Assumptions, from what goes wrong in open
// archives.
const (
	fewestReports = 300  // rain reports of a year; archives of messages often list rain days only
	completeGaps  = 10   // days a complete year may lack
	fewestDry     = 0.15 // of the reports of a year that must be dry
	wettestDayMM  = 1900 // the wettest day ever recorded anywhere is some 1,825 mm
)

// examine drops values that cannot be and says what is odd about the rest: units,
// decimals, signs, dates that come twice, and what looks like a mistake.
func (r *Record) examine() {
	r.examineTwice()
	negative, crossed, impossible := 0, 0, 0
	var tmax, wet []float64
	for y := range r.Years {
		for d := range r.Years[y] {
			x := &r.Years[y][d]
			switch {
			case x.RainMM < 0:
				negative++
				x.RainMM = missing
			case x.RainMM > wettestDayMM:
				impossible++
				x.RainMM = missing
			case x.RainMM > 0:
				wet = append(wet, x.RainMM)
			}
			if x.TminC > x.TmaxC {
				crossed++
				x.TmaxC, x.TminC = missing, missing
			}
			if has(x.TmaxC) {
				tmax = append(tmax, x.TmaxC)
			}
		}
	}
	r.findIf(negative > 0, "%d negative rainfalls were taken as missing.", negative)
	r.findIf(impossible > 0, "%d rainfalls above %d mm in a day were taken as missing.", impossible, wettestDayMM)
	r.findIf(crossed > 0, "%d days with the lowest temperature above the highest were taken as missing.", crossed)
	r.doubtTemperatures(tmax)
	r.suspect()
	if !r.summed() { // sums of several days look like tenths of a millimetre
		r.doubtRain(wet)
	}
}

// summed tells whether rain of several days is entered on one day of the week.
func (r *Record) summed() bool {
	return slices.ContainsFunc(r.Suspicions, func(s Suspicion) bool { return strings.Contains(s.Found, weekdayDoubt.String()) })
}

// doubtTemperatures doubts the unit of highest temperatures.
func (r *Record) doubtTemperatures(tmax []float64) {
	if len(tmax) == 0 {
		return
	}
	m := quantile(tmax, 0.5)
	r.findIf(m > 100, "%s: the median highest temperature is %.0f; tenths of a degree?", unitDoubt, m)
	r.findIf(m > 50 && m <= 100, "%s: the median highest temperature is %.0f; degrees Fahrenheit?", unitDoubt, m)
}

// doubtRain doubts the unit of rain from the amounts above 0, if there are more than 50.
func (r *Record) doubtRain(wet []float64) {
	if len(wet) <= 50 {
		return
	}
	odd := 0.0 // amounts with hundredths
	for _, v := range wet {
		if math.Abs(10*v-math.Round(10*v)) > 1e-6 {
			odd++
		}
	}
	hundredths, most, m := odd/float64(len(wet)), slices.Max(wet), stat.Mean(wet, nil)
	r.findIf(most < 30 && hundredths > 0.5, "%s: no day has more than %.1f and most amounts have hundredths; inches?", unitDoubt, most)
	r.findIf(m > 90 || (most > 700 && m > 40), "%s: rain falls at %.0f a wet day, up to %.0f; tenths of a millimetre?", unitDoubt, m, most)
	r.findIf(hundredths > 0.5, "Most amounts have hundredths of a millimetre, which gauges do not: converted, or a decimal shifted?")
	r.findIf(m < 2.5 && most < 40 && hundredths > 0.3, "%s: rain falls at %.1f a wet day; a decimal shifted?", unitDoubt, m)
}

// unitDoubt begins the findings that make a record unusable until settled.
const unitDoubt tongue.Text = "Unit in doubt"

func (r *Record) findIf(odd bool, format string, args ...any) {
	if odd {
		r.Findings = append(r.Findings, tongue.Plainf(format, args...))
	}
}

// Doubt returns the findings that make the record unusable until settled.
func (r *Record) Doubt() []string {
	var out []string
	for _, f := range r.Findings {
		if strings.Contains(f, unitDoubt.String()) {
			out = append(out, f)
		}
	}
	return out
}

// YearQuality is how whole one year of a record is.
type YearQuality struct {
	Year     int     `json:"year"`
	Reports  int     `json:"report_days"` // with a rain report
	Wet      int     `json:"wet_days"`    // of these, with at least 1 mm
	RainMM   float64 `json:"rain_mm"`
	Complete bool    `json:"complete"` // lacks at most completeGaps days
	Refused  string  `json:"refused"`  // why the year is not used; "" if it is
}

// Quality returns how whole each year is. A year with few reports, or whose reports are
// nearly all of rain, is refused by name: a missing day is not a dry one.
func (r *Record) Quality() []YearQuality {
	var out []YearQuality
	for y := range r.Years {
		q := YearQuality{Year: r.FirstYear + y}
		dry := 0
		for _, d := range r.Years[y] {
			if !has(d.RainMM) {
				continue
			}
			q.Reports++
			q.RainMM += d.RainMM
			if d.RainMM >= 1 {
				q.Wet++
			}
			if d.RainMM == 0 {
				dry++
			}
		}
		q.Complete = q.Reports >= 365-completeGaps
		switch {
		case q.Reports == 0:
			q.Refused = tongue.Say("no rain report")
		case q.Reports < fewestReports:
			q.Refused = tongue.Plainf("only %d rain reports", q.Reports)
		case float64(dry) < fewestDry*float64(q.Reports):
			q.Refused = tongue.Plainf("only %d of %d reports are dry: a list of rain days", dry, q.Reports)
		}
		q.Complete = q.Complete && q.Refused == ""
		out = append(out, q)
	}
	return out
}

// Summary is a record at a glance.
type Summary struct {
	Station   string        `json:"station"`
	FirstYear int           `json:"first_year"`
	LastYear  int           `json:"last_year"`
	Complete  int           `json:"complete_years"`
	Used      int           `json:"used_years"` // not refused
	Refused   []YearQuality `json:"refused_years"`
	RainMM    [12]float64   `json:"rain_mm_by_month"` // mean of the used years
	RainDays  [12]float64   `json:"rain_days_by_month"`
	HasTemps  float64       `json:"temperatures_share"` // of days with both
	Findings  []string      `json:"findings"`
}

// Summary returns the record at a glance. Months are scaled to their full length for
// days that are missing.
func (r *Record) Summary() Summary {
	s := Summary{Station: r.Station, FirstYear: r.FirstYear, LastYear: r.FirstYear + len(r.Years) - 1, Findings: r.Findings}
	var days, temps, all float64
	var reports, rain, wet [12]float64
	for y, q := range r.Quality() {
		if q.Complete {
			s.Complete++
		}
		if q.Refused != "" {
			s.Refused = append(s.Refused, q)
			continue
		}
		s.Used++
		for d, x := range r.Years[y] {
			m := monthOf(d)
			all++
			if has(x.TmaxC) && has(x.TminC) {
				temps++
			}
			if has(x.RainMM) {
				days++
				reports[m]++
				rain[m] += x.RainMM
				if x.RainMM >= 1 {
					wet[m]++
				}
			}
		}
	}
	for m := range 12 {
		if reports[m] > 0 {
			s.RainMM[m] = rain[m] / reports[m] * monthLength[m]
			s.RainDays[m] = wet[m] / reports[m] * monthLength[m]
		}
	}
	if all > 0 {
		s.HasTemps = temps / all
	}
	return s
}

// unfitted returns the columns of the record, other than rain, that hold values: a fit does not
// use them.
func (r *Record) unfitted() []string {
	var out []string
	for _, name := range []string{"tmax_c", "tmin_c", "sunshine_fraction", "vapour_pressure_kpa"} {
		if r.holds(columns[name]) {
			out = append(out, name)
		}
	}
	return out
}

// holds tells whether a column of the record holds any value.
func (r *Record) holds(column func(*Reading) *float64) bool {
	for y := range r.Years {
		for d := range r.Years[y] {
			if has(*column(&r.Years[y][d])) {
				return true
			}
		}
	}
	return false
}

// quantile returns the p-quantile of values in any order: between the two nearest of the
// sorted values, of which the first is the 0-quantile and the last the 1-quantile (type 7 of
// Hyndman & Fan 1996, The American Statistician 50, 361). The statistics library has only
// their type 4, by which the median of three values lies halfway between the lower two.
func quantile(x []float64, p float64) float64 {
	return sortedPart(slices.Sorted(slices.Values(x)), p)
}

// sortedPart is quantile of sorted values.
func sortedPart(s []float64, p float64) float64 {
	if len(s) == 0 {
		return missing
	}
	at := p * float64(len(s)-1)
	i := int(at)
	if i+1 >= len(s) {
		return s[len(s)-1]
	}
	return s[i] + (at-float64(i))*(s[i+1]-s[i])
}
