package weather

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"

	"drystalk/tongue"
)

// Field draws the rain of several places at once (Wilks 1998, Journal of Hydrology 210,
// 178): each keeps its own climate, fitted or by normals, with its own usual onset and
// withdrawal, and the normal numbers behind the chance and the amount of rain are correlated
// between places. The luck of the year is shared: the wetness of the year, and whether the rains
// set in and withdraw early or late, each place by as much as its own clock moves. Places within
// SharedWeatherKm share one weather, unless each has its own. A storm passes over all places on
// the same days with the same rain, which is an assumption: a region is smaller than a storm.
type Field struct {
	sources    []dayByDay
	occurrence mat.Cholesky
	amount     mat.Cholesky
}

// dayByDay is a source whose days can be drawn one by one with the chance of others.
type dayByDay interface {
	Moist
	// begin returns the days of a season from startDOY on, of a year with some luck.
	begin(startDOY int, luck yearDraws) stepper
}

// stepper gives day d of a season, from -burnInDays on in turn, of normal numbers behind its rain
// and chance of its own for the rest.
type stepper func(d int, z draws, rng *rand.Rand) Day

// SharedWeatherKm is the distance within which sites share one weather.
// Common practice, no source.
const SharedWeatherKm = 10

// CorrelationAt returns the correlation of the normal numbers at a distance, km: nearby·e^(−d/length).
// Own fits: a pair of 24 km on a monsoon coast has 0.81 with nearby 1 and length 115 km; gauges on a
// mountain island 0.80 and 74 km.
func CorrelationAt(km, nearby, lengthKm float64) float64 {
	if km <= 0 {
		return 1
	}
	return nearby * math.Exp(-km/lengthKm)
}

// DistanceKm returns the great-circle distance of two places, km.
func DistanceKm(lat1, lon1, lat2, lon2 float64) float64 {
	const earthKm = 6371.0
	rad := math.Pi / 180
	a := math.Pow(math.Sin((lat2-lat1)*rad/2), 2) + math.Cos(lat1*rad)*math.Cos(lat2*rad)*math.Pow(math.Sin((lon2-lon1)*rad/2), 2)
	return 2 * earthKm * math.Asin(math.Sqrt(a))
}

// NewField prepares places with correlation matrices, row by row, of the chance and of the amount
// of rain. Each source is a ClimateSource or a NormalsSource. It is an error if one is another, or
// if no numbers can be correlated so.
func NewField(sources []Source, occurrence, amount [][]float64) (*Field, error) {
	f := &Field{}
	for i, s := range sources {
		days, ok := s.(dayByDay)
		if !ok {
			return nil, tongue.Errorf("field: the weather of place %d of %d is drawn neither from normals nor from a fitted climate", i+1, len(sources))
		}
		f.sources = append(f.sources, days)
	}
	if err := f.correlate(occurrence, amount); err != nil {
		return nil, err
	}
	return f, nil
}

// correlate sets the correlations of the stations.
func (f *Field) correlate(occurrence, amount [][]float64) error {
	for _, m := range []struct {
		rows [][]float64
		into *mat.Cholesky
	}{{occurrence, &f.occurrence}, {amount, &f.amount}} {
		sym := mat.NewSymDense(len(f.sources), nil)
		for i := range f.sources {
			for j := range f.sources {
				sym.SetSym(i, j, m.rows[i][j])
			}
		}
		if !m.into.Factorize(sym) {
			return tongue.Fault("field: a correlation matrix is not positive definite")
		}
	}
	return nil
}

// Days draws n days from startDOY on at every place.
func (f *Field) Days(startDOY, n int, rng *rand.Rand) [][]Day {
	k := len(f.sources)
	out, next := make([][]Day, k), make([]stepper, k)
	luck := drawYear(rng)
	for i, s := range f.sources {
		out[i], next[i] = make([]Day, n), s.begin(startDOY, luck)
	}
	storms, first := f.storms(startDOY, rng)
	zero := make([]float64, k)
	var chance, slow, fast []float64
	for d := -burnInDays; d < n; d++ {
		chance = distmv.NormalRand(chance, zero, &f.occurrence, rng)
		slow = distmv.NormalRand(slow, zero, &f.amount, rng)
		fast = distmv.NormalRand(fast, zero, &f.amount, rng)
		for i, step := range next {
			drawn := step(d, draws{chance[i], slow[i], fast[i]}, rng)
			if d >= 0 {
				out[i][d] = drawn
			}
		}
	}
	for i := range out {
		storms.pass(out[i], first)
	}
	return out
}

// storms draws the storms of a year from the first fitted climate that has some, with its day of the
// clock on startDOY.
func (f *Field) storms(startDOY int, rng *rand.Rand) (list stormList, first int) {
	for _, s := range f.sources {
		if c, fitted := s.(*ClimateSource); fitted && c.c.Storms.PerYear > 0 {
			return c.newStorms(rng), c.clockDay(startDOY)
		}
	}
	return nil, 0
}
