package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// read reads a record from text.
func read(text string) (*Record, error) { return ReadRecord("x", strings.NewReader(text)) }

// Record forms: the same three days as columns, by year and in fixed width; flagged values
// are dropped.
func TestRecordForms(t *testing.T) {
	read := func(text string) *Record {
		r, err := ReadRecord("x", strings.NewReader(text))
		require.NoError(t, err)
		return r
	}
	columnsForm := read("# a comment\ndate,rain_mm,tmax_c,tmin_c\n1998-07-01,12.5,30.1,24\n1998-07-02,,29.9,24.2\n1998-07-03,0,31,25\n")
	byYear := read("IN1,19980701,PRCP,125,,,S,\nIN1,19980701,TMAX,301,,,S,\nIN1,19980702,PRCP,300,,K,S,\nIN1,19980703,PRCP,0,,,S,\n")
	fixed := "IN012070800199807PRCP"
	for d, v := range []int{125, 300, 0} {
		flag := byte(' ')
		if d == 1 {
			flag = 'K'
		}
		fixed += fmt.Sprintf("%5d %cS", v, flag)
	}
	for range 28 {
		fixed += "-9999   "
	}
	wide := read(fixed + "\n")
	cut := read(fixed[:21+3*8] + "\n") // a line that ends after three days
	const first = 181
	for _, r := range []*Record{columnsForm, byYear, wide, cut} {
		assert.Equal(t, 12.5, r.Years[0][first].RainMM)
		assert.True(t, math.IsNaN(r.Years[0][first+1].RainMM), "missing is not dry")
		assert.Equal(t, 0.0, r.Years[0][first+2].RainMM)
	}
	assert.Equal(t, 30.1, byYear.Years[0][first].TmaxC)
	for text, want := range map[string]string{
		"":                               "empty",
		"day;rain\n1;2\n":                "must name the columns date and rain_mm",
		"date,rain_mm\n1998-13-01,1\n":   "line 2: date",
		"date,rain_mm\n1998-07-01,wet\n": `line 2: rain_mm: found "wet"`,
		"date,rain_mm\n01.07.1998,2\n":   "line 2: date",
		"# only a comment":               "only comments",
		"# a\n# b\ndate,rain_mm\n1998-07-01,2\n1998-07-40,2\n":          "line 5: date",
		"# a\nIN1,19980701,PRCP,125,,,S,\nIN1,1998x701,PRCP,125,,,S,\n": "line 3: date",
		"# a\nIN012070800199807PRCP  1x5  S\n":                          "line 2: PRCP",
	} {
		_, err := ReadRecord("x", strings.NewReader(text))
		require.ErrorContains(t, err, want, "%q", text)
	}
}

// Every column of a table fills its own reading; what is not used is said, in the order of the file;
// years are put in order whatever the order of the lines; 29 February is dropped.
func TestColumnsOfARecord(t *testing.T) {
	r, err := read("note,vapour_pressure_kpa,date,tmin_c,prcp_mm,sunshine_fraction,tmax_c,wind\n" +
		"a, 2.5 ,2001-12-31,21,3.5,0.25,31,9\n" +
		"b,,1999-01-01,,0,,,\n" +
		"c,2,2000-02-29,1,1,1,2,\n" +
		"d,,2000-03-01,,7,,,\n")
	require.NoError(t, err)
	assert.Equal(t, 1999, r.FirstYear)
	require.Len(t, r.Years, 3)
	assert.Equal(t, Reading{RainMM: 3.5, TmaxC: 31, TminC: 21, SunFraction: 0.25, VapourKPa: 2.5}, r.Years[2][364])
	assert.Equal(t, 0.0, r.Years[0][0].RainMM)
	assert.False(t, has(r.Years[0][0].TmaxC))
	assert.False(t, has(r.Years[1][58].RainMM), "28 February")
	assert.Equal(t, 7.0, r.Years[1][59].RainMM, "1 March")
	assert.Equal(t, []string{"Columns not used: note, wind."}, r.Findings)
	r, err = read("date,rain_mm\n2001-01-31,1\n")
	require.NoError(t, err)
	assert.Empty(t, r.Findings)
	assert.Equal(t, 1.0, r.Years[0][30].RainMM)
}

// Days of the calendar, at each limit and beyond it.
func TestDaysOfTheCalendar(t *testing.T) {
	for _, tt := range []struct {
		year, month, day int
		at               int // -1 where it cannot be
	}{
		{1700, 1, 1, 0},
		{2200, 12, 31, 364},
		{1699, 12, 31, -1},
		{2201, 1, 1, -1},
		{2000, 0, 1, -1},
		{2000, 13, 1, -1},
		{2000, 4, 30, 119},
		{2000, 4, 31, -1},
		{2000, 5, 0, -1},
		{2000, 2, 28, 58},
		{2000, 2, 29, -1},
		{2000, 12, 1, 334},
	} {
		r := &Record{}
		d := r.day(tt.year, tt.month, tt.day)
		if tt.at < 0 {
			assert.Nil(t, d, "%+v", tt)
			continue
		}
		require.NotNil(t, d, "%+v", tt)
		assert.Same(t, &r.Years[0][tt.at], d, "%+v", tt)
		assert.False(t, has(d.RainMM))
	}
}

// The open archive's forms: rain and temperatures in tenths, flagged values dropped and counted, what
// is not used passed over, −9999 and 29 February missing.
func TestArchiveForms(t *testing.T) {
	byYear := "IN1,19980701,PRCP,125,,,S,\nIN1,1998-07-01,TMAX,301,,,S,\nIN1,19980701,TMIN,-12\nIN1,19980701,SNOW,x,,,S,\n" +
		"short,line\nIN1,19980702,PRCP,300,,K,S,\nIN1,19980702,TMAX,300,,D,S,\nIN1,19980703,PRCP,-9999,,,S,\nIN1,20000229,PRCP,7,,,S,\nIN1,19980704,PRCP,5,,\n"
	for _, head := range []string{"", "STATION,DATE,ELEMENT,DATA_VALUE,M,Q,S,T\n", "# a comment\nstation,date,element,value,m,q,s,t\n"} {
		r, err := read(head + byYear)
		require.NoError(t, err)
		require.Len(t, r.Years, 1)
		x := r.Years[0][181]
		assert.Equal(t, []float64{12.5, 30.1, -1.2}, []float64{x.RainMM, x.TmaxC, x.TminC})
		assert.False(t, has(r.Years[0][182].RainMM))
		assert.False(t, has(r.Years[0][182].TmaxC))
		assert.False(t, has(r.Years[0][183].RainMM))
		assert.Equal(t, 0.5, r.Years[0][184].RainMM)
		assert.Equal(t, []string{"2 values with a quality flag were dropped."}, r.Findings)
	}
	wide := "IN012070800199802TMIN"
	for d := range 31 {
		value, flag := -10*(d+1), " "
		if d == 27 {
			flag = "X"
		}
		wide += fmt.Sprintf("%5d %s ", value, flag)
	}
	r, err := read(wide + "\nshort\n" + strings.Replace(wide, "TMIN", "WESD", 1)[:29] + "\n")
	require.NoError(t, err)
	assert.Equal(t, -27.0, r.Years[0][57].TminC)
	assert.False(t, has(r.Years[0][58].TminC), "flagged")
	assert.False(t, has(r.Years[0][59].TminC), "29 to 31 February are no days of March")
	assert.Equal(t, []string{"1 values with a quality flag were dropped."}, r.Findings)
}

// Broken records: the line and what is allowed.
func TestBrokenRecords(t *testing.T) {
	fixed := "IN012070800199807PRCP  125  S    0  S"
	for text, want := range map[string]string{
		"date,rain_mm\n":                                         "no line with a date and a value",
		"date,tmax_c\n1998-07-01,30\n":                           `the first line is "date,tmax_c"`,
		"rain_mm,day\n1,2\n":                                     "must name the columns date and rain_mm",
		"# only":                                                 "only comments",
		"date,rain_mm\n1998-07-01,NaN\n":                         `line 2: rain_mm: found "NaN", allowed: a number`,
		"date,rain_mm\n1998-07-01,+Inf\n":                        `line 2: rain_mm: found "+Inf"`,
		"date,rain_mm\n1998-07-01,1\n1998-07-02\n":               "found 1 cells, allowed: 2",
		"date,rain_mm\n1998-06-31,1\n":                           "line 2: date: found \"1998-06-31\", allowed: a day of the calendar",
		"IN1,19980701,PRCP,1.5,,,S,\n":                           `line 1: PRCP: found "1.5", allowed: a whole number of tenths`,
		"IN1,19980701,PRCP,15,,,S,\nIN1,\"1,PRCP,15,,\n":         "extraneous or missing",
		"IN1,19980229,PRCP,15,,,S,\n":                            "no line with a date and a value",
		fixed + "\n" + strings.Replace(fixed, "1998", "19x8", 1): `line 2: year and month: found "19x807", allowed: 199807`,
		"\"date,rain_mm\n":                                       "no known form",
	} {
		_, err := read(text)
		require.ErrorContains(t, err, want, "%q", text)
		assert.ErrorContains(t, err, "x: ")
	}
	for text, want := range map[string][2]bool{ // by year, fixed width
		"IN1,19980701,PRCP,125":                  {true, false},
		"IN1,1998070,PRCP,125":                   {false, false},
		"IN1,1998x701,PRCP,125":                  {false, false},
		"IN1,19980701,PRCP":                      {false, false},
		"Station,Date,Element,Value":             {true, false},
		"date,rain_mm,tmax_c,tmin_c":             {false, false},
		"IN012070800199807PRCP  125  S ":         {false, true},
		"IN012070800199807PRCP  125  S":          {false, false},
		"IN012070800,99807PRCP  125  S ":         {false, false},
		"IN01207080x199807P,CP  125  S ":         {false, false},
		"IN0120708001998x7PRCP  125  S ":         {false, false},
		"IN012070800199807PRCP  125 ,S , more, ": {false, true},
	} {
		assert.Equal(t, want, [2]bool{isByYear(text), isFixedWidth(text)}, text)
	}
}

// wmoRow is a row of the table of normals with the same value in each month.
func wmoRow(station, place, variable, value string) string {
	return "IN," + station + "," + "1," + place + "," + variable + "," + strings.Repeat(value+",", 12) + "x\n"
}

// The table of normals by hand: units are brought to ours, quintiles kept, other variables passed
// over, and a station below 15 m lies on a coast.
func TestTableOfNormals(t *testing.T) {
	head := strings.Repeat("h,", 19) + "h\n"
	low, high := "17.5,82.1,14.9", "-3,82.1,15"
	raws, err := ReadWMOTable(strings.NewReader(head +
		wmoRow("A", low, "rain_mm x", "100") + wmoRow("A", low, "days_ge_1mm", "9") + wmoRow("A", low, "days_ge_0.3mm", "11") + wmoRow("A", low, "days_ge_2.5mm", "7") +
		wmoRow("A", low, "tmax_C", "31") + wmoRow("A", low, "tmin_C", "22") + wmoRow("A", low, "vapour_pressure_hPa", "25") + wmoRow("A", low, "dewpoint_C", "21") +
		wmoRow("A", low, "rh_pct", "80") + wmoRow("A", low, "sunshine_h", "200") + wmoRow("A", low, "rain_quintile_Q0", "1") + wmoRow("A", low, "rain_quintile_Q5", "6") +
		wmoRow("A", low, "rain_quintile_Q6", "7") + wmoRow("A", low, "rain_quintile_Q", "7") + wmoRow("A", low, "wind", "7") +
		wmoRow("B", high, "rain_mm", "5")))
	require.NoError(t, err)
	require.Len(t, raws, 2)
	a := raws[0]
	assert.Equal(t, "A 1", a.Station)
	assert.Equal(t, Place{LatitudeDeg: 17.5, ElevationM: 14.9, Coast: true}, a.Place)
	for i, tt := range []struct {
		got  *[12]float64
		want float64
	}{
		{a.RainMM, 100},
		{a.Days1MM, 9},
		{a.Days03MM, 11},
		{a.Days25MM, 7},
		{a.TmaxC, 31},
		{a.TminC, 22},
		{a.VapourKPa, 2.5},
		{a.DewPointC, 21},
		{a.Humidity, 0.8},
		{a.SunshineH, 200},
		{a.RainQuintiles[0], 1},
		{a.RainQuintiles[5], 6},
	} {
		require.NotNil(t, tt.got, "%d", i)
		for m := range 12 {
			assert.InDelta(t, tt.want, tt.got[m], 1e-12, "%d", i)
		}
	}
	assert.Nil(t, a.WindMS)
	assert.Nil(t, a.RainQuintiles[1])
	assert.Equal(t, RawNormals{Station: "B 1", Country: "IN", LongitudeDeg: 82.1, Place: Place{LatitudeDeg: -3, ElevationM: 15}, RainMM: raws[1].RainMM}, raws[1])
	for row, want := range map[string]string{
		wmoRow("A", "north,82,3", "rain_mm", "1"):                          `line 2: latitude "north" is not a number`,
		wmoRow("A", "17,east,3", "rain_mm", "1"):                           `line 2: longitude "east" is not a number`,
		wmoRow("A", "17,82,low", "rain_mm", "1"):                           `line 2: elevation "low" is not a number`,
		wmoRow("A", low, "rain_mm", "1") + wmoRow("A", low, "tmin_C", "-"): `line 3: tmin_C of A 1, month 1: "-" is not a number`,
		"a,b\n": "WMO normals: ",
	} {
		_, err := ReadWMOTable(strings.NewReader(head + row))
		require.ErrorContains(t, err, want)
	}
}
