package answers

import (
	"drystalk/sim/plans"
	"drystalk/sim/weather"
)

// FitOptions are the options of [FitWeather] and [AssessWeather].
type FitOptions struct {
	Years int    `default:"1000" least:"200" most:"20000" help:"Simulated years behind the fit report."`
	Seed  uint64 `default:"1" help:"Seed of all chance."`
}

// DefaultFit returns the options of a fit as they are unless stated.
func DefaultFit() FitOptions { return defaults[FitOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q FitOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers: of a record in a file, and
// either a WMO station or a scenario for what the record does not hold.
func (q FitOptions) Command(record, station, scenario string) string {
	words := []string{"drystalk", "fit", "weather", fileWord(record)}
	if station != "" {
		words = append(words, flag("wmo-station", station)...)
	}
	if scenario != "" {
		words = append(words, flag("scenario", scenario)...)
	}
	return line(append(words, flags(&q)...))
}

// FitAnswer is how well a climate gives back the record it was fitted to.
type FitAnswer struct {
	Command string       // that gives the same numbers
	Files   []plans.File // that they come from
	Seed    uint64       // of all chance
	Fit     weather.FitReport
}

// FitWeather fits a climate, a generator of weather, to a station's daily record; rest gives
// what the record does not hold. A record that cannot carry a fit is a [Fault].
func FitWeather(rec *weather.Record, rest weather.Normals, q FitOptions) (weather.Climate, error) {
	if err := q.Validate(); err != nil {
		return weather.Climate{}, err
	}
	c, err := weather.Fit(rec, rest, weather.FitOptions{Seed: q.Seed})
	if err != nil {
		return c, Fault{What: string(weather.VerdictUseless) + ": " + err.Error()}
	}
	return c, nil
}

// AssessWeather says how well a fitted climate gives back the record it was fitted to. The
// years it simulates are others than those that the fit was tuned with. Fewer than twice the
// years of the record are a [Fault]. Months, 1 to 12, are judged besides the rains: those of the
// contract.
func AssessWeather(rec *weather.Record, c weather.Climate, q FitOptions, months ...int) (weather.FitReport, error) {
	if err := q.Validate(); err != nil {
		return weather.FitReport{}, err
	}
	r, err := weather.Assess(rec, c, weather.AssessOptions{Years: q.Years, Seed: q.Seed + 1, Months: months})
	if err != nil {
		return r, Fault{What: err.Error()}
	}
	return r, nil
}

// Rest is what a fit takes from elsewhere than the record.
type Rest struct {
	Normals weather.Normals // of temperatures, sunshine and humidity
	Months  []int           // judged besides the rains, 1 to 12: those of a contract
}

// JudgeAsWritten judges a fitted climate as its file says it, for what is used is what is written:
// asWritten writes a climate and reads it back. The climate that it returns bears its judgement.
func JudgeAsWritten(rec *weather.Record, c weather.Climate, rest Rest, q FitOptions, asWritten func(weather.Climate) (weather.Climate, error)) (weather.Climate, weather.FitReport, error) {
	c, err := asWritten(c)
	if err != nil {
		return c, weather.FitReport{}, err
	}
	fit, err := AssessWeather(rec, c, q, rest.Months...)
	c.Judged = fit.Judgement()
	return c, fit, err
}
