package scenarios

import (
	"cmp"
	"fmt"
	"strings"

	"drystalk/sim"
	"drystalk/sim/knowledge"
)

// limits are the parts of the trade that the model leaves out, said with every
// answer.
var limits = []sim.Assumption{
	{Name: "People", Value: "the other work of one day is taken off the next day's cutting", Source: "assumption"},
	{Name: "Breakdowns", Value: "a breakdown shows when the fire is out; its charge is dry", Source: "assumption"},
	{Name: "Hauling", Value: "stalks are dried at the site that cut them unless haul_to is stated", Source: "the plan as written"},
	{Name: "Plant", Value: "always enough to cut where a site states no stand, and never closed unless stated", Source: "assumption"},
	{Name: "Hub", Value: "what mould spoils at the hub earns nothing, second grade neither; nobody looks at the moisture there again", Source: "left out here"},
	{Name: "Contract", Value: "a shortfall is lost unless grace_of_a_month is stated, surplus counts next month", Source: "the contract as modelled"},
	{Name: "Second grade", Value: "mouldy stalks sorted out before a charge are sold as second grade or rejected at once", Source: "assumption"},
	{Name: "Mould model", Value: "built on pine wood, scaled; a planning aid, no health clearance", Source: "Hukka & Viitanen 1999"},
	{Name: "Share of a site", Value: "each site works for its part of contract and stock, by its cutters' output", Source: "assumption"},
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
			of = " of " + s.Region.Sites[sites[k]].Name
		}
		out = append(out, w.assumptions(of)...)
	}
	return s.withDefaults(out)
}

// assumptions lists what stands behind a weather.
func (l *localWeather) assumptions(of string) (out []sim.Assumption) {
	for _, sentence := range l.Normals.Filled {
		name, value, _ := strings.Cut(sentence, ": ")
		out = append(out, sim.Assumption{Name: name + of, Value: value, Source: "stand-in, weather not recorded"})
	}
	if c := l.climate; c != nil {
		return append(out, sim.Assumption{
			Name: "Weather" + of, Value: fmt.Sprintf("drawn from a climate fitted to %d years of %s", c.FittedYears, c.Station), Source: "see its fit report",
		})
	}
	return append(out, sim.Assumption{
		Name: "Weather" + of, Value: "drawn from monthly normals alone; long dry spells within the rains come out too rare where the monsoon is sharp",
		Source: "Geng et al. 1986; Richardson 1981; own fits",
	})
}

// withDefaults adds the defaults used and the limits of the model.
func (s *Scenario) withDefaults(out []sim.Assumption) []sim.Assumption {
	seen := map[string]bool{}
	for _, d := range s.defaults {
		name := d.Key
		if strings.HasPrefix(d.Key, "sites.") {
			name = "site: " + d.Key[strings.LastIndex(d.Key, ".")+1:]
		}
		if seen[name] {
			continue
		}
		seen[name] = true
		out = append(out, sim.Assumption{Name: name + " (" + d.Meaning + ")", Value: strings.TrimSpace(d.Value + " " + d.Unit), Source: d.Source})
	}
	out = append(out, s.stated()...)
	return append(append(out, s.sharing()), limits...)
}

// stated lists the prices and numbers that the file states: a price a line, a site a line, and the
// contract in one.
func (s *Scenario) stated() []sim.Assumption {
	source := "stated in the scenario"
	if s.Invented {
		source = "invented"
	}
	missing := map[string]bool{}
	for _, d := range s.defaults {
		missing[d.Key] = true
	}
	var out []sim.Assumption
	for _, g := range s.Entries() {
		var together []string
		for _, e := range g.Entries {
			switch said := strings.TrimSpace(e.Value + " " + e.Unit); {
			case missing[e.Path]:
			case g.Site == "" && g.Place != "buyer":
				out = append(out, sim.Assumption{Name: e.Path + " (" + e.Meaning + ")", Value: said, Source: source})
			case e.Value != "0" && e.Value != "":
				together = append(together, strings.TrimPrefix(strings.TrimPrefix(e.Path, "sites."+g.Site+"."), "contract.")+" "+said)
			}
		}
		if len(together) > 0 {
			name := "contract"
			if g.Site != "" {
				name = "site " + g.Site
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
		return sim.Assumption{Name: "One weather", Value: "all sites share the region's weather", Source: "sites within about 10 km"}
	case len(weathers) == 1 && s.weatherOf(0).climate != nil:
		return sim.Assumption{
			Name: "Weather of sites apart", Value: fmt.Sprintf("%d groups of sites, each with the fitted climate, rain correlated by distance", groups),
			Source: "Wilks 1998; length of the correlation as stated",
		}
	case len(weathers) == 1:
		return sim.Assumption{
			Name: "Weather of sites apart", Value: fmt.Sprintf("%d groups of sites, each with the normals, rain correlated by distance", groups),
			Source: "Wilks 1998; length of the correlation as stated",
		}
	}
	return sim.Assumption{
		Name: "Weather of sites apart", Value: fmt.Sprintf("%d groups of sites with %d weathers of their own, rain correlated by distance; a wet or a late year is one at all, by as much as is usual there", groups, len(weathers)),
		Source: "Wilks 1998; length of the correlation as stated; the shared year is an assumption",
	}
}

// Explain returns every key with its value here, unit, allowed values, default and
// the source of the default, as text.
func (s *Scenario) Explain() string {
	var b strings.Builder
	d := &draft{Scenario: s}
	group := func(name string, d *draft, fields []field) { explainGroup(&b, name, d, fields) }
	fmt.Fprintf(&b, "numbers_as_in (how answers write numbers; default %s, 1,322,350.5): %s\n  allowed: %s\n", plainNumbers, cmp.Or(s.NumbersAsIn, plainNumbers), numbersAsInAllowed)
	group("contract", d, contractFields)
	group("hub", d, hubFields)
	group("dryer", d, dryerFields)
	group("yard", d, yardFields)
	group("luck", d, luckFields)
	group("people", d, peopleFields)
	group("people: planting", d, plantingFields)
	group("stand (where a site states stand_m2)", d, standFields)
	group("trouble", d, troubleFields)
	group("road", d, roadFields)
	group("store", d, storeFields)
	if s.HasMoney {
		group("money, in "+s.currency(), d, moneyFields)
	} else {
		b.WriteString("money: no prices stated, so nothing is said of money\n")
	}
	for _, list := range s.writeLists() {
		fmt.Fprintf(&b, "%s\n", list)
	}
	s.explainWeather(&b, "weather", &s.localWeather)
	for i := range s.elsewhere {
		w := &s.elsewhere[i]
		title := "weather " + w.name
		if w.ofSite {
			title = "weather of site " + w.name
		}
		s.explainWeather(&b, title, &w.localWeather)
	}
	b.WriteString("knowledge (drawn anew each season between low and high unless fixed)\n")
	for _, k := range s.Knowledge.Ranges {
		drawn := ""
		if k.Shape == knowledge.Even {
			drawn = ", as likely anywhere between"
		}
		fmt.Fprintf(&b, "  %s: low %g, mode %g, high %g %s%s\n    %s; source: %s\n", k.Key, k.Low, k.Mode, k.High, k.Unit, drawn, k.Name, k.Source)
	}
	for i := range s.Region.Sites {
		group("site "+s.Region.Sites[i].Name, &draft{Scenario: s, site: &s.Region.Sites[i], maxDryers: &s.MaxDryers[i]}, siteFields)
		if name := s.weatherName(i); name != "" {
			fmt.Fprintf(&b, "  weather: %s\n    a weather of the group weathers, or a group of keys such as {wmo_station: 41923}\n    if missing the weather of the region\n", name)
		}
	}
	return b.String()
}

// explainGroup explains the keys of a table.
func explainGroup(b *strings.Builder, name string, d *draft, fields []field) {
	fmt.Fprintf(b, "%s\n", name)
	for i := range fields {
		f := &fields[i]
		fmt.Fprintf(b, "  %s: %s %s\n    %s\n    allowed: %s; %s\n", f.key, f.value(d), f.unit, f.meaning, f.allowed(), f.ifMissing())
	}
}

// explainWeather explains where a weather comes from, and its keys.
func (s *Scenario) explainWeather(b *strings.Builder, title string, l *localWeather) {
	d := &draft{Scenario: s, here: l}
	fmt.Fprintf(b, "%s\n  station: %s, latitude %g°, elevation %g m\n", title, l.Normals.Station, l.Normals.Place.LatitudeDeg, l.Normals.Place.ElevationM)
	kind, name := "normals", "place"
	switch {
	case l.climate != nil:
		kind, name = "climate_file", l.climateName
	case l.station != "":
		kind, name = "wmo_station", "change"
	}
	if l == &s.localWeather && kind == "normals" {
		name = "place and change"
	}
	if fields, _ := d.weatherKeys(kind); len(fields) > 0 {
		explainGroup(b, title+": "+name, d, fields)
	}
	if l == &s.localWeather && s.correlated {
		explainGroup(b, title+": rain of sites apart", d, apartFields)
	}
	if on := l.Normals.Onset; on.OnsetDOY > 0 && l.climate == nil {
		explainGroup(b, title+": monsoon", &draft{Scenario: s, weatherRaw: &rawWeather{on.OnsetSD, on.WithdrawalSD}}, monsoonFields)
	}
	for _, f := range l.Normals.Filled {
		fmt.Fprintf(b, "  stand-in: %s\n", f)
	}
}

func (f *field) ifMissing() string {
	if f.missing == "" {
		return "required"
	}
	return fmt.Sprintf("if missing %s (%s)", f.missing, f.source)
}
