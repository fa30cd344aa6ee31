package words

import (
	"path"
	"path/filepath"
	"slices"

	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// wayWord is what a lever of working is called, and what it asks of people.
type wayWord struct {
	name tongue.Text                // of the lever
	at   func(x float64) string     // a way of working at a value
	asks func(c ways.Change) string // of people
	of   map[string]tongue.Text     // of a lever of choices: what each is called
}

// valued writes a value into a text.
func valued(format string) func(float64) string {
	return func(x float64) string { return tongue.Sayf(format, Number(x)) }
}

// upDown says what it asks where a lever goes up, and where it goes down.
func upDown(up, down tongue.Text) func(ways.Change) string {
	return func(c ways.Change) string {
		if c.To > c.From {
			return up.String()
		}
		return down.String()
	}
}

func asking(s tongue.Text) func(ways.Change) string {
	return func(ways.Change) string { return s.String() }
}

// wayWords are the words of the levers of working.
var wayWords = map[ways.Lever]wayWord{
	ways.Loading: {
		name: "loading of the racks", at: valued("stalks spread at %s kg per m²"),
		asks: upDown("fuller racks, and a closer look for mould", "thinner layers over all of the rack; who has fewer m² free stops cutting sooner"),
	},
	ways.HubSpeaks: {
		name: "when the hub speaks", asks: asking("a call of the hub to every site each evening"),
		of: map[string]tongue.Text{"daily": "a hub that speaks every evening", "at_collections": "a hub that speaks at collections", "by_cutters": "a hub that gives each site its share"},
	},
	ways.WetLoading: {
		name: "loading in wet weeks", at: func(x float64) string {
			if x == 0 {
				return tongue.Say("stalks spread in wet weeks as in dry ones")
			}
			return tongue.Sayf("stalks spread at %s kg per m² in wet weeks", Number(x))
		},
		asks: upDown("another load of the racks after a week of rain", "no other load after a week of rain"),
	},
	ways.Spreading: {
		name: "spreading", asks: asking("spreading stalks over all free rack, again at sunrise, after landing and before dusk; who is to do it has fewer hours to cut"),
		of: map[string]tongue.Text{"at_full_load": "stalks spread as thick as the full load", "over_free_rack": "stalks spread over all free rack"},
	},
	ways.CuttingRule: {
		name: "when cutting stops", asks: asking("stopping to cut by what lies wet, not by the room on the racks"),
		of: map[string]tongue.Text{"full_yard": "cutting until the yard is full", "what_can_dry": "cutting no more than can dry"},
	},
	ways.StockAhead: {
		name: "stock ahead", at: timesWhat("the stock ahead"),
		asks: upDown("cutting on in dry months until the hub has more ahead; money comes later, and the hub must keep stalks dry", "resting sooner in dry months"),
	},
	ways.Collections: {
		name: "collections", at: valued("%s collections a month"),
		asks: upDown("a vehicle that comes more often, and hands at each visit", "a vehicle that comes less often, and room in the site stores"),
	},
	ways.CuttingH: {
		name: "hours of cutting", at: timesWhat("the hours of cutting a day"),
		asks: upDown("longer days in the water, within the hours that people work anyway", "shorter days in the water"),
	},
	ways.Heap: {
		name: "heap", at: valued("at most %s days of cutting in the heap"), asks: asking("stopping to cut sooner when racks are full"),
	},
	ways.ThrowOut: {
		name: "throwing out", at: func(x float64) string {
			return tongue.Sayf("batches thrown out once below %s of full grade", Percent(x))
		},
		asks: upDown("giving up poor batches sooner, when their place is needed", "keeping poor batches longer"),
	},
	ways.ClosingUp: {
		name: "closing up", at: valued("stalks closed up on the rack below %s kg of water per kg dry"),
		asks: upDown("closing stalks up sooner", "leaving stalks spread out longer"),
	},
	ways.FiredFirst: {
		name: "what is fired first", asks: asking("choosing batches for a charge by another rule"),
		of: map[string]tongue.Text{"most_at_risk": "the batch most at risk fired first", "driest": "the driest batch fired first", "wettest": "the wettest batch fired first", "oldest": "the oldest batch fired first"},
	},
	ways.FiredAt: {
		name: "when it is fired", at: valued("firing from mould index %s on"),
		asks: upDown("waiting longer before a fire is lit", "looking for mould earlier, and more fires"),
	},
	ways.AtRisk: {
		name: "stalks at risk before a fire", at: func(x float64) string {
			return tongue.Sayf("a fire from %s of a charge at risk on", Percent(x))
		},
		asks: upDown("waiting until more stalks are at risk", "lighting a fire for fewer stalks"),
	},
	ways.LeastCharge: {
		name: "smallest charge", at: func(x float64) string {
			return tongue.Sayf("charges from %s of a full one on", Percent(x))
		},
		asks: upDown("fewer, fuller charges", "smaller charges, and more of them"),
	},
	ways.Temperature: {
		name: "temperature of the dryer", at: valued("the dryer at %s °C"),
		asks: upDown("a hotter fire: more wood an hour, and closer tending", "a milder fire, tended longer"),
	},
	ways.ShiftStart: {name: "start of shifts", at: valued("shifts from %s h on"), asks: upDown("the first fire later in the day", "the first fire earlier in the day")},
	ways.ShiftEnd:   {name: "end of shifts", at: valued("shifts until %s h"), asks: upDown("somebody who tends the fire in the evening", "the last fire out earlier")},
}

// timesWhat says a factor: "twice the stock ahead", "half the stock ahead".
func timesWhat(what tongue.Text) func(float64) string {
	said := map[float64]tongue.Text{0: "none of ", 0.5: "half ", 0.75: "three quarters of ", 1: "", 1.25: "a quarter more than ", 1.5: "one and a half times ", 2: "twice ", 3: "three times ", 4: "four times "}
	return func(x float64) string {
		if s, known := said[x]; known {
			return s.String() + what.String()
		}
		return tongue.Sayf("%s times %s", Number(x), what.String())
	}
}

// WayAt says what a change does: "stalks spread at 6 kg per m²".
func WayAt(c ways.Change) string {
	w := wayWords[c.Lever]
	if c.Choice != "" {
		return w.of[c.Choice].String()
	}
	return w.at(c.To)
}

// WayFrom says what a change replaces, as a value: "10", "the batch most at risk fired first".
func WayFrom(c ways.Change) string {
	switch w := wayWords[c.Lever]; {
	case c.Before != "":
		return w.of[c.Before].String()
	case c.Factor:
		return tongue.Say("as written")
	case c.Lever == ways.WetLoading && c.From == 0:
		return tongue.Say("as in dry weeks")
	}
	return Quantity(c.From, "")
}

// WayAsks says what a change asks of people.
func WayAsks(c ways.Change) string { return wayWords[c.Lever].asks(c) }

// WayName says what a lever of working is called.
func WayName(l ways.Lever) string { return wayWords[l].name.String() }

// changesWords says some changes: "stalks spread at 6 kg per m² and twice the stock ahead".
func changesWords(list []ways.Change) string {
	var out []string
	for _, c := range list {
		out = append(out, WayAt(c))
	}
	return And(out)
}

// fewChanges is how many changes a sentence names.
const fewChanges = 3

// changesInShort says the first of some changes, and how many more there are.
func changesInShort(list []ways.Change) string {
	if len(list) <= fewChanges {
		return changesWords(list)
	}
	var out []string
	for _, c := range list[:fewChanges-1] {
		out = append(out, WayAt(c))
	}
	return And(append(out, tongue.Sayf("%s more (listed below)", things(len(list)-fewChanges+1))))
}

// allOf are the changes of the best way.
func allOf(a ways.Answer) []ways.Change {
	if len(a.Together) == 0 {
		return nil
	}
	return a.Together[len(a.Together)-1].Changes
}

// WaysSentence says what better ways of working do.
func WaysSentence(a ways.Answer) string {
	if len(a.Together) == 0 {
		return tongue.Sayf("No change of working that was tried does more: as it is, %s; %s.", planReaches(a.Goal, a.Start), askedFor(a.Target, a.Start.Odds))
	}
	if last := a.Together[len(a.Together)-1]; !a.ByIncome && last.Gain.Low <= 0 {
		return tongue.Sayf("Whether %s would do more is too close to tell: %s, %s as it is; %s.", changesInShort(allOf(a)), planReaches(a.Goal, a.Best), outOfBefore(a.Start.Odds.Share), askedFor(a.Target, a.Best.Odds))
	}
	before := outOfBefore(a.Start.Odds.Share)
	if a.Goal.ByMonth() && a.Start.WorstMonth().Name != a.Best.WorstMonth().Name {
		before += " (" + a.Start.WorstMonth().Name + ")"
	}
	return tongue.Sayf("With %s, %s, %s before; %s.", changesInShort(allOf(a)), planReaches(a.Goal, a.Best), before, askedFor(a.Target, a.Best.Odds))
}

// WaysParagraph says for a decision paper what better ways of working ask and bring, the most telling
// sentence first.
func WaysParagraph(a ways.Answer, currency string) []string {
	if len(a.Together) == 0 {
		return []string{tongue.Say("More would have to be bought: drystalk spend says what."), earnsMost(a, currency)}
	}
	last := a.Together[len(a.Together)-1]
	return []string{luckInShort(a.Gains), travelsInShort(a), livesInShort(a, last, currency), mostFrom(a), earnsMost(a, currency), boughtFor(a)}
}

// WaysHold says that an answer is of a plan that works in the ways of a file.
func WaysHold(file string) string {
	return tongue.Sayf("This holds only if the groups work in the new ways of %s.", path.Base(filepath.ToSlash(file)))
}

// boughtFor says what better ways take that no price is counted for: where more stock is kept ahead a
// dry store for it, as large as in one season of twenty.
func boughtFor(a ways.Answer) string {
	if !slices.ContainsFunc(allOf(a), func(c ways.Change) bool { return c.Lever == ways.StockAhead }) {
		return tongue.Say("Nothing is bought for it.")
	}
	most := 0.0
	for _, m := range a.Best.Months {
		most = max(most, m.Available.P95)
	}
	return tongue.Sayf("Nothing is bought for it, but the hub must keep up to %s stalks dry.", Grouped(Round(most)))
}

// luckInShort warns of a gain that fresh seasons do not give.
func luckInShort(g ways.Gains) string {
	if !g.ByLuck() {
		return ""
	}
	return tongue.Sayf("Beware: where it was found it gained %d of 100 seasons, on fresh ones %d: the rest was luck.", Round(100*g.Search.Mean), Round(100*g.Fresh.Mean))
}

// livesInShort says what those whose work it is have of a way.
func livesInShort(a ways.Answer, w ways.Way, currency string) string {
	each := func(m trials.Mean) trials.Mean {
		n := float64(max(1, a.Members))
		return trials.Mean{Mean: m.Mean / n, Low: m.Low / n, High: m.High / n, Seasons: m.Seasons}
	}
	work := tongue.Say("about as many hours as now")
	if sign(w.Hours.More) != 0 {
		work = hoursWords(each(w.Hours.More))
	}
	who, earns := tongue.Say("Each member"), w.Income.More
	switch {
	case a.Cutters == "":
		return tongue.Sayf("Each cutter works %s.", work)
	case a.Cutters == money.Hired.String():
		return tongue.Sayf("The groups have %s a year, and each cutter works %s.", leftMore(earns, currency), work)
	case sign(earns) == 0:
		return tongue.Sayf("%s earns about the same and works %s.", who, work)
	}
	return tongue.Sayf("%s earns %s a year and works %s.", who, moreOrLess(each(earns), func(x float64) string { return Money(x, currency) }), work)
}

// leftMore says what groups have more left, or about as much.
func leftMore(m trials.Mean, currency string) string {
	if sign(m) == 0 {
		return tongue.Say("about as much left")
	}
	return tongue.Sayf("%s left", moreOrLess(m, func(x float64) string { return Money(x, currency) }))
}

// mostFrom says how much of the gain the first change brings.
func mostFrom(a ways.Answer) string {
	first := a.Together[0]
	all := a.Together[len(a.Together)-1].Gain
	if len(a.Together) < 2 || !(all.Mean > 0) {
		return ""
	}
	return tongue.Sayf("The first alone gives %s.", OutOf(first.Odds.Share))
}

// earnsMost names the single change that earns most without reaching the goal less often, where it is
// not among those of the answer.
func earnsMost(a ways.Answer, currency string) string {
	best := -1
	for k, w := range a.Alone {
		if w.Gain.Low >= -0.01 && sign(w.Income.More) > 0 && (best < 0 || w.Income.More.Mean > a.Alone[best].Income.More.Mean) {
			best = k
		}
	}
	if best < 0 || a.Cutters != money.Members.String() {
		return ""
	}
	w := a.Alone[best]
	for _, c := range allOf(a) {
		if c.Lever == w.Changes[0].Lever {
			return ""
		}
	}
	return tongue.Sayf("Most is earned by %s: %s more a year in all.", changesWords(w.Changes), Money(w.Income.More.Mean, currency))
}

// WaysNotes are what stands beside better ways of working.
func WaysNotes(a ways.Answer) []Note {
	var asks []string
	for _, c := range allOf(a) {
		asks = append(asks, Upper(WayAt(c))+": "+WayAsks(c)+".")
	}
	return notes(
		note(tongue.Say("What it asks"), asks...),
		note(tongue.Say("How sure"), howSure(a.Seasons)),
		note(tongue.Say("How it was found"), tongue.Sayf("%s were tried in %s search seasons, the best judged on %s others, and what does not carry was taken back; the figures are of %s fresh seasons.", waysOf(a.Tried), Grouped(a.SearchSeasons), Grouped(a.JudgeSeasons), Grouped(a.Seasons)), stagesOf(a)),
		note(tongue.Say("Together"), substitutes(a)),
		note(tongue.Say("Other climates"), travelsWords(a)),
		note(tongue.Say("Other targets"), Beside(a.Goal, a.Best)),
		note(tongue.Say("Never tried"), tongue.Say("Cutting above the rain limit, cutting closed stands, fewer days of rest, night work without the word of those who do it (--night-work), a hotter dryer than now without yours (--most-c).")),
		note(tongue.Say("The hub"), HubSentence(a.Hub)),
	)
}

// waysOf counts ways that were tried.
func waysOf(n int) string {
	if n == 1 {
		return tongue.Say("1 way of working")
	}
	return tongue.Sayf("%s ways of working", Grouped(n))
}

// stagesOf says what the way gained where it was found, where it was chosen and in fresh seasons.
func stagesOf(a ways.Answer) string {
	if len(a.Together) == 0 {
		return ""
	}
	g := a.Gains
	s := tongue.Sayf("It gained %s points where it was found, %s where it was chosen and %s in fresh seasons.", Points(g.Search), Points(g.Judge), Points(g.Fresh))
	if g.ByLuck() {
		s += tongue.Say(" So most of what it seemed to gain was luck of the seasons that found it.")
	}
	return s
}

// substitutes says whether changes do together what they do each alone.
func substitutes(a ways.Answer) string {
	n := len(a.Together)
	if n < 2 || len(a.Alone) < n {
		return ""
	}
	sum := 0.0
	for _, w := range a.Alone[:n] {
		sum += w.Gain.Mean
	}
	all := a.Together[n-1].Gain.Mean
	how := tongue.Say("they help one another")
	if all < sum {
		how = tongue.Say("they stand in for one another")
	}
	return tongue.Sayf("Each alone, the changes gain %d points in sum, together %d: %s.", Round(100*sum), Round(100*all), how)
}

// travelsInShort says whether the ways do well in other climates, where that was asked.
func travelsInShort(a ways.Answer) string {
	n, all := travels(a), len(a.Elsewhere)
	switch {
	case all == 0:
		return ""
	case n == 0:
		return tongue.Sayf("It does not travel: it does well in none of %d other climates.", all)
	case n == all:
		return tongue.Sayf("It does well in all %d other climates tried.", all)
	}
	return tongue.Sayf("It does not travel: it does well in %s of %d other climates.", spelled(n), all)
}

// travels counts the climates in which the ways do well.
func travels(a ways.Answer) int {
	n := 0
	for k := range a.Elsewhere {
		if a.Elsewhere[k].Travels() {
			n++
		}
	}
	return n
}

// travelsWords says how other climates were chosen and where the ways do not do well.
func travelsWords(a ways.Answer) string {
	if len(a.Elsewhere) == 0 {
		return ""
	}
	s := tongue.Say("Stations of the WMO table whose rainy months (100 mm and more) are most like here, by their rain of a year among equals. To do well is to gain and to lose no more than 10 of 100 seasons to the best of the other ways that were judged.")
	var not []string
	for k := range a.Elsewhere {
		if e := &a.Elsewhere[k]; !e.Travels() {
			not = append(not, tongue.Sayf("%s (gain %s, best there %s)", e.Station, Points(e.Gain), changesWords(e.Best)))
		}
	}
	if len(not) > 0 {
		s += tongue.Sayf(" Not so in %s.", And(not))
	}
	return s
}
