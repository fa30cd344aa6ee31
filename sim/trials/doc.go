// Package trials runs many seasons side by side with one stream of chance per
// season, site and purpose, keeps one row per season and site, and turns rows
// into odds, means and bands with their intervals.
package trials

// Odds is how often something held, with a 95 % Clopper-Pearson interval.
type Odds struct {
	Met     int     `json:"met"`     // seasons in which it held
	Seasons int     `json:"seasons"` // seasons run
	Share   float64 `json:"share"`   // Met/Seasons
	Low     float64 `json:"low"`     // lower end of the interval
	High    float64 `json:"high"`    // upper end of the interval
}

// Mean is an average over seasons with a 95 % Student t interval.
type Mean struct {
	Mean    float64 `json:"mean"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Seasons int     `json:"seasons"`
}

// Band is the spread between seasons: median, and the 5 % and 95 % quantiles.
type Band struct {
	P5      float64 `json:"p5"`
	Median  float64 `json:"median"`
	P95     float64 `json:"p95"`
	Seasons int     `json:"seasons"`
}
