package answers

import (
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Anyway lets a question be asked of weather whose fit is not usable. It is an option of the
// questions whose answers money is spent on.
type Anyway struct {
	UseAnyway bool `help:"Use fitted weather although its fit is not usable."`
}

// check refuses weather whose fit is not usable, as a [Fault], unless it is to be used anyway.
func (a *Anyway) check(c *Case) error {
	for _, f := range c.Fits {
		if f.Verdict != weather.VerdictUseless || a.UseAnyway {
			continue
		}
		why := "."
		if len(f.Reasons) > 0 {
			why = ": " + f.Reasons[0]
		}
		return Fault{What: tongue.Plainf("%s: the fit of the weather to %s is %s%s Settle that and fit again, or state --use-anyway", c.Name, f.Station, weather.SayVerdict(f.Verdict), why)}
	}
	return nil
}
