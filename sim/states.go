package sim

import (
	"bytes"
	"encoding/json"
	"strings"
)

// DryerState is what a dryer does in an hour of its shift.
type DryerState uint8

// The states of a dryer. A working dryer without a charge stands for one of five reasons.
const (
	DryerHandling  DryerState = iota // being loaded or unloaded
	DryerFiring                      // heating or drying
	DryerCooling                     // before unloading
	DryerWaiting                     // cold, with a charge that waits for the morning
	DryerNoStalks                    // nothing wet enough to load, or too little for a charge
	DryerNotWanted                   // wet stalks, but none at risk and racks free: the sun may do it
	DryerNoTime                      // no charge would be dry before the end of the shift
	DryerNoPeople                    // nobody to tend another fire
	DryerNoWood                      // for the charge at hand
	DryerBroken                      // out or under repair
	DryerNotReady                    // not yet put up
	dryerStates
)

// states lists the states with their keys and kinds in the order of the JSON answers.
var states = []struct {
	state DryerState
	key   string
	kind  Kind
}{
	{DryerFiring, "firing", Works},
	{DryerHandling, "handling", Works},
	{DryerCooling, "cooling", Works},
	{DryerWaiting, "waiting", Works},
	{DryerNoStalks, "no_stalks", Stands},
	{DryerNotWanted, "not_wanted", Stands},
	{DryerNoTime, "no_time", Stands},
	{DryerNoPeople, "no_people", Stands},
	{DryerNoWood, "no_wood", Stands},
	{DryerBroken, "broken", Down},
	{DryerNotReady, "not_ready", Down},
}

// stateFigures returns the rows of the registry for the hours of dryers by state.
func stateFigures() (out []Figure) {
	for _, s := range states {
		out = append(out, Figure{
			ID: s.state.Figure(), Key: s.key + "_dryer_h", Kind: s.kind, Unit: Hours,
			real: func(m *SiteMonth) *float64 { return &m.Shift[s.state] },
		})
	}
	return out
}

// DryerStates returns the states in the order of the JSON answers.
func DryerStates() (out []DryerState) {
	for _, s := range states {
		out = append(out, s.state)
	}
	return out
}

// Figure returns the figure of the hours spent in the state.
func (s DryerState) Figure() FigureID { return firstState + FigureID(s) }

// State returns the state of a dryer whose hours the figure counts; false for other figures.
func (id FigureID) State() (DryerState, bool) {
	return DryerState(id - firstState), id >= firstState && id < FigureCount
}

// String returns the key of the state.
func (s DryerState) String() string { return strings.TrimSuffix(s.Figure().String(), "_dryer_h") }

// MarshalText writes the key.
func (s DryerState) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// field returns the name of the state in the ledger: "NoStalks".
func (s DryerState) field() string {
	var b strings.Builder
	for _, word := range strings.Split(s.String(), "_") {
		b.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return b.String()
}

// DryerHours is how dryers spent the hours of their shifts, by DryerState. The states add up
// to dryers times shift hours, but for dryers that have left for another site.
type DryerHours [dryerStates]float64

// Idle returns the hours in which a working dryer stood without a charge.
func (h *DryerHours) Idle() float64 {
	sum := 0.0
	for _, s := range states {
		if s.kind == Stands {
			sum += h[s.state]
		}
	}
	return sum
}

// Sum returns all hours.
func (h *DryerHours) Sum() float64 {
	sum := 0.0
	for _, x := range h {
		sum += x
	}
	return sum
}

// Add adds other hours, each state for itself.
func (h *DryerHours) Add(o *DryerHours) {
	for s := range h {
		h[s] += o[s]
	}
}

// MarshalJSON writes an object with the hours of each state by the key of its figure.
func (h DryerHours) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for s, x := range h {
		b.WriteByte("{,"[min(s, 1)])
		value, err := json.Marshal(x)
		if err != nil {
			return nil, err
		}
		b.WriteString(`"` + DryerState(s).Figure().String() + `":`)
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}
