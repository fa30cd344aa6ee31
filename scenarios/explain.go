package scenarios

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/tongue"
)

// leftOut are the parts of the trade that the model leaves out, said with every
// answer.
var leftOut = []struct{ name, value, source tongue.Text }{
	{"People", "the other work of one day is taken off the next day's cutting", "assumption"},
	{"Breakdowns", "a breakdown shows when the fire is out; its charge is dry", "assumption"},
	{"Hauling", "stalks are dried at the site that cut them unless haul_to is stated", "the plan as written"},
	{"Plant", "always enough to cut where a site states no stand, and never closed unless stated", "assumption"},
	{"Hub", "what mould spoils at the hub earns nothing, second grade neither; nobody looks at the moisture there again", "left out here"},
	{"Contract", "a shortfall is lost unless grace_of_a_month is stated, surplus counts next month", "the contract as modelled"},
	{"Second grade", "mouldy stalks sorted out before a charge are sold as second grade or rejected at once", "assumption"},
	{"Mould model", "built on pine wood, scaled; a planning aid, no health clearance", "Hukka & Viitanen 1999"},
	{"Share of a site", "each site works for its part of contract and stock, by its cutters' output", "assumption"},
}

// Assumptions lists everything behind an answer that was not stated in the file:
// the ranges of knowledge, stand-ins of the weather, the defaults used, and what
// the model leaves out.
func (s *Scenario) Assumptions() []sim.Assumption {
	out := s.Knowledge.Assumptions()
	weathers, sites := s.living()
	for k, w := range weathers {
		of := "" // which weather, where there are several
		if len(weathers) > 1 {
			of = tongue.Plainf(" of %s", s.Region.Sites[sites[k]].Name)
		}
		out = append(out, w.assumptions(of)...)
	}
	return s.withDefaults(out)
}

// assumptions lists what stands behind a weather.
func (l *localWeather) assumptions(of string) (out []sim.Assumption) {
	for _, sentence := range l.Normals.Filled {
		name, value, _ := strings.Cut(sentence, ": ")
		out = append(out, sim.Assumption{Name: name + of, Value: value, Source: tongue.Say("stand-in, weather not recorded")})
	}
	if c := l.climate; c != nil {
		return append(out, sim.Assumption{
			Name: tongue.Plainf("Weather%s", of), Value: tongue.Plainf("drawn from a climate fitted to %d years of %s", c.FittedYears, c.Station), Source: tongue.Say("see its fit report"),
		})
	}
	return append(out, sim.Assumption{
		Name: tongue.Plainf("Weather%s", of), Value: tongue.Say("drawn from monthly normals alone; long dry spells within the rains come out too rare where the monsoon is sharp"),
		Source: tongue.Say("Geng et al. 1986; Richardson 1981; own fits"),
	})
}

// withDefaults adds the defaults used and the limits of the model.
func (s *Scenario) withDefaults(out []sim.Assumption) []sim.Assumption {
	seen := map[string]bool{}
	for _, d := range s.defaults {
		name := d.Key
		if strings.HasPrefix(d.Key, "sites.") {
			name = tongue.Plainf("site: %s", d.Key[strings.LastIndex(d.Key, ".")+1:])
		}
		if seen[name] {
			continue
		}
		seen[name] = true
		out = append(out, sim.Assumption{Name: name + " (" + d.Meaning + ")", Value: strings.TrimSpace(d.Value + " " + InWords(d.Unit)), Source: d.Source})
	}
	out = append(out, s.stated()...)
	out = append(out, s.sharing())
	return append(out, limits()...)
}

// limits says what the model leaves out.
func limits() []sim.Assumption {
	var out []sim.Assumption
	for _, l := range leftOut {
		out = append(out, sim.Assumption{Name: l.name.String(), Value: l.value.String(), Source: l.source.String()})
	}
	return out
}

// unitWords are the units that are words: they are said, other units are the same in every language.
var unitWords = []tongue.Text{"1/day", "days", "months", "people", "points", "stalks", "years"}

// InWords says a unit of a scenario.
func InWords(unit string) string {
	if slices.Contains(unitWords, tongue.Text(unit)) {
		return tongue.Say(tongue.Text(unit))
	}
	return unit
}

// stated lists the prices and numbers that the file states: a price a line, a site a line, and the
// contract in one.
func (s *Scenario) stated() []sim.Assumption {
	source := tongue.Say("stated in the scenario")
	if s.Invented {
		source = tongue.Say("invented")
	}
	missing := map[string]bool{}
	for _, d := range s.defaults {
		missing[d.Key] = true
	}
	var out []sim.Assumption
	for _, g := range s.Entries() {
		var together []string
		for _, e := range g.Entries {
			switch said := strings.TrimSpace(e.Value + " " + InWords(e.Unit)); {
			case missing[e.Path]:
			case g.Site == "" && g.Place != "buyer":
				out = append(out, sim.Assumption{Name: e.Path + " (" + e.Meaning + ")", Value: said, Source: source})
			case e.Value != "0" && e.Value != "":
				together = append(together, strings.TrimPrefix(strings.TrimPrefix(e.Path, "sites."+g.Site+"."), "contract.")+" "+said)
			}
		}
		if len(together) > 0 {
			name := tongue.Say("contract")
			if g.Site != "" {
				name = tongue.Plainf("site %s", g.Site)
			}
			out = append(out, sim.Assumption{Name: name, Value: strings.Join(together, ", "), Source: source})
		}
	}
	return out
}

// sharing says which sites share one weather.
func (s *Scenario) sharing() sim.Assumption {
	groups := len(s.firstOfGroups())
	weathers, _ := s.living()
	switch {
	case groups < 2:
		return sim.Assumption{Name: tongue.Say("One weather"), Value: tongue.Say("all sites share the region's weather"), Source: tongue.Say("sites within about 10 km")}
	case len(weathers) == 1 && s.weatherOf(0).climate != nil:
		return sim.Assumption{
			Name: tongue.Say("Weather of sites apart"), Value: tongue.Plainf("%d groups of sites, each with the fitted climate, rain correlated by distance", groups),
			Source: tongue.Say("Wilks 1998; length of the correlation as stated"),
		}
	case len(weathers) == 1:
		return sim.Assumption{
			Name: tongue.Say("Weather of sites apart"), Value: tongue.Plainf("%d groups of sites, each with the normals, rain correlated by distance", groups),
			Source: tongue.Say("Wilks 1998; length of the correlation as stated"),
		}
	}
	return sim.Assumption{
		Name: tongue.Say("Weather of sites apart"), Value: tongue.Plainf("%d groups of sites with %d weathers of their own, rain correlated by distance; a wet or a late year is one at all, by as much as is usual there", groups, len(weathers)),
		Source: tongue.Say("Wilks 1998; length of the correlation as stated; the shared year is an assumption"),
	}
}

// Explain returns every key with its value here, unit, allowed values, default and
// the source of the default, as text.
func (s *Scenario) Explain() string {
	var b strings.Builder
	d := &draft{Scenario: s}
	group := func(name string, d *draft, fields []field) { explainGroup(&b, name, d, fields) }
	fmt.Fprint(&b, tongue.Plainf("numbers_as_in (how answers write numbers; default %s, 1,322,350.5): %s\n  allowed: %s\n", plainNumbers, cmp.Or(s.NumbersAsIn, plainNumbers), numbersAsInAllowed))
	group("contract", d, contractFields)
	group("hub", d, hubFields)
	group("dryer", d, dryerFields)
	group("yard", d, yardFields)
	group("luck", d, luckFields)
	group("people", d, peopleFields)
	group(tongue.Say("people: planting"), d, plantingFields)
	group(tongue.Say("stand (where a site states stand_m2)"), d, standFields)
	group("trouble", d, troubleFields)
	group("road", d, roadFields)
	group("store", d, storeFields)
	if s.HasMoney {
		group(tongue.Plainf("money, in %s", s.currency()), d, moneyFields)
	} else {
		b.WriteString(tongue.Say("money: no prices stated, so nothing is said of money\n"))
	}
	for _, list := range s.writeLists() {
		fmt.Fprintf(&b, "%s\n", list)
	}
	s.explainWeather(&b, "weather", &s.localWeather)
	for i := range s.elsewhere {
		w := &s.elsewhere[i]
		title := tongue.Plainf("weather %s", w.name)
		if w.ofSite {
			title = tongue.Plainf("weather of site %s", w.name)
		}
		s.explainWeather(&b, title, &w.localWeather)
	}
	b.WriteString(tongue.Say("knowledge (drawn anew each season between low and high unless fixed)\n"))
	for _, k := range s.Knowledge.Ranges {
		drawn := ""
		if k.Shape == knowledge.Even {
			drawn = tongue.Say(", as likely anywhere between")
		}
		fmt.Fprint(&b, tongue.Plainf("  %s: low %g, mode %g, high %g %s%s\n    %s; source: %s\n", k.Key, k.Low, k.Mode, k.High, k.Unit, drawn, k.Name, k.Origin()))
	}
	for i := range s.Region.Sites {
		group(tongue.Plainf("site %s", s.Region.Sites[i].Name), &draft{Scenario: s, site: &s.Region.Sites[i], maxDryers: &s.MaxDryers[i]}, siteFields)
		if name := s.weatherName(i); name != "" {
			fmt.Fprint(&b, tongue.Plainf("  weather: %s\n    a weather of the group weathers, or a group of keys such as {wmo_station: 41923}\n    if missing the weather of the region\n", name))
		}
	}
	return b.String()
}

// explainGroup explains the keys of a table.
func explainGroup(b *strings.Builder, name string, d *draft, fields []field) {
	fmt.Fprintf(b, "%s\n", name)
	for i := range fields {
		f := &fields[i]
		fmt.Fprint(b, tongue.Plainf("  %s: %s %s\n    %s\n    allowed: %s; %s\n", f.key, f.value(d), InWords(f.unit), f.meaning, f.allowed(), f.ifMissing()))
	}
}

// explainWeather explains where a weather comes from, and its keys.
func (s *Scenario) explainWeather(b *strings.Builder, title string, l *localWeather) {
	d := &draft{Scenario: s, here: l}
	fmt.Fprint(b, tongue.Plainf("%s\n  station: %s, latitude %g°, elevation %g m\n", title, l.Normals.Station, l.Normals.Place.LatitudeDeg, l.Normals.Place.ElevationM))
	kind, name := "normals", "place"
	switch {
	case l.climate != nil:
		kind, name = "climate_file", l.climateName
	case l.station != "":
		kind, name = "wmo_station", "change"
	}
	if l == &s.localWeather && kind == "normals" {
		name = tongue.Say("place and change")
	}
	if fields, _ := d.weatherKeys(kind); len(fields) > 0 {
		explainGroup(b, title+": "+name, d, fields)
	}
	if l == &s.localWeather && s.correlated {
		explainGroup(b, tongue.Plainf("%s: rain of sites apart", title), d, apartFields)
	}
	if on := l.Normals.Onset; on.OnsetDOY > 0 && l.climate == nil {
		explainGroup(b, tongue.Plainf("%s: monsoon", title), &draft{Scenario: s, weatherRaw: &rawWeather{on.OnsetSD, on.WithdrawalSD}}, monsoonFields)
	}
	for _, f := range l.Normals.Filled {
		fmt.Fprint(b, tongue.Plainf("  stand-in: %s\n", f))
	}
}

func (f *field) ifMissing() string {
	if f.missing == "" {
		return tongue.Say("required")
	}
	return tongue.Plainf("if missing %s (%s)", f.missing, f.source)
}
