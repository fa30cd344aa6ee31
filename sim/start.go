package sim

import (
	"slices"

	"drystalk/sim/stalk"
	"drystalk/tongue"
)

// Start is a season taken up on one of its days: what lies where at midnight before that day, and what
// comes once in the days after. The zero value is no such thing: the season opens on its first
// day with the stock of Hub and Sites.
type Start struct {
	Day       int         // of the season, from 0
	Hub       int         // good stalks that lie at the hub
	Delivered int         // good stalks that the contract has taken already in the month of the day
	Sites     []SiteStart // by site; none where the season opens as ever
	Comes     []Coming    // once
}

// SiteStart is what lies at a site, and with what it goes on.
type SiteStart struct {
	Yard      []Lying // in the order in which it was laid down
	Waiting   int     // stalks dried and still in the dryers: unloaded first thing in the next shift
	Store     int     // dry good stalks
	WoodKg    float64 // at hand; means something only where wood is limited
	StandKgM2 float64 // plant on the mat; means something only where the site states its stand
	Known     bool    // it is known which dryers work: those Down do not, and none is out for the season
	Down      int     // dryers that do not work
	UpOnDay   int     // of the season: the dryers that are down work again; 0: when their repair is over
	New       int     // dryers of the site, the last ones, that come from outside
	NewOnDay  int     // of the season: they work from then on
}

// Lying is stalks of one day's cut in the yard.
type Lying struct {
	Stalks int
	CutDay int            // of the season; below 0 before it
	Wet    stalk.DryBasis // their moisture; 0: what the weather since their cut has left
	Left   AsLeft         // their whole condition, where that is known; else it is worked out
}

// AsLeft is the whole condition of stalks in the yard. The zero value is not known.
type AsLeft struct {
	State stalk.State
	Kept  float64 // share of the stalks cut that earlier gradings left in
}

// Coming is stalks that come once, from outside the region, dry and good.
type Coming struct {
	Day    int // of the season
	Site   int // into the store of which they come; AtHub for the hub
	Stalks int
}

// AtHub is the Site of what comes to the hub.
const AtHub = -1

// Stated tells whether the season is taken up on a day.
func (st *Start) Stated() bool { return len(st.Sites) > 0 }

// comesAtH is the hour at which what comes once to a site is there. Common practice, no source.
const comesAtH = 12

// landsAtH is the hour at which what lies in the yard is taken to have been laid down.
const landsAtH = 12

// checkStart tells what is wrong with the state in which the season is taken up.
func (r *Region) checkStart() error {
	st := &r.Start
	if !st.Stated() {
		return nil
	}
	switch {
	case len(st.Sites) != len(r.Sites):
		return tongue.Errorf("%s: the stock of %d sites, the region has %d", r.Name, len(st.Sites), len(r.Sites))
	case st.Day < 0 || st.Day >= r.Calendar.Days:
		return tongue.Errorf("%s: stock of day %d, the season has the days 0 to %d", r.Name, st.Day, r.Calendar.Days-1)
	}
	for i := range st.Comes {
		if c := &st.Comes[i]; c.Day < st.Day || c.Day >= r.Calendar.Days || c.Site < AtHub || c.Site >= len(r.Sites) || c.Stalks < 0 {
			return tongue.Errorf("%s: stalks that come once: %+v, allowed: on a day from %d to %d, to a site or the hub", r.Name, *c, st.Day, r.Calendar.Days-1)
		}
	}
	return nil
}

// takenUp changes the gate of a whole season to one that is taken up on a day: what was asked before
// is past, what was delivered this month is no longer asked, and what comes to the hub once is counted.
func (st *Start) takenUp(g *Gate, spans []Span, contract *Contract) {
	if !st.Stated() {
		return
	}
	g.Opening = st.Hub
	for m := range spans {
		switch asked := g.Asked[m]; {
		case spans[m].LastDay < st.Day:
			g.Asked[m], g.Least[m] = 0, 0
		case spans[m].FirstDay <= st.Day:
			g.Asked[m] = max(0, asked-st.Delivered)
			g.Least[m] = max(0, contract.Least(asked)-st.Delivered)
		}
	}
	for _, c := range st.Comes {
		if c.Site != AtHub {
			continue
		}
		if g.Comes == nil {
			g.Comes = make([]int, len(spans))
		}
		g.Comes[monthOf(spans, c.Day)] += c.Stalks
	}
}

// monthOf returns the month of the season in which a day lies; -1 for none.
func monthOf(spans []Span, day int) int {
	for m := range spans {
		if spans[m].FirstDay <= day && day <= spans[m].LastDay {
			return m
		}
	}
	return -1
}

// takeUp puts the desk to the day on which the season is taken up: the months before are served, of
// nothing, and of what is still asked this month the least is that of the gate.
func (k *desk) takeUp(run *Runner) {
	st := &k.region.Start
	if !st.Stated() {
		return
	}
	m := monthOf(k.spans, st.Day)
	k.gate.Least[m] = part(k.share, run.gate.Least[m])
	k.gate.Comes = nil
	for _, stalks := range run.gate.Comes {
		k.gate.Comes = append(k.gate.Comes, part(k.share, stalks))
	}
	for before := range m {
		k.shelf.kept.Opening[before] = 1
		k.gate.serve(k.months, before, 0, &k.shelf, k.accepted)
	}
}

// comesOn counts at the desk what comes to the hub on a day, once.
func (k *desk) comesOn(day int) {
	for _, c := range k.region.Start.Comes {
		if c.Site == AtHub && c.Day == day {
			k.stock += part(k.share, c.Stalks)
		}
	}
}

// takeUp puts a site to the day on which the season is taken up, with all that lies there.
func (y *siteSeason) takeUp() {
	st := &y.region.Start
	at, hour := &st.Sites[y.index], 24*st.Day
	for m := monthOf(y.spans, st.Day); y.monthIndex < m; {
		y.turn()
	}
	y.yard.advanced, y.yard.today = hour, st.Day
	y.yard.fullKgPerM2 = y.yard.fullLoad(st.Day)
	y.road.hub.takeUp(y.monthIndex, hour)
	y.stand.kgM2 = at.StandKgM2
	if st.Day == 0 {
		y.stand.kgM2 = y.region.Stand.StartKgM2
	}
	y.dryers.takeUp(at, st.Day)
	y.store.put(float64(hour), at.Store, y.dryState())
	for i := range at.Yard {
		l := &at.Yard[i]
		as := y.yard.conditionOf(l)
		y.yard.spread(l.CutDay, l.Stalks, as.Kept, as.State)
	}
	y.yard.laidM2 = 0 // they lie there already
	y.waitInDryers(at.Waiting, float64(hour))
}

// waitInDryers puts stalks that were dried into the dryers, shared out evenly, and their unloading on
// the clock.
func (y *siteSeason) waitInDryers(stalks int, nowH float64) {
	cabinets := y.dryers.cabinets
	cabinets = cabinets[:max(0, len(cabinets)-y.region.Start.Sites[y.index].New)]
	if len(cabinets) == 0 {
		y.store.put(nowH, stalks, y.dryState())
	}
	for i := range cabinets {
		n := stalks / (len(cabinets) - i)
		stalks -= n
		if n == 0 {
			continue
		}
		d := &cabinets[i]
		d.charge = append(d.charge[:0], lot{stalks: n, kept: 1, state: y.dryState()})
		d.lightH, d.fireOutH, d.coldFromH = nowH, nowH, nowH
		d.unloadedH = nowH + y.region.Dryer.ShiftStartH + y.region.Dryer.HandlingH
		y.engine.At(d.unloadedH, rankDryer, event{unloaded, i})
	}
}

// takeUp says which dryers work.
func (ds *dryers) takeUp(at *SiteStart, day int) {
	nowH := float64(24 * day)
	if ds.region.Dryer.WoodLimited && day > 0 {
		ds.woodKg = at.WoodKg
	}
	old := len(ds.cabinets) - at.New
	for i := range ds.cabinets {
		d := &ds.cabinets[i]
		d.bookedH = max(d.bookedH, nowH)
		switch {
		case i >= old:
			d.worksAtH, d.readyH = 0, 24*float64(at.NewOnDay)
		case at.Known && i >= old-at.Down:
			d.worksAtH = ds.repaired(i, at, nowH)
		case at.Known:
			d.worksAtH = 0
		}
	}
}

// repaired returns when a dryer that does not work at a time does so again.
func (ds *dryers) repaired(n int, at *SiteStart, nowH float64) float64 {
	if at.UpOnDay > 0 {
		return 24 * float64(at.UpOnDay)
	}
	if luck := ds.luck(n); luck != nil && len(luck.RepairH) > 0 {
		return nowH + luck.RepairH[0]
	}
	return never
}

// takeUp begins the months at the hub with the one at hand; what lies there has not changed before.
func (h *hubStore) takeUp(month, hour int) {
	for m := range month {
		h.first[m] = 1
	}
	for i := range h.lots {
		h.lots[i].livedH = float64(hour)
	}
}

// dryState is the condition of stalks at the finishing moisture, without mould and past the hours in
// which none grows.
func (g *given) dryState() stalk.State {
	state := g.freshState()
	state.Moisture = g.p.Cabinet.Target.DryBasis()
	state.AgeH = g.p.Stalk.LivingH
	return state
}

// conditionOf returns the condition of stalks that lie in the yard now: they have lived in the weather
// since the noon of their cut, as on a rack at the load of today, which tells their mould; their
// moisture is as found, where that is stated.
func (y *yard) conditionOf(l *Lying) AsLeft {
	if l.Left.Kept > 0 {
		return l.Left
	}
	state := y.freshState()
	at := y.usualRack()
	from := 24*l.CutDay + landsAtH
	if from < 0 {
		state.AgeH = float64(-from)
		from = 0
	}
	var gave stalk.Exchange // is nobody's
	load := y.p.Stalk.DryLoadKgPerM2(y.fullKgPerM2)
	for hour := from; hour < y.advanced; {
		cover, to := y.coverFrom(at, hour, y.advanced)
		state.RackHours(y.season.covers.between(cover, hour, to), load, &y.p.Stalk, &gave, nil)
		hour = to
	}
	if l.Wet > 0 {
		state.Moisture = l.Wet
		state.Predried = l.Wet <= y.p.Stalk.PredriedMoisture
	}
	return AsLeft{state, 1}
}

// usualRack returns the kind of rack on which most of what a site dries lies.
func (y *yard) usualRack() place {
	most, area := openRack, y.site.areaM2(openRack)
	for at := clearRack; at < heap; at++ {
		if a := y.site.areaM2(at); a > area {
			most, area = at, a
		}
	}
	return most
}

// comeIn puts stalks that come once into the store of the site, as far as that has room; what has
// none lies on racks.
func (y *siteSeason) comeIn(nowH float64, i int) {
	n := y.region.Start.Comes[i].Stalks
	state := y.dryState()
	y.month.MovedIn += n
	y.water.MovedIn += y.dryKg(n) * float64(state.Moisture)
	fits := min(n, y.store.room())
	y.store.put(nowH, fits, state)
	if n > fits {
		state.Predried = true
		y.yard.spread(int(nowH)/24, n-fits, 1, state)
	}
}

// planComing puts what comes to the site on a day on the clock.
func (y *siteSeason) planComing(d int) {
	for i, c := range y.region.Start.Comes {
		if c.Site == y.index && c.Day == d {
			y.engine.At(float64(24*d+comesAtH), rankDryer, event{comesOnce, i})
		}
	}
}

// Taken returns what lay at the sites and the hub at midnight before the day of Runner.TakenOn, of
// each plan that lived through the season run last; for good.
func (run *Runner) Taken() []Start { return run.taken }

// mayTake tells a site of a plan where to note what lies there on the day of TakenOn.
func (run *Runner) mayTake(y *siteSeason, plan int) {
	y.taken = nil
	if plan < len(run.taken) {
		y.taken = &run.taken[plan]
	}
}

// openTaken makes room for what is noted of so many plans.
func (run *Runner) openTaken(plans int) {
	run.taken = nil
	if run.TakenOn <= 0 {
		return
	}
	for range plans {
		run.taken = append(run.taken, Start{Day: run.TakenOn, Sites: make([]SiteStart, len(run.region.Sites))})
	}
}

// take notes what lies at a site, and by the first site of a desk at the hub.
func (y *siteSeason) take(day int) {
	if y.taken == nil || y.taken.Day != day {
		return
	}
	at := &y.taken.Sites[y.index]
	*at = SiteStart{Known: true, WoodKg: y.dryers.woodKg, StandKgM2: y.stand.kgM2, Store: y.store.stalks(), Waiting: y.dryers.stalks()}
	for i := range y.yard.batches {
		b := &y.yard.batches[i]
		at.Yard = append(at.Yard, Lying{b.stalks, b.cutDay, b.state.Moisture, AsLeft{b.state, b.kept}})
	}
	for i := range y.dryers.cabinets {
		if y.dryers.cabinets[i].worksAtH > float64(24*day) {
			at.Down++
		}
	}
	if k := y.road.desk; k.sites[0] == y {
		y.taken.Hub += k.stock
	}
}

// clone returns a copy that shares nothing with the start.
func (st *Start) clone() Start {
	c := *st
	c.Comes, c.Sites = slices.Clone(st.Comes), slices.Clone(st.Sites)
	for i := range c.Sites {
		c.Sites[i].Yard = slices.Clone(st.Sites[i].Yard)
	}
	return c
}

// planOf returns the plan of a lane; of no plan, the first.
func planOf(of []int, lane int) int {
	if of == nil {
		return 0
	}
	return of[lane]
}
