package sim

import (
	"reflect"
	"strings"
	"testing"
	"time"
	"unsafe"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// withContract returns a region that differs from another in its contract alone, which asks for some times as
// much of every month.
func withContract(r *Region, times float64) *Region {
	c := r.Clone()
	for month, stalks := range c.Contract.StalksByMonth {
		c.Contract.StalksByMonth[month] = part(times, stalks)
		c.Contract.TargetStock[month] = part(times, c.Contract.TargetStock[month])
	}
	return c
}

// twinRegions are regions in which sites of one plan may do what those of another do: of other contracts, of
// another stock at the hub, of other sites beside them, and of another hub or rule, where none may.
func twinRegions(t *rapid.T) []*Region {
	r := anyRegion(t)
	if r.Hauls() && rapid.Bool().Draw(t, "stays") {
		r.Sites[0].HaulTo, r.Sites[0].HaulStalksPerDay = "", 0
	}
	if rapid.Bool().Draw(t, "room") {
		r.Hub.StoreStalks = 0
	}
	if r.Hub.Speaks == SpeaksAtCollections && rapid.Bool().Draw(t, "daily") {
		r.Hub.Speaks = SpeaksDaily
	}
	if rapid.Bool().Draw(t, "taken up") {
		r = opening(r)
	}
	more, less := withContract(r, 1.5), withContract(r, rapid.SampledFrom([]float64{0, 0.02, 0.4}).Draw(t, "less"))
	more.Hub.OpeningStock += rapid.SampledFrom([]int{0, 2000, 20_000}).Draw(t, "stock")
	beside := withContract(r, 0.1)
	beside.Sites[0].ClearRoofM2 += 7
	hub := withContract(r, 1) // to which nothing else is said, where other air spoils other stalks
	hub.Hub.Humidity, hub.Hub.SealedStore = 0.95, false
	hub.Hub.CollectionsPerMonth++
	other := *r // with the very same list of sites
	other.Yard.RestEveryDays = r.Yard.RestEveryDays + 3
	return []*Region{r, more, less, beside, hub, &other}
}

// Sites that live for their twins in other plans and regions, and those that go on from where a twin
// was, live as each by itself, to the last bit, whatever the region looks like.
func TestTwinsAreAsAlone(t *testing.T) {
	days, hours := mixedDays(61)
	all, parted, never := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		regions := twinRegions(t)
		n := regions[0].Calendar.Days
		s := season(regions[0], parameters(), days[:n], hours[:24*n])
		if rapid.Bool().Draw(t, "trouble") {
			luck := []DryerLuck{{Out: true}, {FailsAt: []float64{3, 9, 30}, RepairH: []float64{1, 100, 1e5}}}
			s.Dryers = [][]DryerLuck{luck, luck}
		}
		s.Prepare(hours[:24*n], regions...)
		var parties []Party
		for _, r := range regions {
			parties = append(parties, Party{NewRunner(r), plansOf(t, r, s)})
		}
		require.NoError(t, LiveTogether(parties))
		require.NoError(t, LiveTogether(parties), "in memory of an earlier season")
		for k, p := range parties {
			for plan, lanes := range p.Plans {
				alone, err := NewRunner(regions[k]).LivePlans([][]Lane{lanes})
				require.NoError(t, err)
				for i := range alone {
					at := plan*len(lanes) + i
					require.Equal(t, copied(&alone[i]), copied(&p.Run.Lived()[at]), "region %d, plan %d, site %d", k, plan, i)
					if y := p.Run.lanes[at]; y.twin != nil {
						all++
					} else if y.left {
						parted++
					}
				}
			}
			if k == len(parties)-1 {
				for _, y := range p.Run.lanes[:len(p.Run.all)] {
					require.Nil(t, y.twin, "a region of another rule")
					never++
				}
			}
		}
	})
	assert.Positive(t, all, "sites that a twin lived for all season")
	assert.Positive(t, parted, "sites that went on from where a twin was")
	assert.Positive(t, never)
}

// What goes on from where its twin was holds the same and shares no memory with it, on whatever evening.
func TestWhatTakesOverSharesNothing(t *testing.T) {
	const site, dryers = 0, 1
	days, hours := mixedDays(61)
	held := map[string]bool{}
	for n := 5; n <= 61; n++ {
		r := small(landing1(dryers))
		r.Calendar.Days = n
		r.Dryer.ShiftEndH = 24
		s := season(r, parameters(), days[:n], hours[:24*n])
		run := NewRunner(r)
		_, err := run.LivePlans([][]Lane{{{site, dryers, s}}})
		require.NoError(t, err)
		from, to := run.lane(0), run.lane(1)
		to.begin(run, &Lane{site, dryers, s}, run.desks[0])
		to.takeOver(from)
		require.Equal(t, from.lived(), to.lived())
		require.Equal(t, from.waterHeld(), to.waterHeld())
		require.Same(t, &to.months[to.monthIndex], to.month)
		shared, own := map[unsafe.Pointer]string{}, map[unsafe.Pointer]string{}
		owned(reflect.ValueOf(from).Elem(), "", shared)
		owned(reflect.ValueOf(to).Elem(), "", own)
		for memory, field := range own {
			require.NotContains(t, shared, memory, field)
			held[field] = true
		}
	}
	for _, field := range []string{".yard.batches", ".store.lots", ".dryers.cabinets", ".dryers.cabinets.charge", ".road.hub.lots", ".book.months"} {
		assert.True(t, held[field], field)
	}
}

// owned notes the memory of all lists that a value holds itself, by its fields; what is given to a site and
// shared by all is not looked into.
func owned(v reflect.Value, at string, found map[unsafe.Pointer]string) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			owned(v.Field(i), at+"."+v.Type().Field(i).Name, found)
		}
	case reflect.Slice:
		if v.Cap() == 0 || strings.HasSuffix(at, ".air") || strings.HasSuffix(at, ".spans") || strings.HasSuffix(at, ".collections") {
			return
		}
		found[v.UnsafePointer()] = at
		for i := range v.Len() {
			owned(v.Index(i), at, found)
		}
	}
}

// Plans that ask for more and less part on some evening, over what lies dry in a store, and each goes on as
// alone, with the wood that it has left and what it brings to its own hub. What is noted on a day, and of
// every day, is noted of each.
func TestPlansPartAndGoOn(t *testing.T) {
	days, hours := mixedDays(61)
	r := small(landing1(1), landing1(0))
	r.Sites[1].Name, r.Sites[1].Cutters = "Old Sluice", 2
	r.Hub.CollectionsPerMonth = 3
	r.Dryer.WoodLimited, r.Dryer.OpeningWoodKg, r.Dryer.WoodKgPerMonth = true, 300, 200
	r.Contract.TargetStock = map[time.Month]int{time.June: 3000, time.July: 3000}
	regions := []*Region{r}
	for _, times := range []float64{0.1, 0.25, 0.5, 0.75, 1.5} {
		regions = append(regions, withContract(r, times))
	}
	s := season(r, parameters(), days, hours)
	s.Prepare(hours, regions...)
	lived := func(regions []*Region, takenOn int, everyDay bool) (parties []Party) {
		for _, r := range regions {
			run := NewRunner(r)
			run.TakenOn, run.EveryDay = takenOn, everyDay
			parties = append(parties, Party{run, [][]Lane{{{0, 1, s}, {1, 0, s}}}})
		}
		require.NoError(t, LiveTogether(parties))
		return parties
	}
	parted := 0
	for _, notes := range []struct {
		takenOn  int
		everyDay bool
	}{{0, false}, {40, false}, {0, true}} {
		together := lived(regions, notes.takenOn, notes.everyDay)
		for k, p := range together {
			alone := lived(regions[k:k+1], notes.takenOn, notes.everyDay)[0]
			assert.Equal(t, alone.Run.Taken(), p.Run.Taken(), "region %d", k)
			for i := range alone.Run.Lived() {
				require.Equal(t, copied(&alone.Run.Lived()[i]), copied(&p.Run.Lived()[i]), "region %d, site %d, %+v", k, i, notes)
				if p.Run.lanes[i].left {
					parted++
				}
			}
		}
	}
	assert.Greater(t, parted, 3, "sites that went on by themselves")
}
