package words

import (
	"slices"
	"strings"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// mostMissed is how many missed months a sentence names with their numbers.
const mostMissed = 4

// SeasonSentence says how one season went.
func SeasonSentence(region string, l sim.RegionLedger) string {
	var missed, names []string
	asked := 0
	for _, m := range l.Hub {
		if m.Asked == 0 {
			continue
		}
		asked++
		if !m.Met {
			missed = append(missed, tongue.Sayf("%s (%s of %s)", m.Month, Grouped(m.Delivered), Grouped(m.Asked)))
			names = append(names, tongue.Month(m.Month.String()))
		}
	}
	switch {
	case asked == 0:
		return tongue.Sayf("%s, season %d: no month has a contract.", region, l.Season)
	case len(missed) == 0 && asked == 1:
		return tongue.Sayf("%s, season %d: the one contract month is met.", region, l.Season)
	case len(missed) == 0:
		return tongue.Sayf("%s, season %d: all %d contract months are met.", region, l.Season, asked)
	case len(missed) > mostMissed:
		missed = names
	}
	return tongue.Sayf("%s, season %d: %d of %d contract months are met; missed: %s.", region, l.Season, asked-len(missed), asked, And(missed))
}

// SeasonParagraph says for a decision paper why months were missed, the one that missed most stalks
// first.
func SeasonParagraph(why []decide.MonthWhy) []string {
	list := slices.Clone(why)
	slices.SortStableFunc(list, func(a, b decide.MonthWhy) int { return (b.Asked - b.Delivered) - (a.Asked - a.Delivered) })
	var out []string
	for _, w := range list {
		out = append(out, whyInShort(w))
	}
	return out
}

// whyInShort says why a month was missed.
func whyInShort(w decide.MonthWhy) string {
	s := tongue.Sayf("%s missed %s", w.Month, stalks(w.Asked-w.Delivered))
	with := reliefsInOrder(w.MetWith)
	switch {
	case len(with) > 0:
		return tongue.Sayf("%s; %s would have met it.", s, with[0])
	case w.MostAdds > 0 && Advisable([]decide.Relief{w.Most}):
		return tongue.Sayf("%s; no single thing would have met it.", s)
	}
	return s + "."
}

// SeasonNotes are what stands beside one season: why months were missed, and the story of each.
func SeasonNotes(why []decide.MonthWhy, story []string, hub decide.HubAir) []Note {
	var out []Note
	for _, w := range why {
		out = append(out, Note{tongue.Sayf("Why %s was missed", w.Month), WhySentence(w)})
	}
	for _, s := range story {
		month, told, _ := strings.Cut(s, ": ")
		out = append(out, Note{month, Upper(told)})
	}
	return append(out, note(tongue.Say("The hub"), HubSentence(hub))...)
}

// WhySentence says why a month was missed.
func WhySentence(w decide.MonthWhy) string {
	s := tongue.Sayf("%s missed %s of %s.", w.Month, Grouped(w.Asked-w.Delivered), stalks(w.Asked))
	with := reliefsInOrder(w.MetWith)
	switch {
	case len(with) == 1:
		return s + tongue.Sayf(" In the same season this alone would have met it: %s.", with[0])
	case len(with) > 0:
		return s + tongue.Sayf(" In the same season each of these alone would have met it: %s.", And(with))
	case len(w.MetWith) > 0 || w.MostAdds > 0 && !Advisable([]decide.Relief{w.Most}):
		return s + tongue.Say(" No single thing that may be advised would have met it.")
	case w.MostAdds > 0:
		return s + tongue.Sayf(" No single thing tried would have met it; %s would have added most, %s.", Relief(w.Most), stalks(w.MostAdds))
	}
	return s + tongue.Say(" Nothing tried alone would have added a stalk.")
}

// stalks writes a number of stalks: "1 stalk", "2,124 stalks".
func stalks(n int) string { return tongue.Several(n, "1 stalk", "%s stalks", Grouped(n)) }

// NotCut names the largest reason for stalks not cut.
func NotCut(m sim.SiteMonth) string {
	id, most := m.Most(sim.OfKinds(sim.NotCutFor, sim.NotWanted))
	if id == sim.NoFigure {
		return "0"
	}
	w := figureWords[id]
	return Whole(most) + " " + first(w.month, w.name)
}
