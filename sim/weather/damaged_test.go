package weather

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const santacruzFile = "mumbai_santacruz_IN012070800_daily_1950_1970_1980_1998.csv"

// long tells whether the long checks are asked for.
func long() bool { return os.Getenv("DRYSTALK_LONG") != "" }

// altered is a copy of a record, read again after its readings were changed.
func altered(r *Record, change func(y, d int, x *Reading)) *Record {
	c := &Record{Station: r.Station, FirstYear: r.FirstYear, Years: slices.Clone(r.Years)}
	for y := range c.Years {
		for d := range c.Years[y] {
			change(y, d, &c.Years[y][d])
		}
	}
	c.examine()
	return c
}

// holes blanks a share of all days at random.
func holes(share float64, seed uint64) func(y, d int, x *Reading) {
	rng := rand.New(rand.NewPCG(seed, seed))
	return func(_, _ int, x *Reading) {
		if rng.Float64() < share {
			*x = noReading()
		}
	}
}

// verdictOf fits and judges a record.
func verdictOf(t *testing.T, r *Record) FitReport {
	t.Helper()
	fitted, err := colaba()
	require.NoError(t, err)
	c, err := Fit(r, fitted.c.Rest, FitOptions{Seed: 1})
	require.NoError(t, err)
	report, err := Assess(r, c, AssessOptions{Years: 400, Seed: 2})
	require.NoError(t, err)
	t.Logf("%s, %.0f years: %s", report.Verdict, report.WholeYears, strings.Join(report.Why, " "))
	return report
}

// Gaps do not make a record worse than it is, and neither does its length: Mumbai Colaba whole,
// each half of it, with days blank at random and with a July blank in two years of three, and Mumbai
// Santacruz with its gaps are all judged alike (records: NOAA GHCN-Daily). What their season brings
// comes out alike too.
func TestGapsAndLengthDoNotChangeTheVerdict(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	whole, n := fitted.rec, len(fitted.rec.Years)
	assert.Equal(t, VerdictGood, fitted.report.Verdict, "%v", fitted.report.Why)
	half := func(from, to int) *Record {
		return altered(&Record{Station: "half", FirstYear: whole.FirstYear + from, Years: whole.Years[from:to]}, func(int, int, *Reading) {})
	}
	blankMonth := func(y, d int, x *Reading) {
		if monthOf(d) == 6 && y%3 > 0 {
			*x = noReading()
		}
	}
	records := map[string]*Record{"second half": half(n/2, n), "12 % blank": altered(whole, holes(0.12, 7)), "July blank": altered(whole, blankMonth)}
	if long() {
		records["first half"], records["5 % blank"] = half(0, n/2), altered(whole, holes(0.05, 7))
		records["Santacruz"] = record(t, santacruzFile)
	}
	require.GreaterOrEqual(t, len(records), 3)
	for name, r := range records {
		got := verdictOf(t, r)
		assert.Equal(t, VerdictGood, got.Verdict, "%s: %v", name, got.Why)
		if strings.Contains(name, "blank") {
			within := 0.15
			if name == "July blank" {
				within = 0.35 // 23 whole years tell less of the driest of ten
			}
			for _, line := range []string{"mean rain of the rains", "spread of the rain of the rains", "chances of three dry days in a row", "rain of the driest season of ten"} {
				assert.InEpsilon(t, fitted.report.LineOf(line).Observed, got.LineOf(line).Observed, within, "%s: %s", name, line)
			}
			assert.Greater(t, got.Missing, 0.04)
			assert.Contains(t, strings.Join(got.Why, " "), "of the days of the judged months are missing")
		}
	}
}

// A generator that misses by more than matters for drying is not called good, be the record long
// or short: rain a fifth heavier, three wet days more a month, and the textbook chain, whose years
// differ too little.
func TestWhatMattersIsNotCalledGood(t *testing.T) {
	fitted, err := colaba()
	require.NoError(t, err)
	change := func(change func(c *Climate)) Climate {
		c := fitted.c
		change(&c)
		return c
	}
	plain, err := Fit(fitted.rec, fitted.c.Rest, FitOptions{Seed: 1, Plain: true})
	require.NoError(t, err)
	half := &Record{Station: "half", FirstYear: 1936, Years: fitted.rec.Years[35:]}
	cases := map[string]struct {
		c    Climate
		want string
	}{
		"heavier":  {change(func(c *Climate) { c.Change.AmountFactor = 1.25 }), "mean rain of the rains"},
		"wetter":   {change(func(c *Climate) { c.Change.ChanceProbit = 0.25 }), "share of wet days in Sep"},
		"textbook": {plain, "spread of the rain of the rains"},
	}
	require.Len(t, cases, 3)
	for name, tt := range cases {
		for _, r := range []*Record{fitted.rec, half} {
			got, err := Assess(r, tt.c, AssessOptions{Years: 200, Seed: 2})
			require.NoError(t, err)
			t.Logf("%s: %s %v", name, got.Verdict, got.Why)
			assert.NotEqual(t, VerdictGood, got.Verdict, name)
			assert.Equal(t, Fails, got.LineOf(tt.want).State, name)
		}
	}
}

// damage is what may be wrong with a record, made by code from a sound one; and what must be said.
type damage struct {
	change func(y, d int, x *Reading)
	found  string // and where
	where  string
	grave  bool
}

// damages are the ways to damage a record that begins in firstYear and has n years.
func damages(r *Record) map[string]damage {
	n, sum := len(r.Years), 0.0
	inches := func(x *Reading) { x.RainMM = math.Round(100*x.RainMM/25.4) / 100 }
	rng := rand.New(rand.NewPCG(3, 3))
	date := func(y, d int) string { return dateWords(r.FirstYear+y, d) }
	weekly := func(y, d int, x *Reading) {
		if has(x.RainMM) {
			sum += x.RainMM
		}
		x.RainMM = 0
		if dateOf(r.FirstYear+y, d).Weekday() == time.Monday {
			x.RainMM, sum = round(sum, 10), 0
		}
	}
	return map[string]damage{
		"second half in inches": {func(y, _ int, x *Reading) {
			if y >= n/2 {
				inches(x)
			}
		}, "as inches are to millimetres", "from 19", true},
		"a year in inches": {func(y, _ int, x *Reading) {
			if y == 3 {
				inches(x)
			}
		}, "1 year(s) unlike the others", fmt.Sprint(r.FirstYear + 3), false},
		"99.9 for missing": {func(_, _ int, x *Reading) {
			if rng.Float64() < 0.01 {
				x.RainMM = 99.9
			}
		}, "The amount 99.9 mm comes", "first on", true},
		"a year twice with tripled rain": {func(y, d int, x *Reading) {
			if y == 13 {
				x.RainMM = round(3*r.Years[12][d].RainMM, 10)
			}
		}, "the same rain times 3", fmt.Sprintf("%d repeats %d", r.FirstYear+13, r.FirstYear+12), false},
		"1,500 mm in the dry season": {func(y, d int, x *Reading) {
			if y == 13 && d == 40 {
				x.RainMM = 1500
			}
		}, "1500 mm in a day", date(13, 40), false},
		"weekly readings on Mondays": {weekly, "Days of the week differ", "Mondays", true},
		"one amount for a week": {func(y, d int, x *Reading) {
			if y == 5 && d >= 200 && d < 207 {
				x.RainMM = 31.4
			}
		}, "The same amount on 5 days in a row", date(5, 204), false},
		"zeros for gaps": {func(y, d int, x *Reading) {
			if y == 4 && monthOf(d) == 6 {
				x.RainMM = 0
			}
		}, "without a drop", fmt.Sprint("July ", r.FirstYear+4), false},
	}
}

// What is wrong with a record is told with what was found, where, and what to do, and no such record
// is good for planning. Made by code from Mumbai Colaba and Mumbai Santacruz.
func TestDamagedRecordsAreFound(t *testing.T) {
	for _, file := range []string{colabaFile, santacruzFile} {
		sound := record(t, file)
		require.Empty(t, sound.Suspicions, file)
		all := damages(sound)
		require.Len(t, all, 8)
		for name, d := range all {
			r := altered(sound, d.change)
			i := slices.IndexFunc(r.Suspicions, func(s Suspicion) bool { return strings.Contains(s.Found, d.found) })
			if !assert.GreaterOrEqual(t, i, 0, "%s, %s: %v", file, name, r.Suspicions) {
				continue
			}
			s := r.Suspicions[i]
			assert.Contains(t, s.Where, d.where, name)
			assert.NotEmpty(t, s.Do, name)
			assert.Equal(t, d.grave, s.Grave, name)
			report := FitReport{WholeYears: 70, Suspicions: r.Suspicions}
			report.judge()
			assert.Equal(t, map[bool]string{false: VerdictCare, true: VerdictUseless}[d.grave], report.Verdict, name)
			assert.Equal(t, s.String(), report.Why[i])
		}
	}
}

// Damage is not caught at any cost: right of each size it is let be.
func TestSizesOfSuspicion(t *testing.T) {
	sound := record(t, colabaFile)
	changes := map[string]func(y, d int, x *Reading){
		"a third less from 1936 on": func(y, _ int, x *Reading) {
			if y >= 35 {
				x.RainMM = round(x.RainMM/1.33, 10)
			}
		},
		"a year of twice its rain": func(y, _ int, x *Reading) {
			if y == 30 {
				x.RainMM = round(2*x.RainMM, 10)
			}
		},
		"a cyclone of 300 mm in February": func(y, d int, x *Reading) {
			if y == 13 && d == 40 {
				x.RainMM = 300
			}
		},
		"two days of 99.9": func(y, d int, x *Reading) {
			if y == 13 && (d == 180 || d == 190) {
				x.RainMM = 99.9
			}
		},
		"a fifth of Sundays unread": func(y, d int, x *Reading) {
			if dateOf(1901+y, d).Weekday() == time.Sunday && y%5 == 0 {
				*x = noReading()
			}
		},
	}
	require.Len(t, changes, 5)
	for name, change := range changes {
		assert.Empty(t, altered(sound, change).Suspicions, name)
	}
}

// A year that a file holds twice, the second time with three times the rain: its days are taken as
// missing, because nobody can tell which are right, and the dates are told. The same again is only
// counted.
func TestDatesThatComeTwice(t *testing.T) {
	good, err := os.ReadFile("../../testdata/records/" + colabaFile)
	require.NoError(t, err)
	var again, same strings.Builder
	for line := range strings.Lines(string(good)) {
		if !strings.HasPrefix(line, "1930-") {
			continue
		}
		same.WriteString(line)
		date, mm, _ := strings.Cut(strings.TrimSpace(line), ",")
		var v float64
		if _, err := fmt.Sscan(mm, &v); err == nil {
			_, _ = fmt.Fprintf(&again, "%s,%.1f\n", date, 3*v)
		}
	}
	r, err := ReadRecord("twice", strings.NewReader(string(good)+again.String()))
	require.NoError(t, err)
	require.Len(t, r.Suspicions, 1)
	assert.Equal(t, "96 dates stand more than once in the file and say different things; they were taken as missing: from 19 May 1930 to 31 October 1930. Keep the right line of each date, and fit again.", r.Suspicions[0].String())
	wet := 0
	for d, x := range r.Years[29] {
		if x.RainMM > 0 {
			wet++
		}
		assert.False(t, has(x.RainMM) && x.RainMM > 0, "day %d", d)
	}
	assert.Zero(t, wet)
	r, err = ReadRecord("same", strings.NewReader(string(good)+same.String()))
	require.NoError(t, err)
	assert.Empty(t, r.Suspicions)
	require.Len(t, r.Findings, 1)
	assert.Contains(t, r.Findings[0], "values stand twice in the file and say the same")
	assert.Equal(t, record(t, colabaFile).Summary().RainMM, r.Summary().RainMM)
}

// Sound records are not suspected beyond the stated chance: the held records, nine gauges on Oahu,
// records drawn from the fitted climate and from WMO normals, of 5 to 35 years (the long check: ten
// of each station of the table).
func TestSoundRecordsAreNotSuspected(t *testing.T) {
	for _, r := range oahuRecords(t) {
		assert.Empty(t, r.Suspicions, r.Station)
	}
	fitted, err := colaba()
	require.NoError(t, err)
	climate, err := NewClimateSource(fitted.c)
	require.NoError(t, err)
	sources := map[string]Source{"colaba": climate}
	for _, raw := range wmoRaws(t) {
		if long() || strings.HasSuffix(raw.Station, "48327") {
			n, err := FillNormals(raw)
			require.NoError(t, err)
			if sources[raw.Station], err = NewNormalsSource(n); err != nil {
				delete(sources, raw.Station)
			}
		}
	}
	require.GreaterOrEqual(t, len(sources), 2)
	suspected, all := 0, 0
	for name, source := range sources {
		lengths := []int{5, 10, 12, 20, 35}
		if long() {
			lengths = append(lengths, lengths...)
		}
		for k, years := range lengths {
			rng := rand.New(rand.NewPCG(5, uint64(k)))
			var days []Day
			r := dailyRecord(years, func(_, d int, x *Reading) {
				if d == 0 {
					days = source.Days(1, 365, rng)
				}
				x.RainMM = days[d].RainMM
			})
			r.examine()
			all++
			if len(r.Suspicions) > 0 {
				suspected++
				t.Log(name, r.Suspicions)
			}
		}
	}
	t.Logf("%d of %d suspected", suspected, all)
	require.GreaterOrEqual(t, all, 10)
	assert.LessOrEqual(t, float64(suspected), suspectsOfSound*float64(all))
	if long() {
		assert.GreaterOrEqual(t, all, 200)
	}
}

// oahuRecords are the nine gauges of Oahu 2010-17 (NOAA GHCN-Daily), each a record of its own.
func oahuRecords(t *testing.T) []*Record {
	data, err := os.ReadFile("../../testdata/records/oahu_9_stations_daily_rain_2010_2017.csv")
	require.NoError(t, err)
	rows := strings.Split(strings.TrimSpace(string(data)), "\n")
	head := strings.Split(rows[1], ",")
	require.Len(t, head, 10)
	var out []*Record
	for k := 1; k < len(head); k++ {
		text := "date,rain_mm\n"
		for _, row := range rows[2:] {
			cells := strings.Split(row, ",")
			text += cells[0] + "," + cells[k] + "\n"
		}
		r, err := ReadRecord(head[k], strings.NewReader(text))
		require.NoError(t, err)
		out = append(out, r)
	}
	return out
}

// wmoRaws are the stations of the WMO table.
func wmoRaws(t *testing.T) []RawNormals {
	f, err := os.Open("../../testdata/records/wmo_clino_1991_2020_monsoon_normals.csv")
	require.NoError(t, err)
	defer func() { _ = f.Close() }()
	raws, err := ReadWMOTable(f)
	require.NoError(t, err)
	require.Greater(t, len(raws), 20)
	return raws
}
