package sim

import (
	"encoding/json"
	"math"
	"time"
)

// Water is the water of a site through a season, kg. It balances:
//
//	Opening + Cut + MovedIn + Rain = Evaporated + DrivenOff + Shed + Left + Closing
type Water struct {
	Opening    float64 `json:"opening_kg"`    // in the opening stock
	Cut        float64 `json:"cut_kg"`        // in fresh stalks
	MovedIn    float64 `json:"moved_in_kg"`   // in stalks from other sites
	Rain       float64 `json:"rain_kg"`       // that stayed on stalks, less what dripped off them
	Evaporated float64 `json:"evaporated_kg"` // in the yard and the store, less what was taken up from the air
	DrivenOff  float64 `json:"driven_off_kg"` // in the dryers
	Shed       float64 `json:"shed_kg"`       // film shaken off when stalks were moved
	Left       float64 `json:"left_kg"`       // in stalks that left: to the hub, sorted out, thrown out, broken, moved
	Closing    float64 `json:"closing_kg"`    // in stalks at the end
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
	Day      int        `json:"day"`             // of the season, from 0
	RainMM   float64    `json:"rain_mm"`         // of the day
	Cut      int        `json:"cut_stalks"`      // brought to the yard
	OnRacks  int        `json:"on_racks_stalks"` // of all kinds
	InHeap   int        `json:"in_heap_stalks"`
	InDryers int        `json:"in_dryers_stalks"`
	InStore  int        `json:"in_store_stalks"`
	ToHub    int        `json:"to_hub_stalks"`  // collected
	Lost     int        `json:"lost_stalks"`    // to the contract, all figures of that kind
	Charges  int        `json:"charges"`        // fires gone out
	Mould    float64    `json:"mould_index"`    // highest index of a batch in the yard
	NotCut   int        `json:"not_cut_stalks"` // could have been cut and was not
	Why      FigureID   `json:"not_cut_for"`    // the largest reason for it; NoFigure where all was cut
	Short    Lack       `json:"short_of"`       // the thing that was short that day
	Shift    DryerHours `json:"shift_hours"`
}

// SiteLedger is one site's season, by contract month, and by day where that was asked for.
type SiteLedger struct {
	Site   string       `json:"site"`
	Dryers int          `json:"dryers"`
	Months []SiteMonth  `json:"months"`
	Days   []SiteDay    `json:"days,omitempty"`
	Water  Water        `json:"water"`
	Each   []DryerHours `json:"shift_hours_by_dryer"` // of the season
}

// HubMonth is what happened at the hub in one month. Stalks balance exactly:
//
//	Opening + Arrived = RefusedAtGate + Spoiled + MadeGood + Delivered + Closing
type HubMonth struct {
	Month         time.Month `json:"-"` // by its name in files
	Opening       int        `json:"opening_stalks" unit:"stalks" desc:"good stalks carried over"`
	Arrived       int        `json:"arrived_stalks" unit:"stalks" desc:"full-grade stalks collected from the sites"`
	RefusedAtGate int        `json:"refused_at_gate_stalks" unit:"stalks" desc:"not accepted at the gate"`
	Spoiled       int        `json:"spoiled_stalks" unit:"stalks" desc:"good stalks that mould made less than full grade at the hub"`
	Asked         int        `json:"asked_stalks" unit:"stalks" desc:"asked for by the contract"`
	MadeGood      int        `json:"made_good_stalks" unit:"stalks" desc:"good stalks that made good the month before"`
	Delivered     int        `json:"delivered_stalks" unit:"stalks" desc:"good stalks delivered"`
	Closing       int        `json:"closing_stalks" unit:"stalks" desc:"good stalks left for the next month"`
	Met           bool       `json:"met" desc:"delivered at least the contract less its tolerance"`
}

// MarshalJSON writes the month by its name, as all answers do.
func (m HubMonth) MarshalJSON() ([]byte, error) {
	type rest HubMonth
	return json.Marshal(struct {
		Month string `json:"month"`
		rest
	}{m.Month.String(), rest(m)})
}

// Available returns the good stalks that could be delivered in the month.
func (m HubMonth) Available() int { return m.Opening + m.Arrived - m.RefusedAtGate - m.Spoiled }

// RegionLedger is a region's season: the sites and the hub.
type RegionLedger struct {
	Season int          `json:"season"`
	Sites  []SiteLedger `json:"sites"`
	Hub    []HubMonth   `json:"hub"`
}

// Assumption is a number behind an answer that nobody measured for this
// trade, or a limit of the model, for the reader of the answer.
type Assumption struct {
	Name           string `json:"name"`             // in words
	Value          string `json:"value"`            // with its unit; a range as "low, mode, high"
	Source         string `json:"source"`           // a citation, "common practice, no source" or "assumption"
	VariedInTrials bool   `json:"varied_in_trials"` // drawn anew each season between low and high
}
