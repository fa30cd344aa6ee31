package scenarios

import (
	"strconv"
	"time"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/tongue"
)

// bare returns a value that is written as it is: a number, a switch, a choice, a date.
func bare(text string) *node { return &node{text: text} }

// quote returns a text of the user's, written in quotes.
func quote(text string) *node { return &node{text: text, quoted: true} }

// add appends a key to a group of keys.
func (n *node) add(key string, v *node) {
	n.keys = append(n.keys, key)
	n.values = append(n.values, v)
}

// addSome appends a key whose group or list is not empty.
func (n *node) addSome(key string, v *node) {
	if len(v.values) > 0 {
		n.add(key, v)
	}
}

// section returns a new group of keys within n.
func (n *node) section(key string) *node {
	out := &node{kind: mapping}
	n.add(key, out)
	return out
}

// table adds the present values of the keys of a table.
func (n *node) table(d *draft, fields []field) {
	for i := range fields {
		n.add(fields[i].key, bare(fields[i].value(d)))
	}
}

// tree returns the scenario as nodes with every key stated, defaults included: what Write
// writes, what Differences compares and what a change is put into. The reader makes the same
// scenario of it.
func (s *Scenario) tree() *node {
	d := &draft{Scenario: s}
	root := &node{kind: mapping}
	root.add("region", quote(s.Region.Name))
	if s.Invented {
		root.add("invented", bare("true"))
	}
	if s.Currency != "" {
		root.add("currency", quote(s.Currency))
	}
	if s.NumbersAsIn != "" {
		root.add("numbers_as_in", quote(s.NumbersAsIn))
	}
	c := s.Region.Calendar
	season := root.section("season")
	season.flow = true
	season.add("start", bare(date(c.StartMonth, c.StartDay)))
	season.add("days", bare(strconv.Itoa(c.Days)))
	s.weatherTree(root.section("weather"))
	root.addSome("weathers", s.weathersTree())
	contract := root.section("contract")
	contract.table(d, contractFields)
	contract.add("stalks_per_month", s.monthsTree(s.Region.Contract.StalksByMonth))
	contract.add("target_stock_stalks", s.monthsTree(s.Region.Contract.TargetStock))
	root.section("hub").table(d, hubFields)
	root.section("dryer").table(d, dryerFields)
	root.section("yard").table(d, yardFields)
	root.section("luck").table(d, luckFields)
	people := root.section("people")
	people.table(d, peopleFields)
	people.table(d, plantingFields)
	people.addSome("away", s.awayTree())
	root.section("stand").table(d, standFields)
	root.section("trouble").table(d, troubleFields)
	root.section("road").table(d, roadFields)
	root.section("store").table(d, storeFields)
	root.addSome("moves", s.movesTree())
	if s.HasMoney {
		root.section("money").table(d, moneyFields)
	}
	s.knowledgeTree(root.section("knowledge"))
	s.sitesTree(root.section("sites"))
	if s.partsByPoint() {
		root.pointsUnmistakable()
	}
	return root
}

// partsByPoint tells whether thousands are parted by a point where the scenario is used.
func (s *Scenario) partsByPoint() bool {
	numerals, err := tongue.NumeralsOf(s.NumbersAsIn)
	return s.NumbersAsIn != "" && err == nil && numerals.PartsByPoint()
}

func (s *Scenario) weatherTree(n *node) {
	s.localTree(n, &s.localWeather)
	if s.correlated {
		n.table(&draft{Scenario: s}, apartFields)
	}
}

// localTree adds the keys of one weather.
func (s *Scenario) localTree(n *node, l *localWeather) {
	d := &draft{Scenario: s, here: l}
	kind, from := "normals", (*node)(nil)
	switch {
	case l.climate != nil:
		kind, from = "climate_file", quote(l.climateName)
	case l.station != "":
		kind, from = "wmo_station", bare(l.station)
	}
	fields, _ := d.weatherKeys(kind)
	if from != nil {
		n.add(kind, from)
	}
	n.table(d, fields)
	if kind == "normals" {
		l.normalsTree(n.section(kind))
	}
	on := l.Normals.Onset
	if on.OnsetDOY == 0 || kind == "climate_file" {
		return
	}
	monsoon := n.section("monsoon")
	monsoon.add("onset", bare(dateOfYear(on.OnsetDOY)))
	monsoon.add("withdrawal", bare(dateOfYear(on.WithdrawalDOY)))
	monsoon.table(&draft{Scenario: s, weatherRaw: &rawWeather{on.OnsetSD, on.WithdrawalSD}}, monsoonFields)
}

// weathersTree returns the weathers that sites may name.
func (s *Scenario) weathersTree() *node {
	out := &node{kind: mapping, names: true}
	for i := range s.elsewhere {
		if w := &s.elsewhere[i]; !w.ofSite {
			s.localTree(out.section(w.name), &w.localWeather)
		}
	}
	return out
}

// siteWeatherTree adds the weather of a site that does not have the region's.
func (s *Scenario) siteWeatherTree(n *node, site int) {
	if site >= len(s.weatherFrom) || s.weatherFrom[site] == 0 {
		return
	}
	w := &s.elsewhere[s.weatherFrom[site]-1]
	if w.ofSite {
		s.localTree(n.section("weather"), &w.localWeather)
		return
	}
	n.add("weather", quote(w.name))
}

func (l *localWeather) normalsTree(n *node) {
	for _, f := range monthlyFields {
		months := *f.at(&l.raw)
		if months == nil {
			continue
		}
		list := &node{kind: sequence}
		for _, x := range months {
			list.values = append(list.values, bare(plain(x)))
		}
		n.add(f.key, list)
	}
}

func (s *Scenario) knowledgeTree(n *node) {
	n.add("fixed", bare(strconv.FormatBool(s.Knowledge.Fixed)))
	for _, k := range s.Knowledge.Ranges {
		one := n.section(string(k.Key))
		one.flow = true
		one.add("low", bare(plain(k.Low)))
		one.add("mode", bare(plain(k.Mode)))
		one.add("high", bare(plain(k.High)))
		if k.Shape != knowledge.Triangle {
			one.add("shape", bare(string(k.Shape)))
		}
	}
}

func (s *Scenario) sitesTree(n *node) {
	n.names = true
	for i := range s.Region.Sites {
		d := &draft{Scenario: s, site: &s.Region.Sites[i], maxDryers: &s.MaxDryers[i], at: &s.at[i]}
		one := n.section(d.site.Name)
		one.table(d, siteFields)
		if d.site.HaulTo != "" {
			one.add("haul_to", quote(d.site.HaulTo))
		}
		one.addSome("closed", s.closedTree(d.site))
		if d.at.given {
			one.table(d, coordinateFields)
		}
		s.siteWeatherTree(one, i)
	}
}

// monthsTree returns the months of the season that have stalks.
func (s *Scenario) monthsTree(stalks map[time.Month]int) *node {
	out := &node{kind: mapping, flow: true}
	for _, span := range s.Region.Calendar.Months() {
		key := monthNames[span.Month-1]
		if stalks[span.Month] > 0 && out.get(key) == nil {
			out.add(key, bare(strconv.Itoa(stalks[span.Month])))
		}
	}
	return out
}

func (s *Scenario) awayTree() *node {
	out := &node{kind: sequence}
	for _, a := range s.Region.People.Away {
		one := s.spellTree(a.FirstDay, a.LastDay)
		one.add("fraction", bare(plain(a.Fraction)))
		if a.Name != "" {
			one.add("name", quote(a.Name))
		}
		out.values = append(out.values, one)
	}
	return out
}

func (s *Scenario) closedTree(site *sim.Site) *node {
	out := &node{kind: sequence}
	for _, c := range site.Closed {
		one := s.spellTree(c.FirstDay, c.LastDay)
		one.add("why", quote(c.Why))
		one.add("removed_fraction", bare(plain(c.Removed)))
		out.values = append(out.values, one)
	}
	return out
}

// spellTree returns the first and last day of a spell, for more keys to follow.
func (s *Scenario) spellTree(first, last int) *node {
	out := &node{kind: mapping}
	out.add("from", bare(s.on(first)))
	out.add("to", bare(s.on(last)))
	return out
}

func (s *Scenario) movesTree() *node {
	out := &node{kind: sequence}
	for _, m := range s.Region.Moves {
		one := &node{kind: mapping}
		one.add("from", quote(m.From))
		one.add("to", quote(m.To))
		one.add("on", bare(s.on(m.Day)))
		one.add("days_lost", bare(strconv.Itoa(m.DaysLost)))
		one.add("cost", bare(plain(m.Cost.Units())))
		out.values = append(out.values, one)
	}
	return out
}

// date writes a day of the year as a file has it.
func date(month time.Month, day int) string {
	return strconv.Itoa(day) + " " + monthNames[month-1]
}

// dateOfYear writes a day counted from 1 January, which is 1.
func dateOfYear(doy float64) string {
	return date(sim.Calendar{StartMonth: time.January, StartDay: 1}.Date(int(doy) - 1))
}

// on writes a day of the season as a date.
func (s *Scenario) on(d int) string { return date(s.Region.Calendar.Date(d)) }

// value returns the present value of a field as it stands in a file.
func (f *field) value(d *draft) string {
	switch {
	case f.flag != nil:
		return strconv.FormatBool(*f.flag(d))
	case f.choice != nil:
		return f.choices[*f.choice(d)]
	case f.whole != nil:
		return strconv.Itoa(*f.whole(d))
	case f.amount != nil:
		return plain(f.amount(d).Units())
	}
	return plain(*f.number(d))
}

// keep puts a number where the field has it.
func (f *field) keep(d *draft, x float64) {
	switch {
	case f.whole != nil:
		*f.whole(d) = int(x)
	case f.amount != nil:
		*f.amount(d) = sim.AmountOf(x)
	default:
		*f.number(d) = x
	}
}
