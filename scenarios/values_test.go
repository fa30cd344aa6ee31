package scenarios

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// Numbers are plain decimal ones, and whole where people and pieces are counted.
func TestNumbers(t *testing.T) {
	const whole, number = "a whole number from 0 to 10000", "a number from 0 to 1000000"
	for value, want := range map[string]int{"3": 3, "0": 0, "10000": 10_000, "3.0": 3, "3e2": 300} {
		assert.Equal(t, want, read(t, changed(t, "cutters: 3", "cutters: "+value)).Region.Sites[0].Cutters, value)
	}
	for value, found := range map[string]string{
		"10001": "10001", "-1": "-1", "2.5": "2.5", "0x3": `"0x3"`, "0x1p2": "0x1p2", "0X1P2": "0X1P2", "1_0": "1_0", ".nan": `".nan"`, "NaN": "NaN", "Infinity": "Infinity", "-Inf": "-Inf",
		`"3"`: `"3"`, `'3'`: `"3"`, "[3]": "a list", "{a: 3}": "a group of keys", "~": "nothing", `""`: `""`, "three": `"three"`, "1e-1": "1e-1",
	} {
		assert.Equal(t, "f:6: sites.Stone Weir.cutters: found "+found+", allowed: "+whole, said(t, changed(t, "cutters: 3", "cutters: "+value)), value)
	}
	for _, value := range []string{"3.000", "3,000"} {
		assert.Equal(t, "f:6: sites.Stone Weir.cutters: found "+value+", allowed: a whole number without marks, such as 3000", said(t, changed(t, "cutters: 3", "cutters: "+value)))
	}
	for value, want := range map[string]float64{"1e6": 1e6, "0": 0, "0.125": 0.125, "1000000": 1e6} {
		assert.Equal(t, want, read(t, changed(t, "open_rack_m2: 75", "open_rack_m2: "+value)).Region.Sites[0].OpenRackM2, value)
	}
	for _, value := range []string{"1000000.1", "-0.1"} {
		assert.Equal(t, "f:6: sites.Stone Weir.open_rack_m2: found "+value+", allowed: "+number, said(t, changed(t, "open_rack_m2: 75", "open_rack_m2: "+value)))
	}
}

// Switches are true or false, bare; choices are by name.
func TestSwitchesAndChoices(t *testing.T) {
	wrong(t, "dryers: 2", map[string]string{
		"sheets: true": "", "sheets: false": "",
		"sheets: yes":      `f:6: sites.Stone Weir.sheets: found "yes", allowed: true or false`,
		"sheets: 1":        "f:6: sites.Stone Weir.sheets: found 1, allowed: true or false",
		`sheets: "true"`:   `f:6: sites.Stone Weir.sheets: found "true", allowed: true or false`,
		"sheets: [true]":   "f:6: sites.Stone Weir.sheets: found a list, allowed: true or false",
		"sheets: {a: b}":   "f:6: sites.Stone Weir.sheets: found a group of keys, allowed: true or false",
		"sealed_store: no": `f:6: sites.Stone Weir.sealed_store: found "no", allowed: true or false`,
	})
	assert.True(t, read(t, changed(t, "dryers: 2", "sheets: true")).Region.Sites[0].Sheets)
	assert.False(t, read(t, changed(t, "dryers: 2", "sheets: false")).Region.Sites[0].Sheets)
	for k, rule := range []string{"most_at_risk", "driest", "wettest", "oldest"} {
		assert.Equal(t, sim.LoadingRule(k), read(t, tiny+"dryer: {loads_first: "+rule+"}\n").Region.Dryer.LoadingRule, rule)
	}
	for _, value := range []string{"[driest]", "{driest: 1}", "Driest"} {
		assert.Contains(t, said(t, tiny+"dryer: {loads_first: "+value+"}\n"), "f:8: dryer.loads_first: found ", value)
	}
	assert.Equal(t, "f:8: dryer.loads_first: found a list, allowed: most_at_risk, driest, wettest, oldest", said(t, tiny+"dryer: {loads_first: [driest]}\n"))
}

// Names have 1 to 80 letters on one line.
func TestNames(t *testing.T) {
	long := strings.Repeat("a", 80)
	const allowed = ", allowed: a name of 1 to 80 letters on one line"
	wrong(t, "region: Here", map[string]string{
		"region: " + long: "", "region: 12": "", "region: a": "",
		"region: " + long + "b":               `f:1: region: found "` + long + `b"` + allowed,
		`region: ""`:                          `f:1: region: found ""` + allowed,
		"region:":                             "f:1: region: found nothing" + allowed,
		`region: "a\tb"`:                      `f:1: region: found "a\tb"` + allowed,
		"region: [a]":                         "f:1: region: found a list" + allowed,
		"region: {a: b}":                      "f:1: region: found a group of keys" + allowed,
		"currency: L$":                        "f:1: region: found nothing, allowed: a name",
		"region: Here\ncurrency: " + `"L\n$"`: `f:2: currency: found "L\n$"` + allowed,
	})
	assert.Equal(t, long, read(t, changed(t, "Here", long)).Region.Name)
	assert.Empty(t, read(t, tiny).Currency)
	assert.Equal(t, "L$", read(t, tiny+"currency: L$\n").Currency)
	assert.Equal(t, "en-IN", read(t, tiny+"numbers_as_in: en-IN\n").NumbersAsIn)
}

// A value is said as it stands: numbers bare, words in quotes, groups and lists by their kind.
func TestValuesAreDescribed(t *testing.T) {
	for want, n := range map[string]*node{
		"nothing": bare(""), `""`: quote(""), "3": bare("3"), "-2.5e3": bare("-2.5e3"), `"4"`: quote("4"), `"a b"`: bare("a b"), `"c"`: quote("c"), "a list": {kind: sequence}, "a group of keys": {kind: mapping, text: "x"},
	} {
		assert.Equal(t, want, describe(n))
	}
}

// Dates are a day and a month, three letters of it or more, in any case.
func TestDates(t *testing.T) {
	type date struct {
		month time.Month
		day   int
	}
	for text, want := range map[string]date{
		"1 mar": {3, 1}, "1 march": {3, 1}, "31 January": {1, 31}, "12 DECEMBER": {12, 12}, "9 sept": {9, 9}, "28 feb": {2, 28}, "05 may": {5, 5},
	} {
		r := &reader{}
		month, day, ok := r.date(bare(text), "k")
		assert.True(t, ok, text)
		assert.Equal(t, want, date{month, day}, text)
	}
	last := []int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	for m, name := range monthNames {
		r := &reader{}
		month, day, ok := r.date(bare(plain(float64(last[m]))+" "+name), "k")
		assert.True(t, ok, name)
		assert.Equal(t, date{time.Month(m + 1), last[m]}, date{month, day})
		_, _, ok = r.date(bare(plain(float64(last[m]+1))+" "+name), "k")
		assert.False(t, ok, name)
		_, _, ok = r.date(bare("0 "+name), "k")
		assert.False(t, ok, name)
	}
	wrong(t, "start: 1 jun", map[string]string{
		"start: 1 ma":       `f:2: season.start: found "1 ma", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: 1 marx":     `f:2: season.start: found "1 marx", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: jun 1":      `f:2: season.start: found "jun 1", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: 1":          `f:2: season.start: found 1, allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: -1 jun":     `f:2: season.start: found "-1 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: 1.5 jun":    `f:2: season.start: found "1.5 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: [1 jun]":    `f:2: season.start: found a list, allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: {1 jun: 1}": `f:2: season.start: found a group of keys, allowed: a day and a month, such as "1 mar", in a year without 29 February`,
	})
}

// The season is one day to a year long and begins on a day.
func TestSeasons(t *testing.T) {
	wrong(t, "season: {start: 1 jun, days: 61}", map[string]string{
		"season: {start: 1 jun, days: 1}": "", "season: {start: 1 jun, days: 365}": "", "season: {start: 30 jun, days: 1}": "",
		"season: {start: 1 jun, days: 366}":        "f:2: season.days: found 366, allowed: a whole number from 1 to 365",
		"season: {start: 1 jun, days: 0}":          "f:2: season.days: found 0, allowed: a whole number from 1 to 365",
		"season: {start: 1 jun, days: 30.5}":       "f:2: season.days: found 30.5, allowed: a whole number from 1 to 365",
		"season: {start: 1 jun}":                   "f:2: season.days: found nothing, allowed: a whole number from 1 to 365",
		"season: {days: 61}":                       `f:2: season.start: found nothing, allowed: a day and a month, such as "1 mar"`,
		"season: {start: 1 jun, days: 61, dys: 3}": "f:2: season.dys: found an unknown key, did you mean days?",
		"season: 3":                       "f:2: season: found 3, allowed: a group of keys",
		"season: {start: 9 jum, days: 0}": `f:2: season.start: found "9 jum", allowed: a day and a month, such as "1 mar", in a year without 29 February` + "\nf:2: season.days: found 0, allowed: a whole number from 1 to 365",
		"seson: {start: 1 jun, days: 61}": "f:2: seson: found an unknown key, did you mean season?",
		"hub: {}":                         "f:1: season: found nothing, allowed: this group of keys is required",
	})
	s := read(t, tiny)
	assert.Equal(t, sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 61}, s.Region.Calendar)
	for date, want := range map[string]int{"1 jun": 0, "1-jun": 0, "2-jun": 1, "1-jul": 30, "31 jul": 60} {
		d, err := s.DayOf(date)
		require.NoError(t, err, date)
		assert.Equal(t, want, d, date)
	}
	for _, date := range []string{"31-may", "1 aug", "1 jan", "soon", "1-jux"} {
		d, err := s.DayOf(date)
		require.EqualError(t, err, `found "`+date+`", allowed: a day of the season such as 1-aug`)
		assert.Zero(t, d)
	}
	winter := read(t, changed(t, "1 jun", "1 dec", "jun: 1000", "jan: 1000"))
	assert.Equal(t, 1000, winter.Region.Contract.StalksByMonth[time.January])
	d, err := winter.DayOf("1-jan")
	require.NoError(t, err)
	assert.Equal(t, 31, d)
}

// The contract asks for whole stalks in months of the season; without a stock wanted ahead,
// one largest month is, at the end of each month, and that is listed as a default.
func TestContracts(t *testing.T) {
	wrong(t, "contract: {stalks_per_month: {jun: 1000}}", map[string]string{
		"contract: {stalks_per_month: {jun: 1}}": "", "contract: {stalks_per_month: {jun: 0, jul: 100000000}}": "",
		"contract: {stalks_per_month: {jun: 0}}":                                "f:4: contract.stalks_per_month: found no stalks in any month, allowed: at least one month with stalks",
		"contract: {stalks_per_month: {jun: 100000001}}":                        "f:4: contract.stalks_per_month.jun: found 100000001, allowed: a whole number from 0 to 100000000",
		"contract: {stalks_per_month: {jun: 0.5, jul: -1}}":                     "f:4: contract.stalks_per_month.jun: found 0.5, allowed: a whole number from 0 to 100000000\nf:4: contract.stalks_per_month.jul: found -1, allowed: a whole number from 0 to 100000000",
		"contract: {stalks_per_month: {jan: 5, jul: 3}}":                        "f:4: contract.stalks_per_month.jan: found a month outside the season, allowed: months between season.start and its last day",
		"contract: {stalks_per_month: 3}":                                       "f:4: contract.stalks_per_month: found 3, allowed: months with stalks, such as {jul: 60000}",
		"contract: {target_odds: 0.9}":                                          "f:4: contract.stalks_per_month: found nothing, allowed: months with stalks, such as {jul: 60000}",
		"contract: {stalks_per_month: {jun: 5}, target_stock_stalks: {aug: 1}}": "f:4: contract.target_stock_stalks.aug: found a month outside the season, allowed: months between season.start and its last day",
		"contract: {stalks_per_month: {jun: 5}, target_stock_stalks: [1]}":      "f:4: contract.target_stock_stalks: found a list, allowed: months with stalks, such as {jul: 60000}",
		"contract: {stalks_per_month: {jun: 5}, target_odd: 0.9}":               "f:4: contract.target_odd: found an unknown key, did you mean target_odds?",
		"contract: [1]": "f:4: contract: found a list, allowed: a group of keys",
	})
	s := read(t, changed(t, "jun: 1000", "jun: 1000, jul: 3000"))
	assert.Equal(t, map[time.Month]int{6: 1000, 7: 3000}, s.Region.Contract.StalksByMonth)
	assert.Equal(t, map[time.Month]int{6: 3000, 7: 3000}, s.Region.Contract.TargetStock)
	assert.Contains(t, s.defaults, Default{"contract.target_stock_stalks", "good stalks wanted ahead of the contract at the end of each month", "3000", "stalks", "assumption: one largest month ahead"})
	s = read(t, changed(t, "{jun: 1000}", "{jun: 1000}, target_stock_stalks: {jul: 7}"))
	assert.Equal(t, map[time.Month]int{7: 7}, s.Region.Contract.TargetStock)
	for _, d := range s.defaults {
		assert.NotEqual(t, "contract.target_stock_stalks", d.Key)
	}
}

// At the ends of its usual band a number is no surprise; beyond them it gets one warning, with
// the band and a hint.
func TestUsualBands(t *testing.T) {
	bands := 0
	for _, g := range keyGroups() {
		base := baseFor(t, g)
		for i := range g.fields {
			f := &g.fields[i]
			if f.usual == [2]float64{} {
				continue
			}
			bands++
			path := g.path + "." + f.key
			for k, end := range f.usual {
				require.Empty(t, warned(t, base, path, end), "%s = %g", path, end)
				beyond := end + float64(2*k-1)*max(1e-3*end, 1e-3)
				if f.whole != nil {
					beyond = end + float64(2*k-1)
				}
				if beyond < f.low || beyond > f.high {
					continue
				}
				warnings := warned(t, base, path, beyond)
				require.Len(t, warnings, 1, "%s = %g", path, beyond)
				assert.Equal(t, base.Name+": "+path+": "+plain(beyond)+" is outside the usual "+plain(f.usual[0])+" to "+plain(f.usual[1])+" ("+f.hint.String()+")", warnings[0])
			}
		}
	}
	assert.GreaterOrEqual(t, bands, 12)
}

// warned returns the warnings about a key with a value, whatever it does to other keys.
func warned(t *testing.T, base *Scenario, path string, x float64) []string {
	t.Helper()
	r := &reader{file: base.Name, open: base.reopen}
	root := base.tree()
	r.put(root, edit{path, bare(plain(x))})
	_, _ = r.build(base.Name, root)
	var out []string
	for _, w := range r.warnings {
		if w.key == path {
			out = append(out, w.sentence)
		}
	}
	return out
}
