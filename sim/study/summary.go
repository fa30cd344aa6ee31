package study

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/sim/sensitivity"
	"drystalk/sim/tidy"
	"drystalk/sim/trials"
)

// Line is a line of the summary: one figure of one point with its interval, from which it can be
// traced.
type Line struct {
	Point    int // from 0
	Of       string
	Unit     string
	N        int // seasons, or rows of a design, behind it
	Estimate float64
	Low      float64
	High     float64
	Method   string // of estimate and interval
	Level    float64
}

// The methods of estimates and intervals.
const (
	shareMethod = "share, Clopper-Pearson"
	meanMethod  = "mean, Student t"
)

// summary adds rows up, in the order of the plan.
type summary struct {
	*Study
	means   [][]mean      // by point and column
	results [][][]float64 // by point, outcome and row of the design: sums, then means
	at      []int         // columns of the outcomes
}

// mean adds numbers up by Welford's recurrence (Knuth, The Art of Computer Programming 2, 4.2.2).
type mean struct {
	n      int
	mean   float64
	square float64 // sum of squared deviations
}

func (m *mean) add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / float64(m.n)
	m.square += d * (x - m.mean)
}

// interval returns the 95 % Student t interval; open on both sides for one number.
func (m *mean) interval() (low, high float64) {
	if m.n < 2 {
		return math.Inf(-1), math.Inf(1)
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(m.n - 1)}.Quantile(1 - (1-trials.Level)/2)
	half := t * math.Sqrt(m.square/float64(m.n-1)) / math.Sqrt(float64(m.n))
	return m.mean - half, m.mean + half
}

func (s *Study) newSummary() *summary {
	sum := &summary{Study: s, means: make([][]mean, len(s.Points)), results: make([][][]float64, len(s.Points))}
	for p := range sum.means {
		sum.means[p] = make([]mean, len(s.known.columns))
	}
	if s.Design == nil {
		return sum
	}
	sum.at = s.known.outcomes
	for p := range sum.results {
		for range sum.at {
			sum.results[p] = append(sum.results[p], make([]float64, len(s.known.ranks)))
		}
	}
	return sum
}

// add adds the rows of a shard.
func (s *summary) add(shard Shard, rows *tidy.Table) {
	for i, row := range rows.Rows {
		for c, cell := range row {
			if kind := rows.Columns[c].Kind; kind != tidy.Word && !cell.IsNone(kind) {
				s.means[shard.Point][c].add(cell.Number)
			}
		}
		for o, c := range s.at {
			s.results[shard.Point][o][(shard.First+i)/s.Seasons] += row[c].Number
		}
	}
}

// lines returns the summary by point: shares and means of all columns, then what moves them.
func (s *summary) lines() (out []Line, err error) {
	for p := range s.Points {
		for c, m := range s.means[p] {
			if s.Design != nil {
				break // its rows are no sample of seasons
			}
			if line, ok := s.line(p, c, &m); ok {
				out = append(out, line)
			}
		}
		for o, c := range s.at {
			effects, err := s.effects(p, o, c)
			if err != nil {
				return nil, err
			}
			out = append(out, effects...)
		}
	}
	return out, nil
}

// line returns the line of a column; ok is false where it has none.
func (s *summary) line(p, c int, m *mean) (line Line, ok bool) {
	col := s.known.columns[c]
	if m.n == 0 || col.Kind == tidy.Word || c < s.known.labels {
		return line, false
	}
	line = Line{Point: p, Of: col.Name, Unit: col.Unit, N: m.n, Estimate: m.mean, Method: meanMethod, Level: trials.Level}
	if col.Kind != tidy.Yes {
		line.Low, line.High = m.interval()
		return line, true
	}
	odds := trials.NewOdds(int(math.Round(m.mean*float64(m.n))), m.n)
	line.Estimate, line.Low, line.High, line.Method = odds.Share, odds.Low, odds.High, shareMethod
	return line, true
}

// effects returns the mean of an outcome of a point, and what the inputs of the design do to it.
func (s *summary) effects(p, outcome, column int) ([]Line, error) {
	results := s.results[p][outcome]
	for i := range results {
		results[i] /= float64(s.Seasons)
	}
	col, all := s.known.columns[column], mean{}
	for _, x := range results {
		all.add(x)
	}
	out := []Line{{Point: p, Of: col.Name, Unit: col.Unit, N: all.n, Estimate: all.mean, Low: math.NaN(), High: math.NaN(), Method: "mean over the rows of the design, no interval"}}
	line := func(i int, what, unit, method string, e sensitivity.Estimate) Line {
		return Line{
			Point: p, Of: col.Name + ":" + what + ":" + string(s.Design.Inputs[i]), Unit: unit, N: s.Design.Rows,
			Estimate: e.Value, Low: e.Low, High: e.High, Method: method, Level: trials.Level,
		}
	}
	if s.Design.Method == Screening {
		effects, err := s.morris().Effects(results)
		for i, e := range effects {
			out = append(out, line(i, "mean_effect", col.Unit, "Morris, no interval", sensitivity.Estimate{Value: e.Mean, Low: math.NaN(), High: math.NaN()}),
				line(i, "mean_absolute_effect", col.Unit, "Morris, bootstrap", e.MeanAbs),
				line(i, "sd_of_effects", col.Unit, "Morris, no interval", sensitivity.Estimate{Value: e.SD, Low: math.NaN(), High: math.NaN()}))
		}
		return out, err
	}
	indices, err := s.sobol().Indices(results)
	if errors.Is(err, sensitivity.ErrConstant) {
		return out, nil // no variance to share
	}
	for i, x := range indices {
		out = append(out, line(i, "first_order_index", "", "Sobol', bootstrap", x.First), line(i, "total_index", "", "Sobol', bootstrap", x.Total))
	}
	return out, err
}
