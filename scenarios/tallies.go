package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"drystalk/scenarios/tally"
	"drystalk/sim"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// The tables that a clerk keeps through the season: what lies where, what was cut, and the rain.

// hubPlace is the place of the hub in a table of stock.
const hubPlace = "hub"

// stockForm is a table of stock: a line for each site and one for the hub.
func stockForm() *tally.Form {
	count := func(name string, hint tongue.Text) tally.Column {
		return tally.Column{Name: name, Kind: tally.Whole, Most: mostStalks, MayBeEmpty: true, Hint: hint}
	}
	f := &tally.Form{What: "a table of stock", Once: []string{"place"}, Columns: []tally.Column{
		{Name: "date", Kind: tally.Date},
		{Name: "place", Kind: tally.Text},
	}}
	for i := range wetClasses {
		f.Columns = append(f.Columns, count(wetClasses[i].key, tongue.Text(tongue.Plainf("%s; stalks, not kg", wetClasses[i].says))))
	}
	return withOptional(f, count(inDryersKey, "dried stalks not unloaded yet"), count(inStoreKey, "dry good stalks; at the hub those that lie there"),
		tally.Column{Name: deliveredKey, Kind: tally.Whole, Most: mostStalks, MayBeEmpty: true, Hint: "in the line of the hub: to the buyer, since the first of the month"})
}

// withOptional adds columns that must be there, and those that only some scenarios need.
func withOptional(f *tally.Form, must ...tally.Column) *tally.Form {
	f.Columns = append(f.Columns, must...)
	f.Columns = append(f.Columns,
		tally.Column{Name: downKey, Kind: tally.Whole, Most: sim.MostDryers, Optional: true, MayBeEmpty: true},
		tally.Column{Name: woodKey, Kind: tally.Number, Most: 1e6, Optional: true, MayBeEmpty: true},
		tally.Column{Name: standKey, Kind: tally.Number, Most: 1000, Optional: true, MayBeEmpty: true})
	return f
}

// readStockTable reads a stock from a table.
func (s *Scenario) readStockTable(name string, data []byte) (st Stock, err error) {
	t, err := stockForm().Read(name, data)
	if err != nil {
		return Stock{}, err
	}
	st.Start.Sites = make([]sim.SiteStart, len(s.Region.Sites))
	seen := map[string]bool{}
	var date time.Time
	for _, row := range t.Rows {
		day, ok := s.dayOfTable(t, row)
		switch {
		case !ok:
			continue
		case date.IsZero():
			date, st.Start.Day, st.Known.Day = row.Date("date"), day, day
		case !row.Date("date").Equal(date):
			t.Refuse(row, "date", row.Date("date").Format(time.DateOnly), tongue.Plainf("the same day in all lines, as %s in the first: a stock is of one day", date.Format(time.DateOnly)))
			continue
		}
		place := s.placeOfTable(t, row, hubPlace)
		seen[place] = place != ""
		if place == hubPlace {
			st.Start.Hub = countOfTable(t, row, inStoreKey, s.plausible())
			st.Start.Delivered = countOfTable(t, row, deliveredKey, s.askedOn(day))
			mustBeEmpty(t, row, tongue.Say("the line of the hub"), wetClasses[0].key, wetClasses[1].key, wetClasses[2].key, inDryersKey)
		} else if i := slices.Index(s.siteNames(), place); i >= 0 {
			mustBeEmpty(t, row, tongue.Say("a line of a site"), deliveredKey)
			st.Start.Sites[i] = s.siteOfTable(t, row, i, day)
		}
	}
	for _, place := range append(s.siteNames(), hubPlace) {
		if !seen[place] && t.Err() == nil {
			t.Refuse(tally.Row{}, "place", tongue.Plainf("no line of %s", place), tongue.Say("a line of every site of the scenario and one of the hub"))
		}
	}
	st.Warnings = t.Warnings
	return st, t.Err()
}

// siteOfTable reads what lies at a site from its line.
func (s *Scenario) siteOfTable(t *tally.Table, row tally.Row, i, day int) (at sim.SiteStart) {
	for k := len(wetClasses) - 1; k >= 0; k-- {
		c := &wetClasses[k]
		at.Yard = appendLying(at.Yard, countOfTable(t, row, c.key, s.yardHolds(i)), day-c.daysAgo, c.wet)
	}
	at.Store = countOfTable(t, row, inStoreKey, s.storeHolds(i))
	if dryers := s.Region.Sites[i].Dryers; dryers > 0 {
		at.Waiting = countOfTable(t, row, inDryersKey, s.dryersHold(i))
	} else if row.Has(inDryersKey) && row.Number(inDryersKey) > 0 {
		t.Refuse(row, inDryersKey, row.Text(inDryersKey), tongue.Plainf("nothing: the scenario has no dryer at %s", s.Region.Sites[i].Name))
	}
	at.Known = day > 0
	if row.Has(downKey) {
		at.Known, at.Down = true, countOfTable(t, row, downKey, most{s.Region.Sites[i].Dryers, tongue.Say("the dryers of the plan there")})
	}
	need := func(key, why string, asked bool) float64 {
		if row.Has(key) {
			return row.Number(key)
		}
		if asked && day > 0 {
			t.Refuse(row, key, tongue.Say("nothing"), tongue.Plainf("a number, because %s", why))
		}
		return 0
	}
	at.WoodKg = need(woodKey, tongue.Say("wood is limited in this scenario"), s.Region.Dryer.WoodLimited && s.Region.Sites[i].Dryers > 0)
	at.StandKgM2 = need(standKey, tongue.Say("the scenario states stand_m2 of the site"), s.Region.Sites[i].StandM2 > 0)
	return at
}

// countOfTable returns a count that must be there and at most so large.
func countOfTable(t *tally.Table, row tally.Row, column string, m most) int {
	switch {
	case !row.Has(column):
		t.Refuse(row, column, tongue.Say("nothing"), tongue.Say("a count; write 0 where there is none"))
		return 0
	case row.Number(column) > float64(m.stalks):
		t.Refuse(row, column, row.Text(column), m.allowed())
	}
	return int(row.Number(column))
}

// mustBeEmpty refuses counts above 0 in columns that mean nothing in a line.
func mustBeEmpty(t *tally.Table, row tally.Row, line string, columns ...string) {
	for _, c := range columns {
		if row.Has(c) && row.Number(c) != 0 {
			t.Refuse(row, c, row.Text(c), tongue.Plainf("nothing in %s", line))
		}
	}
}

// dayOfTable returns the day of the season of a line.
func (s *Scenario) dayOfTable(t *tally.Table, row tally.Row) (int, bool) {
	d := row.Date("date")
	c := s.Region.Calendar
	for day := range c.Days {
		if month, dom := c.Date(day); month == d.Month() && dom == d.Day() {
			return day, true
		}
	}
	if d.Month() == time.February && d.Day() == 29 {
		t.Refuse(row, "date", d.Format(time.DateOnly), tongue.Say("a year without 29 February: write it as 28 February"))
		return 0, false
	}
	first, dom := c.Date(0)
	last, ldom := c.Date(c.Days - 1)
	t.Refuse(row, "date", d.Format(time.DateOnly), tongue.Plainf("a day of the season of the scenario, from %d %s to %d %s", dom, first, ldom, last))
	return 0, false
}

// placeOfTable returns the site of a line as the scenario names it, or another place that is allowed;
// "" for none, which is refused.
func (s *Scenario) placeOfTable(t *tally.Table, row tally.Row, column string) string {
	names := s.siteNames()
	if column == hubPlace {
		names, column = append(names, hubPlace), "place"
	}
	said := strings.Join(strings.Fields(row.Text(column)), " ")
	for _, name := range names {
		if strings.EqualFold(said, name) {
			return name
		}
	}
	allowed := tongue.Plainf("one of %s", strings.Join(names, ", "))
	if near := nearest(said, names); near != "" {
		allowed = near
	}
	t.Refuse(row, column, strconv.Quote(said), allowed)
	return ""
}

// cutForm is a tally of what was cut.
var cutForm = &tally.Form{What: "a tally of cutting", Once: []string{"date", "site"}, Columns: []tally.Column{
	{Name: "date", Kind: tally.Date},
	{Name: "site", Kind: tally.Text},
	{Name: "stalks", Kind: tally.Whole, Most: 1e6, MayBeEmpty: true, Hint: "stalks cut that day, not kg and not bundles"},
	{Name: "person_hours", Kind: tally.Hours, Most: 2000, MayBeEmpty: true, Hint: "hours of all cutters together: 5 people for 6 hours are 30"},
}}

// Bounds of stalks per person-hour in a tally, over what the plan states: beyond them another thing was
// counted. Assumption: twice as wide as the range of the output factor and three spreads of luck.
const (
	leastOfStated = 0.25
	mostOfStated  = 4.0
)

// ReadCut reads a tally of what was cut on days before today, by site. Days without a line, and lines
// without a number, are not known and tell nothing; days on which nobody cut tell nothing either. It
// returns warnings, and what is wrong as faults of the table.
func (s *Scenario) ReadCut(name string, data []byte, today int) (cut []trials.CutSoFar, warnings []string, err error) {
	t, err := cutForm.Read(name, data)
	if err != nil {
		return nil, nil, err
	}
	cut = make([]trials.CutSoFar, len(s.Region.Sites))
	for _, row := range t.Rows {
		day, ok := s.dayOfTable(t, row)
		i := slices.Index(s.siteNames(), s.placeOfTable(t, row, "site"))
		switch {
		case !ok || i < 0:
			continue
		case day >= today:
			t.Refuse(row, "date", row.Date("date").Format(time.DateOnly), tongue.Plainf("a day before today, %s", s.dayWords(today)))
			continue
		}
		s.addCut(t, row, &cut[i], s.Region.Sites[i].OutputPerPersonH)
	}
	s.oneSeason(t)
	if err := t.Err(); err != nil {
		return nil, nil, err
	}
	days := 0
	for i := range cut {
		if cut[i].Days > 0 {
			cut[i].LogMean /= float64(cut[i].Days)
		}
		days += cut[i].Days
	}
	if days == 0 {
		t.Refuse(tally.Row{}, "stalks", tongue.Say("no day on which anything was cut"), tongue.Say("at least one line with stalks and person_hours above 0"))
		return nil, nil, t.Err()
	}
	return cut, append(append(t.Warnings, missingWords(t)...), s.endsEarly(t, today)...), nil
}

// addCut adds a day of a site to what was cut.
func (s *Scenario) addCut(t *tally.Table, row tally.Row, cut *trials.CutSoFar, statedPerH float64) {
	stalks, hours := row.Number("stalks"), row.Number("person_hours")
	switch {
	case math.IsNaN(stalks) || math.IsNaN(hours), stalks == 0 && hours == 0:
		return
	case stalks == 0 || hours == 0:
		t.Refuse(row, "person_hours", tongue.Plainf("%s stalks in %s hours", row.Text("stalks"), row.Text("person_hours")), tongue.Say("both above 0, or both 0 on a day without cutting"))
		return
	}
	of := stalks / hours / statedPerH
	if of < leastOfStated || of > mostOfStated {
		kg := 1000 * s.Base.Stalk.FreshG / 1000
		t.Refuse(row, "stalks", tongue.Plainf("%s in %s person-hours, %.0f an hour", row.Text("stalks"), row.Text("person_hours"), stalks/hours),
			tongue.Plainf("%.0f to %.0f an hour, around the %.0f of the scenario; are these kg (1,000 stalks weigh about %.0f kg), bundles, or the hours of one person?", leastOfStated*statedPerH, mostOfStated*statedPerH, statedPerH, kg))
		return
	}
	cut.Days++
	cut.LogMean += math.Log(of)
}

// oneSeason refuses the first line of a day of another year than that of the first line.
func (s *Scenario) oneSeason(t *tally.Table) {
	first := t.Rows[0].Date("date")
	for _, row := range t.Rows {
		if d := row.Date("date"); math.Abs(d.Sub(first).Hours()) > 24*float64(s.Region.Calendar.Days) {
			t.Refuse(row, "date", d.Format(time.DateOnly), tongue.Plainf("a day of the same season as %s in the first line", first.Format(time.DateOnly)))
			return
		}
	}
}

// dayWords says a day of the season.
func (s *Scenario) dayWords(day int) string {
	month, dom := s.Region.Calendar.Date(day)
	return fmt.Sprintf("%d %s", dom, month)
}

// missingWords warns of days without a line.
func missingWords(t *tally.Table) []string {
	missing := t.MissingDays("date")
	if len(missing) == 0 {
		return nil
	}
	var days []string
	for _, d := range missing[:min(len(missing), 5)] {
		days = append(days, d.Format(time.DateOnly))
	}
	if more := len(missing) - len(days); more > 0 {
		days = append(days, tongue.Plainf("and %d more", more))
	}
	return []string{tongue.Plainf("%s: no line of %s: taken as not known, not as nothing", t.File, strings.Join(days, ", "))}
}

// endsEarly warns where a table ends before the day before today.
func (s *Scenario) endsEarly(t *tally.Table, today int) []string {
	last := 0
	for _, row := range t.Rows {
		day, _ := s.dayOfTable(t, row)
		last = max(last, day)
	}
	if last >= today-1 {
		return nil
	}
	return []string{tongue.Plainf("%s: ends on %s, before today, %s: the days after are taken as not known, not as nothing", t.File, s.dayWords(last), s.dayWords(today))}
}

// beginsLate warns where a table begins after the season.
func (s *Scenario) beginsLate(t *tally.Table) []string {
	first := s.Region.Calendar.Days
	for _, row := range t.Rows {
		day, _ := s.dayOfTable(t, row)
		first = min(first, day)
	}
	if first == 0 {
		return nil
	}
	return []string{tongue.Plainf("%s: begins on %s, after the season does, %s: the days before are taken as not known, not as nothing", t.File, s.dayWords(first), s.dayWords(0))}
}

// rainForm is the rain of the season so far.
var rainForm = &tally.Form{What: "the rain so far", Once: []string{"date"}, Columns: []tally.Column{
	{Name: "date", Kind: tally.Date},
	{Name: "rain_mm", Kind: tally.Number, Most: mostRainMM, MayBeEmpty: true, Hint: "rain of the day in mm; - where nobody looked"},
}}

// ReadRain reads the rain of the season before today, by day of the season; not a number where nobody
// wrote it down. It returns warnings, and what is wrong as faults of the table.
func (s *Scenario) ReadRain(name string, data []byte, today int) (mm []float64, warnings []string, err error) {
	t, err := rainForm.Read(name, data)
	if err != nil {
		return nil, nil, err
	}
	mm = make([]float64, today)
	for d := range mm {
		mm[d] = math.NaN()
	}
	for _, row := range t.Rows {
		day, ok := s.dayOfTable(t, row)
		if ok && day >= today {
			t.Refuse(row, "date", row.Date("date").Format(time.DateOnly), tongue.Plainf("a day before today, %s; rain that is foreseen is stated in the stock (outlook_rain_mm)", s.dayWords(today)))
		} else if ok {
			mm[day] = row.Number("rain_mm")
		}
	}
	s.oneSeason(t)
	if err := t.Err(); err != nil {
		return nil, nil, err
	}
	return mm, append(append(append(t.Warnings, s.beginsLate(t)...), missingWords(t)...), s.endsEarly(t, today)...), nil
}
