package decide

import (
	"bytes"
	"encoding/json"
	"errors"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// Flow is where the stalks and hours of an average season went, as means over seasons: every
// figure of the sites, and what was delivered. The stock at the start and what is left over
// are those of sites and hub together.
type Flow struct {
	Figures   [sim.FigureCount]trials.Mean // by sim.FigureID, in the unit of the figure
	Delivered trials.Mean                  // good stalks
	Spoiled   trials.Mean                  // good stalks that mould spoiled at the hub
	Spread    Spread                       // between single seasons; drawn, not written
}

// Spread is how single seasons differ where pictures show them: in what became of the stalks and in
// what dryers did in the hours of their shifts. Other figures have no seasons here.
type Spread struct {
	Figures   [sim.FigureCount]trials.Band // by sim.FigureID, in the unit of the figure
	Delivered trials.Band                  // good stalks
	Spoiled   trials.Band                  // good stalks that mould spoiled at the hub
}

// drawn tells whether pictures show how single seasons differ in a figure.
func drawn(x *sim.Figure) bool {
	switch x.Kind {
	case sim.Lost, sim.LostLater, sim.AtEnd, sim.Works, sim.Stands, sim.Down:
		return true
	}
	return false
}

// Of returns the mean of a figure.
func (f *Flow) Of(id sim.FigureID) trials.Mean { return f.Figures[id] }

// Spent is hours spent on one thing in an average season.
type Spent struct {
	On    sim.FigureID `json:"on"`
	Hours trials.Mean  `json:"hours"`
}

// Shift returns what dryers did in the hours of their shifts, by state.
func (f *Flow) Shift() (out []Spent) {
	for _, s := range sim.DryerStates() {
		out = append(out, Spent{s.Figure(), f.Of(s.Figure())})
	}
	return out
}

// Tasks returns what people did, by task; part of a task follows it.
func (f *Flow) Tasks() (out []Spent) {
	for _, x := range sim.Figures() {
		if x.Kind == sim.Task || (x.Kind == sim.PartOf && x.Whole.Figure().Kind == sim.Task) {
			out = append(out, Spent{x.ID, f.Of(x.ID)})
		}
	}
	return out
}

// DeliveredKey is the key of what was delivered, after the figures of the gate.
const DeliveredKey = "delivered"

// deliveredUnitKey is it with its unit.
const deliveredUnitKey = DeliveredKey + "_stalks"

// spoiledKey is the key of what mould spoiled at the hub, after what was delivered.
const spoiledKey = "spoiled_at_hub"

// spoiledUnitKey is it with its unit.
const spoiledUnitKey = spoiledKey + "_stalks"

// MarshalJSON writes an object with every figure by the key that says its unit.
func (f Flow) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	put := func(key string, m trials.Mean) error {
		b.WriteByte("{,"[min(b.Len(), 1)])
		data, err := json.Marshal(m)
		b.WriteString(`"` + key + `":`)
		b.Write(data)
		return err
	}
	for _, x := range sim.Figures() {
		if err := put(x.UnitKey(), f.Of(x.ID)); err != nil {
			return nil, err
		}
		if x.ID == sim.RefusedAtGate {
			if err := errors.Join(put(deliveredUnitKey, f.Delivered), put(spoiledUnitKey, f.Spoiled)); err != nil {
				return nil, err
			}
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (f *Flow) UnmarshalJSON(data []byte) error {
	var by map[string]trials.Mean
	if err := json.Unmarshal(data, &by); err != nil {
		return err
	}
	for _, x := range sim.Figures() {
		f.Figures[x.ID] = by[x.UnitKey()]
	}
	f.Delivered, f.Spoiled = by[deliveredUnitKey], by[spoiledUnitKey]
	return nil
}

// flow returns the flow of a plan; p holds what its seasons delivered and left at the hub.
func flow(t *trials.Table, plan []int, p *seasons) Flow {
	var f Flow
	values := make([]float64, t.Seasons)
	for _, x := range sim.Figures() {
		for i := range values {
			values[i] = t.Of(x.ID, plan, i)
			switch x.ID {
			case sim.Opening:
				values[i] += float64(t.Gate().Opening)
			case sim.Closing:
				values[i] += p.left[i]
			}
		}
		f.Figures[x.ID] = trials.NewAmount(values)
		if drawn(&x) {
			f.Spread.Figures[x.ID] = trials.NewBand(values)
		}
	}
	f.Delivered, f.Spoiled = trials.NewAmount(p.delivered), trials.NewAmount(p.spoiled)
	f.Spread.Delivered, f.Spread.Spoiled = trials.NewBand(p.delivered), trials.NewBand(p.spoiled)
	return f
}
