package sim

import (
	"math"
	"time"
)

// SiteMonth is what happened at one site in one calendar month. Stalks are
// whole and balance exactly:
//
//	Opening + Cut + MovedIn = ToHub + Second + Rejected + ThrownOut + Broken + MovedOut + Closing
type SiteMonth struct {
	Opening       int `unit:"stalks" desc:"on racks, in heap, dryers and store at the start of the month"`
	Cut           int `unit:"stalks" desc:"cut and brought to the yard"`
	MovedIn       int `unit:"stalks" desc:"hauled here from other sites"`
	MovedOut      int `unit:"stalks" desc:"hauled to another site"`
	ToHub         int `unit:"stalks" desc:"full grade, collected for the hub"`
	Second        int `unit:"stalks" desc:"second grade, sold apart"`
	Rejected      int `unit:"stalks" desc:"rejected for mould when graded"`
	ThrownOut     int `unit:"stalks" desc:"rotten batches cleared from the yard to make room"`
	RefusedAtGate int `unit:"stalks" desc:"of those collected, not accepted at the gate of the hub"`
	Broken        int `unit:"stalks" desc:"broken because dried too far in a charge"`
	Closing       int `unit:"stalks" desc:"on racks, in heap, dryers and store at the end of the month"`

	NotCutRain     int `unit:"stalks" desc:"not cut because of rain"`
	NotCutYardFull int `unit:"stalks" desc:"not cut because the yard was full"`
	NotCutPeople   int `unit:"stalks" desc:"not cut because people were at other work"`
	NotCutStand    int `unit:"stalks" desc:"not cut because little plant stood within reach"`
	Redried        int `unit:"stalks" desc:"too wet for the collection and put back on a rack"`
	NotCutTarget   int `unit:"stalks" desc:"not cut because the site had its share and its stock ahead"`
	NotCutClosed   int `unit:"stalks" desc:"not cut because the stand was closed: sprayed, or cleared by a campaign"`
	Browned        int `unit:"stalks" desc:"of the second grade, browned in a chamber too hot"`

	Charges  int     `unit:"charges" desc:"dryer charges finished"`
	FiringH  float64 `unit:"h" desc:"hours a dryer was heating or drying"`
	IdleH    float64 `unit:"h" desc:"shift hours a dryer stood without a charge"`
	WoodKg   float64 `unit:"kg" desc:"wood burned"`
	BrokenH  float64 `unit:"h" desc:"hours dryers were out or under repair"`
	NoWood   int     `unit:"looks" desc:"times a charge was wanted and there was no wood for it"`
	RoadShut int     `unit:"days" desc:"days on which a collection could not come"`
	CutH     float64 `unit:"h" desc:"hours spent cutting"`
	OtherH   float64 `unit:"h" desc:"hours of tending, loading, grading, sheets and collections"`
	WorkDays int     `unit:"days" desc:"days on which cutters cut"`
	Skipped  int     `unit:"collections" desc:"collections that did not come for so few stalks"`
	Trips    int     `unit:"collections" desc:"collections that came"`

	Shift DryerHours
	Tasks TaskHours
}

// DryerHours is how the dryers of a site spent the hours of their shifts. The states add up
// to dryers times shift hours, but for dryers that have left for another site.
type DryerHours struct {
	Handling  float64 `unit:"h" desc:"being loaded or unloaded"`
	Firing    float64 `unit:"h" desc:"heating or drying"`
	Cooling   float64 `unit:"h" desc:"cooling before unloading"`
	Waiting   float64 `unit:"h" desc:"cold, with a charge that waits for the morning"`
	NoStalks  float64 `unit:"h" desc:"nothing wet enough to load, or too little for a charge"`
	NotWanted float64 `unit:"h" desc:"wet stalks, but none at risk and racks free: the sun may do it"`
	NoTime    float64 `unit:"h" desc:"no charge would be dry before the end of the shift"`
	NoPeople  float64 `unit:"h" desc:"nobody to tend another fire"`
	NoWood    float64 `unit:"h" desc:"no wood for the charge at hand"`
	Broken    float64 `unit:"h" desc:"out or under repair"`
	NotReady  float64 `unit:"h" desc:"not yet put up"`
}

// Idle returns the hours in which a working dryer stood without a charge.
func (h *DryerHours) Idle() float64 {
	return h.NoStalks + h.NotWanted + h.NoTime + h.NoPeople + h.NoWood
}

// Sum returns all hours.
func (h *DryerHours) Sum() float64 {
	return h.Handling + h.Firing + h.Cooling + h.Waiting + h.Idle() + h.Broken + h.NotReady
}

// TaskHours is how people spent the hours they did not cut.
type TaskHours struct {
	Tending    float64 `unit:"h" desc:"tending fires"`
	Night      float64 `unit:"h" desc:"of tending, between 22 and 6 h"`
	Handling   float64 `unit:"h" desc:"loading and unloading dryers"`
	Grading    float64 `unit:"h" desc:"grading and bundling"`
	Sheets     float64 `unit:"h" desc:"pulling and clearing sheets"`
	Collection float64 `unit:"h" desc:"collections"`
	Hauling    float64 `unit:"h" desc:"hauling to another site"`
}

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

// SiteDay is what a site holds at the end of a day, and what happened in it.
type SiteDay struct {
	Day      int     // of the season, from 0
	RainMM   float64 `unit:"mm" desc:"rain of the day"`
	Cut      int     `unit:"stalks" desc:"brought to the yard"`
	OnRacks  int     `unit:"stalks" desc:"on racks of all kinds"`
	InHeap   int     `unit:"stalks" desc:"in the heap"`
	InDryers int     `unit:"stalks" desc:"in dryers"`
	InStore  int     `unit:"stalks" desc:"in the store"`
	ToHub    int     `unit:"stalks" desc:"collected"`
	Lost     int     `unit:"stalks" desc:"second grade, rejected, thrown out or broken"`
	Charges  int     `unit:"charges" desc:"fires gone out"`
	Mould    float64 `unit:"index" desc:"highest mould index of a batch in the yard"`
	NotCut   int     `unit:"stalks" desc:"could have been cut and was not"`
	Why      string  `desc:"the largest reason for it"`
	Short    string  `desc:"the thing that was short that day; empty where nothing was"`
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
