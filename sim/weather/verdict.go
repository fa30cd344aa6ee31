package weather

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// Sizes of the verdict. Assumptions.
const (
	fewYears    = 20      // of reports, below which rare seasons are hardly known
	graveTimes  = 2.0     // tolerances by which a line fails gravely
	mostGrave   = 2       // lines that may
	mostFailing = 1.0 / 3 // of the decisive lines that may fail
	mostUnknown = 0.5     // of the decisive lines that may be unknown
	mostMissing = 0.01    // of the days of the judged months, beyond which gaps are spoken of
)

// judge gives the verdict and its reasons: by the size of what differs beyond chance, by what the
// record is too short to show, and by what is suspected.
func (r *FitReport) judge() {
	r.Verdict = VerdictGood
	worse := func(verdict string) {
		if r.Verdict != VerdictUseless {
			r.Verdict = verdict
		}
	}
	for _, s := range r.Suspicions {
		r.say("%s", s)
		worse(VerdictCare)
		if s.Grave {
			worse(VerdictUseless)
		}
	}
	decisive, failing, grave, unknown := r.counts()
	switch {
	case grave > mostGrave || failing > mostFailing*decisive:
		worse(VerdictUseless)
	case failing > 0 || unknown > mostUnknown*decisive:
		worse(VerdictCare)
	}
	r.sayLines()
	if r.WholeYears < fewYears {
		worse(VerdictCare)
		r.say("Only %.0f years of reports in the judged months: rare seasons are hardly known.", r.WholeYears)
	}
	if n := len(r.Summary.Refused); n > 0 {
		r.say("%d years are not used, the first of them %d: %s.", n, r.Summary.Refused[0].Year, r.Summary.Refused[0].Refused)
		if n > r.Summary.Used/3 {
			worse(VerdictCare)
		}
	}
	if r.Missing > mostMissing {
		r.say("%.0f %% of the days of the judged months are missing. Simulated years were given the same gaps: spells end at them, months are scaled to their length.", 100*r.Missing)
	}
	if len(r.Unused) > 0 {
		r.say("Only the rain was fitted. Not fitted: %s; the normals give them, and a run through the real years uses what is there.", strings.Join(r.Unused, ", "))
	}
}

func (r *FitReport) say(format string, args ...any) {
	r.Why = append(r.Why, tongue.Plainf(format, args...))
}

// counts counts the decisive lines by what is known of them.
func (r *FitReport) counts() (decisive, failing, grave, unknown float64) {
	for i := range r.Lines {
		l := &r.Lines[i]
		if !l.Weight {
			continue
		}
		decisive++
		switch l.State {
		case Fails:
			failing++
			if l.off() > graveTimes*l.Tolerance {
				grave++
			}
		case Unknown:
			unknown++
		}
	}
	return decisive, failing, grave, unknown
}

// inUnit writes a number with two digits, without an exponent, and its unit if it has one.
func inUnit(x float64, unit string) string {
	if x != 0 {
		step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
		x = math.Round(x/step) * step
	}
	return strings.TrimSpace(strconv.FormatFloat(float64(float32(x)), 'f', -1, 32) + " " + unit)
}

// sayLines says which lines fail, which differ by a trifle, and what could not have shown.
func (r *FitReport) sayLines() {
	var trifles, unknown []string
	decisive := 0
	for i := range r.Lines {
		l := &r.Lines[i]
		if l.Weight {
			decisive++
		}
		switch l.State {
		case Fails:
			r.say("%s: %s observed, %.3g simulated (%.3g to %.3g); %s matters.", l.Name, strings.TrimSpace(fmt.Sprintf("%.3g %s", l.Observed, l.SaidUnit())), l.Simulated, l.Low, l.High, inUnit(l.Tolerance, ""))
		case Trifle:
			trifles = append(trifles, tongue.Plainf("%s (%.3g observed, %.3g simulated)", l.Name, l.Observed, l.Simulated))
		case Unknown:
			unknown = append(unknown, tongue.Plainf("%s (from %s)", l.Name, inUnit(l.Shows, l.SaidUnit())))
		}
	}
	if len(trifles) > 0 {
		r.say("Beyond chance, but by less than matters for drying: %s.", strings.Join(trifles, ", "))
	}
	if len(unknown) > 0 {
		r.say("Too few years to tell: in %d of the %d statistics that decide a difference of twice what matters might not have shown: %s.", len(unknown), decisive, strings.Join(unknown, ", "))
	}
}
