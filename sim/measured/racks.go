package measured

import (
	"maps"
	"math"
	"slices"
	"time"

	"drystalk/sim/air"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Weighing is a weighing of marked stalks on an open rack. What was not read is not a number.
type Weighing struct {
	Line  int
	Rack  string
	Day   time.Time
	AtH   float64 // hour of the day, solar time as a clock has it
	Grams float64
	Wet   float64 // moisture of the stalks, wet basis
}

// RackLog is a log of weighings of stalks that lie under the open sky, with the weather.
type RackLog struct {
	Weighings      []Weighing
	ScaleG, ClockH float64 // what scale and clock are read to
	MoisturePoints float64
	LoadKgPerM2    float64 // fresh stalks on a square metre
	Record         *weather.Record
	Rest           weather.Normals // stands in where the record has no sunshine, humidity or wind
	Stalk          stalk.Properties
	Ranges         func(key knowledge.Key) knowledge.Range
}

// RackSpan is the time between two weighings beside what the fit expects of it.
type RackSpan struct {
	Before   int     `json:"line_before"` // of the first weighing
	Line     int     `json:"line"`        // of the second
	Rack     string  `json:"rack"`
	Hours    float64 `json:"hours"`
	From     float64 `json:"moisture_from_dry_basis"`
	To       float64 `json:"moisture_to_dry_basis"`
	Expected float64 `json:"expected_moisture_dry_basis"`
	SD       float64 `json:"sd_dry_basis"` // of To less Expected
}

// RackFit is what a log of weighings tells.
type RackFit struct {
	Estimates []Estimate `json:"estimates"` // evaporation of a rack
	Spans     []RackSpan `json:"spans"`
	Odd       []NotUsed  `json:"odd"`      // spans that cannot be like the others: left out
	Unused    []NotUsed  `json:"not_used"` // spans that tell nothing
	Excess    float64    `json:"spread_between_spans"`
	StoodIn   StoodIn    `json:"normals_stood_in"`
}

// span is the time between two weighings, ready to be worked out.
type span struct {
	line0, line   int // of both weighings
	rack          string
	fromH, toH    float64 // since the first day of the hours
	dryG          float64
	before, after float64 // weights, g
}

// leastSpans is the smallest number of spans that are fitted.
const leastSpans = 6

// longestSpanH is the longest time between weighings that is used: over a missing day nobody knows
// whether the stalks were turned, covered or moved.
const longestSpanH = 36

// driest is the moisture, kg per kg of dry matter, below which a span tells of the air and not of the
// rack; surest is that below which a moisture tells the dry matter.
const (
	driestTold = 0.3
	surest     = 1.0
)

// FitRacks fits a log of weighings. The drying rate of stalks stands as it is held, with its range. A
// log that does not carry the evaporation of a rack is an error that says why.
func FitRacks(log RackLog) (RackFit, error) {
	var fit RackFit
	first, hours, err := log.hours()
	if err != nil {
		return fit, err
	}
	fit.StoodIn = log.stoodIn(first, len(hours)/24)
	spans, unused := log.spans(first, hours)
	fit.Unused = unused
	if len(spans) < leastSpans {
		return fit, tongue.Errorf("found %d times between weighings that can be used, allowed: %d or more, without rain, of stalks that are still wet%s", len(spans), leastSpans, whyFirst(unused))
	}
	p := problem{lines: len(spans)}
	p.off = func(theta []float64, i int) float64 { return log.off(&spans[i], hours, theta) }
	p.term = func(theta []float64, i int) term { return log.term(&spans[i], hours, theta) }
	evaporates, rate := log.Ranges(knowledge.SkinFactor), log.Ranges(knowledge.RateAt80CPerH)
	start := []float64{math.Log(evaporates.Mode), math.Log(rate.Mode)}
	beliefs := []belief{{}, believed(rate)}
	odd := p.odd(start, []belief{believed(evaporates), beliefs[1]})
	var kept []span
	for i := range spans {
		if odd[i] {
			fit.Odd = append(fit.Odd, spans[i].odd())
		} else {
			kept = append(kept, spans[i])
		}
	}
	if 5*len(fit.Odd) > len(spans) || len(kept) < leastSpans {
		return fit, tongue.Errorf("found %d of %d times between weighings that cannot be like the others, first in line %s, allowed: at most one of five; look for slips, and whether the racks lay under the open sky", len(fit.Odd), len(spans), fit.Odd[0].Lines())
	}
	spans, p.lines = kept, len(kept)
	s := p.solve(start, beliefs)
	if fit.StoodIn.What() != "" {
		fit.StoodIn.SD = log.normalsSD(spans, hours, &s)
	}
	e := estimate(evaporates, s.theta[0], math.Hypot(math.Hypot(s.se[0], log.lotsSD(spans, hours, &s)), fit.StoodIn.SD), len(spans), s.dof)
	if !e.Carried || s.excess > mostExcess {
		return fit, tongue.Errorf("found %d times between weighings that leave the evaporation of a rack between %.2g and %.2g, allowed: narrower than what is documented, %g to %g; more days, a finer scale, or the weather of the yard itself%s", len(spans), e.Low, e.High, e.Documented.Low, e.Documented.High, fit.StoodIn.lacks())
	}
	e.Why = fit.StoodIn.why(s.excess)
	fit.Estimates, fit.Excess = []Estimate{e}, s.excess
	for i := range spans {
		x := &spans[i]
		to := x.after/x.dryG - 1
		fit.Spans = append(fit.Spans, RackSpan{x.line0, x.line, x.rack, x.toH - x.fromH, x.before/x.dryG - 1, to, to - p.off(s.theta, i), s.sd[i]})
	}
	return fit, nil
}

// lotsSD returns the standard deviation that the dry matter of lots adds to the estimate: it is read
// once of each lot, so its error is in all times of the lot alike.
func (log *RackLog) lotsSD(spans []span, hours []air.Hour, s *solution) float64 {
	moved, info := map[string]float64{}, 0.0
	for i := range spans {
		x, t := spans[i], log.term(&spans[i], hours, s.theta)
		x.dryG *= 1 - log.MoisturePoints/200
		weight := t.slope / square(s.sd[i])
		info += weight * t.slope
		moved[x.rack] += weight * (log.off(&x, hours, s.theta) - t.off)
	}
	sum := 0.0
	for _, rack := range slices.Sorted(maps.Keys(moved)) {
		sum += square(moved[rack] / info)
	}
	return math.Sqrt(sum)
}

// whyFirst says why the first lines are not used.
func whyFirst(lines []NotUsed) (text string) {
	for _, u := range lines[:min(3, len(lines))] {
		text += tongue.Plainf("; line %d: %s", u.Line, u.Why)
	}
	return text
}

// hours returns the air of every hour from the first day of the log to its last, and the first day. A
// day without recorded temperatures or rain is an error: they are never guessed.
func (log *RackLog) hours() (first time.Time, hours []air.Hour, err error) {
	if len(log.Weighings) == 0 {
		return first, nil, tongue.Errorf("found no weighing, allowed: two or more of a rack")
	}
	first, last := log.Weighings[0].Day, log.Weighings[0].Day
	for _, w := range log.Weighings {
		if w.Day.Before(first) {
			first = w.Day
		}
		if w.Day.After(last) {
			last = w.Day
		}
	}
	var days []weather.Day
	for d := first; !d.After(last); d = d.AddDate(0, 0, 1) {
		day, ok := log.day(d)
		if !ok {
			return first, nil, log.lacking(d)
		}
		days = append(days, day)
	}
	return first, weather.HoursWithRain(days, doyOf(first), log.Rest.Place, func(d int, rain *[24]float64) { rain[12] = days[d].RainMM }), nil
}

// doyOf returns the day of a year of 365 days.
func doyOf(d time.Time) int {
	doy := d.YearDay()
	if d.Month() > time.February && time.Date(d.Year(), 12, 31, 0, 0, 0, 0, time.UTC).YearDay() == 366 {
		doy--
	}
	return min(doy, 365)
}

// day returns the weather of a day as it was recorded, with sunshine, humidity and wind of the month's
// normals where the record has none.
func (log *RackLog) day(d time.Time) (day weather.Day, ok bool) {
	y := d.Year() - log.Record.FirstYear
	if y < 0 || y >= len(log.Record.Years) {
		return day, false
	}
	r, usual := log.Record.Years[y][doyOf(d)-1], log.Rest.Months[d.Month()-1]
	day = weather.Day{RainMM: r.RainMM, TmaxC: r.TmaxC, TminC: r.TminC, SunFraction: usual.SunFraction, VapourKPa: usual.VapourKPa, WindMS: usual.WindMS}
	if has(r.SunFraction) {
		day.SunFraction = r.SunFraction
	}
	if has(r.VapourKPa) {
		day.VapourKPa = r.VapourKPa
	}
	return day, has(r.RainMM) && has(r.TmaxC) && has(r.TminC) && r.TminC < r.TmaxC
}

// spans pairs the weighings of each rack, and says which tell nothing and why.
func (log *RackLog) spans(first time.Time, hours []air.Hour) (out []span, unused []NotUsed) {
	byRack := map[string][]Weighing{}
	var racks []string
	for _, w := range log.Weighings {
		if byRack[w.Rack] == nil {
			racks = append(racks, w.Rack)
		}
		byRack[w.Rack] = append(byRack[w.Rack], w)
	}
	at := func(w *Weighing) float64 { return w.Day.Sub(first).Hours() + w.AtH }
	for _, rack := range racks {
		list := byRack[rack]
		slices.SortStableFunc(list, func(a, b Weighing) int {
			return a.Day.Add(time.Duration(a.AtH * 3.6e12)).Compare(b.Day.Add(time.Duration(b.AtH * 3.6e12)))
		})
		dryG, told := dryOf(list)
		for i := 1; i < len(list); i++ {
			x := span{list[i-1].Line, list[i].Line, rack, at(&list[i-1]), at(&list[i]), dryG, list[i-1].Grams, list[i].Grams}
			switch why := x.useless(hours); {
			case !told:
				unused = append(unused, NotUsed{Line: x.line, Why: tongue.Plainf("no moisture of 50 %% or less was read of rack %q: it tells the dry matter", rack)})
			case why != "":
				unused = append(unused, NotUsed{Line: x.line, Why: why})
			default:
				out = append(out, x)
			}
		}
	}
	return out, unused
}

// dryOf returns the dry matter of marked stalks by the driest moisture that was read of them.
func dryOf(list []Weighing) (dryG float64, ok bool) {
	driest := math.Inf(1)
	for _, w := range list {
		if has(w.Wet) && w.Wet < driest {
			driest, dryG = w.Wet, w.Grams*(1-w.Wet)
		}
	}
	return dryG, dry(driest) <= surest && driest < 1
}

// odd says that a span cannot be like the others, and where the slip may be.
func (x *span) odd() NotUsed {
	why := tongue.Plainf("%.0f h from %.0f to %.0f g cannot be like the others: look for a slip in line %d or %d, mend it and fit again", x.toH-x.fromH, x.before, x.after, x.line0, x.line)
	return NotUsed{Line: x.line, Before: x.line0, Why: why}
}

// useless says why the time between two weighings tells nothing; "" where it does.
func (x *span) useless(hours []air.Hour) string {
	switch {
	case x.toH-x.fromH > longestSpanH:
		return tongue.Plainf("%.0f h since the weighing before: a day is missing", x.toH-x.fromH)
	case x.toH-x.fromH < 1:
		return tongue.Say("less than an hour since the weighing before")
	case x.before/x.dryG-1 < driestTold:
		return tongue.Say("the stalks were dry already: they follow the air then")
	}
	for day := int(x.fromH / 24); day <= int(x.toH/24) && 24*day+12 < len(hours); day++ {
		if hours[24*day+12].RainMM > 0 {
			return tongue.Say("it rained on that day, and nobody wrote when")
		}
	}
	return ""
}

// off returns the moisture at the second weighing less what is expected after the first.
func (log *RackLog) off(x *span, hours []air.Hour, theta []float64) float64 {
	return x.after/x.dryG - 1 - log.after(x, hours, theta)
}

// after lives through the hours between two weighings and returns the moisture at the second. Of an
// hour that is not whole, the part counts.
func (log *RackLog) after(x *span, hours []air.Hour, theta []float64) float64 {
	p := log.Stalk
	p.SkinFactor, p.RateAt80CPerH, p.AreaAfterPredry = math.Exp(theta[0]), math.Exp(theta[1]), 1
	state := stalk.State{Moisture: stalk.DryBasis(x.before/x.dryG - 1), Predried: true}
	load := p.DryLoadKgPerM2(log.LoadKgPerM2)
	for h := int(x.fromH); float64(h) < x.toH && h < len(hours); h++ {
		part := min(x.toH, float64(h+1)) - max(x.fromH, float64(h))
		hour := stalk.NewHour(&hours[h], stalk.OpenRack(), &p)
		before := state.Moisture
		state.RackHour(&hour, load, &p)
		state.Moisture = before + stalk.DryBasis(part)*(state.Moisture-before)
	}
	return float64(state.Moisture)
}

// term works out a span at some parameters: each reading is moved by its deviation.
func (log *RackLog) term(x *span, hours []air.Hour, theta []float64) term {
	t := term{off: log.off(x, hours, theta)}
	for _, move := range []func(x *span){
		func(x *span) { x.before += log.ScaleG / 2 },
		func(x *span) { x.after += log.ScaleG / 2 },
		func(x *span) { x.fromH += log.ClockH / 2 },
		func(x *span) { x.toH -= log.ClockH / 2 },
		func(x *span) { x.dryG *= 1 - log.MoisturePoints/200 },
	} {
		moved := *x
		move(&moved)
		t.variance += square(log.off(&moved, hours, theta) - t.off)
	}
	const step = 0.01
	t.slope = (log.off(x, hours, []float64{theta[0] + step, theta[1]}) - t.off) / step
	return t
}
