// Package trials runs many seasons side by side with one stream of chance per
// season, site and purpose, keeps one row per season and site, and turns rows
// into odds, means and bands with their intervals.
//
// A row is whole numbers. In a long table of a plan the rows of each 256 seasons are packed as soon as
// all are written: every figure in as many bits as it spreads over, none where it is always the same
// or is told by others (a season's by its months, what keeps at the hub by what came). So a season with
// its six sites takes some 900 bytes in place of 4,400, and each figure is still read by itself and
// exact. Draws are not kept: they hang on the number of a season alone and are drawn again. Where nobody
// reads single sites, Table.Together adds them up, which leaves some 150 bytes a season.
package trials

import (
	"encoding/json"
	"math"
)

// Odds is how often something held, with a 95 % Clopper-Pearson interval.
type Odds struct {
	Met     int     `json:"met"`     // seasons in which it held
	Seasons int     `json:"seasons"` // seasons run
	Share   float64 `json:"share"`   // Met/Seasons
	Low     float64 `json:"low"`     // lower end of the interval
	High    float64 `json:"high"`    // upper end of the interval
}

// Mean is an average over seasons with a 95 % Student t interval (NewMean); of amounts that cannot pass
// nothing the interval does not either (NewAmount).
type Mean struct {
	Mean    float64 `json:"mean"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Seasons int     `json:"seasons"`
}

// MarshalJSON writes an open end of the interval as null: JSON has no infinity.
func (m Mean) MarshalJSON() ([]byte, error) {
	end := func(x float64) *float64 {
		if math.IsInf(x, 0) || math.IsNaN(x) {
			return nil
		}
		return &x
	}
	return json.Marshal(struct {
		Mean    *float64 `json:"mean"`
		Low     *float64 `json:"low"`
		High    *float64 `json:"high"`
		Seasons int      `json:"seasons"`
	}{end(m.Mean), end(m.Low), end(m.High), m.Seasons})
}

// Fan is the spread between seasons or futures, as it is drawn: quantiles from 5 to 95 %.
type Fan struct {
	P5      float64 `json:"p5"`
	P25     float64 `json:"p25"`
	Median  float64 `json:"median"`
	P75     float64 `json:"p75"`
	P95     float64 `json:"p95"`
	Seasons int     `json:"seasons"`
}

// Band is the spread between seasons: median, and the 5 % and 95 % quantiles.
type Band struct {
	P5      float64 `json:"p5"`
	Median  float64 `json:"median"`
	P95     float64 `json:"p95"`
	Seasons int     `json:"seasons"`
}
