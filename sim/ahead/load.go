package ahead

import (
	"slices"

	"drystalk/sim/trials"
)

// Load is what the dryers of a site would be loaded with first today.
type Load struct {
	Site    string      `json:"site"`
	Dryers  int         `json:"dryers"`
	Fired   trials.Odds `json:"odds_fired"` // a charge is lit today
	AtH     float64     `json:"at_h"`       // hour at which it is loaded, median; what follows is of the first charge of the day, on average of the seasons that light one
	Stalks  float64     `json:"stalks"`
	Of      []LoadOf    `json:"of"`
	DryingH trials.Band `json:"drying_h"`
	WoodKg  trials.Band `json:"wood_kg"`
	Room    trials.Odds `json:"odds_for_room"` // fired because the yard wants room, of the seasons that fire; else because stalks are at risk of mould
}

// LoadOf is a part of the charge.
type LoadOf struct {
	DaysAgo     int     `json:"cut_days_ago"`
	MoistureWet float64 `json:"moisture_wet_basis"`
	Stalks      float64 `json:"stalks"` // on average of the seasons that light a charge
}

// loads says what the dryers of each site would be loaded with first today.
func (w *run) loads(t *trials.Table) []Load {
	var out []Load
	for site := range w.region.Sites {
		if dryers := w.region.Sites[site].Dryers; dryers > 0 {
			out = append(out, w.load(t, site, dryers))
		}
	}
	return out
}

func (w *run) load(t *trials.Table, site, dryers int) Load {
	l := Load{Site: w.region.Sites[site].Name, Dryers: dryers}
	fired := make([]bool, t.Seasons)
	var room []bool
	var weights, at, hours, wood []float64
	sums, total := map[int]*LoadOf{}, 0.0
	for i := range t.Seasons {
		first := slices.IndexFunc(t.Loaded(site, i), func(c loaded) bool { return len(c.Of) > 0 })
		if first < 0 {
			continue
		}
		c, weight := &t.Loaded(site, i)[first], w.weights[i]
		fired[i] = true
		room, weights, total = append(room, c.Room), append(weights, weight), total+weight
		at, hours, wood = append(at, c.AtH), append(hours, c.DryingH), append(wood, c.WoodKg)
		for _, of := range c.Of {
			ago := w.region.Start.Day - of.CutDay
			s := sums[ago]
			if s == nil {
				s = &LoadOf{DaysAgo: ago}
				sums[ago] = s
			}
			s.Stalks += weight * float64(of.Stalks)
			s.MoistureWet += weight * float64(of.Stalks) * float64(of.Wet.WetBasis())
		}
	}
	l.Fired = trials.NewWeightedOdds(fired, w.weights)
	if total == 0 {
		return l
	}
	l.Room, l.AtH = trials.NewWeightedOdds(room, weights), trials.NewWeightedBand(at, weights).Median
	l.DryingH, l.WoodKg = trials.NewWeightedBand(hours, weights), trials.NewWeightedBand(wood, weights)
	for _, s := range sums {
		s.MoistureWet /= s.Stalks
		s.Stalks /= total
		l.Of = append(l.Of, *s)
	}
	slices.SortFunc(l.Of, func(a, b LoadOf) int { return b.DaysAgo - a.DaysAgo })
	for _, of := range l.Of {
		l.Stalks += of.Stalks
	}
	return l
}
