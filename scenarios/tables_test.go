package scenarios

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the file of promises")

// keyGroup is one table of keys: where its keys stand, and its draft in a scenario.
type keyGroup struct {
	path   string
	fields []field
	draft  func(s *Scenario) *draft
}

// keyGroups are all tables of keys.
func keyGroups() []keyGroup {
	plain := func(s *Scenario) *draft { return &draft{Scenario: s} }
	site := func(s *Scenario) *draft {
		return &draft{Scenario: s, site: &s.Region.Sites[1], maxDryers: &s.MaxDryers[1], at: &s.at[1]}
	}
	return []keyGroup{
		{"contract", contractFields, plain},
		{"hub", hubFields, plain},
		{"dryer", dryerFields, plain},
		{"yard", yardFields, plain},
		{"luck", luckFields, plain},
		{"people", peopleFields, plain},
		{"people", plantingFields, plain},
		{"stand", standFields, plain},
		{"trouble", troubleFields, plain},
		{"road", roadFields, plain},
		{"store", storeFields, plain},
		{"money", moneyFields, plain},
		{"sites.Stone Weir", siteFields, site},
		{"weather", placeFields, plain},
		{"weather", climateFields, plain},
		{"weather.monsoon", monsoonFields, func(s *Scenario) *draft {
			return &draft{Scenario: s, weatherRaw: &rawWeather{s.Normals.Onset.OnsetSD, s.Normals.Onset.WithdrawalSD}}
		}},
	}
}

// baseFor returns a scenario that has the keys of a group.
func baseFor(t *testing.T, g keyGroup) *Scenario {
	t.Helper()
	text := string(whole(t).Write())
	switch {
	case g.path == "weather.monsoon":
		text = strings.Replace(text, "weather:\n", "weather:\n  monsoon: {onset: 6 jun, withdrawal: 28 sep}\n", 1)
	case g.path == "weather" && g.fields[0].key == climateFields[0].key:
		from, to := strings.Index(text, "weather:\n"), strings.Index(text, "contract:\n")
		text = text[:from] + "weather: {climate_file: climate.yaml}\n" + text[to:]
	}
	s, err := ReadWith("base", []byte(text), openMadeUp)
	require.NoError(t, err)
	return s
}

// others are values for keys of which not every value goes with the rest of the scenario.
var others = map[string]string{
	"dryer.shift_start_h": "8", "dryer.shift_end_h": "21", "sites.Stone Weir.dryers": "2", "sites.Stone Weir.max_dryers": "5", "sites.Stone Weir.longer_shift_h": "2",
	"dryer.holds_stalks_predried": "1600", "dryer.holds_stalks_fresh": "900", "money.grant_fraction": "0.2", "money.loan_fraction": "0.3",
	"sites.Stone Weir.cutting_h_per_day": "5",
}

// other returns another value of a key than a scenario has, such as it may have.
func other(d *draft, path string, f *field) string {
	now := f.value(d)
	if x, ok := others[path]; ok {
		return x
	}
	switch {
	case f.flag != nil:
		return map[string]string{"true": "false", "false": "true"}[now]
	case f.choice != nil:
		for _, c := range f.choices {
			if c != now {
				return c
			}
		}
	case f.whole != nil:
		if n := int(min(f.high, f.low+3)); fmt.Sprint(n) != now {
			return fmt.Sprint(n)
		}
		return fmt.Sprint(int(min(f.high, f.low+4)))
	}
	for _, part := range []float64{0.3, 0.4} {
		if x := plain(math.Round(1e4*(f.low+part*(f.high-f.low))) / 1e4); x != now {
			return x
		}
	}
	return now
}

// Every key of every table is changed by its path, lands where its row says, and comes back
// when the scenario is written and read: no group and no key is left out of the writer.
func TestEveryKeySurvivesWriting(t *testing.T) {
	keys := 0
	for _, g := range keyGroups() {
		base := baseFor(t, g)
		var changes []string
		want := map[string]string{}
		for i := range g.fields {
			f := &g.fields[i]
			path := g.path + "." + f.key
			now, x := f.value(g.draft(base)), other(g.draft(base), path, f)
			require.NotEqual(t, now, x, "%s: another value", path)
			changes, want[f.key] = append(changes, path+"="+x), x
			keys++
		}
		s, err := base.With(changes)
		require.NoError(t, err, g.path)
		back, err := ReadWith("back", s.Write(), openMadeUp)
		require.NoError(t, err, g.path)
		for i := range g.fields {
			f := &g.fields[i]
			assert.Equal(t, want[f.key], f.value(g.draft(s)), "%s.%s as changed", g.path, f.key)
			assert.Equal(t, want[f.key], f.value(g.draft(back)), "%s.%s written and read", g.path, f.key)
		}
		sameScenario(t, s, back)
	}
	assert.Greater(t, keys, 130, "keys of all tables")
}

// sameScenario requires two scenarios to say the same, field by field.
func sameScenario(t *testing.T, a, b *Scenario) {
	t.Helper()
	assert.Equal(t, a.Region, b.Region)
	assert.Equal(t, a.Base, b.Base)
	assert.Equal(t, a.Money, b.Money)
	assert.Equal(t, a.HasMoney, b.HasMoney)
	assert.Equal(t, a.MaxDryers, b.MaxDryers)
	assert.Equal(t, a.TargetOdds, b.TargetOdds)
	assert.Equal(t, a.Goal, b.Goal)
	assert.Equal(t, a.Currency, b.Currency)
	assert.Equal(t, a.Normals.Months, b.Normals.Months)
	assert.Equal(t, a.Normals.Onset, b.Normals.Onset)
	assert.Equal(t, a.climate, b.climate)
	assert.Equal(t, a.at, b.at)
	require.Len(t, b.Knowledge.Ranges, len(a.Knowledge.Ranges))
	for i := range a.Knowledge.Ranges {
		x, y := a.Knowledge.Ranges[i], b.Knowledge.Ranges[i]
		assert.Equal(t, []float64{x.Low, x.Mode, x.High}, []float64{y.Low, y.Mode, y.High}, x.Key)
	}
	assert.Equal(t, a.Hash, b.Hash)
}

// What is no row of a table survives too: spells, closures, moves, months, hauling, coordinates,
// ranges of knowledge.
func TestListsSurviveWriting(t *testing.T) {
	s, err := whole(t).With([]string{
		"contract.target_stock_stalks: jun=1200, jul=2300", "knowledge: mould_factor.low=1.1, mould_factor.mode=1.2, mould_factor.high=1.9, fixed=true",
		`Stone Weir: haul_to="Lower Channel", haul_stalks_per_day=40`, "people.away[1]: fraction=0.25", "currency=L$", "numbers_as_in=en-IN",
	})
	require.NoError(t, err)
	require.NotEmpty(t, s.Region.People.Away)
	require.NotEmpty(t, s.Region.Moves)
	require.NotEmpty(t, s.Region.Sites[0].Closed)
	back, err := Read("back", s.Write())
	require.NoError(t, err)
	sameScenario(t, s, back)
	assert.Equal(t, 1.9, back.Base.Stalk.MouldFactor*1.9/1.2)
	assert.True(t, back.Knowledge.Fixed)
	assert.Equal(t, "Lower Channel", back.Region.Sites[1].HaulTo)
}

// A bound is a promise: at it a value is read, or refused for what it does to another key;
// beyond it, it is refused, with what was found and both bounds.
func TestEveryBound(t *testing.T) {
	bounds := 0
	for _, g := range keyGroups() {
		base := baseFor(t, g)
		for i := range g.fields {
			f := &g.fields[i]
			if f.flag != nil || f.choice != nil {
				continue
			}
			path := g.path + "." + f.key
			step := 1e-6 * max(1, math.Abs(f.low), math.Abs(f.high))
			if f.whole != nil {
				step = 1
			}
			for _, end := range []struct{ at, beyond float64 }{{f.low, f.low - step}, {f.high, f.high + step}} {
				bounds++
				for _, x := range tried(t, base, path, plain(end.at)) {
					assert.False(t, x.Key == path && strings.Contains(x.Allowed, " to "+plain(f.high)), "%s = %s is within its bounds: found %s, allowed %s", path, plain(end.at), x.Found, x.Allowed)
				}
				faults := tried(t, base, path, plain(end.beyond))
				require.NotEmpty(t, faults, "%s = %s is beyond its bounds", path, plain(end.beyond))
				assert.Equal(t, path, faults[0].Key)
				assert.Equal(t, plain(end.beyond), faults[0].Found)
				assert.Contains(t, faults[0].Allowed, plain(f.low), path)
				assert.Contains(t, faults[0].Allowed, plain(f.high), path)
			}
		}
	}
	assert.Greater(t, bounds, 200)
}

// tried returns the faults of a scenario with one key changed, read with all the checks of a
// file.
func tried(t *testing.T, base *Scenario, path, value string) Faults {
	t.Helper()
	r := &reader{file: base.Name, open: base.reopen}
	root := base.tree()
	r.put(root, edit{path, bare(value)})
	_, err := r.build(base.Name, root)
	var faults Faults
	if err != nil {
		require.True(t, errors.As(err, &faults), "%v", err)
	}
	return faults
}

// Bounds, usual bands and defaults of all keys, written down a second time: one that moves is
// noticed, and moved on purpose in the file too (go test ./scenarios -update).
func TestBoundsAsPromised(t *testing.T) {
	const name = "../testdata/scenarios/promises.txt"
	var b strings.Builder
	for _, g := range keyGroups() {
		for i := range g.fields {
			f := &g.fields[i]
			missing := f.missing
			if missing == "" {
				missing = "required"
			}
			fmt.Fprintf(&b, "%s.%s: %g to %g, usually %g to %g, if missing %s\n", strings.Replace(g.path, "Stone Weir", "*", 1), f.key, f.low, f.high, f.usual[0], f.usual[1], missing)
		}
	}
	for _, f := range monthlyFields {
		missing := "filled in"
		if f.required {
			missing = "required"
		}
		fmt.Fprintf(&b, "weather.normals.%s[]: %g to %g, if missing %s\n", f.key, f.low, f.high, missing)
	}
	for i := range coordinateFields {
		fmt.Fprintf(&b, "sites.*.%s: %g to %g, with the other coordinate\n", coordinateFields[i].key, coordinateFields[i].low, coordinateFields[i].high)
	}
	if *update {
		require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, string(want), b.String())
}

// The schema for editors has the bounds that the reader keeps, of every key.
func TestSchemaHasTheBounds(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var root map[string]any
	require.NoError(t, json.Unmarshal(text, &root))
	seen := 0
	for _, g := range keyGroups() {
		at := root
		for _, part := range strings.Split(strings.Replace(g.path, "sites.Stone Weir", "sites", 1), ".") {
			at = at["properties"].(map[string]any)[part].(map[string]any)
		}
		if site, ok := at["additionalProperties"].(map[string]any); ok {
			at = site
		}
		for i := range g.fields {
			f := &g.fields[i]
			key, ok := at["properties"].(map[string]any)[f.key].(map[string]any)
			require.True(t, ok, "%s.%s is not in the schema", g.path, f.key)
			if f.flag == nil && f.choice == nil {
				assert.Equal(t, f.low, key["minimum"], f.key)
				assert.Equal(t, f.high, key["maximum"], f.key)
				seen++
			}
		}
	}
	assert.Greater(t, seen, 100)
}

// Months that cannot be meant are refused with the month: too few rain days for the rain, more
// rain days than millimetres, nights as warm as days. Heat gets a warning, once for a month.
func TestImplausibleMonths(t *testing.T) {
	s := whole(t)
	for change, want := range map[string]string{
		"weather.normals: rain_days[jul]=0.1":  "weather.normals.rain_days[jul]: found 0.1, allowed: some days for 520 mm of rain",
		"weather.normals: rain_mm[dec]=0.5":    "weather.normals.rain_days[dec]: found 1, allowed: no more than the month's rain in mm, 0.5: a rain day has at least 1 mm",
		"weather.normals: tmin_c[may]=34":      "weather.normals.tmin_c[may]: found 34, allowed: less than tmax_c, 34",
		"weather.normals: rain_days[jan]=40":   "",
		"weather.normals: rain_days[jul]=0.25": "ok",
	} {
		b, err := s.With([]string{change})
		switch want {
		case "ok":
			require.NoError(t, err, change)
			assert.Empty(t, b.Warnings, change)
		default:
			require.ErrorContains(t, err, want, change)
		}
	}
	hot, err := s.With([]string{"weather.normals: tmax_c[may]=48"})
	require.NoError(t, err)
	assert.Empty(t, hot.Warnings)
	hot, err = s.With([]string{"weather.normals: tmax_c[may]=48.5"})
	require.NoError(t, err)
	require.Len(t, hot.Warnings, 1)
	assert.Contains(t, hot.Warnings[0], "48.5 is very hot for a month's mean")
}

// Keys nested as deeply as no scenario needs are refused in one line, a little less deeply for
// what they say.
func TestNestingIsBounded(t *testing.T) {
	nested := func(levels int) string {
		return "region: " + strings.Repeat("{a: ", levels) + "1" + strings.Repeat("}", levels) + "\n"
	}
	_, err := Read("deep.yaml", []byte(nested(40)))
	require.ErrorContains(t, err, "found keys nested too deeply, allowed: at most a few levels")
	_, err = Read("flat.yaml", []byte(nested(3)))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "nested too deeply")
}
