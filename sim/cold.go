package sim

import "drystalk/sim/stalk"

// coldHour is what an hour of the air outside does to charges that lie in a cold cabinet.
type coldHour struct {
	season  *Season
	hour    int
	air     stalk.StillAir
	takenUp float64
}

// coldHours are those asked for last, at their number modulo the length. Charges of all dryers
// lie through the same nights, also those of sites that live side by side.
type coldHours [64]coldHour

// outside returns what an hour does to a charge in a cold cabinet.
func (ds *dryers) outside(hour int) *coldHour {
	c := &ds.cold[hour%len(ds.cold)]
	if c.season != ds.season || c.hour != hour {
		a := &ds.season.air[hour]
		*c = coldHour{ds.season, hour, stalk.NewStillAir(a.TempC, a.Humidity, &ds.p.Stalk), stalk.TakenUp(ds.rewettingPerH(a.TempC), 1)}
	}
	return c
}
