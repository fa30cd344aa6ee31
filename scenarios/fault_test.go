package scenarios

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Faults come by line, in whatever order the groups of a file stand, and those of one line in
// the order in which its keys are read.
func TestFaultsByLine(t *testing.T) {
	text := `sites:
  Stone Weir: {cutters: -3, stalks_per_person_h: -1, open_rack_m2: -2}
hub: {opening_stock_stalks: -1, collections_per_month: 0}
contract: {stalks_per_month: {jun: -1}}
weather: {wmo_station: 41923}
season: {start: 31 jun, days: 0}
region: ""
`
	want := `f:2: sites.Stone Weir.cutters: found -3, allowed: a whole number from 0 to 10000
f:2: sites.Stone Weir.stalks_per_person_h: found -1, allowed: a number from 0 to 5000
f:2: sites.Stone Weir.open_rack_m2: found -2, allowed: a number from 0 to 1000000
f:3: hub.opening_stock_stalks: found -1, allowed: a whole number from 0 to 100000000
f:3: hub.collections_per_month: found 0, allowed: a whole number from 1 to 15
f:4: contract.stalks_per_month.jun: found -1, allowed: a whole number from 0 to 100000000
f:6: season.start: found "31 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February
f:6: season.days: found 0, allowed: a whole number from 1 to 365
f:7: region: found "", allowed: a name of 1 to 80 letters on one line`
	assert.Equal(t, want, said(t, text))
}

// A group that is needed and missing is a fault of the file's first line, all at once; what is
// needed in a group is a fault of the group's line.
func TestMissingKeys(t *testing.T) {
	const group = "found nothing, allowed: this group of keys is required\n"
	assert.Equal(t, "f:2: region: found nothing, allowed: a name\nf:2: season: "+group+"f:2: contract: "+group+"f:2: weather: "+group+"f:2: sites: found nothing, allowed: this group of keys is required", said(t, "\ncurrency: L$\n"))
	const number = "allowed: a number from 0 to "
	assert.Equal(t, "f:8: money.price_per_good_stalk: found nothing, "+number+"1000\nf:8: money.pay_per_stalk_cut: found nothing, "+number+"1000\nf:8: money.wood_per_kg: found nothing, "+number+"1000\nf:8: money.dryer_cost: found nothing, "+number+"1000000000", said(t, tiny+"money: {wage_per_h: 1}\n"))
	assert.Equal(t, "f:6: sites.Stone Weir.cuters: found an unknown key, did you mean cutters?", said(t, changed(t, "cutters: 3", "cuters: 3")), "a misspelt key is told once")
	assert.Equal(t, "f:6: sites.Stone Weir.people: found an unknown key, allowed: cutters, stalks_per_person_h, cutting_h_per_day, open_rack_m2, clear_roof_m2, solid_roof_m2, loading_kg_per_m2, loading_in_wet_weeks_kg_per_m2, dryers, max_dryers, haul_stalks_per_day, crew, store_stalks, longer_shift_h, stand_m2, sheets, sealed_store, opening_stock_stalks, latitude_deg, longitude_deg, haul_to, closed, weather\nf:6: sites.Stone Weir.cutters: found nothing, allowed: a whole number from 0 to 10000", said(t, changed(t, "cutters: 3", "people: 3")))
	assert.Equal(t, "f:8: hub.a: found an unknown key, allowed: opening_stock_stalks, collections_per_month, humidity_fraction, sealed_store, store_stalks, speaks\nf:8: hub.b: found an unknown key, allowed: opening_stock_stalks, collections_per_month, humidity_fraction, sealed_store, store_stalks, speaks", said(t, tiny+"hub: {opening_stock_stalks: 1, a: 1, collections_per_month: 2, b: 1}\n"))
}

// The letters to change, add or drop: textbook pairs (Levenshtein distance), and what any
// distance keeps to.
func TestDistanceOfWords(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"abc", "", 3}, {"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"flaw", "lawn", 2}, {"gumbo", "gambol", 2}, {"abc", "abc", 0}, {"abc", "xbc", 1}, {"abc", "abx", 1}, {"bc", "abc", 1}} {
		assert.Equal(t, tt.want, distance(tt.a, tt.b), "%s, %s", tt.a, tt.b)
	}
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching("[ab]{0,6}")
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		d := distance(a, b)
		assert.Equal(t, d, distance(b, a), "the same both ways")
		assert.Equal(t, a == b, d == 0)
		assert.GreaterOrEqual(t, d, max(len(a)-len(b), len(b)-len(a)))
		assert.LessOrEqual(t, d, max(len(a), len(b)))
		assert.LessOrEqual(t, distance(a, c), d+distance(b, c), "no way round is shorter")
		assert.Equal(t, d, distance("x"+a, "x"+b))
	})
}

// A key is meant that differs in at most half of the letters; of equally near ones the first.
func TestNearestKey(t *testing.T) {
	for _, tt := range []struct {
		found string
		known []string
		want  string
	}{
		{"abxy", []string{"abcd"}, "abcd"},
		{"axyz", []string{"abcd"}, ""},
		{"abcxy", []string{"abcde"}, "abcde"},
		{"abxyz", []string{"abcde"}, ""},
		{"ab", []string{"cb", "ac"}, "cb"},
		{"abc", []string{"abd", "abc"}, "abc"},
		{"a", []string{"b"}, ""},
		{"a", nil, ""},
	} {
		assert.Equal(t, tt.want, nearest(tt.found, tt.known), tt.found)
	}
}
