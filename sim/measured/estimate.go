package measured

import (
	"math"

	"drystalk/sim/knowledge"
)

// Estimate is what a log tells of a parameter.
type Estimate struct {
	Key        knowledge.Key `json:"key"`
	Name       string        `json:"name"`
	Unit       string        `json:"unit"`
	Value      float64       `json:"value"`
	Low        float64       `json:"low"`  // of its 95 % interval
	High       float64       `json:"high"` // of its 95 % interval
	Lines      int           `json:"lines"`
	Freedom    int           `json:"degrees_of_freedom"`
	Carried    bool          `json:"carried"` // by the log; where not, Value, Low and High are what it would say and Range is the documented one
	Why        string        `json:"why"`     // it is not carried, or wider than the lines alone would have it; "" where neither
	Range      Triangle      `json:"range"`   // for a scenario
	Documented Triangle      `json:"documented"`
}

// Triangle is a range for a scenario: low, mode, high.
type Triangle struct {
	Low  float64 `json:"low"`
	Mode float64 `json:"mode"`
	High float64 `json:"high"`
}

// normal is the 97.5 % quantile of the normal distribution.
const normal = 1.959964

// estimate returns a parameter as its logarithm was fitted.
func estimate(of knowledge.Range, theta, se float64, lines, dof int) Estimate {
	e := Estimate{
		Key: of.Key, Name: of.Name.String(), Unit: of.Unit.String(), Value: math.Exp(theta), Lines: lines, Freedom: dof,
		Documented: Triangle{of.Low, of.Mode, of.High},
	}
	e.settle(se)
	return e
}

// settle works out interval, verdict and range from value, degrees of freedom and the standard error
// of the logarithm.
func (e *Estimate) settle(se float64) {
	half := studentT(e.Freedom) * se
	e.Low, e.High = e.Value*math.Exp(-half), e.Value*math.Exp(half)
	e.Carried = e.Freedom > 0 && half < math.Log(e.Documented.High/e.Documented.Low)/2
	e.Range = e.Documented
	if e.Carried {
		ends := math.Sqrt(6) * half / normal
		e.Range = Triangle{e.Value * math.Exp(-ends), e.Value, e.Value * math.Exp(ends)}
	}
	if e.Open() {
		e.Value, e.Low, e.High = 0, 0, 0 // JSON has no infinity
	}
}

// Open tells whether the log says nothing of the parameter, or leaves it open by more than a factor
// of a thousand: Value, Low and High are 0 then.
func (e *Estimate) Open() bool { return e.Value == 0 || !(e.High < 1000*e.Low) }

// believed is what is documented of a parameter, as a reading of its logarithm.
func believed(of knowledge.Range) belief {
	return belief{math.Log(of.Mode), math.Log(of.High/of.Low) / math.Sqrt(24)}
}
