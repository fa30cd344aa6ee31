package scenarios

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
	"drystalk/sim/plans"
)

// A change lands in its key and nowhere else; what is wrong is said of the change.
func TestWith(t *testing.T) {
	s, err := Demo(LakeTavari)
	require.NoError(t, err)
	b, err := s.With([]string{"Heron Point: dryers=2, crew=1", "dryer: shift_end_h=22", "Old Sluice: haul_to=Heron Point, haul_stalks_per_day=500"})
	require.NoError(t, err)
	assert.Equal(t, 2, b.Region.Sites[1].Dryers)
	assert.Equal(t, "Heron Point", b.Region.Sites[2].HaulTo)
	diff, err := Differences(s, b)
	require.NoError(t, err)
	assert.Equal(t, []plans.Difference{
		{Key: "dryer.shift_end_h", A: "19", B: "22", Plan: true},
		{Key: "sites.Heron Point.crew", A: "0", B: "1", Plan: true},
		{Key: "sites.Heron Point.dryers", A: "0", B: "2", Plan: true},
		{Key: "sites.Old Sluice.haul_stalks_per_day", A: "0", B: "500", Plan: true},
		{Key: "sites.Old Sluice.haul_to", A: "", B: `"Heron Point"`, Plan: true},
	}, diff)
	assert.Equal(t, s.Knowledge.Assumptions(), b.Knowledge.Assumptions(), "sources are kept")
	assert.Less(t, len(s.Assumptions())-len(b.Assumptions()), 5, "defaults that were not changed are still listed")
}

// Every faulty change is told as a fault: the flag, the key, what was found, what is allowed.
func TestFaultsOfChanges(t *testing.T) {
	s := whole(t)
	for change, want := range map[string]string{
		"Stone Weir dryers=2":                  `--with: found "Stone Weir dryers=2", allowed: a site or a group of keys, a colon and changes, such as "Heron Point: dryers=2"`,
		"Stone Wier: dryers=2":                 `--with: found "Stone Wier", allowed: Lower Channel, Stone Weir, hub, dryer, yard, people, store, road, region, invented, currency, numbers_as_in, season, weather, weathers, contract, stand, trouble, moves, money, luck, knowledge; did you mean Stone Weir?`,
		"Stone Weir: dryers":                   `--with: found "dryers", allowed: key=value, such as dryers=2`,
		"Stone Weir: crew=":                    `--with: found "crew=", allowed: key=value, such as dryers=2`,
		"Stone Weir: dyers=2":                  "--with: sites.Stone Weir.dyers: found an unknown key, did you mean dryers?",
		"Stone Weir: dryers=two":               `--with: sites.Stone Weir.dryers: found "two", allowed: a whole number from 0 to 50`,
		"Stone Weir: dryers=51":                `--with: sites.Stone Weir.dryers: found 51, allowed: a whole number from 0 to 50`,
		"Stone Weir: dryers={a: 1}":            `--with: sites.Stone Weir.dryers: found "{a: 1}", allowed: a whole number from 0 to 50`,
		`Stone Weir: dryers="2"`:               `--with: sites.Stone Weir.dryers: found "2", allowed: a whole number from 0 to 50`,
		"Stone Weir: dryers=5":                 "--with: sites.Stone Weir.max_dryers: found 4, allowed: at least the 5 dryers of the plan",
		"dryer: shift_start_h=7\nx: 1":         `--with: dryer.shift_start_h: found "7\nx: 1", allowed: a number from 0 to 23`,
		"dryer: shift_end_h=7":                 "--with: dryer.shift_end_h: found 7, allowed: later than shift_start_h by more than loading and unloading",
		"dryer=3":                              "--with: dryer: found 3, allowed: one of its keys, such as dryer.set_temperature_c",
		"dryer.loads_first.x=3":                "--with: dryer.loads_first.x: found 3, allowed: no key below dryer.loads_first",
		"contract: stalks_per_month=3":         "--with: contract.stalks_per_month: found 3, allowed: one of its keys, such as contract.stalks_per_month.jun",
		"contract: stalks_per_month.june=3":    "--with: contract.stalks_per_month.june: found an unknown key, did you mean jun?",
		"contract: stalks_per_month.dec=3":     "--with: contract.stalks_per_month.dec: found a month outside the season, allowed: months between season.start and its last day",
		"weather: climate_file=b.yaml":         `--with: weather.climate_file: found "b.yaml", allowed: the climate that the scenario file names: another climate needs another file`,
		"weather: normals.rain_mm=1":           "--with: weather.normals.rain_mm: found 1, allowed: one entry of the list, such as weather.normals.rain_mm[1]",
		"weather: normals.wind_m_per_s[jul]=1": "--with: weather.normals.wind_m_per_s: found 1, allowed: a list that the file states: lists are begun there, and their entries can be changed here",
		"weather: wmo_station=43057":           "--with: weather: found none or more than one of wmo_station, normals and climate_file, allowed: one of the three",
		"weather: normals.tmax_c[jul]=56":      "--with: weather.normals.tmax_c[jul]: found 56, allowed: a number from -20 to 55",
		"knowledge: mould_factor.low=3":        "--with: knowledge.mould_factor: found 3, 1.5, 2.5, allowed: low at most mode, mode at most high",
		"knowledge: mould_factr.low=3":         "--with: knowledge.mould_factr: found an unknown key, did you mean mould_factor?",
		"moves[2]: cost=1":                     "--with: moves[2]: found 1, allowed: an entry from [1] to [1]; entries are added in the file",
		"moves[1]: to=Nowhere":                 `--with: moves[1].to: found "Nowhere", allowed: the name of a site`,
		"moves=3":                              "--with: moves: found 3, allowed: one entry of the list, such as moves[1].from",
		"sites.New Place.dryers=1":             "--with: sites.New Place: found 1, allowed: a site of the scenario (Lower Channel, Stone Weir); sites are added in the file",
		"Stone Weir: closed[1].why=x":          `--with: sites.Stone Weir.closed: found "x", allowed: a list that the file states: lists are begun there, and their entries can be changed here`,
		"region=" + strings.Repeat("a", 81):    `--with: region: found "` + strings.Repeat("a", 40) + ` ...", allowed: a value of at most 80 letters`,
		"season: days=10":                      `--with: people.away[1].to: found "16 jun", allowed: a day between season.start and the last day of the season`,
	} {
		_, err := s.With([]string{change})
		var faults Faults
		if assert.ErrorAs(t, err, &faults, change) {
			assert.Equal(t, want, faults[0].Error(), change)
		}
	}
	_, err := s.With([]string{"Stone Weir: dryers=two, crew=-1", "dryer: handling_h=9"})
	var faults Faults
	require.ErrorAs(t, err, &faults)
	assert.Len(t, faults, 3, "all that is wrong is told at once")
}

func whole(t *testing.T) *Scenario {
	t.Helper()
	data, err := os.ReadFile(folder + "whole.good.yaml")
	require.NoError(t, err)
	s, err := Read("whole.good.yaml", data)
	require.NoError(t, err)
	return s
}

// Whatever a file may hold is changed by the path of its key, and only that: months of the
// contract, weather, ranges of knowledge, entries of lists, names.
func TestWithReachesEveryKindOfKey(t *testing.T) {
	s := whole(t)
	for change, landed := range map[string]func(*Scenario) bool{
		"contract: stalks_per_month.jul=30000":            func(b *Scenario) bool { return b.Region.Contract.StalksByMonth[7] == 30_000 },
		"contract.target_stock_stalks: jun=5":             func(b *Scenario) bool { return b.Region.Contract.TargetStock[6] == 5 },
		"weather: latitude_deg=3":                         func(b *Scenario) bool { return b.Normals.Place.LatitudeDeg == 3 },
		"weather.normals: rain_mm[jul]=555":               func(b *Scenario) bool { return b.Normals.Months[6].RainMM == 555 },
		"weather: normals.tmax_c[12]=30":                  func(b *Scenario) bool { return b.Normals.Months[11].TmaxC == 30 },
		"weather.monsoon: onset=6 jun, withdrawal=28 sep": func(b *Scenario) bool { return b.Normals.Onset.OnsetDOY == 157 && b.Normals.Onset.OnsetSD == 7 },
		"knowledge: fixed=true":                           func(b *Scenario) bool { return b.Knowledge.Fixed },
		"knowledge: mould_factor.mode=1.25":               func(b *Scenario) bool { return b.Knowledge.Ranges[1].Mode == 1.25 && b.Base.Stalk.MouldFactor == 1.25 },
		"season: days=62":                                 func(b *Scenario) bool { return b.Region.Calendar.Days == 62 },
		"people: away[1].fraction=0.5": func(b *Scenario) bool {
			return b.Region.People.Away[0].Fraction == 0.5 && b.Region.People.Away[0].Name == "new year"
		},
		"people.away[2]: name=market":          func(b *Scenario) bool { return b.Region.People.Away[1].Name == "market" },
		"moves[1]: cost=7.5":                   func(b *Scenario) bool { return b.Region.Moves[0].Cost == 750 },
		"Lower Channel: closed[1].from=21 jul": func(b *Scenario) bool { return b.Region.Sites[0].Closed[0].FirstDay == 50 },
		`Stone Weir: haul_to="Lower Channel", crew=2`: func(b *Scenario) bool {
			return b.Region.Sites[1].HaulTo == "Lower Channel" && b.Region.Sites[1].Crew == 2
		},
		"sites.Stone Weir.sheets=true": func(b *Scenario) bool { return b.Region.Sites[1].Sheets },
		"currency=L$":                  func(b *Scenario) bool { return b.Currency == "L$" },
		"money: wood_per_kg=0.3":       func(b *Scenario) bool { return b.Money.WoodPerKg == 0.3 && b.Money.WoodRainsPerKg == 0.2 },
	} {
		b, err := s.With([]string{change})
		if !assert.NoError(t, err, change) {
			continue
		}
		assert.False(t, landed(s), "%s: it was so before", change)
		assert.True(t, landed(b), change)
		assert.NotEqual(t, s.Hash, b.Hash, change)
		again, err := Read("again", b.Write())
		require.NoError(t, err, change)
		assert.Equal(t, b.Hash, again.Hash, change)
	}
}

// A name of a site may hold what paths and changes are made of.
func TestWithNamesOfSites(t *testing.T) {
	text := strings.NewReplacer("  Lower Channel:", `  "St. Ann: pier, old":`, "from: Lower Channel", `from: "St. Ann: pier, old"`).Replace(string(whole(t).Write()))
	text = strings.NewReplacer(`"Lower Channel":`, `"St. Ann: pier, old":`, `from: "Lower Channel"`, `from: "St. Ann: pier, old"`).Replace(text)
	s, err := Read("names", []byte(text))
	require.NoError(t, err)
	require.Equal(t, "St. Ann: pier, old", s.Region.Sites[0].Name)
	b, err := s.With([]string{"St. Ann: pier, old: crew=3", `Stone Weir: haul_to="St. Ann: pier, old"`})
	require.NoError(t, err)
	assert.Equal(t, 3, b.Region.Sites[0].Crew)
	assert.Equal(t, s.Region.Sites[0].Name, b.Region.Sites[1].HaulTo)
	c, err := s.WithValues(map[string]string{"sites.St. Ann: pier, old.crew": "3"})
	require.NoError(t, err)
	assert.Equal(t, 3, c.Region.Sites[0].Crew)
}

// What was not changed keeps its source, its default and its warning with the line of the
// file; a new warning is of the change.
func TestChangesKeepOrigins(t *testing.T) {
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	s, err := Read("small.yaml", []byte(strings.Replace(string(data), "stalks_per_person_h: 117", "stalks_per_person_h: 900", 1)))
	require.NoError(t, err)
	same, err := s.With(nil)
	require.NoError(t, err)
	assert.Equal(t, s.Hash, same.Hash)
	assert.Equal(t, s.Assumptions(), same.Assumptions())
	require.Len(t, s.Warnings, 1)
	assert.Contains(t, s.Warnings[0], "small.yaml:15: sites.Lower Channel.stalks_per_person_h: 900 is outside the usual 50 to 600")
	b, err := s.With([]string{"dryer: target_moisture_wet_basis=0.18", "knowledge: living_h.mode=20"})
	require.NoError(t, err)
	require.Len(t, b.Warnings, 2)
	assert.Equal(t, s.Warnings[0], b.Warnings[0])
	assert.Contains(t, b.Warnings[1], "--with: dryer.target_moisture_wet_basis: 0.18 is outside the usual 0.12 to 0.15")
	assert.Len(t, b.defaults, len(s.defaults)-1)
	stated := 0
	require.NotEmpty(t, b.Knowledge.Ranges)
	for i, k := range b.Knowledge.Ranges {
		if k.Source == "stated in the scenario" {
			stated++
			assert.Equal(t, knowledge.LivingH, k.Key)
			continue
		}
		assert.Equal(t, s.Knowledge.Ranges[i].Source, k.Source)
	}
	assert.Equal(t, 1, stated)
	c, err := b.With([]string{"Lower Channel: stalks_per_person_h=500"})
	require.NoError(t, err)
	assert.Equal(t, b.Warnings[1:], c.Warnings, "what is mended warns no more")
}

// Changes are read with or without spaces, and of names that begin alike the longest is meant.
func TestWithAsItIsTyped(t *testing.T) {
	s := read(t, strings.NewReplacer("Stone Weir", `"Ferry"`, "Ferry Bank", `"Ferry: old"`).Replace(tiny))
	require.Equal(t, []string{"Ferry", "Ferry: old"}, siteNames(s))
	for change, want := range map[string][4]int{ // crew and dryers of both sites
		"Ferry: crew=3,dryers=1":             {3, 1, 0, 0},
		"  Ferry : crew = 3 ,  dryers = 1  ": {3, 1, 0, 0},
		"Ferry: old: crew=3, dryers=1":       {0, 2, 3, 1},
		"Ferry: old : crew=3,dryers=1":       {0, 2, 3, 1},
		"sites: Ferry.crew=3":                {3, 2, 0, 0},
		"Ferry: crew=3, crew=4":              {4, 2, 0, 0},
	} {
		b, err := s.With([]string{change})
		if !assert.NoError(t, err, change) {
			continue
		}
		x := b.Region.Sites
		assert.Equal(t, want, [4]int{x[0].Crew, x[0].Dryers, x[1].Crew, x[1].Dryers}, change)
		assert.Equal(t, []string{change}, b.Changes)
	}
	turned := read(t, strings.NewReplacer("Stone Weir", `"Ferry: old"`, "Ferry Bank", `"Ferry"`).Replace(tiny))
	b, err := turned.With([]string{"Ferry: old: crew=3"})
	require.NoError(t, err)
	assert.Equal(t, 3, b.Region.Sites[0].Crew)
	again := read(t, string(b.Write()))
	assert.Equal(t, b.Hash, again.Hash)
	assert.Equal(t, siteNames(b), siteNames(again))
}

// What is typed wrong is told of every part of a change.
func TestFaultsOfTyping(t *testing.T) {
	s := whole(t)
	const pair = ", allowed: key=value, such as dryers=2"
	const forty = "1111111111222222222233333333334444444444"
	for change, want := range map[string]string{
		"Stone Weir: dryers, crew=, =3":        `--with: found "dryers"` + pair + "\n" + `--with: found "crew="` + pair + "\n" + `--with: found "=3"` + pair,
		`Stone Weir: haul_to=""`:               `--with: sites.Stone Weir.haul_to: found "", allowed: a name of 1 to 80 letters on one line`,
		`Stone Weir: haul_to="Lower`:           `--with: sites: found hauling that cannot be: Stone Weir hauls to "\"Lower", which is no other site, allowed: haul_to another site, in no circle`,
		`region="`:                             "",
		`region=""`:                            `--with: region: found "", allowed: a name of 1 to 80 letters on one line`,
		"moves=" + forty:                       "--with: moves: found " + forty + ", allowed: one entry of the list, such as moves[1].from",
		"moves=" + forty + "5":                 `--with: moves: found "` + forty + ` ...", allowed: one entry of the list, such as moves[1].from`,
		"moves[0]: cost=1":                     "--with: moves[0]: found 1, allowed: an entry from [1] to [1]; entries are added in the file",
		"moves[jan]: cost=1":                   "--with: moves[jan]: found 1, allowed: an entry from [1] to [1]; entries are added in the file",
		"weather.normals: rain_mm[13]=1":       "--with: weather.normals.rain_mm[13]: found 1, allowed: an entry from [1] to [12]; entries are added in the file",
		"weather.normals: rain_mm[0]=1":        "--with: weather.normals.rain_mm[0]: found 1, allowed: an entry from [1] to [12]; entries are added in the file",
		"weather.normals: rain_mm[june]=1":     "--with: weather.normals.rain_mm[june]: found 1, allowed: an entry from [1] to [12]; entries are added in the file",
		"weather.normals=3":                    "--with: weather.normals: found 3, allowed: one of its keys, such as weather.normals.rain_mm[1]",
		"people.away[1]=3":                     "--with: people.away[1]: found 3, allowed: one of its keys, such as people.away[1].from",
		"weather.normals: humidity_fraction=1": "--with: weather.normals.humidity_fraction: found 1, allowed: a list that the file states: lists are begun there, and their entries can be changed here",
		"Stone Weir: x[1]=1":                   "--with: sites.Stone Weir.x: found 1, allowed: a list that the file states: lists are begun there, and their entries can be changed here",
		"region.x=1":                           "--with: region.x: found 1, allowed: no key below region",
		"harbour: crew=1":                      `--with: found "harbour", allowed: Lower Channel, Stone Weir, hub, dryer, yard, people, store, road, region, invented, currency, numbers_as_in, season, weather, weathers, contract, stand, trouble, moves, money, luck, knowledge`,
		"crew=1":                               `--with: found "crew=1", allowed: a site or a group of keys, a colon and changes, such as "Heron Point: dryers=2"`,
		"":                                     `--with: found "", allowed: a site or a group of keys, a colon and changes, such as "Heron Point: dryers=2"`,
		"money.money.money=1":                  "--with: money.money: found an unknown key, allowed: ",
	} {
		_, err := s.With([]string{change})
		if want == "" {
			assert.NoError(t, err, change)
			continue
		}
		if strings.HasSuffix(want, "allowed: ") {
			require.ErrorContains(t, err, want, change)
			continue
		}
		assert.EqualError(t, err, want, change)
	}
	b, err := s.With([]string{"region=" + strings.Repeat("a", 80)})
	require.NoError(t, err)
	assert.Len(t, b.Region.Name, 80)
	b, err = s.With([]string{"weather.normals: rain_mm[1]=7, rain_mm[12]=9, rain_mm[jul]=500"})
	require.NoError(t, err)
	assert.Equal(t, []float64{7, 500, 9}, []float64{b.raw.RainMM[0], b.raw.RainMM[6], b.raw.RainMM[11]})
}
