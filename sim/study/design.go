package study

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/sensitivity"
	"drystalk/sim/tidy"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Method is how a design asks which inputs matter.
type Method string

// The methods.
const (
	Screening Method = "morris" // elementary effects
	Indices   Method = "sobol"  // shares of the variance
)

// Design varies inputs of the knowledge by rows. All rows live through the same seasons, in which
// inputs that are not of the design are drawn as ever, so that a row differs from another by its
// inputs alone.
type Design struct {
	Method   Method               `json:"method"`
	Inputs   []knowledge.Key      `json:"inputs"`
	Rows     int                  `json:"rows"`               // trajectories of a screening, base rows of indices
	Sampling sensitivity.Sampling `json:"sampling,omitempty"` // of indices
	Outcomes []string             `json:"outcomes"`           // columns whose mean over the seasons of a row is explained
}

// morris returns the screening that a design is.
func (s *Study) morris() sensitivity.Morris {
	return sensitivity.Morris{Inputs: len(s.Design.Inputs), Trajectories: s.Design.Rows, Seed: s.Seed}
}

// sobol returns the design of indices that a design is.
func (s *Study) sobol() sensitivity.Sobol {
	return sensitivity.Sobol{Inputs: len(s.Design.Inputs), Rows: s.Design.Rows, Sampling: s.Design.Sampling, Seed: s.Seed}
}

// draw works out where the trials stand in the ranges of the knowledge, where they do not draw it
// each by itself.
func (s *Study) draw(k *known) (err error) {
	if s.Sampling == "" && s.Design == nil {
		return nil
	}
	ranges := s.Points[0].Plan.WithoutWeather(s.Seed).Setup.Knowledge.Ranges
	for i := range s.Points {
		if s.Points[i].Plan.WithoutWeather(s.Seed).Setup.Knowledge.Fixed {
			return Fault{"knowledge.fixed", tongue.Plainf("true at the point %q, so that nothing is drawn", s.Points[i].Name), tongue.Say("false with a sampling or a design")}
		}
	}
	if s.Design == nil {
		k.ranks, err = sensitivity.Points(s.Sampling, s.Seasons, len(ranges), s.Seed)
		return faultAt("sampling", err)
	}
	if s.Sampling != "" {
		return Fault{"sampling", tongue.Say("a sampling of seasons beside a design"), "either"}
	}
	for _, key := range s.Design.Inputs {
		at := slices.IndexFunc(ranges, func(r knowledge.Range) bool { return r.Key == key })
		if at < 0 || slices.Contains(k.inputs, at) {
			return Fault{"design.inputs", fmt.Sprintf("%q", key), tongue.Say("a parameter of the knowledge, each once")}
		}
		k.inputs = append(k.inputs, at)
	}
	switch s.Design.Method {
	case Screening:
		k.ranks, err = s.morris().Points()
	case Indices:
		k.ranks, err = s.sobol().Points()
	default:
		err = Fault{"design.method", fmt.Sprintf("%q", s.Design.Method), tongue.Plainf("%s or %s", Screening, Indices)}
	}
	return faultAt("design", err)
}

// rows returns how many rows the design of a point has; 1 without one.
func (s *Study) rows(k *known) int {
	if s.Design == nil {
		return 1
	}
	return len(k.ranks)
}

// designOf returns the season of each trial and where it stands in the ranges; nil where both are
// drawn as every command does.
func (s *Study) designOf(k *known, set *trials.Setup) func(trial int) (season int, ranks []float64) {
	switch {
	case s.Design != nil:
		return func(trial int) (int, []float64) {
			season := trial % s.Seasons
			ranks := set.Knowledge.Ranks(trials.KnowledgeStream(set.Seed, uint64(season)))
			for i, at := range k.inputs {
				ranks[at] = k.ranks[trial/s.Seasons][i]
			}
			return season, ranks
		}
	case s.Sampling != "":
		return func(trial int) (int, []float64) { return trial, k.ranks[trial] }
	}
	return nil
}

// findOutcomes finds the columns that only name a row, and those that the design explains.
func (s *Study) findOutcomes(k *known) error {
	k.labels = 1 + slices.IndexFunc(k.columns, func(c tidy.Column) bool { return c.Name == "season" })
	if s.Design == nil {
		return nil
	}
	for _, name := range s.Design.Outcomes {
		at := slices.IndexFunc(k.columns, func(c tidy.Column) bool { return c.Name == name && c.Kind != tidy.Word })
		if at < k.labels || strings.HasPrefix(name, "drawn_") {
			return Fault{"design.outcomes", fmt.Sprintf("%q", name), tongue.Say("a column of the table of seasons such as delivered_stalks or all_months_met")}
		}
		k.outcomes = append(k.outcomes, at)
	}
	if len(k.outcomes) == 0 {
		return Fault{"design.outcomes", "none", tongue.Say("columns of the table of seasons such as delivered_stalks")}
	}
	return nil
}
