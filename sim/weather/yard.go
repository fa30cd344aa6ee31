package weather

import (
	"io"
	"slices"
	"time"

	"drystalk/tongue"
)

// ReadYard reads the record of the days of somebody's own log, in a form of [ReadRecord]. It is
// short, and kept by hand: where a long record of a station leaves doubtful values out, here one that
// cannot be is an error with its line and column, because it is a slip that somebody can mend. A
// record in columns must have those of the temperatures.
func ReadYard(name string, in io.Reader) (*Record, error) {
	return (&Record{Station: name, yard: true, lines: map[time.Time]int{}}).read(name, in)
}

// Line returns the line of the file on which a day stands, 0 where none is known.
func (r *Record) Line(day time.Time) int { return r.lines[day] }

// limit is what a reading of a day may be.
type limit struct {
	low, high float64
	hint      string
}

// yardLimits are what readings of a day may be, by column. The most rain of a day that was ever
// measured is 1,825 mm (WMO World Weather and Climate Extremes Archive, from memory); the rest holds
// what inhabited places have: common practice, no source.
var yardLimits = map[string]limit{
	"rain_mm":             {0, 1900, "mm"},
	"prcp_mm":             {0, 1900, "mm"},
	"tmax_c":              {-20, 55, "°C, not °F"},
	"tmin_c":              {-30, 45, "°C, not °F"},
	"sunshine_fraction":   {0, 1, "hours of bright sunshine over the length of the day, neither hours nor per cent"},
	"vapour_pressure_kpa": {0, 6, "kPa, a tenth of hPa"},
}

// yardColumns refuses a record of a yard without temperatures.
func (r *Record) yardColumns(head []string) error {
	for _, name := range []string{"tmax_c", "tmin_c"} {
		if r.yard && !slices.Contains(head, name) {
			return tongue.Errorf("line %d: %s: found no such column, allowed: date, rain_mm, tmax_c and tmin_c, and if they were read sunshine_fraction and vapour_pressure_kpa", r.skipped+1, name)
		}
	}
	return nil
}

// yardValue refuses a value that cannot be.
func (r *Record) yardValue(name string, v float64, line int) error {
	if at := yardLimits[name]; r.yard && !(at.low <= v && v <= at.high) {
		return tongue.Errorf("line %d: %s: found %g, allowed: %g to %g (%s)", line, name, v, at.low, at.high, at.hint)
	}
	return nil
}

// yardDay keeps the line of a day and refuses one whose night was warmer than its day.
func (r *Record) yardDay(d *Reading, day time.Time, line int) error {
	if !r.yard {
		return nil
	}
	r.lines[day] = line
	if d.TminC >= d.TmaxC {
		return tongue.Errorf("line %d: tmin_c: found %g, allowed: less than tmax_c, which is %g; look whether the two are swapped", line, d.TminC, d.TmaxC)
	}
	return nil
}
