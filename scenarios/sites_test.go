package scenarios

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
)

// A scenario has 1 to 60 sites with names of 1 to 80 letters; all that is wrong with names and
// groups is told.
func TestSites(t *testing.T) {
	head, _, _ := strings.Cut(tiny, "sites:")
	const site = "{cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75}"
	many := func(n int) string {
		text := head + "sites:\n"
		for i := range n {
			text += fmt.Sprintf("  Site %d: %s\n", i, site)
		}
		return text
	}
	long := strings.Repeat("a", 80)
	const name = ", allowed: a site name of 1 to 80 letters"
	for text, want := range map[string]string{
		many(1): "", many(60): "",
		many(61):                                  "f:6: sites: found 61 sites, allowed: at most 60 sites",
		head + "sites: {}":                        "f:5: sites: found no site, allowed: at least one site by name",
		head + "sites:\n  " + long + ": " + site:  "",
		head + "sites:\n  " + long + "b: " + site: `f:6: sites: found "` + long + `b"` + name,
		head + "sites:\n  \"\": " + site + "\n  \"a\\tb\": " + site: `f:6: sites: found ""` + name + "\n" + `f:7: sites: found "a\tb"` + name,
		head + "sites: {A: 3, B: [4]}":                              "f:5: sites.A: found 3, allowed: a group of keys\nf:5: sites.B: found a list, allowed: a group of keys",
		head + "sites: 3":                                           "f:5: sites: found 3, allowed: a group of keys",
		head:                                                        "f:1: sites: found nothing, allowed: this group of keys is required",
		head + "sites: {A: " + site + "}\nsits: {}":                 "f:6: sits: found an unknown key, did you mean sites?",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
	s := read(t, many(3))
	assert.Equal(t, []string{"Site 0", "Site 1", "Site 2"}, siteNames(s))
	assert.Equal(t, []int{4, 4, 4}, s.MaxDryers)
}

// The most dryers of a site are four unless stated, or those it has; stated, they are no fewer.
func TestMostDryers(t *testing.T) {
	for piece, want := range map[string]int{"dryers: 2": 4, "dryers: 4": 4, "dryers: 6": 6, "dryers: 5, max_dryers: 5": 5, "max_dryers: 0": 0} {
		assert.Equal(t, want, read(t, changed(t, "dryers: 2", piece)).MaxDryers[0], piece)
	}
	assert.Equal(t, "f:6: sites.Stone Weir.max_dryers: found 4, allowed: at least the 5 dryers of the plan", said(t, changed(t, "dryers: 2", "dryers: 5, max_dryers: 4")))
}

// Stalks are hauled to another site of the scenario, and in no circle.
func TestHauling(t *testing.T) {
	wrong(t, "dryers: 2", map[string]string{
		"haul_to: Ferry Bank, haul_stalks_per_day: 5": "",
		`haul_to: ""`: `f:6: sites.Stone Weir.haul_to: found "", allowed: a name of 1 to 80 letters on one line`,
	})
	for _, to := range []string{"Stone Weir", "Nowhere"} {
		got := said(t, changed(t, "dryers: 2", "haul_to: "+to+", haul_stalks_per_day: 5"))
		assert.True(t, strings.HasPrefix(got, "f:6: sites: found hauling that cannot be: ") && strings.HasSuffix(got, ", allowed: haul_to another site, in no circle"), got)
	}
}

// What no key can tell alone is checked where each key is right, and the first of it is told.
func TestKeysTogether(t *testing.T) {
	end := func(site string) string {
		return tiny[:len(tiny)-2] + ", longer_shift_h: 12}\ndryer:\n  shift_end_h: " + site + "\n"
	}
	for text, want := range map[string]string{
		end("19"):   "",
		end("19.5"): "f:9: sites.Ferry Bank.longer_shift_h: found 12, allowed: a shift of at most 24 hours in all",
		tiny + "dryer: {holds_stalks_fresh: 700, holds_stalks_predried: 700}\n":                                                                                                        "",
		tiny + "dryer: {holds_stalks_fresh: 700, holds_stalks_predried: 699}\n":                                                                                                        "f:8: dryer.holds_stalks_predried: found 699, allowed: at least holds_stalks_fresh: stalks shrink",
		tiny + "dryer: {shift_start_h: 6, shift_end_h: 31, holds_stalks_predried: 500}\n":                                                                                              "f:8: dryer.shift_end_h: found 31, allowed: at most 24 hours after shift_start_h",
		changed(t, "dryers: 2", "haul_to: Nowhere, longer_shift_h: 12", "jun: 1000", "jun: 0") + "dryer: {shift_end_h: 20, holds_stalks_predried: 500}\n":                              "f:8: sites.Stone Weir.longer_shift_h: found 12, allowed: a shift of at most 24 hours in all",
		changed(t, "dryers: 2", "haul_to: Nowhere", "jun: 1000", "jun: 0") + "dryer: {holds_stalks_predried: 500}\n":                                                                   "f:8: dryer.holds_stalks_predried: found 500, allowed: at least holds_stalks_fresh: stalks shrink",
		changed(t, "cutters: 3", "cutters: -3", "dryers: 2", "haul_to: Nowhere, longer_shift_h: 12", "jun: 1000", "jun: 0") + "dryer: {shift_end_h: 20, holds_stalks_predried: 500}\n": "f:6: sites.Stone Weir.cutters: found -3, allowed: a whole number from 0 to 10000",
		changed(t, "cutters: 3", "cutters: -3") + "dryer: {shift_end_h: 7}\n":                                                                                                          "f:6: sites.Stone Weir.cutters: found -3, allowed: a whole number from 0 to 10000",
		changed(t, "cutters: 3", "cutters: -3") + "dryer: {shift_start_h: 6, shift_end_h: 31}\n":                                                                                       "f:6: sites.Stone Weir.cutters: found -3, allowed: a whole number from 0 to 10000",
		tiny + "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1, grant_fraction: 0.5, loan_fraction: 0.5}\n":                                      "",
		tiny + "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1, grant_fraction: 0.5, loan_fraction: 0.51}\n":                                     "f:8: money.loan_fraction: found 0.51, allowed: grant_fraction and loan_fraction of at most 1 together",
		tiny + "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: -1, dryer_cost: 1, grant_fraction: 0.5, loan_fraction: 0.51}\n":                                    "f:8: money.wood_per_kg: found -1, allowed: a number from 0 to 1000",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
}

// Wood has one price unless that of the rains is stated, which may be nothing.
func TestPriceOfWood(t *testing.T) {
	for stated, want := range map[string]float64{"": 0.25, ", wood_in_rains_per_kg: -1": 0.25, ", wood_in_rains_per_kg: 0": 0, ", wood_in_rains_per_kg: 0.5": 0.5} {
		s := read(t, tiny+"money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 0.25, dryer_cost: 1"+stated+"}\n")
		assert.True(t, s.HasMoney)
		assert.Equal(t, want, s.Money.WoodRainsPerKg, stated)
	}
	assert.False(t, read(t, tiny).HasMoney)
}

// Second grade has no ceiling unless one is stated, which may be nothing; half a stalk is none.
func TestCeilingOnSecondGrade(t *testing.T) {
	const prices = tiny + "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 0.25, dryer_cost: 1%s}\n"
	for stated, want := range map[string]int{"": -1, ", second_grade_most_stalks_per_month: -1": -1, ", second_grade_most_stalks_per_month: 0": 0, ", second_grade_most_stalks_per_month: 100000000": 1e8} {
		assert.Equal(t, want, read(t, fmt.Sprintf(prices, stated)).Money.SecondMost, stated)
	}
	for _, found := range []string{"-2", "100000001", "0.5"} {
		assert.Equal(t, "f:8: money.second_grade_most_stalks_per_month: found "+found+", allowed: a whole number from -1 to 100000000", said(t, fmt.Sprintf(prices, ", second_grade_most_stalks_per_month: "+found)))
	}
}

// A range of knowledge is stated whole, in order, no farther from the documented one than five
// times, and what is a fraction stays one. A range without width is allowed.
func TestRangesOfKnowledge(t *testing.T) {
	const numbers = "knowledge.mould_factor.%s: found %s, allowed: a number from 0.2 to 12.5"
	for piece, want := range map[string]string{
		"mould_factor: {low: 1, mode: 1, high: 1}": "", "mould_factor: {low: 1, mode: 1, high: 2}": "", "mould_factor: {low: 1, mode: 2, high: 2}": "",
		"mould_factor: {low: 0.2, mode: 1, high: 12.5}":       "",
		"mould_factor: {low: 0.19, mode: 1, high: 2}":         fmt.Sprintf("f:8: "+numbers, "low", "0.19"),
		"mould_factor: {low: 1, mode: 1, high: 12.6}":         fmt.Sprintf("f:8: "+numbers, "high", "12.6"),
		"mould_factor: {low: 1, mode: 13, high: 13}":          fmt.Sprintf("f:8: "+numbers, "mode", "13"),
		"living_h: {low: 0, mode: 24, high: 240}":             "",
		"living_h: {low: 0, mode: 24, high: 241}":             "f:8: knowledge.living_h.high: found 241, allowed: a number from 0 to 240",
		"accepted_share: {low: 0.16, mode: 0.5, high: 1}":     "",
		"accepted_share: {low: 0.15, mode: 0.5, high: 1}":     "f:8: knowledge.accepted_share.low: found 0.15, allowed: a number from 0.16 to 1",
		"accepted_share: {low: 0.5, mode: 0.5, high: 1.1}":    "f:8: knowledge.accepted_share.high: found 1.1, allowed: a number from 0.16 to 1",
		"store_exchange_rank: {low: 0, mode: 0.5, high: 1}":   "",
		"store_exchange_rank: {low: 0, mode: 0.5, high: 1.1}": "f:8: knowledge.store_exchange_rank.high: found 1.1, allowed: a number from 0 to 1",
		"mould_factor: {low: 2, mode: 1, high: 3}":            "f:8: knowledge.mould_factor: found 2, 1, 3, allowed: low at most mode, mode at most high",
		"mould_factor: {low: 1, mode: 3, high: 2}":            "f:8: knowledge.mould_factor: found 1, 3, 2, allowed: low at most mode, mode at most high",
		"mould_factor: {mode: 1, high: 2}":                    "f:8: knowledge.mould_factor.low: found nothing, allowed: low, mode and high are all needed",
		"mould_factor: {low: 1, high: 2}":                     "f:8: knowledge.mould_factor.mode: found nothing, allowed: low, mode and high are all needed",
		"mould_factor: {low: 1, mode: 2}":                     "f:8: knowledge.mould_factor.high: found nothing, allowed: low, mode and high are all needed",
		"mould_factor: {low: 1, mode: 1, high: 2, most: 3}":   "f:8: knowledge.mould_factor.most: found an unknown key, did you mean mode?",
		"mould_factor: [1, 1.5, 2]":                           "f:8: knowledge.mould_factor: found a list, allowed: low, mode and high, such as {low: 0.8, mode: 1, high: 1.2}",
		"mold_factor: {low: 1, mode: 1, high: 2}":             "f:8: knowledge.mold_factor: found an unknown key, did you mean mould_factor?",
		"fixed: true": "",
		"fixed: yes":  `f:8: knowledge.fixed: found "yes", allowed: true or false`,
		"fixed: 1":    "f:8: knowledge.fixed: found 1, allowed: true or false",
	} {
		assert.Equal(t, want, said(t, tiny+"knowledge: {"+piece+"}\n"), piece)
	}
	s := read(t, tiny+"knowledge: {fixed: true, mould_factor: {low: 1, mode: 1.25, high: 2}}\n")
	assert.True(t, s.Knowledge.Fixed)
	assert.Equal(t, 1.25, s.Base.Stalk.MouldFactor)
	assert.Equal(t, knowledge.Mode(knowledge.LivingH), s.Base.Stalk.LivingH)
	stated := 0
	require.Len(t, s.Knowledge.Ranges, 19)
	for _, k := range s.Knowledge.Ranges {
		if k.Source == "stated in the scenario" {
			stated++
			assert.Equal(t, []any{knowledge.MouldFactor, 1.0, 1.25, 2.0}, []any{k.Key, k.Low, k.Mode, k.High})
		}
	}
	assert.Equal(t, 1, stated)
	assert.False(t, read(t, tiny+"knowledge: {fixed: false}\n").Knowledge.Fixed)
	assert.Equal(t, read(t, tiny).Base, read(t, tiny+"knowledge: {}\n").Base)
}

// tinyAt is tiny with its two sites at longitudes on one latitude, and a weather.
func tinyAt(t *testing.T, first, second, weather string) string {
	t.Helper()
	return changed(t, "open_rack_m2: 75", "latitude_deg: 18, open_rack_m2: 75, longitude_deg: "+first, "open_rack_m2: 40", "latitude_deg: 18, open_rack_m2: 40, longitude_deg: "+second, "wmo_station: 41923", weather)
}

// Coordinates are of all sites or of none, and whole.
func TestCoordinates(t *testing.T) {
	const station, climate = "wmo_station: 41923", "climate_file: climate.yaml"
	for text, want := range map[string]string{
		tinyAt(t, "73", "73.09", station):  "", // some 9.5 km: a degree of longitude on latitude 18 has 105.75
		tinyAt(t, "73", "73.095", station): "",
		tinyAt(t, "73", "73.095", climate): "",
		tinyAt(t, "73", "181", climate):    "f:7: sites.Ferry Bank.longitude_deg: found 181, allowed: a number from -180 to 180",
		changed(t, "open_rack_m2: 75", "open_rack_m2: 75, latitude_deg: 18, longitude_deg: 73"):                              "f:6: sites: found coordinates of 1 of 2 sites, allowed: coordinates of all sites or of none",
		changed(t, "open_rack_m2: 75", "open_rack_m2: 75, latitude_deg: 18"):                                                 "f:6: sites.Stone Weir.longitude_deg: found nothing, allowed: a number from -180 to 180; latitude and longitude go together",
		changed(t, "open_rack_m2: 75", "open_rack_m2: 75, longitude_deg: 73"):                                                "f:6: sites.Stone Weir.latitude_deg: found nothing, allowed: a number from -60 to 60; latitude and longitude go together",
		changed(t, "cutters: 3", "cutters: -3", "open_rack_m2: 75", "open_rack_m2: 75, latitude_deg: 18, longitude_deg: 73"): "f:6: sites.Stone Weir.cutters: found -3, allowed: a whole number from 0 to 10000",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
	s := read(t, tinyAt(t, "73", "73.5", climate))
	assert.Equal(t, []coordinates{{18, 73, true}, {18, 73.5, true}}, s.at)
	assert.InDelta(t, 52.9, s.distanceKm(0, 1), 0.1, "half a degree of longitude on latitude 18: 111.19 km · cos 18° / 2")
	assert.Equal(t, []int{0, 1}, s.Groups())
	assert.Equal(t, s.at, read(t, string(s.Write())).at)
}

// Chains of near sites are one group, whatever the order of the sites; groups are numbered by
// their first site.
func TestChainsOfSites(t *testing.T) {
	at := func(lons ...float64) []int {
		s := &Scenario{}
		for _, lon := range lons {
			s.at = append(s.at, coordinates{17, lon, true})
		}
		return s.Groups()
	}
	assert.Equal(t, []int{0, 0, 0, 0}, at(80, 80.24, 80.08, 80.16), "the last two join the first two")
	assert.Equal(t, []int{0, 1, 0, 1, 2}, at(81, 80, 81.08, 80.08, 82))
	assert.Equal(t, []int{0}, at(80))
	s := &Scenario{at: []coordinates{{17, 80, true}, {17, 85, false}}}
	assert.Equal(t, []int{0, 0}, s.Groups())
	s = &Scenario{at: []coordinates{{17, 80, false}, {17, 85, true}}}
	assert.Equal(t, []int{0, 0}, s.Groups())
}

// The rain of three groups of sites goes together the more, the nearer they lie: the
// correlation of their daily rain is largest for the nearest pair.
func TestFieldOfThreeGroups(t *testing.T) {
	c, err := madeUp()
	require.NoError(t, err)
	s := &Scenario{Name: "three", localWeather: localWeather{climate: &c}, nearby: 1, lengthKm: 50}
	for _, lon := range []float64{80, 80.12, 82, 80.01} { // the last is in the first group
		s.at = append(s.at, coordinates{17, lon, true})
	}
	field, err := s.Field()
	require.NoError(t, err)
	days := field.Days(150, 6000, rand.New(rand.NewPCG(1, 2)))
	require.Len(t, days, 3)
	together := func(a, b int) float64 { // both wet or both dry, days of all
		n := 0
		for d := range days[a] {
			if (days[a][d].RainMM > 0) == (days[b][d].RainMM > 0) {
				n++
			}
		}
		return float64(n) / float64(len(days[a]))
	}
	near, far := together(0, 1), together(0, 2)
	assert.Greater(t, near, 0.72, "12.8 km, correlation exp(-12.8/50) = 0.77: 0.5 + asin(0.77)/π = 0.78 of the days for even odds")
	assert.Less(t, math.Abs(far-together(1, 2)), 0.04, "211 and 199 km")
	assert.Less(t, far, near-0.1)
	s.at = s.at[:1]
	field, err = s.Field()
	require.NoError(t, err)
	assert.Nil(t, field)
	s.at, s.nearby, c.StartDOY = []coordinates{{17, 80, true}, {17, 81, true}}, 1, 400
	_, err = s.Field()
	require.ErrorContains(t, err, "three: climate: the year must begin on day 1 to 365")
}
