package words

import (
	"fmt"
	"strings"

	"drystalk/sim"
	"drystalk/sim/decide"
)

// SeasonSentence says how one season went.
func SeasonSentence(region string, l sim.RegionLedger) string {
	var missed []string
	asked := 0
	for _, m := range l.Hub {
		if m.Asked == 0 {
			continue
		}
		asked++
		if !m.Met {
			missed = append(missed, fmt.Sprintf("%s (%s of %s)", m.Month, Grouped(m.Delivered), Grouped(m.Asked)))
		}
	}
	if len(missed) == 0 {
		return fmt.Sprintf("%s, season %d: all %d contract months are met.", region, l.Season, asked)
	}
	return fmt.Sprintf("%s, season %d: %d of %d contract months are met; missed: %s.", region, l.Season, asked-len(missed), asked, And(missed))
}

// WhySentence says why a month was missed.
func WhySentence(w decide.MonthWhy) string {
	s := fmt.Sprintf("%s missed %s of %s stalks.", w.Month, Grouped(w.Asked-w.Delivered), Grouped(w.Asked))
	switch {
	case len(w.MetWith) > 0:
		return s + " In the same season each of these alone would have met it: " + And(reliefsInOrder(w.MetWith)) + "."
	case w.MostAdds > 0:
		return s + fmt.Sprintf(" No single thing tried would have met it; %s would have added most, %s stalks.", Relief(w.Most), Grouped(w.MostAdds))
	}
	return s + " Nothing tried alone would have added a stalk."
}

// NotCut names the largest reason for stalks not cut.
func NotCut(m sim.SiteMonth) string {
	id, most := m.Most(sim.OfKinds(sim.NotCutFor, sim.NotWanted))
	if id == sim.NoFigure {
		return "0"
	}
	w := figureWords[id]
	return Whole(most) + " " + first(w.month, strings.TrimPrefix(w.name, "not cut: "))
}
