package measured

import (
	"math"
	"slices"
	"strings"
	"time"

	"drystalk/sim/air"
	"drystalk/tongue"
)

// RecordError says what the weather of a log lacks, with its line and column.
type RecordError struct{ Says string }

// Error returns what it says.
func (e RecordError) Error() string { return e.Says }

// lacking says what the record lacks of a day.
func (log *RackLog) lacking(d time.Time) error {
	where, date := log.Record.Station, d.Format("2006-01-02")
	line := log.Record.Line(d)
	if line > 0 {
		where += tongue.Plainf(": line %d", line)
	}
	var missing []string
	if y := d.Year() - log.Record.FirstYear; y >= 0 && y < len(log.Record.Years) {
		r := log.Record.Years[y][doyOf(d)-1]
		for name, x := range map[string]float64{"rain_mm": r.RainMM, "tmax_c": r.TmaxC, "tmin_c": r.TminC} {
			if !has(x) {
				missing = append(missing, name)
			}
		}
		if len(missing) == 0 {
			return RecordError{tongue.Plainf("%s: tmin_c: found %g on %s, allowed: less than tmax_c, which is %g", where, r.TminC, date, r.TmaxC)}
		}
	}
	const allowed = "allowed: rain, highest and lowest temperature of every day of the log"
	if len(missing) == 0 || len(missing) == 3 {
		return RecordError{tongue.Plainf("%s: found no rain, highest and lowest temperature of %s, %s", where, date, allowed)}
	}
	slices.Sort(missing)
	return RecordError{tongue.Plainf("%s: %s: found nothing for %s, %s", where, strings.Join(missing, ", "), date, allowed)}
}

// StoodIn is on how many days of a log monthly normals stand in for what its weather record lacks.
type StoodIn struct {
	Days     int     `json:"days"` // of the log
	Sunshine int     `json:"days_without_sunshine"`
	Humidity int     `json:"days_without_humidity"`
	SD       float64 `json:"allowed_sd"` // of the logarithm of the evaporation: what the interval allows for them
}

// What names what normals stand in for: "sunshine and humidity"; "" where for nothing.
func (s StoodIn) What() string {
	var list []string
	for _, x := range []struct {
		name string
		days int
	}{{"sunshine", s.Sunshine}, {"humidity", s.Humidity}} {
		switch {
		case x.days == s.Days && x.days > 0:
			list = append(list, x.name)
		case x.days > 0:
			list = append(list, tongue.Plainf("%s on %d of %d days", x.name, x.days, s.Days))
		}
	}
	return strings.Join(list, tongue.Say(" and "))
}

// lacks says what the record lacks, as the end of a sentence.
func (s StoodIn) lacks() string {
	if s.What() == "" {
		return ""
	}
	return tongue.Plainf("; the record has no %s", s.What())
}

// why says why the interval is as wide as it is, with an excess from day to day.
func (s StoodIn) why(excess float64) string {
	text := tongue.Say("with the drying rate of stalks as it is held, in its range")
	if excess > 0.05 {
		text += tongue.Plainf("; wider because days differ by %.0f %% beyond what scale and clock explain", 100*excess)
	}
	if s.SD > 0 {
		text += tongue.Plainf("; wider by %.0f %% (standard deviation, an assumption) because normals stood in for %s", 100*s.SD, s.What())
	}
	return text
}

// stoodIn counts the days of a log on which normals stand in.
func (log *RackLog) stoodIn(first time.Time, days int) StoodIn {
	s := StoodIn{Days: days}
	for d := range days {
		day := first.AddDate(0, 0, d)
		r := log.Record.Years[day.Year()-log.Record.FirstYear][doyOf(day)-1]
		if !has(r.SunFraction) {
			s.Sunshine++
		}
		if !has(r.VapourKPa) {
			s.Humidity++
		}
	}
	return s
}

// The mean of the dry days of a log may be off from the normals of their months by so much, as a
// standard deviation: 0.1 of the length of the day in sunshine, 0.2 kPa in vapour pressure.
// Assumptions, without a source: months differ from year to year, dry days are sunnier than the mean
// of a wet month, and a yard by water is damper than a station.
const (
	SunNormalsSD    = 0.1
	VapourNormalsSD = 0.2 // kPa
)

// normalsSD returns the standard deviation, of the logarithm, that normals in place of readings add to
// the estimate: they may be off on all days alike. It is what the estimate moves by when they are
// moved by their own.
func (log *RackLog) normalsSD(spans []span, hours []air.Hour, s *solution) float64 {
	sunnier, drier := *log, *log
	for m := range log.Rest.Months {
		at := &sunnier.Rest.Months[m].SunFraction
		*at = max(0, *at-SunNormalsSD)
		at = &drier.Rest.Months[m].VapourKPa
		*at = max(0.1, *at-VapourNormalsSD)
	}
	return math.Hypot(sunnier.movedBy(log, spans, hours, s), drier.movedBy(log, spans, hours, s))
}

// movedBy returns how far the estimate of a log moves, in the logarithm, when its weather is that of
// this one.
func (log *RackLog) movedBy(as *RackLog, spans []span, hours []air.Hour, s *solution) float64 {
	_, other, err := log.hours()
	if err != nil { // the days are those that were read before
		return math.Inf(1)
	}
	moved, info := 0.0, 0.0
	for i := range spans {
		t := as.term(&spans[i], hours, s.theta)
		weight := t.slope / square(s.sd[i])
		info += weight * t.slope
		moved += weight * (log.off(&spans[i], other, s.theta) - t.off)
	}
	return math.Abs(moved / info)
}
