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
	"unicode"

	"drystalk/tongue"
)

// The beginnings of files by their encoding.
const (
	utf8Mark    = "\xEF\xBB\xBF"
	utf16Little = "\xFF\xFE"
	utf16Big    = "\xFE\xFF"
)

// passMark reads over the byte-order mark of a file in UTF-8 and refuses one in UTF-16.
func passMark(in *bufio.Reader) error {
	start, _ := in.Peek(len(utf8Mark))
	switch text := string(start); {
	case text == utf8Mark:
		_, _ = in.Discard(len(utf8Mark))
	case strings.HasPrefix(text, utf16Little), strings.HasPrefix(text, utf16Big), strings.Contains(text, "\x00"):
		return tongue.Errorf("%w: found a file in UTF-16 or one that is no text, allowed: plain text in UTF-8; spreadsheets offer CSV in UTF-8 where they save", ErrNoRecord)
	}
	return nil
}

// columns are the names of CSV columns and where they stand in a reading.
var columns = map[string]func(*Reading) *float64{
	"rain_mm":             func(d *Reading) *float64 { return &d.RainMM },
	"prcp_mm":             func(d *Reading) *float64 { return &d.RainMM },
	"tmax_c":              func(d *Reading) *float64 { return &d.TmaxC },
	"tmin_c":              func(d *Reading) *float64 { return &d.TminC },
	"sunshine_fraction":   func(d *Reading) *float64 { return &d.SunFraction },
	"vapour_pressure_kpa": func(d *Reading) *float64 { return &d.VapourKPa },
}

// columnName returns the name of a column as this package knows it: "Rain (mm)" is rain_mm.
func columnName(head string) string {
	words := strings.FieldsFunc(strings.ToLower(head), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
	return strings.Join(words, "_")
}

// separator returns what stands between the cells of a first line: a comma, or the semicolon or
// the tabulator that spreadsheets write where the comma is for decimals.
func separator(in *bufio.Reader) rune {
	const longestHead = 4096
	start, _ := in.Peek(longestHead)
	head, _, _ := strings.Cut(string(start), "\n")
	for _, c := range ";\t" {
		if strings.ContainsRune(head, c) && !strings.Contains(head, ",") {
			return c
		}
	}
	return ','
}

// readColumns reads CSV with a header.
func (r *Record) readColumns(in *bufio.Reader) error {
	c := csv.NewReader(in)
	c.Comma, c.Comment = separator(in), '#'
	c.TrimLeadingSpace = c.Comma != '\t' // a tabulator is a space to it
	first, err := c.Read()
	if err != nil {
		return fmt.Errorf("%w: %w", ErrNoRecord, err)
	}
	head := make([]string, len(first))
	for i := range first {
		head[i] = columnName(first[i])
	}
	date := slices.Index(head, "date")
	rain := slices.Contains(head, "rain_mm") || slices.Contains(head, "prcp_mm")
	if date < 0 || !rain {
		return tongue.Errorf("%w: the first line is %q; it must name the columns date and rain_mm, and may name tmax_c, tmin_c, sunshine_fraction, vapour_pressure_kpa", ErrNoRecord, strings.Join(first, string(c.Comma)))
	}
	if err := r.noteColumns(head, date); err != nil {
		return err
	}
	if err := r.yardColumns(head); err != nil {
		return err
	}
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err := r.shapeFault(err, len(row), len(head)); err != nil {
			return err
		}
		line, _ := c.FieldPos(0)
		if err := r.fill(head, row, date, r.skipped+line); err != nil {
			return err
		}
	}
}

// noteColumns notes columns that are not used, and refuses two of one name.
func (r *Record) noteColumns(head []string, date int) error {
	var unused []string
	for i, name := range head {
		if slices.Contains(head[:i], name) && (columns[name] != nil || name == "date") {
			return tongue.Errorf("%w: the first line names %s twice", ErrNoRecord, name)
		}
		if i != date && columns[name] == nil {
			unused = append(unused, name)
		}
	}
	if len(unused) > 0 {
		r.Findings = append(r.Findings, tongue.Plainf("Columns not used: %s.", strings.Join(unused, ", ")))
	}
	return nil
}

// shapeFault says what is wrong with the shape of a line of CSV.
func (r *Record) shapeFault(err error, cells, want int) error {
	var fault *csv.ParseError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &fault) && errors.Is(err, csv.ErrFieldCount):
		return tongue.Errorf("line %d: found %d cells, allowed: %d as in the first line; decimals are written with a point, or with a comma where semicolons stand between cells", r.skipped+fault.Line, cells, want)
	case errors.As(err, &fault):
		return tongue.Errorf("line %d: found a line that is no CSV (%w), allowed: cells with a separator between them", r.skipped+fault.Line, fault.Err)
	}
	return err
}

// fill fills the reading of a day from a line.
func (r *Record) fill(head, row []string, date, line int) error {
	var year, month, dom int
	if _, err := fmt.Sscanf(strings.TrimSpace(row[date]), "%4d-%2d-%2d", &year, &month, &dom); err != nil {
		return tongue.Errorf("line %d: date: found %q, allowed: 1998-07-31", line, row[date])
	}
	if month == 2 && dom == 29 {
		return nil
	}
	d := r.day(year, month, dom)
	if d == nil {
		return tongue.Errorf("line %d: date: found %q, allowed: a day of the calendar", line, row[date])
	}
	for i, name := range head {
		at := columns[name]
		if at == nil || strings.TrimSpace(row[i]) == "" {
			continue
		}
		v, ok := decimalOf(row[i])
		if !ok {
			return tongue.Errorf("line %d: %s: found %q, allowed: a number such as 12.5 or 12,5, or nothing where it is missing", line, name, row[i])
		}
		if err := r.yardValue(name, v, line); err != nil {
			return err
		}
		r.put(at(d), v, year, month, dom)
	}
	return r.yardDay(d, time.Date(year, time.Month(month), dom, 0, 0, 0, 0, time.UTC), line)
}

// decimalOf reads a number with a decimal point, or with a decimal comma and one or two digits
// behind it; three would be thousands to some and thousandths to others.
func decimalOf(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	if whole, behind, comma := strings.Cut(text, ","); comma {
		if len(behind) < 1 || len(behind) > 2 || strings.Contains(whole, ".") {
			return 0, false
		}
		text = whole + "." + behind
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}
