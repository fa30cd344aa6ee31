package words

import (
	"math"
	"strings"
	"time"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// StudyPoint is what is said of a point of a study.
type StudyPoint struct {
	Name       string
	All        trials.Odds // that all contract months of a season are met
	WorstMonth string      // met least often, the earliest of equals
	Worst      trials.Odds
	Delivered  float64 // of what is asked, fraction
	Net        *trials.Mean
}

// StudyEffect is what an input does to an outcome at a point of a study.
type StudyEffect struct {
	Point, Outcome, Input string
	What                  string // "total index", "mean absolute effect" and the like
	Unit                  string
	Effect                trials.Mean
}

// StudySentence says what a study comes to: which point meets its contract most often, and which
// least. A study without points is one of a design that told nothing.
func StudySentence(name string, points []StudyPoint) string {
	if len(points) == 0 {
		return tongue.Sayf("In the study %q no outcome differs between the rows of the design, so that nothing can be told of its inputs; more rows or seasons may.", name)
	}
	best, least := points[0], points[0]
	for _, p := range points[1:] {
		if p.All.Share > best.All.Share {
			best = p
		}
		if p.All.Share < least.All.Share {
			least = p
		}
	}
	if best.All.Share == least.All.Share {
		return tongue.Sayf("In the study %q all contract months of a season are met in %s at every point.", name, InTrials(best.All))
	}
	return tongue.Sayf("In the study %q all contract months of a season are met most often with %s, in %s, and least often with %s, in %s.",
		name, best.Name, InTrials(best.All), least.Name, InTrials(least.All))
}

// EffectsSentence says which input moves an outcome most. It is about the first point and outcome of
// the effects, and says where their interval leaves open whether it does.
func EffectsSentence(name string, effects []StudyEffect) string {
	most, first := effects[0], effects[0]
	for _, e := range effects {
		if e.Point == first.Point && e.Outcome == first.Outcome && e.What == first.What && math.Abs(e.Effect.Mean) > math.Abs(most.Effect.Mean) {
			most = e
		}
	}
	unit := ""
	if most.Unit != "" {
		unit = " " + most.Unit
	}
	doubt := EffectDoubt(most)
	if doubt != "" {
		doubt = tongue.Sayf("; that is %s", doubt)
	}
	return tongue.Sayf("In the study %q what moves %s most at the point %q is %s: its %s is %s%s (%s to %s)%s.",
		name, most.Outcome, most.Point, most.Input, most.What, WholeOrFigure(most.Effect.Mean), unit, WholeOrFigure(most.Effect.Low), WholeOrFigure(most.Effect.High), doubt)
}

// widestIndex is how wide the interval of an index, a share of the variance, may be before the index
// is called untold: half of all there is.
const widestIndex = 0.5

// EffectDoubt says, after "that is", of an effect on which a decision should not rest why not; "" of
// one that the design tells. An index near 0 with a narrow interval is told: it is small.
func EffectDoubt(e StudyEffect) string {
	low, high := e.Effect.Low, e.Effect.High
	switch {
	case math.IsNaN(low) || math.IsNaN(high):
		return ""
	case strings.HasSuffix(e.What, "index") && high-low > widestIndex:
		return tongue.Say("too few rows to tell")
	case e.What == "mean absolute effect" && low <= 0 && e.Effect.Mean > 0:
		return tongue.Say("perhaps nothing: too few trajectories to tell")
	}
	return ""
}

// StudyRows says what the rows of a study are, and how they are told from others.
func StudyRows(points, trials int, digest string) string {
	of := tongue.Say("1 point")
	if points != 1 {
		of = tongue.Sayf("%s points", Grouped(points))
	}
	return tongue.Sayf("%s seasons of %s; the digest of all rows is %s.", Grouped(trials), of, digest)
}

// MonthOf returns the name of a month by its first three letters, "aug", and what follows them; the
// letters themselves where there is none.
func MonthOf(letters string) string {
	for m := time.January; m <= time.December; m++ {
		if short := strings.ToLower(m.String()[:3]); strings.HasPrefix(letters, short) {
			return m.String() + strings.ReplaceAll(letters[3:], "_", " ")
		}
	}
	return letters
}
