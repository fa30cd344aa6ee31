package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim"
	"drystalk/sim/stalk"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Stock is what a group counted on a day of the season, ready to be taken up, and what is foreseen.
type Stock struct {
	Start    sim.Start
	Known    trials.Known
	Warnings []string
}

// wetClass is stalks in the yard as a clerk tells them apart by hand.
type wetClass struct {
	key     string
	daysAgo int            // they were cut, unless it is stated
	wet     stalk.WetBasis // 0: what the weather since their cut has left
	says    tongue.Text
}

// wetClasses are those of the keys of a site's stock. The days since their cut and the moistures are
// those that stalks of such a moisture have in seasons of the demo, rounded (TestWetClassesAreThoseOfTheYard).
var wetClasses = []wetClass{
	{"fresh_stalks", 2, 0, "stalks on racks and in the heap that are as heavy as cut"},
	{"half_dry_stalks", 4, 0.78, "stalks on racks that are limp and a good half as heavy as cut"},
	{"nearly_dry_stalks", 6, 0.40, "stalks on racks that are light and bend before they break"},
}

// The keys of a stock.
const (
	todayKey      = "today"
	goodKey       = "good_stalks"
	deliveredKey  = "delivered_this_month_stalks"
	inDryersKey   = "in_dryers_stalks"
	inStoreKey    = "in_store_stalks"
	downKey       = "dryers_down"
	upAgainKey    = "dryers_up_again"
	woodKey       = "wood_kg"
	standKey      = "stand_kg_per_m2"
	daysAgoSuffix = "_cut_days_ago"
	mostDaysAgo   = 60
)

// daysAgoKey is the key of the days since the cut of a class.
func (c *wetClass) daysAgoKey() string { return strings.TrimSuffix(c.key, "_stalks") + daysAgoSuffix }

// stockHolds is what a file of stock should hold.
const stockHolds tongue.Text = "a stock: today, hub, sites"

// ReadStock reads what was counted on a day: a YAML file of stock, or where its name ends in csv a table
// of it. What is wrong is returned as Faults, or as faults of the table, all at once.
func (s *Scenario) ReadStock(name string, data []byte) (Stock, error) {
	if strings.HasSuffix(strings.ToLower(name), ".csv") {
		return s.readStockTable(name, data)
	}
	r := &reader{file: name, open: s.reopen, holds: stockHolds.String()}
	data, ok := r.guard(data)
	if !ok {
		return Stock{}, r.err()
	}
	root := r.parse(data)
	if root == nil {
		return Stock{}, r.err()
	}
	st := r.stock(s, root)
	if err := r.err(); err != nil {
		return Stock{}, err
	}
	for _, w := range r.warnings {
		st.Warnings = append(st.Warnings, w.sentence)
	}
	return st, nil
}

// stock reads the keys of a stock.
func (r *reader) stock(s *Scenario, root *node) (st Stock) {
	r.known(root, "", []string{todayKey, "hub", "sites", "comes", "outlook_rain_mm", "rest_of_season"})
	day, ok := r.day(s, root, "", todayKey)
	st.Start.Sites = make([]sim.SiteStart, len(s.Region.Sites))
	if !ok {
		return st
	}
	st.Start.Day, st.Known.Day = day, day
	if hub := r.section(root, "hub", true); hub != nil {
		r.known(hub, "hub", []string{goodKey, deliveredKey})
		st.Start.Hub = r.counted(hub, "hub", goodKey, s.plausible())
		st.Start.Delivered = r.counted(hub, "hub", deliveredKey, s.askedOn(day))
	}
	if sites := r.section(root, "sites", true); sites != nil {
		r.stockOfSites(s, sites, &st.Start)
	}
	r.list(root.get("comes"), "comes", "{on: 20 jul, to: hub, stalks: 20000}", func(v *node, key string) { r.comes(s, v, key, &st.Start) })
	st.Known.OutlookMM = r.outlook(root.get("outlook_rain_mm"))
	st.Known.Thirds = r.thirds(root.get("rest_of_season"))
	return st
}

// stockOfSites reads what lies at each site; every site must be there.
func (r *reader) stockOfSites(s *Scenario, n *node, start *sim.Start) {
	var names []string
	for i := range s.Region.Sites {
		site := &s.Region.Sites[i]
		names = append(names, site.Name)
		v := n.get(site.Name)
		path := "sites." + site.Name
		switch {
		case v == nil:
			if !n.excused(site.Name, s.siteNames()) {
				r.fault(n.line, path, tongue.Say("nothing"), tongue.Say("the stock of every site of the scenario"))
			}
		case v.kind != mapping:
			r.fault(v.line, path, describe(v), tongue.Say("a group of keys such as {fresh_stalks: 5200, in_store_stalks: 0}"))
		default:
			start.Sites[i] = r.stockOfSite(s, v, path, i, start.Day)
		}
	}
	r.known(n, "sites", names)
}

// siteNames returns the names of the sites.
func (s *Scenario) siteNames() (names []string) {
	for i := range s.Region.Sites {
		names = append(names, s.Region.Sites[i].Name)
	}
	return names
}

// stockOfSite reads what lies at a site.
func (r *reader) stockOfSite(s *Scenario, n *node, path string, i, day int) (at sim.SiteStart) {
	site := &s.Region.Sites[i]
	keys := []string{inDryersKey, inStoreKey, downKey, upAgainKey, woodKey, standKey}
	for k := range wetClasses {
		keys = append(keys, wetClasses[k].key, wetClasses[k].daysAgoKey())
	}
	r.known(n, path, keys)
	for k := len(wetClasses) - 1; k >= 0; k-- { // the oldest were laid down first
		c := &wetClasses[k]
		stalks := r.counted(n, path, c.key, s.yardHolds(i))
		ago := c.daysAgo
		if v := n.get(c.daysAgoKey()); v != nil {
			x, _ := r.number(v, join(path, c.daysAgoKey()), 1, mostDaysAgo, true)
			ago = max(1, int(x))
		}
		at.Yard = appendLying(at.Yard, stalks, day-ago, c.wet)
	}
	at.Store = r.counted(n, path, inStoreKey, s.storeHolds(i))
	dryers := site.Dryers
	if dryers > 0 {
		at.Waiting = r.counted(n, path, inDryersKey, s.dryersHold(i))
	} else if v := n.get(inDryersKey); v != nil && v.text != "0" {
		r.fault(v.line, join(path, inDryersKey), describe(v), tongue.Plainf("0, as the plan has no dryer at %s (--with '%s: dryers=1' states one)", site.Name, site.Name))
	}
	if v := n.get(downKey); v != nil {
		x, ok := r.number(v, join(path, downKey), 0, float64(dryers), true)
		if !ok && dryers == 0 {
			r.faults[len(r.faults)-1].Allowed = tongue.Say("0, as the plan has no dryer there")
		}
		at.Known, at.Down = true, int(x)
	} else {
		at.Known = day > 0
	}
	if n.get(upAgainKey) != nil {
		if d, ok := r.day(s, n, path, upAgainKey); ok && d >= day {
			at.UpOnDay = d
		} else if ok {
			r.fault(n.get(upAgainKey).line, join(path, upAgainKey), describe(n.get(upAgainKey)), tongue.Say("a day from today on"))
		}
	}
	r.stateOfSite(s, n, path, i, day, &at)
	return at
}

// stateOfSite reads what only some scenarios ask for: wood where it is limited, the stand where it is.
func (r *reader) stateOfSite(s *Scenario, n *node, path string, i, day int, at *sim.SiteStart) {
	need := func(key, why string, most float64, asked bool) float64 {
		v := n.get(key)
		if v == nil {
			if asked && day > 0 {
				r.fault(n.line, join(path, key), tongue.Say("nothing"), tongue.Plainf("a number from 0 to %s, because %s", plain(most), why))
			}
			return 0
		}
		x, _ := r.number(v, join(path, key), 0, most, false)
		return x
	}
	at.WoodKg = need(woodKey, tongue.Say("wood is limited in this scenario"), 1e6, s.Region.Dryer.WoodLimited && s.Region.Sites[i].Dryers > 0)
	at.StandKgM2 = need(standKey, tongue.Say("the scenario states stand_m2 of the site"), s.Region.Stand.CapacityKgM2, s.Region.Sites[i].StandM2 > 0)
}

// appendLying adds stalks of a class to those of a yard.
func appendLying(yard []sim.Lying, stalks, cutDay int, wet stalk.WetBasis) []sim.Lying {
	if stalks == 0 {
		return yard
	}
	l := sim.Lying{Stalks: stalks, CutDay: cutDay}
	if wet > 0 {
		l.Wet = wet.DryBasis()
	}
	return append(yard, l)
}

// yardHolds returns the most stalks of one class that may be told to lie in a yard: twice what its
// racks take closed up and the heap beside them, rounded up to hundreds.
func (s *Scenario) yardHolds(i int) most {
	site, base := &s.Region.Sites[i], &s.Base.Stalk
	racks := (site.OpenRackM2 + site.ClearRoofM2 + site.SolidRoofM2) * site.LoadingKgPerM2 * 1000 / base.FreshG / base.AreaAfterPredry
	heap := s.Region.Yard.HeapDaysOfCut * float64(site.Cutters) * site.OutputPerPersonH * site.CuttingHPerDay
	return most{100 * int(math.Ceil(2*(racks+heap)/100)), tongue.Say("twice what racks and heap take")}
}

// comes reads stalks that come once.
func (r *reader) comes(s *Scenario, v *node, key string, start *sim.Start) {
	r.known(v, key, []string{"on", "to", "stalks"})
	day, ok := r.day(s, v, key, "on")
	if ok && day < start.Day {
		r.fault(v.line, join(key, "on"), describe(v.get("on")), tongue.Say("a day from today on"))
		return
	}
	to := r.word(v, key, "to", true)
	site := slices.Index(s.siteNames(), to)
	if site < 0 && to != "hub" {
		if to != "" {
			r.fault(v.line, join(key, "to"), strconv.Quote(to), tongue.Say("hub, or the name of a site"))
		}
		return
	}
	if site < 0 {
		site = sim.AtHub
	}
	stalks := r.counted(v, key, "stalks", s.plausible())
	if ok {
		start.Comes = append(start.Comes, sim.Coming{Day: day, Site: site, Stalks: stalks})
	}
}

// mostOutlook is for how many days ahead the rain may be stated: beyond ten days a forecast of days
// knows little. Common practice, no source.
const mostOutlook = 10

// outlook reads the rain of the days from today on, mm.
func (r *reader) outlook(v *node) (mm []float64) {
	if v == nil {
		return nil
	}
	if v.kind != sequence || len(v.values) == 0 || len(v.values) > mostOutlook {
		r.fault(v.line, "outlook_rain_mm", describe(v), tongue.Plainf("rain of 1 to %d days from today on, such as [12, 0, 30]", mostOutlook))
		return nil
	}
	for i, day := range v.values {
		x, _ := r.number(day, fmt.Sprintf("outlook_rain_mm[%d]", i+1), 0, mostRainMM, false)
		mm = append(mm, x)
	}
	return mm
}

// mostRainMM is the most rain of a day that is taken for one, mm: the wettest day on record anywhere had
// 1,825 (World Meteorological Organization, weather and climate extremes archive, from memory).
const mostRainMM = 1825

// thirdKeys are the thirds of seasons, from the driest.
var thirdKeys = [3]string{"dry", "middle", "wet"}

// thirds reads the chances that the rest of the season is dry, middling or wet.
func (r *reader) thirds(v *node) (chances [3]float64) {
	if v == nil {
		return chances
	}
	const key = "rest_of_season"
	allowed := tongue.Say("the chances of three kinds of rest, which add up to 1, such as {dry: 0.2, middle: 0.3, wet: 0.5}")
	if v.kind != mapping {
		r.fault(v.line, key, describe(v), allowed)
		return chances
	}
	r.known(v, key, thirdKeys[:])
	sum, before := 0.0, len(r.faults)
	for i, k := range thirdKeys {
		one := v.get(k)
		if one == nil {
			r.fault(v.line, join(key, k), tongue.Say("nothing"), allowed)
			continue
		}
		chances[i], _ = r.number(one, join(key, k), 0, 1, false)
		sum += chances[i]
	}
	if len(r.faults) == before && math.Abs(sum-1) > 1e-6 {
		r.fault(v.line, key, tongue.Plainf("chances that add up to %s", plain(math.Round(1e6*sum)/1e6)), allowed)
	}
	return chances
}
