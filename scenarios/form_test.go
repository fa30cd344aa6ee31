package scenarios

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every entry of a form has its meaning, and what stands in it reads back as the same scenario;
// changed entries land where they belong, and nonsense comes back as a fault of its entry.
func TestFormOfAScenario(t *testing.T) {
	s, err := Demo(LakeTavari)
	require.NoError(t, err)
	all := map[string]string{}
	for _, g := range s.Entries() {
		for _, e := range g.Entries {
			assert.NotEmpty(t, e.Meaning, e.Path)
			assert.NotContains(t, all, e.Path)
			all[e.Path] = e.Value
		}
	}
	same, err := s.WithValues(all)
	require.NoError(t, err)
	assert.Equal(t, s.Hash, same.Hash)

	changed, err := s.WithValues(map[string]string{
		"sites.Heron Point.dryers": "2", "dryer.shift_end_h": "22", "contract.stalks_per_month.aug": "150000", "sites.Old Sluice.sheets": "true", "money.wood_per_kg": "0.1",
	})
	require.NoError(t, err)
	assert.Equal(t, 2, changed.Region.Sites[1].Dryers)
	assert.Equal(t, 22.0, changed.Region.Dryer.ShiftEndH)
	assert.Equal(t, 150_000, changed.Region.Contract.StalksByMonth[8])
	assert.Equal(t, 190_000, changed.Region.Contract.StalksByMonth[7])
	assert.True(t, changed.Region.Sites[2].Sheets)
	assert.Equal(t, 0.1, changed.Money.WoodPerKg)

	for path, value := range map[string]string{
		"sites.Heron Point.dryers": "two", "dryer.shift_end_h": "1e99", "contract.stalks_per_month.aug": "-5", "sites.Heron Point.cutters": "", "no.such": "1",
		"sites.Heron Point.open_rack_m2": "12}\nx: {", "dryer.loads_first": "biggest",
	} {
		_, err := s.WithValues(map[string]string{path: value})
		var faults Faults
		require.ErrorAs(t, err, &faults, path)
		assert.Equal(t, path, faults[0].Key)
		assert.NotEmpty(t, faults[0].Allowed)
	}
}

// The groups of a form stand in the order of the work, and money and weather only where there
// is something to change.
func TestGroupsOfAForm(t *testing.T) {
	names := func(s *Scenario) []string {
		var out []string
		for _, g := range s.Entries() {
			require.NotEmpty(t, g.Entries)
			out = append(out, strings.TrimSuffix(g.Place+" "+g.Site, " "))
		}
		return out
	}
	shared := []string{"site Stone Weir", "site Ferry Bank", "water", "yard", "dryers", "people", "store", "troubles", "buyer"}
	assert.Equal(t, shared, names(read(t, tiny)))
	const money = "money: {price_per_good_stalk: 1, pay_per_stalk_cut: 1, wood_per_kg: 1, dryer_cost: 1}\n"
	fitted := read(t, changed(t, "wmo_station: 41923", "climate_file: climate.yaml")+money)
	assert.Equal(t, append(slices.Clip(shared), "money", "weather"), names(fitted))
	by := map[string]Entry{}
	for _, g := range fitted.Entries() {
		for _, e := range g.Entries {
			by[e.Path] = e
		}
	}
	for _, want := range []Entry{
		{"sites.Stone Weir.cutters", "cutters", "people who cut", "people", 0, 10_000, true, nil, "3", "", "", "people who cut"},
		{"sites.Ferry Bank.sheets", "sheets", "open racks are covered by sheets when it rains", "", 0, 0, false, []string{"false", "true"}, "false", "false", "none stated", "open racks are covered by sheets when it rains"},
		{"dryer.loads_first", "loads_first", "which batches go in first", "", 0, 0, false, []string{"most_at_risk", "driest", "wettest", "oldest"}, "most_at_risk", "most_at_risk", "assumption: near equal to driest, starves nobody", "which batches go in first"},
		{"dryer.handling_h", "handling_h", "hours to load a charge, and again to unload it", "h", 0, 6, false, nil, "0.5", "0.5", "assumption", "hours to load a charge, and again to unload it"},
		{"contract.stalks_per_month.jun", "stalks_per_month", "good stalks asked for in June", "stalks", 0, 1e8, true, nil, "1000", "0", "the contract as written", "good stalks asked for in June"},
		{"contract.stalks_per_month.jul", "stalks_per_month", "good stalks asked for in July", "stalks", 0, 1e8, true, nil, "0", "0", "the contract as written", "good stalks asked for in July"},
		{"contract.target_stock_stalks.jul", "target_stock_stalks", "good stalks wanted ahead at the end of July", "stalks", 0, 1e8, true, nil, "1000", "0", "the contract as written", "good stalks wanted ahead at the end of July"},
		{"weather.warmer_c", "warmer_c", "added to all temperatures; the relative humidity stays", "°C", -5, 8, false, nil, "0", "0", "no change of climate", "added to all temperatures; the relative humidity stays"},
		{"people.planting_days", "planting_days", "days that planting lasts; 0: nobody leaves", "days", 0, 120, true, nil, "0", "0", "none stated", "days that planting lasts; 0: nobody leaves"},
	} {
		assert.Equal(t, want, by[want.Path])
	}
	buyer := fitted.Entries()[8].Entries
	require.GreaterOrEqual(t, len(buyer), 5)
	assert.Equal(t, []string{"contract.stalks_per_month.jun", "contract.stalks_per_month.jul", "contract.target_stock_stalks.jun", "contract.target_stock_stalks.jul", "contract.grace_of_a_month"},
		[]string{buyer[0].Path, buyer[1].Path, buyer[2].Path, buyer[3].Path, buyer[4].Path}, "the months come first")
}

// A changed form says what it changed as a command takes it, in the order of the form, and the
// command makes the same scenario; what was left as it stood is no change.
func TestFormSaysItsChanges(t *testing.T) {
	s := read(t, tiny)
	b, err := s.WithValues(map[string]string{
		"dryer.shift_end_h": " 22 ", "sites.Ferry Bank.dryers": "1", "contract.stalks_per_month.jul": "500", "sites.Stone Weir.cutters": "3", "dryer.handling_h": "0.5 ", "dryer.loads_first": "oldest",
	})
	require.NoError(t, err)
	said := []string{"Ferry Bank: dryers=1", "dryer: shift_end_h=22", "dryer: loads_first=oldest", "contract: stalks_per_month.jul=500"}
	assert.Equal(t, said, b.Changes)
	c, err := s.With(b.Changes)
	require.NoError(t, err)
	assert.Equal(t, b.Hash, c.Hash)
	assert.Equal(t, said, c.Changes)
	d, err := c.With([]string{"hub: opening_stock_stalks=5"})
	require.NoError(t, err)
	assert.Equal(t, append(slices.Clip(said), "hub: opening_stock_stalks=5"), d.Changes, "changes of a changed scenario follow")
	assert.Equal(t, "f", d.File)
	assert.Empty(t, s.Changes)
}

// All that is wrong with a form is told, by the paths of its entries and in their order.
func TestFaultsOfAForm(t *testing.T) {
	s := read(t, tiny)
	_, err := s.WithValues(map[string]string{"no.such": "1", "none.such": "2"})
	var faults Faults
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 2)
	for _, f := range faults {
		assert.Equal(t, Fault{"f", 0, f.Key, "an unknown entry", "an entry of the form", ""}, f)
	}
	values, want := map[string]string{}, ""
	for _, path := range []string{"dryer.handling_h", "dryer.shift_end_h", "hub.collections_per_month", "road.vehicle_stalks", "trouble.repair_days", "yard.rest_every_days"} {
		values[path] = strings.Repeat("1", 81)
		want += "f: " + path + `: found "` + strings.Repeat("1", 40) + ` ...", allowed: a value of at most 80 letters` + "\n"
	}
	_, err = s.WithValues(values)
	require.EqualError(t, err, strings.TrimSuffix(want, "\n"))
}
