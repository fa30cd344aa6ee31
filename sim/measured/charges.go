package measured

import (
	"fmt"
	"math"

	"drystalk/sim/air"
	"drystalk/sim/charge"
	"drystalk/sim/knowledge"
	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// ChargeLog is a log of loads of one dryer.
type ChargeLog struct {
	Loads   []Load
	Exact   Exact
	Cabinet charge.Cabinet                          // the dryer, all but what is fitted as written
	Ranges  func(key knowledge.Key) knowledge.Range // what is held before, of this dryer
}

// FittedLoad is a load beside what the fit expects of it.
type FittedLoad struct {
	Line     int     `json:"line"`
	Name     string  `json:"load"`
	Hours    float64 `json:"fire_h"`
	ChamberC float64 `json:"chamber_c"`
	In       float64 `json:"moisture_in_wet_basis"`
	Out      float64 `json:"moisture_out_wet_basis"`
	Expected float64 `json:"expected_out_wet_basis"`
	SD       float64 `json:"sd_wet_basis"` // of Out less Expected
}

// NotUsed is a line of a log that tells nothing, and why.
type NotUsed struct {
	Line   int    `json:"line"`
	Before int    `json:"line_before,omitempty"` // the slip may be in this line too: a weighing counts from the one before
	Why    string `json:"why"`
}

// Lines names the line, or both lines in which the slip may be: "4 or 5".
func (n NotUsed) Lines() string {
	if n.Before > 0 {
		return tongue.Plainf("%d or %d", n.Before, n.Line)
	}
	return fmt.Sprint(n.Line)
}

// ChargeFit is what a log of loads tells.
type ChargeFit struct {
	Estimates []Estimate   `json:"estimates"` // drying rate, evaporation of the dryer, spread of drying, efficiency of the furnace
	Loads     []FittedLoad `json:"loads"`
	Odd       []NotUsed    `json:"odd"`                  // loads that cannot be like the others: left out
	Unused    []NotUsed    `json:"not_used"`             // loads that tell nothing
	Excess    float64      `json:"spread_between_loads"` // of the drying rate, sd of its logarithm, beyond what readings explain
}

// leastLoads is the smallest number of loads that are fitted.
const leastLoads = 3

// FitCharges fits a log of loads. A log that carries neither drying rate nor limit is an error that
// says why.
func FitCharges(log ChargeLog) (ChargeFit, error) {
	var fit ChargeFit
	var used []Load
	for _, l := range log.Loads {
		if why := log.useless(&l); why != "" {
			fit.Unused = append(fit.Unused, NotUsed{Line: l.Line, Why: why})
		} else {
			used = append(used, l)
		}
	}
	if len(used) < leastLoads {
		why := tongue.Plainf("found %d loads that can be used, allowed: %d or more, of different moisture", len(used), leastLoads)
		for _, u := range fit.Unused[:min(3, len(fit.Unused))] {
			why += tongue.Plainf("; line %d: %s", u.Line, u.Why)
		}
		return fit, fmt.Errorf("%s", why)
	}
	log.Loads = used
	if fit.Odd = log.leaveOut(); 5*len(fit.Odd) > len(used) || len(log.Loads) < leastLoads {
		return fit, tongue.Errorf("found %d of %d loads that cannot be like the others, first in line %d, allowed: at most one of five; look for slips", len(fit.Odd), len(used), fit.Odd[0].Line)
	}
	rate, limit, s := log.rateAndLimit()
	if s.excess > mostExcess {
		return fit, tongue.Errorf("found loads whose rates differ by %.0f %% beyond what scale, clock and meter explain, allowed: up to %.0f %%; look for slips, or read more exactly", 100*s.excess, 100*mostExcess)
	}
	if !rate.Carried && !limit.Carried {
		return fit, tongue.Errorf("found %d loads that tell neither the drying rate (%s) nor the evaporation of the dryer (%s), allowed: loads of different moisture, timed and weighed as exactly as the options say", len(log.Loads), rate.Why, limit.Why)
	}
	fit.Excess = s.excess
	log.expect(&fit, s)
	fit.Estimates = []Estimate{rate, limit, log.spread(s.theta), log.efficiency(s.theta)}
	return fit, nil
}

// leaveOut takes loads that cannot be like the others out of the log and returns them.
func (log *ChargeLog) leaveOut() (out []NotUsed) {
	p, start, _ := log.problem()
	odd := p.odd(start, []belief{believed(log.Ranges(knowledge.RateAt80CPerH)), believed(log.Ranges(knowledge.EvaporatesKgPerH))})
	var kept []Load
	for i, l := range log.Loads {
		if !odd[i] {
			kept = append(kept, l)
			continue
		}
		s, _ := l.state()
		out = append(out, NotUsed{Line: l.Line, Why: tongue.Plainf("%.2f h at %.0f °C from %.0f to %.0f %% moisture cannot be like the other loads: look for a slip, mend it and fit again", l.Hours, l.ChamberC, 100*s.in/(1+s.in), 100*s.out/(1+s.out))})
	}
	log.Loads = kept
	return out
}

// problem returns the log as a problem of least squares, where it starts and what is documented.
func (log *ChargeLog) problem() (p problem, start []float64, ranges []knowledge.Range) {
	ranges = []knowledge.Range{log.Ranges(knowledge.RateAt80CPerH), log.Ranges(knowledge.EvaporatesKgPerH)}
	return problem{
		lines: len(log.Loads),
		off:   func(theta []float64, i int) float64 { return log.Loads[i].off(log.Cabinet, theta) },
		term:  log.term,
	}, []float64{math.Log(ranges[0].Mode), math.Log(ranges[1].Mode)}, ranges
}

// useless says why a load tells nothing; "" where it does.
func (log *ChargeLog) useless(l *Load) string {
	s, ok := l.state()
	switch {
	case !ok:
		return tongue.Plainf("too few readings: %s are needed", Needed)
	case l.unsure(log.Exact):
		return tongue.Say("how dry it came out hangs on the moisture of wet stalks; read the moisture when it comes out")
	}
	c := log.Cabinet
	emc := float64(stalk.EquilibriumMoisture(l.ChamberC, c.Humidity(l.Outside, l.ChamberC), c.EMCFactor))
	if s.out < emc-0.01 {
		return tongue.Plainf("it came out at %.1f %%, drier than the air of the chamber dries anything (%.1f %%)", 100*s.out/(1+s.out), 100*emc/(1+emc))
	}
	return ""
}

// rateAndLimit fits drying rate and limit together; what the loads do not carry stays as documented.
func (log *ChargeLog) rateAndLimit() (rate, limit Estimate, s solution) {
	p, start, ranges := log.problem()
	beliefs := make([]belief, 2)
	var both [2]Estimate
	for range 2 {
		s = p.solve(start, beliefs)
		again := false
		for j, r := range ranges {
			if beliefs[j].deviation > 0 {
				continue
			}
			if both[j] = estimate(r, s.theta[j], s.se[j], p.lines, s.dof); !both[j].Carried {
				both[j].Why = log.whyNot(r.Key, both[j])
				again = true
			}
		}
		if !again || !both[0].Carried && !both[1].Carried {
			break
		}
		for j := range beliefs {
			if !both[j].Carried {
				beliefs[j] = believed(ranges[j])
			}
		}
	}
	for j := range both {
		switch {
		case !both[j].Carried:
		case beliefs[1-j].deviation > 0:
			both[j].Why = tongue.Plainf("its interval is wider for what is not known of the %s", ranges[1-j].Name)
		case s.excess > 0.05:
			both[j].Why = tongue.Plainf("its interval is wider because loads differ by %.0f %% beyond what scale and clock explain", 100*s.excess)
		}
	}
	return both[0], both[1], s
}

// whyNot says why loads do not carry a parameter.
func (log *ChargeLog) whyNot(key knowledge.Key, e Estimate) string {
	within := tongue.Plainf("the loads leave it between %.3g and %.3g, no narrower than what is documented, %.3g to %.3g", e.Low, e.High, e.Documented.Low, e.Documented.High)
	if e.Open() {
		within = tongue.Say("the loads leave it open")
	}
	if key == knowledge.EvaporatesKgPerH {
		return tongue.Plainf("%s; full loads of wet stalks would tell it", within)
	}
	return tongue.Plainf("%s; loads that are dried to the end, pre-dried ones among them, would tell it", within)
}

// term works out a load at some parameters: each reading is moved by its deviation.
func (log *ChargeLog) term(theta []float64, i int) term {
	l := &log.Loads[i]
	t := term{off: l.off(log.Cabinet, theta)}
	for _, r := range l.readings(log.Exact) {
		moved := *l
		*r.of(&moved) += r.sd
		t.variance += square(moved.off(log.Cabinet, theta) - t.off)
	}
	const step = 0.01
	faster := []float64{theta[0] + step, theta[1] + step} // stalks and fire alike: a load that goes faster
	t.slope = (l.off(log.Cabinet, faster) - t.off) / step
	return t
}

// expect lays every load beside what is expected of it.
func (log *ChargeLog) expect(fit *ChargeFit, s solution) {
	for i := range log.Loads {
		l := &log.Loads[i]
		course, is := l.course(log.Cabinet, math.Exp(s.theta[0]), math.Exp(s.theta[1]))
		after := float64(course.After(stalk.DryBasis(is.in)))
		fit.Loads = append(fit.Loads, FittedLoad{
			Line: l.Line, Name: l.Name, Hours: l.Hours, ChamberC: l.ChamberC, In: is.in / (1 + is.in), Out: is.out / (1 + is.out),
			Expected: after / (1 + after), SD: s.sd[i] / square(1+after),
		})
	}
}

// efficiency estimates what of the wood's heat goes into the chamber, with exhaust, walls and steel
// as written; every load is taken to begin cold.
func (log *ChargeLog) efficiency(theta []float64) Estimate {
	of := log.Ranges(knowledge.FurnaceEfficiency)
	var logs []float64
	for i := range log.Loads {
		l := &log.Loads[i]
		if !has(l.WoodKg) {
			continue
		}
		logs = append(logs, math.Log(log.Cabinet.FurnaceEfficiency*log.woodKg(l, theta)/l.WoodKg))
	}
	e := meanOf(of, logs, 0)
	switch {
	case len(logs) == 0:
		e.Why = tongue.Say("no wood was weighed")
	case !e.Carried:
		e.Why = tongue.Plainf("%d loads with weighed wood leave it as open as what is documented", len(logs))
	default:
		e.Why = tongue.Say("exhaust, walls and steel as written, every load from cold")
	}
	return e
}

// woodKg returns the wood that a load burns at the efficiency as written.
func (log *ChargeLog) woodKg(l *Load, theta []float64) float64 {
	c := log.Cabinet
	s, _ := l.state()
	c.SetC, c.WoodMoisture, c.EvaporatesKgPerH = l.ChamberC, stalk.WetBasis(l.WoodWet), math.Exp(theta[1])
	f := c.Light(l.Outside)
	return f.WoodKg(charge.WoodBill{WaterKg: s.dryKg * (s.in - s.out), LoadedWaterKg: s.dryKg * s.in, DryKg: s.dryKg, DryingH: l.Hours})
}

// meanOf estimates a parameter as the mean of logarithms, with a standard deviation added that they
// do not show. None or one carry nothing.
func meanOf(of knowledge.Range, logs []float64, besides float64) Estimate {
	n := float64(len(logs))
	if n < 2 {
		return estimate(of, math.Log(of.Mode), math.Inf(1), len(logs), 0)
	}
	mean, squares := 0.0, 0.0
	for _, x := range logs {
		mean += x / n
	}
	for _, x := range logs {
		squares += square(x - mean)
	}
	return estimate(of, mean, math.Sqrt(squares/(n-1)/n+besides*besides), len(logs), len(logs)-1)
}

// Outside returns the air around a dryer of a temperature, °C, and a relative humidity, fraction.
func Outside(tempC, humidity float64) charge.Ambient {
	return charge.Ambient{TempC: tempC, VapourKPa: humidity * air.SaturationKPa(tempC)}
}
