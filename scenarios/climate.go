package scenarios

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"

	"drystalk/sim/weather"
	"drystalk/tongue"
)

// climateFile is a fitted climate as a file. What is nil was not in the file; lists have so many
// values.
type climateFile struct {
	Station    *string     `yaml:"station"`
	Years      *int        `yaml:"fitted_years"`
	Latitude   *float64    `yaml:"latitude_deg"`
	Elevation  *float64    `yaml:"elevation_m"`
	Coast      *bool       `yaml:"coast"`
	StartDOY   *int        `yaml:"year_begins_day_of_year"`
	ClockMoves *bool       `yaml:"clock_moves"`
	Onset      []float64   `yaml:"onset_day_and_sd" values:"2"`
	Withdrawal []float64   `yaml:"withdrawal_day_and_sd" values:"2"`
	SlowShare  *float64    `yaml:"amount_share_that_persists"`
	SlowDays   *float64    `yaml:"amount_persistence_per_day"`
	YearChance *float64    `yaml:"year_wetness_on_chance"`
	YearAmount *float64    `yaml:"year_wetness_on_amount"`
	Classes    [][]float64 `yaml:"amount_classes_p_b1_b2" values:"3"`
	DryDry     []float64   `yaml:"chance_after_dry_dry" values:"365"`
	DryWet     []float64   `yaml:"chance_after_dry_wet" values:"365"`
	WetDry     []float64   `yaml:"chance_after_wet_dry" values:"365"`
	WetWet     []float64   `yaml:"chance_after_wet_wet" values:"365"`
	Excess     []float64   `yaml:"mean_rain_above_1mm" values:"365"`
	Rain       []float64   `yaml:"normal_rain_mm" values:"12"`
	RainDays   []float64   `yaml:"normal_rain_days" values:"12"`
	Tmax       []float64   `yaml:"normal_tmax_c" values:"12"`
	Tmin       []float64   `yaml:"normal_tmin_c" values:"12"`
	Sun        []float64   `yaml:"normal_sunshine_fraction" values:"12"`
	Vapour     []float64   `yaml:"normal_vapour_pressure_kpa" values:"12"`
	Wind       []float64   `yaml:"normal_wind_m_per_s" values:"12"`
	Filled     []string    `yaml:"stand_ins"` // may be empty
	Normals    *string     `yaml:"normals_station"`
	Verdict    *string     `yaml:"verdict"` // this and what follows are missing where the fit was not judged
	Complete   *int        `yaml:"complete_years"`
	Months     []int       `yaml:"judged_months"`
	Reasons    []string    `yaml:"reasons"`
}

// mayMiss are the keys that files of earlier versions, and fits that were not judged, do without.
var mayMiss = []string{"stand_ins", "normals_station", "verdict", "complete_years", "judged_months", "reasons"}

// check returns an error that names the first key that is missing or has too few or too many
// values: the YAML library leaves what is missing at 0.
func (f *climateFile) check() error {
	v := reflect.ValueOf(f).Elem()
	for i := range v.NumField() {
		tag := v.Type().Field(i).Tag
		key, values := tag.Get("yaml"), tag.Get("values")
		if slices.Contains(mayMiss, key) {
			continue
		}
		if v.Field(i).IsNil() {
			return tongue.Errorf("%s is missing", key)
		}
		if values != "" && strconv.Itoa(v.Field(i).Len()) != values {
			return tongue.Errorf("%s has %d values, allowed: %s", key, v.Field(i).Len(), values)
		}
	}
	for _, class := range f.Classes {
		if len(class) != 3 {
			return tongue.Errorf("amount_classes_p_b1_b2 has a class of %d values, allowed: 3", len(class))
		}
	}
	return f.checkJudgement()
}

// checkJudgement checks what the file says of its fit.
func (f *climateFile) checkJudgement() error {
	verdicts := []string{weather.VerdictGood, weather.VerdictCare, weather.VerdictUseless}
	if f.Verdict != nil && !slices.Contains(verdicts, *f.Verdict) {
		return tongue.Errorf("verdict: found %q, allowed: %s", *f.Verdict, strings.Join(verdicts, ", "))
	}
	if (f.Verdict == nil) != (f.Complete == nil) {
		return tongue.Fault("verdict and complete_years: found one of the two, allowed: both, or none where the fit was not judged")
	}
	for _, m := range f.Months {
		if m < 1 || m > 12 {
			return tongue.Errorf("judged_months: found %d, allowed: 1 to 12", m)
		}
	}
	return nil
}

// judgement returns what the file says of its fit.
func (f *climateFile) judgement() weather.Judgement {
	if f.Verdict == nil {
		return weather.Judgement{}
	}
	return weather.Judgement{Verdict: *f.Verdict, CompleteYears: *f.Complete, Reasons: f.Reasons, Months: f.Months}
}

// WriteClimate returns a fitted climate as a file that a scenario can name.
func WriteClimate(c weather.Climate) []byte {
	var b strings.Builder
	line := func(key string, value any) { fmt.Fprintf(&b, "%s: %v\n", key, value) }
	list := func(key string, digits int, values []float64) {
		cells := make([]string, len(values))
		for i, v := range values {
			cells[i] = strconv.FormatFloat(v, 'g', digits, 64)
		}
		line(key, "["+strings.Join(cells, ", ")+"]")
	}
	b.WriteString("# A climate fitted to a station's daily rain. Days are counted from the day of the\n# year on which its year begins; chances are of a wet day after yesterday and the day before.\n")
	line("station", strconv.Quote(c.Station))
	line("fitted_years", c.FittedYears)
	writeJudgement(&b, &c.Judged)
	line("latitude_deg", c.Rest.Place.LatitudeDeg)
	line("elevation_m", c.Rest.Place.ElevationM)
	line("coast", c.Rest.Place.Coast)
	line("year_begins_day_of_year", c.StartDOY)
	line("clock_moves", c.ClockMoves)
	list("onset_day_and_sd", 4, []float64{c.OnsetDay, c.OnsetSD})
	list("withdrawal_day_and_sd", 4, []float64{c.WithdrawalDay, c.WithdrawalSD})
	line("amount_share_that_persists", fmt.Sprintf("%.4g", c.SlowShare))
	line("amount_persistence_per_day", fmt.Sprintf("%.4g", c.SlowPersistence))
	line("year_wetness_on_chance", fmt.Sprintf("%.4g", c.YearOccurrence))
	line("year_wetness_on_amount", fmt.Sprintf("%.4g", c.YearAmount))
	b.WriteString("amount_classes_p_b1_b2:\n")
	for _, m := range c.Classes {
		fmt.Fprintf(&b, "- [%.6g, %.6g, %.6g]\n", m.P, m.B1, m.B2)
	}
	for k, key := range []string{"chance_after_dry_dry", "chance_after_dry_wet", "chance_after_wet_dry", "chance_after_wet_wet"} {
		list(key, 4, c.Chance[k][:])
	}
	list("mean_rain_above_1mm", 4, c.ExcessMM[:])
	for _, n := range normalLists(&c.Rest) {
		values := make([]float64, 12)
		for m := range values {
			values[m] = *n.at(m)
		}
		list(n.key, 6, values)
	}
	line("normals_station", strconv.Quote(c.Rest.Station))
	writeList(&b, "stand_ins", c.Rest.Filled)
	return []byte(b.String())
}

// writeJudgement writes what is known of the fit, if it was judged.
func writeJudgement(b *strings.Builder, j *weather.Judgement) {
	if j.Verdict == "" {
		return
	}
	months := make([]string, len(j.Months))
	for i, m := range j.Months {
		months[i] = strconv.Itoa(m)
	}
	fmt.Fprintf(b, "verdict: %s\ncomplete_years: %d\njudged_months: [%s]\n", strconv.Quote(j.Verdict), j.CompleteYears, strings.Join(months, ", "))
	writeList(b, "reasons", j.Reasons)
}

// writeList writes a list of sentences.
func writeList(b *strings.Builder, key string, list []string) {
	b.WriteString(key + ":\n")
	for _, s := range list {
		fmt.Fprintf(b, "- %s\n", strconv.Quote(s))
	}
}

// normalList is one list of normals of a climate file.
type normalList struct {
	key string
	at  func(m int) *float64
}

func normalLists(n *weather.Normals) []normalList {
	return []normalList{
		{"normal_rain_mm", func(m int) *float64 { return &n.Months[m].RainMM }},
		{"normal_rain_days", func(m int) *float64 { return &n.Months[m].RainDays }},
		{"normal_tmax_c", func(m int) *float64 { return &n.Months[m].TmaxC }},
		{"normal_tmin_c", func(m int) *float64 { return &n.Months[m].TminC }},
		{"normal_sunshine_fraction", func(m int) *float64 { return &n.Months[m].SunFraction }},
		{"normal_vapour_pressure_kpa", func(m int) *float64 { return &n.Months[m].VapourKPa }},
		{"normal_wind_m_per_s", func(m int) *float64 { return &n.Months[m].WindMS }},
	}
}

// ReadClimate reads a climate file. Errors name the file.
func ReadClimate(name string, data []byte) (weather.Climate, error) {
	var f climateFile
	if len(data) > largest {
		return weather.Climate{}, tongue.Errorf("%s: larger than a climate file can be", name)
	}
	r := &reader{file: name}
	data, ok := r.guard(data)
	if !ok {
		return weather.Climate{}, r.err()
	}
	if err := yaml.UnmarshalWithOptions(data, &f, yaml.Strict()); err != nil {
		first, _, _ := strings.Cut(err.Error(), "\n")
		return weather.Climate{}, tongue.Errorf("%s: not a climate file: %s", name, first)
	}
	if err := f.check(); err != nil {
		return weather.Climate{}, fmt.Errorf("%s: %w", name, err)
	}
	c := f.climate()
	if _, err := weather.NewClimateSource(c); err != nil {
		return weather.Climate{}, fmt.Errorf("%s: %w", name, err)
	}
	return c, nil
}

// climate returns what a complete file says.
func (f *climateFile) climate() weather.Climate {
	c := weather.Climate{
		Station: *f.Station, FittedYears: *f.Years, StartDOY: *f.StartDOY, ClockMoves: *f.ClockMoves,
		OnsetDay: f.Onset[0], OnsetSD: f.Onset[1], WithdrawalDay: f.Withdrawal[0], WithdrawalSD: f.Withdrawal[1],
		SlowShare: *f.SlowShare, SlowPersistence: *f.SlowDays, YearOccurrence: *f.YearChance, YearAmount: *f.YearAmount,
		ExcessMM: [365]float64(f.Excess),
		Chance:   [4][365]float64{[365]float64(f.DryDry), [365]float64(f.DryWet), [365]float64(f.WetDry), [365]float64(f.WetWet)},
		Judged:   f.judgement(),
		Rest: weather.Normals{
			Station: *f.Station, Filled: f.Filled,
			Place: weather.Place{LatitudeDeg: *f.Latitude, ElevationM: *f.Elevation, Coast: *f.Coast},
		},
	}
	if f.Normals != nil {
		c.Rest.Station = *f.Normals
	}
	for k, p := range f.Classes {
		c.Classes[k] = weather.MixedExponential{P: p[0], B1: p[1], B2: p[2]}
	}
	for m := range c.Rest.Months {
		c.Rest.Months[m] = weather.MonthNormal{
			RainMM: f.Rain[m], RainDays: f.RainDays[m], TmaxC: f.Tmax[m], TminC: f.Tmin[m], SunFraction: f.Sun[m], VapourKPa: f.Vapour[m], WindMS: f.Wind[m],
		}
	}
	return c
}
