package sim

import (
	"math"
	"time"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/internal/engine"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// calm returns n days of constant air without sun, wind or rain: nothing dries
// on a rack.
func calm(n int) ([]weather.Day, []air.Hour) {
	days := make([]weather.Day, n)
	hours := make([]air.Hour, 24*n)
	for i := range hours {
		hours[i] = air.Hour{TempC: 28, Humidity: 0.80, VapourKPa: 0.80 * air.SaturationKPa(28)}
	}
	return days, hours
}

// sunny returns n days without a cloud: the dry spell of a hot season, the same
// every day, with sun in hours 6 to 18.
func sunny(n int) ([]weather.Day, []air.Hour) {
	days, hours := calm(n)
	for i := range hours {
		h := float64(i%24) + 0.5
		a := &hours[i]
		a.TempC, a.Humidity = 27, 0.75
		if h > 6 && h < 18 {
			s := math.Sin(math.Pi * (h - 6) / 12)
			a.TempC, a.Humidity = 27+6*s, 0.75-0.3*s
			a.RadiationMJPerM2 = 3 * s
			a.ET0SunMM, a.ET0AirMM = 0.55*s, 0.12*s
		}
		a.VapourKPa = a.Humidity * air.SaturationKPa(a.TempC)
	}
	return days, hours
}

// soaked returns n days of steady warm rain.
func soaked(n int) ([]weather.Day, []air.Hour) {
	days, hours := calm(n)
	for i := range days {
		days[i].RainMM = 20
	}
	for i := range hours {
		a := &hours[i]
		a.TempC, a.Humidity, a.RainMM = 26, 0.97, 20.0/24
		a.VapourKPa = a.Humidity * air.SaturationKPa(a.TempC)
	}
	return days, hours
}

// parameters returns the modes.
func parameters() Parameters {
	return Parameters{
		OutputFactor: 1, AcceptedShare: 0.92, Stalk: stalk.Default(), Cabinet: charge.Default(),
		StoreExchangeOpenPerH: 0.05, StoreExchangeSealedPerH: 0.005,
		ClearRoofSunFactor: 1.1, SolidRoofSunFactor: 0.2, SolidRoofAirFactor: 0.9,
	}
}

// small returns a region of the given sites with the ordinary rules, 61 days
// from 1 June, and a contract for both months.
func small(sites ...Site) *Region {
	return &Region{
		Name:     "Test Water",
		Place:    weather.Place{LatitudeDeg: 14, ElevationM: 10},
		Calendar: Calendar{StartMonth: time.June, StartDay: 1, Days: 61},
		Contract: Contract{
			StalksByMonth: map[time.Month]int{time.June: 20_000, time.July: 20_000},
			TargetStock:   map[time.Month]int{time.June: 200_000, time.July: 200_000},
		},
		Hub:   Hub{CollectionsPerMonth: 2, Humidity: 0.65},
		Sites: sites,
		Dryer: Dryer{
			HoldsFresh: 1000, HoldsPredried: 1500, ShiftStartH: 7, ShiftEndH: 19, HandlingH: 0.5,
			MinimumFill: 0.3, FireAtIndex: 0.3, BreakFraction: 0.03,
		},
		Yard: Yard{MaxCutRainMM: 25, RestEveryDays: 7, DiscardBelowFullShare: 0.10, HeapDaysOfCut: 1},
	}
}

func landing1(dryers int) Site {
	return Site{
		Name: "North Landing", Cutters: 4, OutputPerPersonH: 120, CuttingHPerDay: 6,
		OpenRackM2: 100, ClearRoofM2: 8, LoadingKgPerM2: 10, Dryers: dryers, SealedStore: true,
	}
}

// season returns a prepared season without luck.
func season(r *Region, p Parameters, days []weather.Day, hours []air.Hour) *Season {
	s := &Season{Number: 7, Parameters: p, Days: days}
	for range r.Sites {
		luck := make([]float64, len(days))
		for i := range luck {
			luck[i] = 1
		}
		s.Output = append(s.Output, luck)
	}
	s.Prepare(hours, r)
	return s
}

// courseOf works out a load of stalks by number and moisture.
func courseOf(p *Parameters, fire *charge.Fire, pairs ...float64) *charge.Course {
	var load charge.Load
	for i := 0; i < len(pairs); i += 2 {
		load.Lots = append(load.Lots, charge.Lot{DryKg: pairs[i] / 1000 * p.Stalk.DryG(), Moisture: stalk.DryBasis(pairs[i+1])})
	}
	var c charge.Course
	c.Begin(fire, load)
	return &c
}

// freshHours returns the hours of a load of fresh stalks.
func freshHours(p *Parameters, fire *charge.Fire, stalks float64) float64 {
	return courseOf(p, fire, stalks, float64(p.Stalk.FreshMoisture.DryBasis())).DryingH
}

func engineOf(handle func(nowH float64, e event)) *engine.Engine[event] { return engine.New(handle) }
