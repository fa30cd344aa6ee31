package sensitivity

import (
	"context"

	"drystalk/sim/knowledge"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Figure is what one season of a plan came to: a sum, or 1 for met and 0 for missed.
type Figure func(table *trials.Table, plan []int, season int) float64

// Seasons works a plan out at the points of a design. Each point fixes the parameters named in
// Keys; a result is a figure's mean, or the share met, over the same seasons at every point, so
// that the luck of weather does not pass for an effect of a parameter (Keys that matter only in
// some seasons still matter as they do in these). Parameters that are not in Keys stay as the
// setup knows them: drawn season by season, or, where its knowledge is fixed, as written.
type Seasons struct {
	Setup   trials.Setup // with the number of workers
	Plan    []int        // dryers by site
	Keys    []knowledge.Key
	First   int // number of the first season
	Count   int // seasons at each point
	Figures []Figure
}

// Inputs returns the ranges of Keys, which make ranks of a design into values.
func (s Seasons) Inputs() ([]knowledge.Range, error) {
	inputs := make([]knowledge.Range, len(s.Keys))
	for i, key := range s.Keys {
		r, ok := s.Setup.Knowledge.Of(key)
		if !ok {
			return nil, tongue.Errorf("knowledge: found %q, allowed: a parameter that is drawn", key)
		}
		inputs[i] = r
	}
	return inputs, nil
}

// At works the plan out at points of the unit cube and returns the results by figure and point.
// progress, if any, is told how many points are done.
func (s Seasons) At(ctx context.Context, points [][]float64, progress func(done int)) ([][]float64, error) {
	inputs, err := s.Inputs()
	if err != nil {
		return nil, err
	}
	if s.Count < 1 {
		return nil, tongue.Errorf("%d seasons a point, allowed: 1 or more", s.Count)
	}
	results := make([][]float64, len(s.Figures))
	for i, point := range points {
		if len(point) != len(inputs) {
			return nil, tongue.Errorf("point %d has %d columns, allowed: %d, one a parameter", i+1, len(point), len(inputs))
		}
		means, err := s.means(ctx, Values(point, inputs))
		if err != nil {
			return nil, tongue.Errorf("point %d: %w", i+1, err)
		}
		for f := range results {
			results[f] = append(results[f], means[f])
		}
		if progress != nil {
			progress(i + 1)
		}
	}
	return results, nil
}

// means lives through the seasons with the parameters of Keys at given values and returns the mean
// of each figure.
func (s Seasons) means(ctx context.Context, values []float64) ([]float64, error) {
	setup := s.Setup
	var err error
	if setup.Knowledge, err = setup.Knowledge.Pinned(s.Keys, values); err != nil {
		return nil, err
	}
	table, err := setup.Table(ctx, s.First, s.Count, trials.Only(s.Plan), nil)
	if err != nil {
		return nil, err
	}
	means := make([]float64, len(s.Figures))
	for f, figure := range s.Figures {
		for i := range table.Seasons {
			means[f] += figure(table, s.Plan, i)
		}
		means[f] /= float64(table.Seasons)
	}
	return means, nil
}
