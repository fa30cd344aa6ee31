package ways

import (
	"context"
	"slices"
	"sort"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// Climate is a climate that ways are tried in besides their own.
type Climate struct {
	Station     string
	OtherMonths int     // of the year that are wet in one of the two climates and not in the other
	RainMM      float64 // of a year
	Setup       trials.Setup
}

// There is what the ways of an answer do in another climate of the same kind. Regret is what the best
// of all ways that were judged does more there.
type There struct {
	Station     string      `json:"station"`
	OtherMonths int         `json:"other_rainy_months"`
	RainMM      float64     `json:"rain_a_year_mm"`
	Seasons     int         `json:"seasons"`
	Now         trials.Odds `json:"today"`
	Odds        trials.Odds `json:"target_odds"`
	Gain        trials.Mean `json:"gain_share"`
	Best        []Change    `json:"best_there"` // of the ways that were judged
	BestOdds    trials.Odds `json:"best_there_odds"`
	Regret      trials.Mean `json:"regret_share"`
}

// Travels tells whether the ways gain there, as far as so few seasons tell, and lose no more than a
// tenth of the seasons to the best of the others.
func (t *There) Travels() bool { return t.Gain.Mean > 0 && t.Regret.Mean <= 0.1 }

// The size of a trial elsewhere.
const (
	elsewhereSeasons = 200
	elsewhereWays    = 4 // judged besides what is written and the ways of the answer
)

// elsewhere tries the best way in other climates beside the best of the others that were judged.
func (s *search) elsewhere(ctx context.Context, best design) ([]There, error) {
	var out []There
	list := append([]design{s.space.written, best}, s.others(best)...)
	for _, c := range s.Climates {
		t, err := s.there(ctx, c, list)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// others are the ways that did best where they were judged, besides the best.
func (s *search) others(best design) []design {
	var list []design
	for _, d := range s.judged.designs {
		if !slices.Equal(d, best) && len(s.space.changed(d)) > 0 {
			list = append(list, d)
		}
	}
	slices.SortFunc(list, func(a, b design) int { return slices.Compare(a, b) })
	prefers := s.prefers(s.judged)
	sort.SliceStable(list, func(i, j int) bool { return prefers(s.judged.score(list[i]), s.judged.score(list[j])) })
	return list[:min(elsewhereWays, len(list))]
}

// there tries ways in one climate: what is written, the best, and others.
func (s *search) there(ctx context.Context, c Climate, list []design) (There, error) {
	at := *s.space
	at.set.Source, at.set.Field, at.set.Places = c.Setup.Source, nil, nil
	at.set.Region = placed(s.space.set.Region, c.Setup.Region)
	n := min(s.Seasons, elsewhereSeasons)
	got, err := at.live(ctx, 0, n, list, nil)
	if err != nil {
		return There{}, err
	}
	reached := make([][]bool, len(list))
	top := 1
	for k := range list {
		if reached[k], _, err = decide.BySeason(s.Goal, got[k].region, got[k].table, at.plan); err != nil {
			return There{}, err
		}
		if k > 1 && count(reached[k]) > count(reached[top]) {
			top = k
		}
	}
	return There{
		Station: c.Station, OtherMonths: c.OtherMonths, RainMM: c.RainMM, Seasons: n,
		Now: trials.NewOdds(count(reached[0]), n), Odds: trials.NewOdds(count(reached[1]), n), Gain: decide.PairedGain(reached[1], reached[0]),
		Best: s.changesIn(list[top], s.space.changed(list[top])), BestOdds: trials.NewOdds(count(reached[top]), n), Regret: decide.PairedGain(reached[top], reached[1]),
	}, nil
}

// placed returns a region at the place of another.
func placed(r, at *sim.Region) *sim.Region {
	out := r.Clone()
	out.Place = at.Place
	return out
}

func count(reached []bool) int {
	n := 0
	for _, r := range reached {
		if r {
			n++
		}
	}
	return n
}
