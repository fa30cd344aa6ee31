package answers

import (
	"math"
	"strconv"
	"strings"

	"drystalk/sim/knowledge"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// FitOutputOptions are the options of [FitOutput].
type FitOutputOptions struct {
	Site string `help:"Site whose cutters were tallied; may be left out where all sites state the same output."`
}

// Validate tells what is wrong with the options, as a [Fault].
func (q FitOutputOptions) Validate() error { return validate(&q) }

// Stated returns the stalks per person-hour that the plan states for the site. An unknown site, or
// none where sites differ, is a [Fault].
func (q FitOutputOptions) Stated(c Case) (float64, error) {
	stated, names := 0.0, c.Sites()
	for _, s := range c.Setup.Region.Sites {
		switch {
		case q.Site == s.Name:
			return s.OutputPerPersonH, nil
		case q.Site == "" && stated != 0 && stated != s.OutputPerPersonH:
			return 0, Fault{"site", tongue.Plainf("found none, and sites that state different outputs, allowed: one of %s", strings.Join(names, ", "))}
		}
		stated = s.OutputPerPersonH
	}
	if q.Site != "" {
		return 0, Fault{"site", tongue.Plainf("found %s, allowed: one of %s", strconv.Quote(q.Site), strings.Join(names, ", "))}
	}
	return stated, nil
}

// OutputAnswer is what a tally of cutting tells.
type OutputAnswer struct {
	Measured
	Fit measured.OutputFit
}

// FitOutput says what a tally of cutting tells of the output of a cutter. A tally of too few days is a
// [Fault].
func FitOutput(c Case, log Log, tallies []measured.Tally, missing []string, q FitOutputOptions) (OutputAnswer, error) {
	a := OutputAnswer{Measured: measuredOf(&c, "output", log, &q)}
	stated, err := q.Stated(c)
	if err != nil {
		return a, err
	}
	luck := c.Setup.Region.Luck
	a.Fit, err = measured.FitOutput(measured.OutputLog{
		Tallies: tallies, StatedPerH: stated, SeasonSD: math.Hypot(luck.OutputSeason, luck.OutputSiteSeason), Range: believed(&c, knowledge.OutputFactor),
	})
	a.Fit.MissingDays = missing
	if err != nil {
		return a, Fault{What: err.Error()}
	}
	a.Tells = a.Fit.Estimates
	return a, nil
}
