package words

import (
	"math"

	"drystalk/sim/decide"
	"drystalk/tongue"
)

// dryStorePct is the humidity up to which a store is called dry: no mould grows below 80 %.
const dryStorePct = 0.75

// HubInShort says in the paragraph of an answer in which air stalks lie at the hub, and what an open
// shed would do.
func HubInShort(h decide.HubAir) string {
	s := tongue.Say("The hub's store is taken as an open shed")
	switch {
	case h.Humidity > dryStorePct:
		s = tongue.Say("The hub's store is taken as damp")
	case h.Humidity > 0:
		s = tongue.Say("The hub's store is taken as a dry warehouse")
	}
	switch {
	case h.Shed == nil:
		return s + "."
	case h.Shed.Gain.High < 0 || h.Shed.Gain.Low > 0:
		return tongue.Sayf("%s; in an open shed %s would be met in %s.", s, h.Shed.Month, ofSeasons(h.Shed.Odds.Share))
	}
	return s + tongue.Say("; an open shed would make no difference that can be told.")
}

// HubBriefly says in which air stalks lie at the hub, and leaves what an open shed would do to the
// table beside the answer.
func HubBriefly(h decide.HubAir) string {
	h.Shed = nil
	return HubInShort(h)
}

// HubSentence says in which air stalks lie at the hub, what an open shed would do, and that stock at
// the start beyond what is wanted ahead helps little.
func HubSentence(h decide.HubAir) string { return airSentence(h) + beyondWanted(h.Beyond) }

// beyondWanted says why more stock at the start does not help; nothing where it may.
func beyondWanted(b *decide.BeyondWanted) string {
	if b == nil {
		return ""
	}
	wanted := tongue.Sayf("no more than %s are wanted ahead: people rest until the others are", Grouped(b.Wanted))
	if b.Wanted == 0 {
		wanted = tongue.Say("none are wanted ahead: people rest until they are")
	}
	return tongue.Sayf(" Of the %s good stalks that lie there at the start %s used up, so that more stock at the start helps later months little unless more is wanted ahead (target_stock_stalks).", Grouped(b.Opening), wanted)
}

// airSentence says in which air stalks lie at the hub, and what an open shed would do.
func airSentence(h decide.HubAir) string {
	where := tongue.Say("an open shed, in the outside air")
	switch {
	case h.Humidity > dryStorePct:
		where = tongue.Sayf("a store at %s humidity", Percent(h.Humidity))
	case h.Humidity > 0:
		where = tongue.Sayf("a dry warehouse at %s humidity", Percent(h.Humidity))
	}
	if h.Sealed {
		where += tongue.Say(", in sealed bags")
	}
	s := tongue.Sayf("The hub is taken as %s", where)
	if h.Shed == nil {
		return s + "."
	}
	return tongue.Sayf("%s; in an open shed (outside air) the worst month, %s, would be met in %s of the first %s seasons, %s.", s, h.Shed.Month, Odds(h.Shed.Odds), Grouped(h.Shed.Odds.Seasons), pointsMore(h.Shed))
}

// pointsMore says how far the odds move, in points of per cent with the interval.
func pointsMore(s *decide.Shed) string {
	points := func(x float64) string { return Grouped(Round(math.Abs(100 * x))) }
	switch g := s.Gain; {
	case g.High < 0:
		return tongue.Sayf("%s points less (%s to %s)", points(g.Mean), points(g.High), points(g.Low))
	case g.Low > 0:
		return tongue.Sayf("%s points more (%s to %s)", points(g.Mean), points(g.Low), points(g.High))
	}
	return tongue.Say("no difference that could be told from chance")
}
