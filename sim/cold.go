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
		c.season, c.hour = ds.season, hour
		var perH float64
		c.air, perH = ds.season.outside(hour)
		c.takenUp = stalk.TakenUp(ds.p.Stalk.RewettingFactor*perH, 1)
	}
	return c
}

// outside returns the air outside in an hour and the drying rate of a stalk in it, 1/h. Charges lie
// cold at night, when it stands in the table of any rack.
func (s *Season) outside(hour int) (a stalk.StillAir, dryingRatePerH float64) {
	if a, dryingRatePerH, ok := s.covers.withoutSun(hour); ok {
		return a, dryingRatePerH
	}
	out, p := &s.air[hour], &s.Parameters.Stalk
	return stalk.NewStillAir(out.TempC, out.Humidity, p), stalk.DryingRatePerH(out.TempC, p.RateAt80CPerH, p.ActivationKJPerMol)
}
