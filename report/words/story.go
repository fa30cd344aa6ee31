package words

import (
	"fmt"
	"sort"
	"strings"

	"drystalk/sim"
	"drystalk/tongue"
)

// Story tells a season month by month in plain sentences: the weather, what was cut, what
// became of it, what the dryers did, what was short, and how the contract fared. The ledger
// must hold its days.
func Story(l sim.RegionLedger, spans []sim.Span) []string {
	var out []string
	for k, span := range spans {
		out = append(out, monthStory(l, k, span))
	}
	return out
}

func monthStory(l sim.RegionLedger, k int, span sim.Span) string {
	var m sim.SiteMonth
	units := 0
	for i := range l.Sites {
		s := &l.Sites[i].Months[k]
		units += l.Sites[i].Dryers
		m.Add(s)
	}
	var b strings.Builder
	tongue.Fprintf(&b, "%s: %s. %s", span.Month, rainOf(l, span), tongue.Several(m.Cut, "1 stalk was cut", "%s stalks were cut", Grouped(m.Cut)))
	if why, most := m.Most(sim.OfKinds(sim.NotCutFor, sim.NotWanted)); why != sim.NoFigure {
		b.WriteString(tongue.Several(Round(most), "; %s more was not cut because of %s", "; %s more were not cut because of %s", Whole(most), because(why)))
	}
	b.WriteString(".")
	b.WriteString(lossStory(m))
	if units > 0 {
		fmt.Fprintf(&b, " %s", dryerStory(m, units == 1))
	}
	if short := shortOf(l, span); short != "" {
		fmt.Fprintf(&b, " %s", short)
	}
	fmt.Fprintf(&b, " %s", hubStory(&l.Hub[k]))
	return b.String()
}

// lossStory says how many stalks were lost to the contract, those refused at the gate of the hub too, and
// what became of most of them, or of the largest part where that is no more than half.
func lossStory(m sim.SiteMonth) string {
	kinds := sim.OfKinds(sim.Lost, sim.LostLater)
	what, most := m.Most(kinds)
	switch all := m.Sum(kinds); {
	case what == sim.NoFigure:
		return ""
	case Round(all) == 1:
		return tongue.Sayf(" 1 was lost to the contract, %s.", storyOf(what))
	case 2*most > all:
		return tongue.Sayf(" %s were lost to the contract, most of them %s.", Whole(all), storyOf(what))
	default:
		return tongue.Sayf(" %s were lost to the contract, the largest part %s.", Whole(all), storyOf(what))
	}
}

// storyOf names a loss in the story of a month.
func storyOf(id sim.FigureID) string {
	if id == sim.Second {
		return FigureName(id) // it is sold, and told apart from what is thrown away
	}
	return FigureRow(id)
}

// rainOf tells the rain of a month; where sites have several, that of the least and the most.
func rainOf(l sim.RegionLedger, span sim.Span) string {
	least, most := 0, 0
	for i := range l.Sites {
		mm, _ := siteRain(&l.Sites[i], span)
		if low, _ := siteRain(&l.Sites[least], span); mm < low {
			least = i
		}
		if high, _ := siteRain(&l.Sites[most], span); mm > high {
			most = i
		}
	}
	if least == most {
		return rainWords(&l.Sites[0], span)
	}
	return tongue.Sayf("%s at %s, %s at %s", rainWords(&l.Sites[least], span), l.Sites[least].Site, rainWords(&l.Sites[most], span), l.Sites[most].Site)
}

// siteRain returns the rain of a month at a site, mm, and its days with at least 1 mm.
func siteRain(s *sim.SiteLedger, span sim.Span) (mm float64, wet int) {
	for d := span.FirstDay; d <= span.LastDay; d++ {
		rain := s.Days[d].RainMM
		mm += rain
		if rain >= 1 {
			wet++
		}
	}
	return mm, wet
}

func rainWords(s *sim.SiteLedger, span sim.Span) string {
	mm, wet := siteRain(s, span)
	if wet == 0 {
		return tongue.Say("no day of rain")
	}
	return tongue.Sayf("%s mm of rain on %s", Whole(mm), days(wet))
}

func dryerStory(m sim.SiteMonth, one bool) string {
	h := &m.Shift
	charges, fired, shift := tongue.Several(m.Charges, "1 charge", "%s charges", Grouped(m.Charges)), Whole(h[sim.DryerFiring]), Whole(h.Sum())
	s := tongue.Sayf("The dryers finished %s and fired %s of %s shift hours", charges, fired, shift)
	if one {
		s = tongue.Sayf("The dryer finished %s and fired %s of %s shift hours", charges, fired, shift)
	}
	why, most := m.Most(sim.OfKinds(sim.Stands, sim.Down))
	if most < 1 {
		return s + "."
	}
	of := tongue.Say("the largest part of the rest")
	if 2*most > h.Sum()-h[sim.DryerFiring] {
		of = tongue.Say("most of the rest")
	}
	if one {
		return s + tongue.Sayf("; %s, %s h, it stood: %s.", of, Whole(most), because(why))
	}
	return s + tongue.Sayf("; %s, %s h, they stood: %s.", of, Whole(most), because(why))
}

// mostShort is how many things a month names that were short; the last of more stands for all others, so that
// the days add up.
const mostShort = 4

// shortOf counts what was short, over the days of all sites.
func shortOf(l sim.RegionLedger, span sim.Span) string {
	count, all := map[string]int{}, 0
	for i := range l.Sites {
		for d := span.FirstDay; d <= span.LastDay; d++ {
			if s := l.Sites[i].Days[d].Short; s != sim.LacksNothing {
				count[Short(s)]++
				all++
			}
		}
	}
	if all == 0 {
		return tongue.Say("Nothing was short.")
	}
	var things []string
	for what := range count {
		things = append(things, what)
	}
	sort.Slice(things, func(i, j int) bool {
		if count[things[i]] != count[things[j]] {
			return count[things[i]] > count[things[j]]
		}
		return things[i] < things[j]
	})
	var parts []string
	rest := all
	for k, what := range things {
		if k == mostShort-1 && len(things) > mostShort {
			parts = append(parts, tongue.Sayf("other things (%s)", days(rest)))
			break
		}
		rest -= count[what]
		parts = append(parts, fmt.Sprintf("%s (%s)", what, days(count[what])))
	}
	return tongue.Sayf("Of %s at all sites together something was short on %s: %s.",
		days(len(l.Sites)*(span.LastDay-span.FirstDay+1)), Grouped(all), And(parts))
}

func hubStory(m *sim.HubMonth) string {
	spoiled := ""
	if m.Spoiled > 0 {
		spoiled = tongue.Sayf("Mould spoiled %s at the hub. ", stalks(m.Spoiled))
	}
	return spoiled + contractStory(m)
}

func contractStory(m *sim.HubMonth) string {
	switch {
	case m.Asked == 0:
		return tongue.Several(m.Closing, "No contract; 1 good stalk lies at the hub.", "No contract; %s good stalks lie at the hub.", Grouped(m.Closing))
	case m.Met:
		return tongue.Sayf("The contract of %s is met; %s.", Grouped(m.Asked), tongue.Several(m.Closing, "1 is left over", "%s are left over", Grouped(m.Closing)))
	}
	return tongue.Sayf("The contract is missed: %s of %s.", Grouped(m.Delivered), Grouped(m.Asked))
}
