package sim

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/stalk"
)

// What cannot be run is an error that says what was found and what is allowed, and no panic.
func TestNonsenseOfARunner(t *testing.T) {
	days, hours := calm(61)
	for want, spoil := range map[string]func(c *runCase){
		"site number 1 of Test Water, allowed: 0 to 0":                                     func(c *runCase) { c.index = 1 },
		"site number -1 of Test Water, allowed: 0 to 0":                                    func(c *runCase) { c.index = -1 },
		"the runner of Test Water was made for 1 sites, the region has 2":                  func(c *runCase) { c.region.Sites = append(c.region.Sites, landing1(0)) },
		"North Landing: -1 dryers, allowed: 0 to 1000":                                     func(c *runCase) { c.dryers = -1 },
		"North Landing: 1001 dryers, allowed: 0 to 1000":                                   func(c *runCase) { c.dryers = 1001 },
		"Test Water: no season":                                                            func(c *runCase) { c.season = nil },
		"has 60 days of weather, wanted: 61 or more":                                       func(c *runCase) { c.season.Days = days[:60] },
		"has 0 hours of prepared air, wanted: 1464 or more":                                func(c *runCase) { c.season.air = nil },
		"days of store air at the humidity of this region: Prepare it":                     func(c *runCase) { c.region.Store.Humidity = 0.5 },
		"days of fires with the wood of this region: Prepare it":                           func(c *runCase) { c.region.Dryer.WetWood = 0.5 },
		"not prepared for all kinds of racks of Test Water: Prepare it":                    func(c *runCase) { c.region.Sites[0].SolidRoofM2 = 4 },
		"has 0 sites with luck of their output, wanted: 1 or more":                         func(c *runCase) { c.season.Output = nil },
		"luck of output has 1 days at site number 0 of 1, wanted: 61 or more":              func(c *runCase) { c.season.Output = [][]float64{{1}} },
		"luck of sheets missed has 0 days at site number 0 of 0":                           func(c *runCase) { c.season.Sheets = [][]bool{} },
		"luck of nights without sheets has 3 days at site number 0 of 1, wanted: 61 or mo": func(c *runCase) { c.season.Nights = [][]bool{make([]bool, 3)} },
		"luck at the gate is of 0 sites, wanted: 1 or more":                                func(c *runCase) { c.season.Refused = []float64{} },
		"luck of dryers is of 0 sites, wanted: 1 or more":                                  func(c *runCase) { c.season.Dryers = [][]DryerLuck{} },
	} {
		r := small(landing1(1))
		c := runCase{r, 0, 1, season(r, parameters(), days, hours)}
		run := NewRunner(r)
		_, err := run.Site(c.index, c.dryers, c.season)
		require.NoError(t, err)
		spoil(&c)
		_, err = run.Site(c.index, c.dryers, c.season)
		require.ErrorContains(t, err, want)
	}
	r := small(landing1(1))
	s := season(r, parameters(), days, hours)
	r.Calendar.Days = 0
	_, err := NewRunner(r).Ledger(s)
	assert.ErrorContains(t, err, "a season of 0 days, allowed: 1 or more")
}

// runCase is what a runner is asked to run.
type runCase struct {
	region *Region
	index  int
	dryers int
	season *Season
}

// As many dryers as allowed, and a season of more days and sites than asked, are no nonsense.
func TestMoreThanEnoughFits(t *testing.T) {
	days, hours := calm(61)
	r := small(landing1(1), landing1(0))
	s := season(r, parameters(), days, hours)
	s.Refused, s.Dryers = []float64{1, 1}, [][]DryerLuck{nil, nil}
	s.Sheets, s.Nights = [][]bool{make([]bool, 61), make([]bool, 61)}, [][]bool{make([]bool, 61), make([]bool, 61)}
	short := small(landing1(1))
	short.Calendar.Days = 40
	for _, dryers := range []int{0, MostDryers} {
		_, err := NewRunner(short).Site(0, dryers, s)
		require.NoError(t, err)
	}
}

// The tables of a season are its hours under each cover, one by one: what covers share in hours without
// sun changes no bit of them.
func TestTablesAreHoursOneByOne(t *testing.T) {
	one := landing1(1)
	one.ClearRoofM2, one.SolidRoofM2, one.Sheets = 10, 10, true
	r := small(one)
	days, hours := mixedDays(61)
	s := season(r, parameters(), days, hours)
	p := &s.Parameters
	covers := [places]stalk.Cover{
		stalk.ClearRoof(p.ClearRoofSunFactor), stalk.OpenRack(), stalk.SolidRoof(p.SolidRoofSunFactor, p.SolidRoofAirFactor), stalk.Heap(), stalk.OpenRack(),
	}
	night, sheets := 0, 0
	for at, cover := range covers {
		require.Len(t, s.covers.hours[at], len(hours))
		for i := range hours {
			under := cover
			if place(at) == sheeted && sheetOver(hours, i, &r.Yard) {
				under = stalk.Sheet()
				sheets++
			}
			if !(hours[i].RadiationMJPerM2 > 0) {
				night++
			}
			require.Equal(t, stalk.NewHour(&hours[i], under, &p.Stalk), s.covers.between(place(at), i, i+1)[0], "place %d, hour %d", at, i)
		}
	}
	assert.Positive(t, min(night, sheets))
}

// Two runners live through one season at the same time and find what one alone finds: days worked out by
// one are there for the other.
func TestSeasonServesSeveralRunners(t *testing.T) {
	one := landing1(1)
	one.Sheets = true
	r := small(one)
	days, hours := mixedDays(61)
	want, err := NewRunner(r).Site(0, 1, season(r, parameters(), days, hours))
	require.NoError(t, err)
	s := season(r, parameters(), days, hours)
	var all sync.WaitGroup
	found := make([][]SiteMonth, 2)
	for k := range found {
		all.Go(func() { found[k], _ = NewRunner(r).Site(0, 1, s) })
	}
	all.Wait()
	assert.Equal(t, [][]SiteMonth{want, want}, found)
	assert.Positive(t, want[0].Charges+want[1].Charges, "both asked for fires")
}
