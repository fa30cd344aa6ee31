package answers

import (
	"context"
	"slices"

	"drystalk/sim/decide"
	"drystalk/sim/plans"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Through lets a plan be run through the real years of a station too.
type Through struct {
	Record string          `help:"Daily record of a station: run the plan through each of its real years too."`
	Draws  int             `default:"20" least:"1" most:"1000" with:"record" help:"Draws of luck for each real year of --record."`
	Days   *weather.Record `kong:"-"` // what the record holds; read by whoever asks

	Content string `kong:"-"` // hash of the file, for the answer to name
}

// named adds the record to the files that the numbers of a case come from.
func (f *Through) named(c *Case) {
	if f.Record != "" {
		c.Files = append(slices.Clone(c.Files), plans.File{Name: f.Record, Content: f.Content})
	}
}

// years runs a plan through the real years of the record and compares them with what the
// generator of the weather gave. Without a record it returns nil.
func (f *Through) years(ctx context.Context, c *Case, set trials.Setup, generator decide.PlanResult) (*decide.YearsResult, error) {
	switch {
	case f.Record == "" && f.Days == nil:
		return nil, nil
	case f.Record == "" || f.Days == nil:
		return nil, Fault{"record", tongue.Say("found a name without days or days without a name, allowed: both")}
	case c.Weathers > 1:
		return nil, Fault{"record", tongue.Say("found the record of one station for sites with weathers of their own, allowed: a record where all sites have one climate")}
	}
	calendar, plan := set.Region.Calendar, generator.PerSite
	years, err := weather.NewRealYears(f.Days, set.Source, c.Normals, calendar.StartDOY(), calendar.Days)
	if err != nil {
		return nil, Fault{What: err.Error()}
	}
	years.Draws = f.Draws
	set.Source = years
	table, err := set.Table(ctx, 0, years.Seasons(), trials.Only(plan), nil)
	if err != nil {
		return nil, err
	}
	r := &decide.YearsResult{Station: f.Days.Station, Filled: years.Filled, Draws: f.Draws, Changed: c.Changed}
	for _, s := range f.Days.Suspicions {
		r.Suspected = append(r.Suspected, s.String())
	}
	r.Years, r.Names = decide.Years(table, plan, years.Years, f.Draws)
	r.Compare(generator)
	return r, nil
}
