package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// headings returns the lines of a text that are not indented.
func headings(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, " ") {
			out = append(out, strings.TrimSuffix(line, "\n"))
		}
	}
	return out
}

// What stands behind a scenario comes group by group, each key with its value, meaning, bounds
// and default.
func TestExplainByGroup(t *testing.T) {
	middle := []string{"numbers_as_in (how answers write numbers; default en, 1,322,350.5): en", "contract", "hub", "dryer", "yard", "luck", "people", "people: planting", "stand (where a site states stand_m2)", "trouble", "road", "store"}
	with := func(money string, lists []string, last ...string) []string {
		out := append(append(append([]string(nil), middle...), money), lists...)
		return append(append(out, "weather"), last...)
	}
	none := []string{"people.away (spells in which cutters are away; default none): ", "moves (dryers taken from one site to another; default none): "}
	const unknown = "knowledge (drawn anew each season between low and high unless fixed)"
	sites := []string{unknown, "site Stone Weir", "site Ferry Bank"}
	station := append([]string{"weather: change"}, sites...)
	s := read(t, tiny)
	text := s.Explain()
	assert.Equal(t, with("money: no prices stated, so nothing is said of money", none, station...), headings(text))
	for _, piece := range []string{
		"hub\n  opening_stock_stalks: 0 stalks\n    good stalks at the hub on the first day\n    allowed: a whole number from 0 to 100000000; if missing 0 (nothing in stock)\n",
		"  cutters: 3 people\n    people who cut\n    allowed: a whole number from 0 to 10000; required\n",
		"  sheets: false \n    open racks are covered by sheets when it rains\n    allowed: true or false; if missing false (none stated)\n",
		"  loads_first: most_at_risk \n    which batches go in first\n    allowed: most_at_risk, driest, wettest, oldest; if missing most_at_risk (",
		"  station: Dhaka 41923, latitude 23.767°, elevation 8.45 m\n",
		"  mould_factor: low 1, mode 1.5, high 2.5 times pine\n    mould growth; source: low: Hukka & Viitanen 1999 for pine",
	} {
		assert.Contains(t, text, piece)
	}
	require.NotEmpty(t, s.Normals.Filled)
	for _, f := range s.Normals.Filled {
		assert.Contains(t, text, "  stand-in: "+f+"\n")
	}

	lists := []string{
		"people.away (spells in which cutters are away; default none): [{from: 1 jul, to: 2 jul, fraction: 1}]",
		`moves (dryers taken from one site to another; default none): [{from: "Stone Weir", to: "Ferry Bank", on: 1 jul, days_lost: 3, cost: 0}]`,
		`sites.Ferry Bank.closed: [{from: 3 jul, to: 4 jul, why: "sprayed", removed_fraction: 0.5}]`,
	}
	const prices = "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1}\n"
	full := tiny[:len(tiny)-2] + ", closed: [{from: 3 jul, to: 4 jul, why: sprayed, removed_fraction: 0.5}]}\npeople: {away: [{from: 1 jul, to: 2 jul}]}\nmoves: [{from: Stone Weir, to: Ferry Bank, on: 1 jul, days_lost: 3}]\n" + prices
	assert.Equal(t, with("money, in the currency of the region", lists, station...), headings(read(t, full).Explain()))
	assert.Equal(t, with("money, in L$", none, station...), headings(read(t, tiny+prices+"currency: L$\n").Explain()))

	fitted := read(t, changed(t, "wmo_station: 41923", "climate_file: climate.yaml"))
	assert.Equal(t, with("money: no prices stated, so nothing is said of money", none, append([]string{"weather: climate.yaml"}, sites...)...), headings(fitted.Explain()))
	fitted.Normals.Onset.OnsetDOY = 157
	assert.NotContains(t, fitted.Explain(), "weather: monsoon", "a fitted climate has a clock of its own")
	months := read(t, byMonths(t, "latitude_deg: 17", "monsoon: {onset: 6 jun, withdrawal: 28 sep, onset_sd_days: 5}, latitude_deg: 17"))
	assert.Equal(t, with("money: no prices stated, so nothing is said of money", none, append([]string{"weather: place and change", "weather: monsoon"}, sites...)...), headings(months.Explain()))
	assert.Contains(t, months.Explain(), "  onset_sd_days: 5 days\n")
}

// Every default that was used is listed once by its name, those of sites without the site;
// what the weather is drawn from and what is left out stand there too.
func TestAssumptionsByName(t *testing.T) {
	s := read(t, changed(t, "open_rack_m2: 75", "open_rack_m2: 75, clear_roof_m2: 6"))
	list := s.Assumptions()
	by := map[string]sim.Assumption{}
	for _, a := range list {
		require.NotContains(t, by, a.Name, "twice")
		by[a.Name] = a
	}
	for _, d := range s.defaults {
		name := d.Key
		if strings.HasPrefix(name, "sites.") {
			name = "site: " + name[len("sites.Stone Weir."):] // both names have ten letters
		}
		require.Contains(t, by, name+" ("+d.Meaning+")")
	}
	for _, want := range []sim.Assumption{
		{Name: "site: clear_roof_m2 (rack under clear sheet)", Value: "0 m2", Source: "none stated"},
		{Name: "site: loading_kg_per_m2 (fresh stalks spread on a rack)", Value: "10 kg/m2", Source: "assumption"},
		{Name: "site: sheets (open racks are covered by sheets when it rains)", Value: "false", Source: "none stated"},
		{Name: "hub.collections_per_month (pick-ups in each month, equally spaced, the last on its last day)", Value: "2", Source: "common practice, no source"},
		{Name: "One weather", Value: "all sites share the region's weather", Source: "sites within about 10 km"},
		{Name: "Weather", Value: "drawn from monthly normals alone; long dry spells within the rains come out too rare where the monsoon is sharp", Source: "Geng et al. 1986; Richardson 1981; own fits"},
	} {
		assert.Equal(t, want, by[want.Name])
	}
	assert.Equal(t, limits(), list[len(list)-len(limits()):])
	require.NotEmpty(t, s.Normals.Filled)
	for _, sentence := range s.Normals.Filled {
		name, value, ok := strings.Cut(sentence, ": ")
		require.True(t, ok)
		assert.Equal(t, sim.Assumption{Name: name, Value: value, Source: "stand-in, weather not recorded"}, by[name])
	}

	fitted := read(t, tinyAt(t, "73", "74", "climate_file: climate.yaml")).Assumptions()
	assert.Contains(t, fitted, sim.Assumption{Name: "Weather", Value: "drawn from a climate fitted to 31 years of Lake Tavari 1", Source: "see its fit report"})
	assert.Contains(t, fitted, sim.Assumption{Name: "Weather of sites apart", Value: "2 groups of sites, each with the fitted climate, rain correlated by distance", Source: "Wilks 1998; length of the correlation as stated"})
	for _, a := range fitted {
		assert.NotEqual(t, "One weather", a.Name)
		assert.NotContains(t, a.Value, "monthly normals alone")
	}
}
