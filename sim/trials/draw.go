package trials

import (
	"math"
	"slices"
	"strconv"

	"drystalk/sim"
	"drystalk/sim/air"
	"drystalk/sim/weather"
)

// builder prepares seasons and reuses its memory; one to a worker.
type builder struct {
	setup    *Setup
	variants []Variant
	seasons  []sim.Season // by group of sites
	hours    [][]air.Hour
	almanacs []*weather.Almanac // by group of sites
}

// build draws season number n for each group of sites: knowledge, weather and luck, each
// from a stream of its own, so that nothing a plan changes can shift them.
func (b *builder) build(n int) []sim.Season {
	s := b.setup
	var ranks []float64
	if s.Design != nil {
		n, ranks = s.Design(n)
	}
	number := uint64(n)
	groups := s.groups()
	for len(b.seasons) < groups {
		b.almanacs = append(b.almanacs, weather.NewAlmanac(s.Region.Calendar.StartDOY(), s.placeOf(len(b.seasons))))
		b.seasons, b.hours = append(b.seasons, sim.Season{}), append(b.hours, nil)
	}
	parameters, _ := s.drawKnowledge(number, ranks)
	days := s.weather(n)
	s.moisten(days, parameters.RainsHumidityPoints)
	for g := range groups {
		season := &b.seasons[g]
		season.Number, season.Parameters, season.StatedShare = n, parameters, s.Base.AcceptedShare
		season.Days = days[min(g, len(days)-1)]
		at := RegionWide // the first group draws as one weather does
		if g > 0 {
			at = uint64(g)
		}
		b.hours[g] = b.almanacs[g].HoursInto(b.hours[g], season.Days, Stream(s.Seed, number, at, "rain hours"))
		if g == 0 {
			b.drawOutput(number)
		}
		season.Output = b.seasons[0].Output
		season.Sheets, season.Dryers = b.drawMissed(number, "sheets", s.Region.Trouble.SheetsMissed), b.drawDryers(number)
		season.Refused = b.drawRefused(number)
		season.Nights = b.drawMissed(number, "sheets at night", s.Region.Trouble.NightMissed)
		if season.Hub = nil; g > 0 {
			season.Hub = &b.seasons[0] // the hub lies with the first site
		}
		season.Prepare(b.hours[g], b.regions()...)
	}
	return b.seasons
}

// drawKnowledge draws what nobody has measured, or takes it where the ranks say, and returns the values too.
func (s *Setup) drawKnowledge(number uint64, ranks []float64) (sim.Parameters, []float64) {
	if ranks != nil {
		return s.Knowledge.At(s.Base, ranks)
	}
	if s.YearsPerFuture > 0 {
		number /= uint64(s.YearsPerFuture)
	}
	return s.Knowledge.Draw(s.Base, KnowledgeStream(s.Seed, number))
}

// drawsOf draws the knowledge of a season, or of a trial, once more.
func (s *Setup) drawsOf(n int) []float64 {
	var ranks []float64
	if s.Design != nil {
		n, ranks = s.Design(n)
	}
	_, draws := s.drawKnowledge(uint64(n), ranks)
	return draws
}

// weather draws the days of season n, by group of sites; one list where all share it.
func (s *Setup) weather(n int) [][]weather.Day {
	c := s.Region.Calendar
	rng := Stream(s.Seed, uint64(n), RegionWide, "weather")
	if years, ok := s.Source.(weather.Numbered); ok {
		return [][]weather.Day{years.Season(n, rng)}
	}
	if s.groups() > 1 {
		return s.Field.Days(c.StartDOY(), c.Days, rng)
	}
	if s.Known != nil {
		return [][]weather.Day{s.Known.drawn(s, n)}
	}
	return [][]weather.Day{s.Source.Days(c.StartDOY(), c.Days, rng)}
}

// moisten lets the rains be as humid as the season's draw of the knowledge has them. A source of
// days that cannot be moistened keeps its days.
func (s *Setup) moisten(days [][]weather.Day, points float64) {
	startDOY := s.Region.Calendar.StartDOY()
	if field, ok := s.Field.(interface {
		Moisten(days [][]weather.Day, startDOY int, points float64)
	}); ok && len(days) > 1 {
		field.Moisten(days, startDOY, points)
		return
	}
	if source, ok := s.Source.(weather.Moist); ok {
		for _, list := range days {
			source.Moisten(list, startDOY, points)
		}
	}
}

// regions returns all regions that will live through the season.
func (b *builder) regions() []*sim.Region {
	regions := []*sim.Region{b.setup.Region}
	for _, v := range b.variants {
		regions = append(regions, v.Region)
	}
	return regions
}

// drawOutput fills the factors on each site's output: lognormal with mean 1,
// with a part shared by all sites, one of the site's season and one of the day.
func (b *builder) drawOutput(number uint64) {
	s, luck := b.setup, b.setup.Region.Luck
	z, streams := s.seasonLuck(number)
	if s.Known != nil {
		z = s.Known.given(luck, b.seasons[0].Parameters.OutputFactor, z)
	}
	sites, days := len(s.Region.Sites), s.Region.Calendar.Days
	output := &b.seasons[0].Output
	for len(*output) < sites {
		*output = append(*output, nil)
	}
	for i := range sites {
		rng := streams[i]
		season := logFactor(luck.OutputSeason, z.shared) * logFactor(luck.OutputSiteSeason, z.site[i])
		out := (*output)[i][:0]
		for range days {
			out = append(out, season*logFactor(luck.OutputDay, rng.NormFloat64()))
		}
		(*output)[i] = out
	}
}

// drawRefused draws the factor of each site on the share refused at the gate: lognormal with
// mean 1; nil where there is no spread.
func (b *builder) drawRefused(number uint64) []float64 {
	s := b.setup
	sd := s.Region.Luck.RefusedSiteSeason
	if !(sd > 0) {
		return nil
	}
	out := make([]float64, len(s.Region.Sites))
	for i := range out {
		out[i] = logFactor(sd, Stream(s.Seed, number, uint64(i), "gate").NormFloat64())
	}
	return out
}

// drawMissed draws the days on which sheets are not pulled in time, by site, with a chance;
// nil where none can be missed.
func (b *builder) drawMissed(number uint64, purpose string, chance float64) [][]bool {
	s := b.setup
	if !(chance > 0) || !slices.ContainsFunc(b.regions(), hasSheets) {
		return nil
	}
	missed := make([][]bool, len(s.Region.Sites))
	for i := range missed {
		rng := Stream(s.Seed, number, uint64(i), purpose)
		for range s.Region.Calendar.Days {
			missed[i] = append(missed[i], rng.Float64() < chance)
		}
	}
	return missed
}

func hasSheets(r *sim.Region) bool {
	return slices.ContainsFunc(r.Sites, func(site sim.Site) bool { return site.Sheets })
}

// mostFails is the most breakdowns of one dryer that a season draws.
const mostFails = 12

// drawDryers draws what happens to each dryer that any variant may have, each from a stream
// of its own, so that the first dryer of a site has the same luck with or without a second;
// nil where nothing can happen.
func (b *builder) drawDryers(number uint64) [][]sim.DryerLuck {
	s := b.setup
	t := s.Region.Trouble
	if !(t.OutForSeason > 0) && !(t.FiringHPerFail > 0) {
		return nil
	}
	luck := make([][]sim.DryerLuck, len(s.Region.Sites))
	for i := range luck {
		for k := range b.mostDryers(i) {
			rng := Stream(s.Seed, number, uint64(i), "dryer "+strconv.Itoa(k))
			l := sim.DryerLuck{Out: rng.Float64() < t.OutForSeason}
			at := 0.0
			for range mostFails {
				at += t.FiringHPerFail * rng.ExpFloat64()
				if t.FiringHPerFail > 0 {
					l.FailsAt = append(l.FailsAt, at)
					l.RepairH = append(l.RepairH, 24*t.RepairDays*math.Exp(t.RepairLogSD*rng.NormFloat64()))
				}
			}
			luck[i] = append(luck[i], l)
		}
	}
	return luck
}

// mostDryers returns the most dryers that any variant runs at a site, those that come there included.
func (b *builder) mostDryers(site int) int {
	most := b.setup.Region.Sites[site].Dryers + b.setup.Region.Coming(site)
	for _, v := range b.variants {
		for _, n := range v.Levels[site] {
			most = max(most, n+v.Region.Coming(site))
		}
	}
	return most
}

// logFactor returns a lognormal factor of mean 1 from a standard normal z.
func logFactor(sd, z float64) float64 { return math.Exp(sd*z - sd*sd/2) }
