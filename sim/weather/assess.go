package weather

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/tongue"
)

// Line compares one statistic of a record with simulated years.
type Line struct {
	Name      string  `json:"name"`
	Unit      string  `json:"unit"`
	Observed  float64 `json:"observed"`
	Simulated float64 `json:"simulated"` // over all simulated years
	Low       float64 `json:"low"`       // 95 % of simulated records as long as this one, and with
	High      float64 `json:"high"`      // its gaps, lie between Low and High
	Inside    bool    `json:"inside"`
	Weight    bool    `json:"decisive"`        // a line on which the verdict rests
	Tolerance float64 `json:"matters_from"`    // the difference from which it matters for drying; 0 where it decides nothing
	Shows     float64 `json:"would_show_from"` // the difference that a record of this length shows in four cases of five
	State     State   `json:"state,omitempty"` // of a decisive line
}

// aSeason is the unit of what is counted by the season.
const aSeason tongue.Text = "a season"

// SaidUnit says the unit of the line.
func (l *Line) SaidUnit() string {
	if l.Unit == string(aSeason) {
		return aSeason.String()
	}
	return l.Unit
}

// State is what is known of a decisive line.
type State = tongue.Text

// The states.
const (
	Agrees  State = "agrees"                       // within chance, and a difference of twice the tolerance would have shown
	Trifle  State = "differs by less than matters" // beyond chance
	Fails   State = "differs by more than matters" // beyond chance
	Unknown State = "too few years to tell"        // within chance, and twice the tolerance might not have shown
)

// tolerance is a difference that matters for drying: a share of the observed value, or a least
// amount.
type tolerance struct{ share, least float64 }

// Tolerances, by what moves the odds of a month of the rains by a few points; see the package
// comment.
var (
	ofMonth    = tolerance{0.15, 10}
	ofWetShare = tolerance{0, 0.05}
	ofRains    = tolerance{0.10, 20}
	ofSpread   = tolerance{0.30, 20}
	ofLongest  = [2]*tolerance{{0.15, 2}, {0.15, 3}} // dry, wet
	ofSpells   = [2]*tolerance{{0.15, 0.5}, {0.15, 1}}
	ofWindows  = tolerance{0.15, 1.5}
	ofAmounts  = tolerance{0.20, 10}
)

// MonthDiffers tells whether the rain of a month, mm, differs from what is held of it by more than
// matters for drying: that by which a fit is judged.
func MonthDiffers(heldMM, foundMM float64) bool {
	return math.Abs(foundMM-heldMM) > max(ofMonth.least, ofMonth.share*heldMM)
}

// FitReport is how well a fitted climate reproduces its record.
type FitReport struct {
	Summary    Summary     `json:"summary"`
	Years      int         `json:"simulated_years"`
	Blocks     int         `json:"blocks"`        // simulated records behind a band
	Season     []int       `json:"season_months"` // calendar months that are judged, 1 to 12
	WholeYears float64     `json:"whole_years"`   // reports of the judged month with the fewest, in months
	Missing    float64     `json:"missing_share"` // of the days of the judged months
	Lines      []Line      `json:"lines"`
	Suspicions []Suspicion `json:"suspicions"`
	Unused     []string    `json:"columns_not_fitted"` // that the record has
	Verdict    string      `json:"verdict"`            // one of the three
	Why        []string    `json:"why"`
}

// Judgement is what a climate file and the answers that use it say of its fit.
type Judgement struct {
	Verdict       string   `json:"verdict"` // "" where it was never judged
	CompleteYears int      `json:"complete_years"`
	Reasons       []string `json:"reasons"`
	Months        []int    `json:"judged_months"` // 1 to 12
}

// Judgement returns what goes with the climate wherever it is used.
func (r *FitReport) Judgement() Judgement {
	return Judgement{r.Verdict, r.Summary.Complete, r.Why, r.Season}
}

// The verdicts.
const (
	VerdictGood    = "good for planning"
	VerdictCare    = "usable with care"
	VerdictUseless = "not usable"
)

// SayVerdict says a verdict, which files and answers hold in English.
func SayVerdict(verdict string) string {
	if at := slices.Index([]tongue.Text{VerdictGood, VerdictCare, VerdictUseless}, tongue.Text(verdict)); at < 0 {
		return verdict
	}
	return tongue.Say(tongue.Text(verdict))
}

// AssessOptions are the choices of an assessment.
type AssessOptions struct {
	Years  int // simulated, at least twice those of the record
	Seed   uint64
	Months []int // 1 to 12, judged besides the rains: those of the contract
}

// blocks is the number of simulated records behind a band.
const blocks = 100

// Assess compares a fitted climate with its record over simulated years. The bands come from
// simulated records as long as this one and with its gaps, drawn from those years, so that they
// hold what such a record can tell; it is an error to ask for fewer years than twice the record's.
func Assess(rec *Record, c Climate, opt AssessOptions) (FitReport, error) {
	s, err := NewClimateSource(c)
	if err != nil {
		return FitReport{}, err
	}
	observed := turned(rec.series(), c.StartDOY, 365-fewestReports)
	if opt.Years < 2*len(observed) || len(observed) == 0 {
		return FitReport{}, tongue.Errorf("%s: its %d years need at least %d simulated years beside them, %d are asked for", rec.Station, len(observed), 2*len(observed), opt.Years)
	}
	r := FitReport{Summary: rec.Summary(), Years: opt.Years, Blocks: blocks, Suspicions: rec.Suspicions, Unused: rec.unfitted()}
	season := rainyMonths(r.Summary.RainMM)
	for _, m := range opt.Months {
		season[m-1] = true
	}
	for m := range 12 {
		if season[m] {
			r.Season = append(r.Season, m+1)
		}
	}
	simulated := withGapsOf(observed, s.SimulatedYears(opt.Years, opt.Seed))
	r.compare(factsOfAll(observed, c.StartDOY, &season), factsOfAll(simulated, c.StartDOY, &season), c.StartDOY, &season)
	r.judge()
	r.compareWithNormals(c.Rest)
	return r, nil
}

func factsOfAll(years [][]float64, startDOY int, season *[12]bool) []*yearFacts {
	out := make([]*yearFacts, len(years))
	for i, year := range years {
		f := factsOf(year, startDOY, season)
		out[i] = &f
	}
	return out
}

// compare fills the lines and says how whole the judged months are.
func (r *FitReport) compare(observed, simulated []*yearFacts, startDOY int, season *[12]bool) {
	r.howWhole(observed)
	whole := linesOf(simulated, startDOY, season)
	drawn := make([][]Line, blocks)
	rng := rand.New(rand.NewPCG(uint64(len(observed)), uint64(len(simulated))))
	for b := range drawn {
		block := make([]*yearFacts, len(observed))
		for i := range block {
			block[i] = simulated[rng.IntN(len(simulated))]
		}
		drawn[b] = linesOf(block, startDOY, season)
	}
	// The simulated years have a chance of their own.
	widen := math.Sqrt(1 + float64(len(observed))/float64(len(simulated)))
	for i, l := range linesOf(observed, startDOY, season) {
		values := make([]float64, blocks)
		for b := range values {
			values[b] = drawn[b][i].Observed
		}
		l.Simulated = whole[i].Observed
		mean, sd := stat.MeanStdDev(values, nil)
		if !has(l.Observed) || !has(l.Simulated) || !has(mean) {
			continue // so many gaps that the record does not tell it
		}
		l.judge(mean, sd*widen)
		r.Lines = append(r.Lines, l)
	}
}

// Quantiles of the normal law: 95 % lie within twoSided deviations; a difference of twoSided and
// oneSided deviations lies beyond them in four cases of five.
const (
	twoSided = 1.960
	oneSided = 0.842
)

// judge compares the line with simulated records.
func (l *Line) judge(mean, sd float64) {
	l.Low, l.High = mean-twoSided*sd, mean+twoSided*sd
	l.Inside = l.Observed >= l.Low-1e-9 && l.Observed <= l.High+1e-9
	l.Shows = (twoSided + oneSided) * sd
	switch {
	case !l.Weight:
	case !l.Inside && l.off() > l.Tolerance:
		l.State = Fails
	case !l.Inside:
		l.State = Trifle
	case l.Shows > 2*l.Tolerance:
		l.State = Unknown
	default:
		l.State = Agrees
	}
}

// off is by how much record and simulated years differ.
func (l *Line) off() float64 { return math.Abs(l.Simulated - l.Observed) }

// howWhole says how many years' worth of reports the judged months have.
func (r *FitReport) howWhole(observed []*yearFacts) {
	reports, days := 0.0, 0.0
	r.WholeYears = math.Inf(1)
	for _, m := range r.Season {
		of := 0.0
		for _, f := range observed {
			of += f.reports[m-1]
		}
		r.WholeYears = min(r.WholeYears, of/monthLength[m-1])
		reports += of
		days += monthLength[m-1] * float64(len(observed))
	}
	r.Missing = 1 - reports/days
}

// compareWithNormals doubts a record whose year has far more or less rain than the normals
// that complete it: a unit, a shifted decimal, or another station.
func (r *FitReport) compareWithNormals(n Normals) {
	var record, normal float64
	for m := range 12 {
		record += r.Summary.RainMM[m]
		normal += n.Months[m].RainMM
	}
	if normal > 0 && (record < normal/2.5 || record > 2.5*normal) {
		r.Verdict = VerdictUseless
		r.Why = append([]string{tongue.Plainf("The record has %.0f mm of rain a year, the normals of %s %.0f: a unit, a shifted decimal, or another station? Settle this first.", record, n.Station, normal)}, r.Why...)
	}
}

// rainyMonths returns the months that have at least a twelfth of the year's rain each: both
// seasons where there are two.
func rainyMonths(rain [12]float64) (in [12]bool) {
	total := 0.0
	for _, v := range rain {
		total += v
	}
	for m, v := range rain {
		in[m] = v > 0 && v >= total/12
	}
	return in
}

// LineOf returns the line of a name; it must exist.
func (r *FitReport) LineOf(name string) Line {
	for _, l := range r.Lines {
		if l.Name == name {
			return l
		}
	}
	panic("weather: no line " + name)
}
