package sim

import (
	"math"
	"time"
)

// Water is the water of a site through a season, kg. It balances:
//
//	Opening + Cut + MovedIn + Rain = Evaporated + DrivenOff + Shed + Left + Closing
type Water struct {
	Opening    float64 // in the opening stock
	Cut        float64 // in fresh stalks
	MovedIn    float64 // in stalks from other sites
	Rain       float64 // that stayed on stalks, less what dripped off them
	Evaporated float64 // in the yard and the store, less what was taken up from the air
	DrivenOff  float64 // in the dryers
	Shed       float64 // film shaken off when stalks were moved
	Left       float64 // in stalks that left: to the hub, sorted out, thrown out, broken, moved
	Closing    float64 // in stalks at the end
}

// Off returns by how much the water does not balance, as a fraction of what came in.
func (w *Water) Off() float64 {
	in := w.Opening + w.Cut + w.MovedIn + w.Rain
	out := w.Evaporated + w.DrivenOff + w.Shed + w.Left + w.Closing
	return math.Abs(in-out) / max(1, w.Opening+w.Cut+w.MovedIn+math.Abs(w.Rain))
}

// SiteDay is what a site holds at the end of a day, and what happened in it. Stalks, but where
// stated.
type SiteDay struct {
	Day      int     // of the season, from 0
	RainMM   float64 // of the day
	Cut      int     // brought to the yard
	OnRacks  int     // of all kinds
	InHeap   int
	InDryers int
	InStore  int
	ToHub    int      // collected
	Lost     int      // to the contract, all figures of that kind
	Charges  int      // fires gone out
	Mould    float64  // highest index of a batch in the yard
	NotCut   int      // could have been cut and was not
	Why      FigureID // the largest reason for it; NoFigure where all was cut
	Short    Lack     // the thing that was short that day
	Shift    DryerHours
}

// SiteLedger is one site's season, by contract month, and by day where that was asked for.
type SiteLedger struct {
	Site   string
	Dryers int
	Months []SiteMonth
	Days   []SiteDay `json:",omitempty"`
	Water  Water
	Each   []DryerHours // by dryer, of the season
}

// HubMonth is what happened at the hub in one month. Stalks balance exactly:
//
//	Opening + Arrived = RefusedAtGate + MadeGood + Delivered + Closing
type HubMonth struct {
	Month         time.Month
	Opening       int  `unit:"stalks" desc:"good stalks carried over"`
	Arrived       int  `unit:"stalks" desc:"full-grade stalks collected from the sites"`
	RefusedAtGate int  `unit:"stalks" desc:"not accepted at the gate"`
	Asked         int  `unit:"stalks" desc:"asked for by the contract"`
	MadeGood      int  `unit:"stalks" desc:"good stalks that made good the month before"`
	Delivered     int  `unit:"stalks" desc:"good stalks delivered"`
	Closing       int  `unit:"stalks" desc:"good stalks left for the next month"`
	Met           bool `desc:"delivered at least the contract less its tolerance"`
}

// Available returns the good stalks that could be delivered in the month.
func (m HubMonth) Available() int { return m.Opening + m.Arrived - m.RefusedAtGate }

// RegionLedger is a region's season: the sites and the hub.
type RegionLedger struct {
	Season int
	Sites  []SiteLedger
	Hub    []HubMonth
}

// Assumption is a number behind an answer that nobody measured for this
// trade, or a limit of the model, for the reader of the answer.
type Assumption struct {
	Name           string // in words
	Value          string // with its unit; a range as "low, mode, high"
	Source         string // a citation, "common practice, no source" or "assumption"
	VariedInTrials bool   // drawn anew each season between low and high
}
