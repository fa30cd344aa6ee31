package words

import (
	"fmt"
	"strings"

	"drystalk/sim/ahead"
	"drystalk/tongue"
)

// wayAhead is how a way of working on from today is called: in a table, and after "with".
var wayAhead = map[ahead.Key][2]tongue.Text{
	ahead.AsNow:     {"as now", "work as now"},
	ahead.Evening:   {"fires until 22 h", "fires until 22 h"},
	ahead.NightFire: {"fires all night", "fires all night"},
	ahead.StopCut:   {"no cutting for a week", "no cutting for a week"},
	ahead.ShipEarly: {"collections twice as often", "collections twice as often"},
	ahead.RentDryer: {"one dryer rented", "one dryer rented"},
}

// WayAhead names a way of working on from today, with the site of a rented dryer.
func WayAhead(w ahead.Way) string { return wayAtSite(wayAhead[w.Key][0].String(), w.Site) }

func wayAtSite(name, site string) string {
	if site == "" {
		return name
	}
	return tongue.Sayf("%s at %s", name, site)
}

// AheadSentence is the answer to "will we make the collections to come?".
func AheadSentence(a ahead.Answer) string {
	now := a.Ways[0]
	first, worst := now.Months[0], now.Months[now.Worst]
	s := tongue.Sayf("From what lies there on %s, working as now, %s is met in %s", StockDay(a.Today), first.Name, InTrials(first.Odds))
	switch {
	case len(now.Months) == 1:
	case now.Worst > 0 && worst.Odds.Share < first.Odds.Share:
		s += tongue.Sayf(" and the worst month ahead, %s, in %s", worst.Name, withoutTrials(worst.Odds))
	default:
		s += tongue.Sayf(" and every month ahead in %s", withoutTrials(now.All))
	}
	return s + fmt.Sprintf("; %s.", askedFor(a.Target, worst.Odds))
}

// AheadParagraph is what a group decides by, the most telling first.
func AheadParagraph(a ahead.Answer, currency string) []string {
	return []string{aheadWays(a), truckInShort(a, currency), aheadStock(a), aheadToday(a), stopInShort(a)}
}

// aheadWays says which way helps most.
func aheadWays(a ahead.Answer) string {
	now := a.Ways[0]
	if now.All.Share >= 1 {
		return ""
	}
	at := ahead.Best(a.Ways)
	if at < 0 {
		return aheadFirst(a)
	}
	best := a.Ways[at]
	return tongue.Sayf("What helps most is %s: all months ahead are met in %s instead of %s.", wayAtSite(wayAhead[best.Key][1].String(), best.Site), OutOf(best.All.Share), outOfBefore(now.All.Share)) + withoutRent(a.Ways, best.Key)
}

// withoutRent says which way helps about as much as a rented dryer: one that clearly gains over as now
// and cannot be told from it in the same seasons.
func withoutRent(ways []ahead.Way, best ahead.Key) string {
	if best != ahead.RentDryer {
		return ""
	}
	as := -1
	for k, w := range ways {
		if w.Behind != nil && w.Behind.Low <= 0 && w.Gain.Low > 0 && (as < 0 || w.Gain.Mean > ways[as].Gain.Mean) {
			as = k
		}
	}
	if as < 0 {
		return ""
	}
	if ways[as].Key == ahead.StopCut {
		return tongue.Say(" No cutting for a week helps about as much and needs no rent.")
	}
	return tongue.Sayf(" %s help about as much and need no rent.", Upper(wayAhead[ways[as].Key][1].String()))
}

// aheadFirst says which way helps the month at hand most, where none helps all months ahead.
func aheadFirst(a ahead.Answer) string {
	first := a.Ways[0].Months[0]
	best := -1
	for k, w := range a.Ways[1:] {
		if g := w.Months[0].Gain; g.Low > 0 && (best < 0 || g.Mean > a.Ways[1+best].Months[0].Gain.Mean) {
			best = k
		}
	}
	if best < 0 {
		return tongue.Say("No way of working that was tried meets the months ahead clearly more often.")
	}
	w := a.Ways[1+best]
	return tongue.Sayf("No way that was tried meets all months ahead clearly more often; what helps %s most is %s: %s instead of %s.",
		first.Name, wayAtSite(wayAhead[w.Key][1].String(), w.Site), OutOf(w.Months[0].Odds.Share), outOfBefore(first.Odds.Share))
}

// aheadStock says how much must lie in store by the end of the month at hand.
func aheadStock(a ahead.Answer) string {
	if len(a.Stock) < 2 {
		return ""
	}
	s := a.Stock[1]
	if s.Needed == 0 {
		return tongue.Sayf("No stock need be left over on %s.", StockDay(s.Date))
	}
	return tongue.Sayf("On %s, after delivery, %s good stalks should be left for the months after; as now half of the seasons have %s or more.", StockDay(s.Date), Grouped(s.Needed), Whole(s.Expected.Median))
}

// aheadToday says where a fire is lit today.
func aheadToday(a ahead.Answer) string {
	var fire []string
	for _, l := range a.Load {
		if l.Fired.Share >= 0.5 {
			fire = append(fire, l.Site)
		}
	}
	switch {
	case len(a.Load) == 0:
		return ""
	case len(fire) == 0 && a.Lies.Wet == 0:
		return tongue.Say("Today no dryer need be fired: nothing lies wet.")
	case len(fire) == 0:
		return tongue.Say("Today no dryer need be fired: the sun may do it.")
	case len(fire) == len(a.Load) && len(fire) > 2:
		return tongue.Say("Today all sites with dryers should fire.")
	}
	return tongue.Sayf("Today a fire is worth it at %s; the table says what to load.", And(fire))
}

// truckInShort says whether a truckload bought once pays.
func truckInShort(a ahead.Answer, currency string) string {
	t := a.Truck
	if t == nil {
		return ""
	}
	if t.Money == nil {
		return tongue.Sayf("With the truckload all months ahead are met in %s.", OutOf(t.All.Share))
	}
	verdict := tongue.Say("Whether the truckload pays is too close to tell")
	switch {
	case t.Money.Low > 0:
		verdict = tongue.Say("The truckload pays")
	case t.Money.High < 0:
		verdict = tongue.Say("The truckload does not pay")
	}
	return tongue.Sayf("%s: a stalk of it is worth %s to the region and costs %s.", verdict, Price(max(0, t.Worth.Mean), currency), Price(t.Price, ""))
}

// stopInShort warns where stopping to cut does not hurt: then wet stalks are too many.
func stopInShort(a ahead.Answer) string {
	for _, w := range a.Ways[1:] {
		if w.Key == ahead.StopCut && w.Gain.Low > 0 {
			return tongue.Say("A week without cutting does good: more lies wet than can be dried.")
		}
	}
	return ""
}

// AheadNotes are what stands beside what lies ahead.
func AheadNotes(a ahead.Answer, currency string) []Note {
	return notes(
		note(tongue.Say("How sure"), aheadSure(a)),
		note(tongue.Say("The season so far"), aheadShown(a)...),
		note(tongue.Say("Today's stock"), aheadLies(a.Lies), tongue.Say("Stalks in the yard are taken to have lived in this season's weather since the day of their cut, which tells their mould; look at them: what shows mould is not good stock.")),
		note(tongue.Say("Stock by date"), tongue.Sayf("So much must lie at the hub for all months after that day to be met in %s, if everybody cuts what racks and dryers take. What comes after is counted with the dryers that stand.", ofHundred(a.Target)), tongue.Say("Today's row counts what lies at the hub and, by the share that is accepted there, what lies dry at the sites.")),
		note(tongue.Say("A rented dryer"), rentAhead(a)),
		note(tongue.Say("Money"), aheadMoney(a, currency)),
		note(tongue.Say("The truckload"), truckSentence(a, currency)),
		note(tongue.Say("Night"), nightAhead(a)),
		note(tongue.Say("Take care"), careAhead(a)...),
	)
}

// aheadSure says how many seasons are behind the answer, and what they are worth.
func aheadSure(a ahead.Answer) string {
	s := tongue.Sayf("%s seasons were lived through from today on, each with weather, luck and unmeasured numbers of its own.", Grouped(a.Seasons))
	if a.Weighted {
		s += tongue.Sayf(" By what is known of this one they count differently and are worth %s of equal weight, which the intervals go by.", Whole(a.Effective))
		if a.Effective < fewEffective {
			s += tongue.Say(" That is few: run more seasons (--seasons).")
		}
	}
	return s
}

// fewEffective are so few seasons that odds of them say little.
const fewEffective = 60

// aheadShown says what of this season is behind the answer.
func aheadShown(a ahead.Answer) []string {
	var out []string
	if a.Rain {
		out = append(out, tongue.Say("The rain so far stands as written down; of 25 weathers drawn for each season the one whose past is most like it goes on."))
	}
	if o := a.Output; o != nil {
		out = append(out, tongue.Sayf("From %s, all sites bring %s of what the plan states (%s to %s); before, %s to %s was thought possible.",
			tallied(o), Percent(o.Now.Median), bare(o.Now.P5), Percent(o.Now.P95), bare(o.Before.P5), Percent(o.Before.P95)))
	}
	if a.Outlook > 0 {
		out = append(out, tongue.Sayf("The rain of %s from today on is taken as it was foreseen; forecasts err, so try another too.", days(a.Outlook)))
	}
	if len(out) == 0 {
		return []string{tongue.Say("Nothing of this season is behind the odds but the stock: a tally of cutting (--cut) and the rain so far (--rain) make them surer.")}
	}
	return out
}

// tallied says how many days of cutting are behind the output: of each site, so that no day counts twice.
func tallied(o *ahead.Output) string {
	most := Grouped(o.Most)
	if o.Fewest < o.Most {
		most = tongue.Sayf("%d to %s", o.Fewest, most)
	}
	of := tongue.Several(o.Most, "%s tallied day of cutting", "%s tallied days of cutting", most)
	if o.Sites > 1 {
		of += tongue.Sayf(" at %d sites", o.Sites)
	}
	return of
}

// rentAhead says why no rented dryer is in the table.
func rentAhead(a ahead.Answer) string {
	if a.RentLate {
		return tongue.Say("A dryer rented now would be ready only after the last month that asks for stalks (--rent-ready), so that it is not listed.")
	}
	return ""
}

// aheadLies says what lies where.
func aheadLies(l ahead.Lies) string {
	s := tongue.Sayf("%s stalks lie wet in the yards, %s dried in the dryers, %s dry at the sites and %s good ones at the hub; %s went to the buyer this month.",
		Grouped(l.Wet), Grouped(l.InDryers), Grouped(l.InStores), Grouped(l.AtHub), Grouped(l.Delivered))
	if l.Comes > 0 {
		s += tongue.Sayf(" %s more are to come once.", Grouped(l.Comes))
	}
	return s
}

// aheadMoney says what money of a way is, and what a rented dryer may cost.
func aheadMoney(a ahead.Answer, currency string) string {
	for _, w := range a.Ways {
		if w.Money == nil || w.Key != ahead.RentDryer {
			continue
		}
		s := tongue.Say("Money more is what the region has for the rest of the season beyond going on as now, pay of members included.")
		if w.Money.Low > 0 {
			return s + tongue.Sayf(" The rent of a dryer is not in it: it is worth up to %s.", Amounts(*w.Money, currency))
		}
		return s + tongue.Say(" The rent of a dryer is not in it; not even without rent does it clearly leave more.")
	}
	return ""
}

// truckSentence says in full what a truckload does.
func truckSentence(a ahead.Answer, currency string) string {
	t := a.Truck
	if t == nil {
		return ""
	}
	s := tongue.Sayf("%s dry good stalks bought once, at the hub on %s, change the odds that all months ahead are met by %s points; %s of them more go to the buyer.", Grouped(t.Stalks), t.On, Points(t.Gain), Whole(t.Sold.Mean))
	if t.Money == nil {
		return s + tongue.Say(" No prices are stated, so nothing is said of money.")
	}
	return s + tongue.Sayf(" Its price paid, the region is left with %s by it; it pays in %s of the seasons. It breaks even at %s a stalk (%s to %s).",
		Amounts(*t.Money, currency), Odds(*t.Pays), Price(t.Worth.Mean, currency), Price(t.Worth.Low, ""), Price(t.Worth.High, ""))
}

// nightAhead says that night fires were not tried, or what they ask.
func nightAhead(a ahead.Answer) string {
	if a.NightLeft {
		return tongue.Say("Fires between 22 and 6 h were not tried: nobody has said that those who tend them agree (--night-work).")
	}
	for _, w := range a.Ways {
		if w.Key == ahead.NightFire {
			return tongue.Say("Fires at night need two people awake, light, water at hand and open air: carbon monoxide kills without smell. Nobody who fired at night cuts on open water the next day.")
		}
	}
	return ""
}

// careAhead are the cautions of work in the season.
func careAhead(a ahead.Answer) []string {
	out := []string{tongue.Say("Stalks that go wet into a store mould there, and their dust harms lungs: dry them first, and wear a mask where it dusts.")}
	if a.Lies.Wet > 0 {
		out = append(out, tongue.Say("Wet stalks are heavy: two people to a load, and no racks loaded beyond what they were built for."))
	}
	return append(out, tongue.Say("A month at risk is no reason to cut in high water, heavy rain or alone."))
}

// StockDay says the day of a row of stock, which an answer holds in English: "today", "31 July".
func StockDay(date string) string {
	if date == "today" {
		return tongue.Say("today")
	}
	day, month, both := strings.Cut(date, " ")
	if !both {
		return date
	}
	return tongue.Sayf("%s %s", day, month)
}
