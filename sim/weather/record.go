package weather

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"drystalk/tongue"
)

// Reading is what a station recorded on one day. What is missing is not a number: it
// is never taken as dry.
type Reading struct {
	RainMM      float64
	TmaxC       float64
	TminC       float64
	SunFraction float64
	VapourKPa   float64
}

var missing = math.NaN()

func noReading() Reading { return Reading{missing, missing, missing, missing, missing} }

func has(x float64) bool { return !math.IsNaN(x) }

// Record is the daily record of a station by calendar year. 29 February is dropped.
type Record struct {
	Station   string
	FirstYear int
	Years     [][365]Reading
	Findings  []string // what was odd in the file, in plain words

	Suspicions []Suspicion // what looks like a mistake of whoever kept or copied it

	skipped int // lines of comment before the first that was read
	twice   twice
	yard    bool // what cannot be is refused, see ReadYard
	lines   map[time.Time]int
}

// day returns the reading of a date to be filled in, extending the record; nil for 29
// February or a date that cannot be.
func (r *Record) day(year, month, dom int) *Reading {
	if month < 1 || month > 12 || dom < 1 || dom > int(monthLength[month-1]) || year < 1700 || year > 2200 {
		return nil
	}
	if len(r.Years) == 0 {
		r.FirstYear = year
	}
	for year < r.FirstYear {
		r.Years = slices.Insert(r.Years, 0, emptyYear())
		r.FirstYear--
	}
	for year >= r.FirstYear+len(r.Years) {
		r.Years = append(r.Years, emptyYear())
	}
	doy := dom - 1
	for m := range month - 1 {
		doy += int(monthLength[m])
	}
	return &r.Years[year-r.FirstYear][doy]
}

func emptyYear() (y [365]Reading) {
	for d := range y {
		y[d] = noReading()
	}
	return y
}

// ErrNoRecord is returned for a file in none of the known forms.
var ErrNoRecord = tongue.Fault("no known form of a daily station record")

// ReadRecord reads a daily station record: CSV with a header of columns that carry their
// unit (date, rain_mm or prcp_mm, tmax_c, tmin_c, sunshine_fraction, vapour_pressure_kpa), or the
// open GHCN-Daily forms, by-year CSV and fixed width, whose flagged values are dropped.
// Lines that start with # are passed over, and so is a byte-order mark; text in UTF-16 is refused.
func ReadRecord(name string, in io.Reader) (*Record, error) {
	return (&Record{Station: name}).read(name, in)
}

// read reads a record in whichever form it has.
func (r *Record) read(name string, in io.Reader) (*Record, error) {
	lines := bufio.NewReader(in)
	if err := passMark(lines); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	for {
		start, err := lines.Peek(1)
		if err != nil {
			return nil, tongue.Errorf("%s: %w: the file is empty", name, ErrNoRecord)
		}
		if start[0] != '#' {
			break
		}
		if _, err := lines.ReadString('\n'); err != nil {
			return nil, tongue.Errorf("%s: %w: the file holds only comments", name, ErrNoRecord)
		}
		r.skipped++
	}
	first, _ := lines.Peek(60)
	var err error
	switch {
	case isFixedWidth(string(first)):
		err = r.readFixedWidth(lines)
	case isByYear(string(first)):
		err = r.readByYear(lines)
	default:
		err = r.readColumns(lines)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(r.Years) == 0 {
		return nil, tongue.Errorf("%s: %w: no line with a date and a value", name, ErrNoRecord)
	}
	r.examine()
	return r, nil
}

// elements are the GHCN-Daily elements that are used, in tenths.
var elements = map[string]func(*Reading) *float64{
	"PRCP": columns["rain_mm"],
	"TMAX": columns["tmax_c"],
	"TMIN": columns["tmin_c"],
}

// isByYear knows the by-year CSV form: station, yyyymmdd, element, value, flags.
func isByYear(first string) bool {
	cells := strings.Split(first, ",")
	if len(cells) < 4 {
		return false
	}
	_, err := strconv.Atoi(cells[1])
	return (err == nil && len(cells[1]) == 8) || strings.HasPrefix(strings.ToUpper(first), "STATION,DATE,ELEMENT")
}

func (r *Record) readByYear(in io.Reader) error {
	c := csv.NewReader(in)
	c.FieldsPerRecord = -1
	flagged := 0
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		line, _ := c.FieldPos(0)
		if len(row) < 4 || (line == 1 && strings.EqualFold(row[1], "DATE")) {
			continue
		}
		date, err := strconv.Atoi(strings.ReplaceAll(row[1], "-", ""))
		if err != nil {
			return tongue.Errorf("line %d: date: found %q, allowed: 19980731", r.skipped+line, row[1])
		}
		if len(row) > 5 && row[5] != "" {
			flagged++
			continue
		}
		if err := r.element(row[2], row[3], date, r.skipped+line); err != nil {
			return err
		}
	}
	r.noteFlagged(flagged)
	return nil
}

func (r *Record) noteFlagged(n int) {
	if n > 0 {
		r.Findings = append(r.Findings, tongue.Plainf("%d values with a quality flag were dropped.", n))
	}
}

func (r *Record) element(name, value string, date, line int) error {
	at := elements[name]
	if at == nil {
		return nil
	}
	v, err := strconv.Atoi(strings.TrimSpace(value))
	if err != nil {
		return tongue.Errorf("line %d: %s: found %q, allowed: a whole number of tenths", line, name, value)
	}
	if d := r.day(date/10000, date/100%100, date%100); d != nil && v != -9999 {
		r.put(at(d), float64(v)/10, date/10000, date/100%100, date%100)
	}
	return nil
}

// isFixedWidth knows the fixed-width form: eleven letters of station, year and month,
// element, then 31 values with flags.
func isFixedWidth(first string) bool {
	if len(first) < 30 {
		return false
	}
	_, err := strconv.Atoi(first[11:17])
	return err == nil && !strings.Contains(first[:21], ",")
}

func (r *Record) readFixedWidth(in io.Reader) error {
	lines := bufio.NewScanner(in)
	flagged := 0
	for n := r.skipped + 1; lines.Scan(); n++ {
		text := lines.Text()
		if len(text) < 29 {
			continue
		}
		yearMonth, err := strconv.Atoi(text[11:17])
		if err != nil {
			return tongue.Errorf("line %d: year and month: found %q, allowed: 199807", n, text[11:17])
		}
		for dom := 1; dom <= 31 && 21+8*dom <= len(text); dom++ {
			cell := text[21+8*(dom-1) : 21+8*dom]
			if cell[6] != ' ' {
				flagged++
				continue
			}
			if err := r.element(text[17:21], cell[:5], 100*yearMonth+dom, n); err != nil {
				return err
			}
		}
	}
	r.noteFlagged(flagged)
	return lines.Err()
}
