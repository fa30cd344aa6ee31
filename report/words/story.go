package words

import (
	"fmt"
	"sort"
	"strings"

	"drystalk/sim"
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
		m.Cut += s.Cut
		m.ToHub += s.ToHub
		m.Second += s.Second
		m.Rejected += s.Rejected
		m.ThrownOut += s.ThrownOut
		m.Broken += s.Broken
		m.Charges += s.Charges
		m.Shift.Add(&s.Shift)
		m.NotCutRain += s.NotCutRain
		m.NotCutYardFull += s.NotCutYardFull
		m.NotCutPeople += s.NotCutPeople
		m.NotCutStand += s.NotCutStand
		m.NotCutClosed += s.NotCutClosed
		m.NotCutTarget += s.NotCutTarget
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s. %s stalks were cut", span.Month, rainOf(l, span), Grouped(m.Cut))
	if why := NotCut(m); why != "0" {
		n, reason, _ := strings.Cut(why, " ")
		fmt.Fprintf(&b, "; %s more were not cut because of %s", n, becauseOf[reason])
	}
	b.WriteString(".")
	if lost := m.Second + m.Rejected + m.ThrownOut + m.Broken; lost > 0 {
		fmt.Fprintf(&b, " %s were lost to the contract, most of them %s.", Grouped(lost), mostLost(m))
	}
	if units > 0 {
		fmt.Fprintf(&b, " %s", dryerStory(m))
	}
	if short := shortOf(l, span); short != "" {
		fmt.Fprintf(&b, " %s", short)
	}
	fmt.Fprintf(&b, " %s", hubStory(&l.Hub[k]))
	return b.String()
}

// becauseOf puts the reasons for stalks not cut into a sentence.
var becauseOf = map[string]string{
	"rain": "the rain", "yard full": "a full yard", "people": "other work", "stand": "thin stands", "stand closed": "a closed stand",
	"share reached": "a share already reached",
}

func rainOf(l sim.RegionLedger, span sim.Span) string {
	mm, wet := 0.0, 0
	for d := span.FirstDay; d <= span.LastDay; d++ {
		rain := l.Sites[0].Days[d].RainMM
		mm += rain
		if rain >= 1 {
			wet++
		}
	}
	if wet == 0 {
		return "no day of rain"
	}
	return fmt.Sprintf("%s mm of rain on %s", Whole(mm), days(wet))
}

func mostLost(m sim.SiteMonth) string {
	most, what := 0, ""
	for _, r := range []struct {
		n    int
		what string
	}{
		{m.Second, "second grade"},
		{m.Rejected, "rejected for mould"},
		{m.ThrownOut, "rotted and thrown out"},
		{m.Broken, "broken, dried too far"},
	} {
		if r.n > most {
			most, what = r.n, r.what
		}
	}
	return what
}

func dryerStory(m sim.SiteMonth) string {
	h := &m.Shift
	s := fmt.Sprintf("The dryers finished %s charges and fired %s of %s shift hours", Grouped(m.Charges), Whole(h.Firing), Whole(h.Sum()))
	most, why := 0.0, ""
	for _, r := range idleWords(h) {
		if r.hours > most {
			most, why = r.hours, r.words
		}
	}
	if most >= 1 {
		s += fmt.Sprintf("; most of the rest, %s h, they stood: %s", Whole(most), why)
	}
	return s + "."
}

type idleRow struct {
	hours float64
	words string
}

func idleWords(h *sim.DryerHours) []idleRow {
	return []idleRow{
		{h.NoStalks, "no stalks to load"},
		{h.NotWanted, "no need, the sun could do it"},
		{h.NoTime, "too late in the shift for a charge"},
		{h.NoPeople, "nobody to tend the fire"},
		{h.NoWood, "no wood"},
		{h.Broken, "broken or out"},
		{h.NotReady, "not yet put up"},
	}
}

// shortOf counts what was short, over the days of all sites.
func shortOf(l sim.RegionLedger, span sim.Span) string {
	count, all := map[string]int{}, 0
	for i := range l.Sites {
		for d := span.FirstDay; d <= span.LastDay; d++ {
			if s := l.Sites[i].Days[d].Short; s != "" {
				count[s]++
				all++
			}
		}
	}
	if all == 0 {
		return "Nothing was short."
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
	for _, what := range things[:min(3, len(things))] {
		parts = append(parts, fmt.Sprintf("%s (%s)", what, days(count[what])))
	}
	return fmt.Sprintf("Of %s at all sites together something was short on %s: %s.",
		days(len(l.Sites)*(span.LastDay-span.FirstDay+1)), Grouped(all), And(parts))
}

func hubStory(m *sim.HubMonth) string {
	switch {
	case m.Asked == 0:
		return fmt.Sprintf("No contract; %s good stalks lie at the hub.", Grouped(m.Closing))
	case m.Met:
		return fmt.Sprintf("The contract of %s is met; %s are left over.", Grouped(m.Asked), Grouped(m.Closing))
	}
	return fmt.Sprintf("The contract is missed: %s of %s.", Grouped(m.Delivered), Grouped(m.Asked))
}
