package sim

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/air"
	"drystalk/sim/stalk"
)

// shed returns a season of a region without a single cut in still air of 27 °C at a humidity,
// from 17 June on, so that June has 14 days of it.
func shed(r *Region, humidity float64) *Season {
	days, hours := calm(44)
	r.Calendar = Calendar{StartMonth: time.June, StartDay: 17, Days: 44}
	for i := range hours {
		hours[i].TempC, hours[i].Humidity, hours[i].VapourKPa = 27, humidity, humidity*air.SaturationKPa(27)
	}
	return season(r, parameters(), days, hours)
}

// The hub has the air of a store: its stock spoils as stalks of 14 % do that lie at 27 °C for 14
// days. Indices of the science notes, section 5.6 (open and sealed, at 85, 90 and 95 %), from a
// script with steps of an hour, to which those of a day come up to 0.05 early; the share of full
// grade is that of section 5.5.
func TestStalksAtTheHubLiveAsInAStore(t *testing.T) {
	for _, tt := range []struct {
		humidity float64
		sealed   bool
		index    float64
	}{
		{0.80, false, 0},
		{0.85, false, 0.37},
		{0.90, false, 0.81},
		{0.95, false, 2.56},
		{0.85, true, 0.19},
		{0.90, true, 0.39},
		{0.95, true, 0.81},
	} {
		site := landing1(0)
		site.Cutters = 0
		r := small(site)
		r.Hub = Hub{OpeningStock: 100_000, CollectionsPerMonth: 1, SealedStore: tt.sealed}
		r.Contract.StalksByMonth = map[time.Month]int{time.June: 1000}
		l := ledger(t, r, shed(r, tt.humidity))
		june := l.Hub[0]
		least, _, _ := stalk.Grade(tt.index+0.05, parameters().Stalk.MouldSpread)
		most, _, _ := stalk.Grade(max(0, tt.index-0.03), parameters().Stalk.MouldSpread)
		assert.GreaterOrEqual(t, june.Available(), int(100_000*least), "%+v", tt)
		assert.LessOrEqual(t, june.Available(), int(100_000*most)+1, "%+v", tt)
		assert.Equal(t, 100_000, june.Available()+june.Spoiled)
		assert.Equal(t, min(1000, june.Available()), june.Delivered)
		if tt.index == 0 || tt.index > 2 {
			continue
		}
		july := l.Hub[1]
		assert.Positive(t, july.Spoiled, "what was left of June spoils on")
		assert.Less(t, july.Spoiled, july.Opening)

		r.Hub.Humidity = 0.65
		dry := ledger(t, r, shed(r, tt.humidity))
		assert.Zero(t, dry.Hub[0].Spoiled+dry.Hub[1].Spoiled, "a dry warehouse keeps all")
	}
}

// Of stalks that arrived together the same part spoils, the oldest are delivered first, and a
// stock that rots in the second month is not there in the third. By hand: 1,000 at first, of
// which 0.9 and 0.45 keep; 400 of June, of which 300, 200 and 150 are good at each month's end.
func TestWhatSpoilsAtTheHubByHand(t *testing.T) {
	g := Gate{
		Months: []time.Month{time.June, time.July, time.August},
		Asked:  []int{500, 200, 1000}, Least: []int{500, 200, 1000}, Opening: 1000,
	}
	months := make([]HubMonth, 3)
	g.Serve(months, Arrivals{Arrived: []int{410, 0, 50}, Refused: []int{10, 0, 0}, Kept: Kept{
		Still: []int{300, 200, 150, 0, 0, 50}, Opening: []float64{0.9, 0.45, 0.45},
	}})
	want := []HubMonth{
		// 100 and 100 spoil; 900 − 500 of the stock and 300 of June are left.
		{Month: time.June, Opening: 1000, Arrived: 410, RefusedAtGate: 10, Spoiled: 200, Asked: 500, Delivered: 500, Closing: 700, Met: true},
		// 200 of the stock and 100 of June spoil; the contract takes the stock.
		{Month: time.July, Opening: 700, Spoiled: 300, Asked: 200, Delivered: 200, Closing: 200, Met: true},
		{Month: time.August, Opening: 200, Arrived: 50, Spoiled: 50, Asked: 1000, Delivered: 200},
	}
	assert.Equal(t, want, months)
	assert.NoError(t, (&RegionLedger{Hub: months}).CheckHub())
	g.Serve(months, Arrivals{Arrived: []int{410, 0, 50}, Refused: []int{10, 0, 0}})
	assert.Equal(t, []int{900, 700, 750}, []int{months[0].Closing, months[1].Closing, months[2].Delivered}, "where all keeps")
}

// A damper hub never has more to deliver from the same arrivals, sealed bags never less; and
// the site cuts again for what has rotted at the hub.
func TestADamperHubNeedsMoreStalks(t *testing.T) {
	good := func(humidity float64, sealed bool) (spoiled, cut int) {
		site := landing1(2)
		site.OpeningStock = 8_000
		r := small(site)
		r.Contract.TargetStock = map[time.Month]int{}
		r.Contract.StalksByMonth = map[time.Month]int{time.June: 5_000, time.July: 5_000}
		r.Hub.OpeningStock, r.Hub.Humidity, r.Hub.SealedStore = 9_000, humidity, sealed
		days, hours := sunny(61)
		l := ledger(t, r, season(r, parameters(), days, hours))
		for i := range l.Hub {
			spoiled += l.Hub[i].Spoiled
		}
		return spoiled, int(Cut.Figure().Season(l.Sites[0].Months))
	}
	dry, cutDry := good(0.65, false)
	assert.Zero(t, dry)
	before := 0
	for _, humidity := range []float64{0.85, 0.90, 0.95} {
		open, _ := good(humidity, false)
		sealed, _ := good(humidity, true)
		assert.GreaterOrEqual(t, open, before)
		assert.LessOrEqual(t, sealed, open)
		before = open
	}
	require.Positive(t, before)
	_, cutDamp := good(0.95, false)
	assert.Greater(t, cutDamp, cutDry)
}

// The hub takes no more than it has room for, each site its share of it where it counts for itself;
// the rest waits in the site store.
func TestAFullHub(t *testing.T) {
	r := small(landing1(0), landing1(0))
	r.Hub.StoreStalks, r.Hub.OpeningStock, r.Hub.Speaks = 1000, 600, SpeaksByCutters
	y := calmRooms(r, 0)
	assert.Equal(t, 200, y.road.desk.room(), "half of 1,000 less half of 600")
	assert.Equal(t, 217, y.road.most(), "of which 92 % are accepted")
	y.road.deliver(18, lot{stalks: 217, state: stalk.State{Moisture: 0.15}}, 217)
	assert.Zero(t, y.road.desk.room())
	r.Road.VehicleStalks = 10
	assert.Zero(t, y.road.most())
	y.road.serve(&y.spans[0])
	y.road.desk.serve(0)
	assert.Equal(t, 10, y.road.most(), "the contract has made room")
	r.Hub.StoreStalks = 0
	r.Road.VehicleStalks = 0
	assert.Greater(t, y.road.most(), 1_000_000_000)
}
