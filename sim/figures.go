package sim

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"drystalk/tongue"
)

// This file holds everything that is counted at a site: the fields of a month and, for each,
// one row of the registry. Sums of months and days, the balance of stalks, the rows of a table
// of trials, the answers, their tables, charts and sheets all read the registry, so a figure
// added here and booked somewhere is in all of them. Its words for users stand in the report.

// SiteMonth is what happened at one site in one calendar month. Stalks are whole and balance
// exactly: what was there and came in is what left, was lost or lies there, by the kinds of
// their figures.
type SiteMonth struct {
	Opening       int // on racks, in heap, dryers and store at the start of the month
	Cut           int // and brought to the yard
	MovedIn       int // hauled here from other sites
	MovedOut      int
	ToHub         int // full grade, collected
	Second        int // second grade, sold apart
	Rejected      int // for mould when graded
	ThrownOut     int // rotten batches cleared from the yard
	RefusedAtGate int // of those collected
	Broken        int // because dried too far
	Closing       int // as Opening, at the end

	NotCutRain     int
	NotCutYardFull int
	NotCutPeople   int // were at other work
	NotCutStand    int // little plant within reach
	Redried        int // too wet for the collection and put back on a rack
	NotCutTarget   int // the hub had enough: what the month asks and the stock wanted ahead
	NotCutClosed   int // stand sprayed, or cleared by a campaign
	Browned        int // of the second grade, in a chamber too hot
	NotCutTooWet   int // more lay wet than racks and dryers bring home

	Charges  int     // finished
	FiringH  float64 // of charges finished
	IdleH    float64 // of shifts in which a working dryer stood without a charge
	WoodKg   float64 // burned
	BrokenH  float64 // by day and night, out or under repair
	NoWood   int     // looks: a charge was wanted and there was no wood for it
	RoadShut int     // days on which a collection could not come
	CutH     float64 // person-hours
	OtherH   float64 // person-hours of all other tasks
	WorkDays int     // on which cutters cut
	Skipped  int     // collections that did not come for so few stalks
	Trips    int     // collections that came

	Shift DryerHours
	Tasks TaskHours
}

// TaskHours is how people spent the hours they did not cut, in person-hours.
type TaskHours struct {
	Tending    float64 // fires
	Night      float64 // of tending, between 22 and 6 h
	Handling   float64 // loading and unloading dryers
	Grading    float64 // and bundling
	Sheets     float64 // pulling and clearing
	Collection float64
	Hauling    float64 // to another site
	Spreading  float64 // on racks
}

// FigureID names a figure of a site. The zero value names none.
type FigureID uint8

// The figures of a SiteMonth; those of its dryers' hours follow, see DryerState.Figure.
const (
	NoFigure FigureID = iota
	Opening
	Cut
	MovedIn
	MovedOut
	ToHub
	Second
	Rejected
	ThrownOut
	RefusedAtGate
	Broken
	Closing
	NotCutRain
	NotCutYardFull
	NotCutPeople
	NotCutStand
	Redried
	NotCutTarget
	NotCutClosed
	Browned
	NotCutTooWet
	Charges
	FiringH
	IdleH
	WoodKg
	BrokenH
	NoWood
	RoadShut
	CutH
	OtherH
	WorkDays
	Skipped
	Trips
	TendingH
	NightH
	HandlingH
	GradingH
	SheetsH
	CollectionH
	HaulingH
	SpreadingH
	firstState

	// FigureCount is one more than the largest FigureID: the length of a list by FigureID.
	FigureCount = firstState + FigureID(dryerStates)
)

// Kind says what a figure is in the balance of a site.
type Kind uint8

// Stalks balance as AtStart + Came = Left + Lost + AtEnd.
const (
	AtStart   Kind = iota // stalks that lie there at first
	Came                  // stalks that came in
	Left                  // stalks that left in good order
	Lost                  // stalks that were lost to the contract
	LostLater             // of the stalks that left: lost at the hub
	AtEnd                 // stalks that lie there at last
	NotCutFor             // stalks that could have been cut, but for something
	NotWanted             // stalks that could have been cut and were not wanted
	PartOf                // part of another figure
	SumOf                 // sum of the figures of other kinds, kept beside them
	Tally                 // something counted, or spent, that enters no balance
	Works                 // shift hours of a dryer with a charge
	Stands                // shift hours of a working dryer without a charge
	Down                  // shift hours of a dryer that cannot work
	Task                  // hours of people
)

// Unit is what a figure is counted in.
type Unit string

// The units of figures.
const (
	Stalks      Unit = "stalks"
	Days        Unit = "days"
	FullCharges Unit = "charges"
	Looks       Unit = "looks"
	Collections Unit = "collections"
	Hours       Unit = "h"
	Kilograms   Unit = "kg"
)

// Fine returns how many of the whole numbers in which tables keep a figure make one of its
// unit: hours are kept in minutes and kilograms in hectograms, so that sums are exact.
func (u Unit) Fine() float64 {
	switch u {
	case Hours:
		return 60
	case Kilograms:
		return 10
	}
	return 1
}

// Figure is one row of the registry: how a figure is called in files, what it is, where a
// month holds it.
type Figure struct {
	ID    FigureID
	Key   string // in JSON
	Kind  Kind
	Unit  Unit
	Whole FigureID // of a part: of what

	count func(*SiteMonth) *int // one of count and real
	real  func(*SiteMonth) *float64
}

// registry lists the figures in the order of the JSON answers.
var registry = append([]Figure{
	{ID: Opening, Key: "opening_stock", Kind: AtStart, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Opening }},
	{ID: Cut, Key: "cut", Kind: Came, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Cut }},
	{ID: MovedIn, Key: "moved_in", Kind: Came, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.MovedIn }},
	{ID: MovedOut, Key: "moved_out", Kind: Left, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.MovedOut }},
	{ID: ToHub, Key: "to_hub", Kind: Left, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.ToHub }},
	{ID: Second, Key: "second_grade", Kind: Lost, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Second }},
	{ID: Rejected, Key: "rejected", Kind: Lost, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Rejected }},
	{ID: ThrownOut, Key: "thrown_out", Kind: Lost, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.ThrownOut }},
	{ID: Broken, Key: "broken", Kind: Lost, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Broken }},
	{ID: RefusedAtGate, Key: "refused_at_gate", Kind: LostLater, Unit: Stalks, Whole: ToHub, count: func(m *SiteMonth) *int { return &m.RefusedAtGate }},
	{ID: Closing, Key: "left_over", Kind: AtEnd, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Closing }},
	{ID: NotCutRain, Key: "not_cut_rain", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutRain }},
	{ID: NotCutYardFull, Key: "not_cut_yard_full", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutYardFull }},
	{ID: NotCutTooWet, Key: "not_cut_too_wet", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutTooWet }},
	{ID: NotCutPeople, Key: "not_cut_people", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutPeople }},
	{ID: NotCutStand, Key: "not_cut_stand", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutStand }},
	{ID: NotCutClosed, Key: "not_cut_stand_closed", Kind: NotCutFor, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutClosed }},
	{ID: NotCutTarget, Key: "not_cut_target", Kind: NotWanted, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.NotCutTarget }},
	{ID: Browned, Key: "browned", Kind: PartOf, Unit: Stalks, Whole: Second, count: func(m *SiteMonth) *int { return &m.Browned }},
	{ID: Redried, Key: "dried_again", Kind: Tally, Unit: Stalks, count: func(m *SiteMonth) *int { return &m.Redried }},
	{ID: Skipped, Key: "collections_skipped", Kind: Tally, Unit: Collections, count: func(m *SiteMonth) *int { return &m.Skipped }},
	{ID: Trips, Key: "collections", Kind: Tally, Unit: Collections, count: func(m *SiteMonth) *int { return &m.Trips }},
	{ID: BrokenH, Key: "broken_h", Kind: Tally, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.BrokenH }},
	{ID: CutH, Key: "cutting_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.CutH }},
	{ID: OtherH, Key: "other_person_h", Kind: SumOf, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.OtherH }},
	{ID: RoadShut, Key: "road_shut_days", Kind: Tally, Unit: Days, count: func(m *SiteMonth) *int { return &m.RoadShut }},
	{ID: WorkDays, Key: "cutting_days", Kind: Tally, Unit: Days, count: func(m *SiteMonth) *int { return &m.WorkDays }},
	{ID: Charges, Key: "charges", Kind: Tally, Unit: FullCharges, count: func(m *SiteMonth) *int { return &m.Charges }},
	{ID: FiringH, Key: "firing_h", Kind: Tally, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.FiringH }},
	{ID: IdleH, Key: "idle_h", Kind: SumOf, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.IdleH }},
	{ID: WoodKg, Key: "wood_kg", Kind: Tally, Unit: Kilograms, real: func(m *SiteMonth) *float64 { return &m.WoodKg }},
	{ID: NoWood, Key: "no_wood_looks", Kind: Tally, Unit: Looks, count: func(m *SiteMonth) *int { return &m.NoWood }},

	{ID: TendingH, Key: "tending_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Tending }},
	{ID: NightH, Key: "night_person_h", Kind: PartOf, Unit: Hours, Whole: TendingH, real: func(m *SiteMonth) *float64 { return &m.Tasks.Night }},
	{ID: HandlingH, Key: "handling_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Handling }},
	{ID: GradingH, Key: "grading_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Grading }},
	{ID: SheetsH, Key: "sheets_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Sheets }},
	{ID: CollectionH, Key: "collection_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Collection }},
	{ID: HaulingH, Key: "hauling_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Hauling }},
	{ID: SpreadingH, Key: "spreading_person_h", Kind: Task, Unit: Hours, real: func(m *SiteMonth) *float64 { return &m.Tasks.Spreading }},
}, stateFigures()...)

// byID holds the registry by FigureID.
var byID = func() (list [FigureCount]Figure) {
	for _, f := range registry {
		list[f.ID] = f
	}
	return list
}()

// Figures returns all figures in the order of the JSON answers. The list is shared: it may not
// be changed.
func Figures() []Figure { return registry }

// OfKinds returns the figures of some kinds, in the order of the JSON answers.
func OfKinds(kinds ...Kind) []FigureID {
	var out []FigureID
	for i := range registry {
		for _, k := range kinds {
			if registry[i].Kind == k {
				out = append(out, registry[i].ID)
			}
		}
	}
	return out
}

// Figure returns the row of a figure; an empty one for NoFigure.
func (id FigureID) Figure() *Figure { return &byID[id] }

// UnitKey returns the key of the numbers of a figure, which says their unit: "cut_stalks".
func (f *Figure) UnitKey() string {
	if f.Unit == Stalks {
		return f.Key + "_stalks"
	}
	return f.Key
}

// MarshalJSON writes an object with every figure of the month by the key that says its unit.
func (m SiteMonth) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i := range registry {
		f := &registry[i]
		value, err := json.Marshal(f.Of(&m))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Key, err)
		}
		fmt.Fprintf(&b, "%c%q:%s", "{,"[min(i, 1)], f.UnitKey(), value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// String returns the key of the figure; "" for NoFigure.
func (id FigureID) String() string { return byID[id].Key }

// MarshalText writes the key.
func (id FigureID) MarshalText() ([]byte, error) { return []byte(id.String()), nil }

// UnmarshalText reads a key.
func (id *FigureID) UnmarshalText(text []byte) error {
	for i := range registry {
		if registry[i].Key == string(text) {
			*id = registry[i].ID
			return nil
		}
	}
	return tongue.Errorf("figure: found %q, allowed: a key of the registry", text)
}

// Of returns the figure of a month, in its unit.
func (f *Figure) Of(m *SiteMonth) float64 {
	if f.count != nil {
		return float64(*f.count(m))
	}
	return *f.real(m)
}

// Season returns the figure of a season: the sum of its months, or what lies there at its
// start or end.
func (f *Figure) Season(months []SiteMonth) float64 {
	switch f.Kind {
	case AtStart:
		return f.Of(&months[0])
	case AtEnd:
		return f.Of(&months[len(months)-1])
	}
	sum := 0.0
	for i := range months {
		sum += f.Of(&months[i])
	}
	return sum
}

// Sum returns the sum of some figures of a month, in their common unit.
func (m *SiteMonth) Sum(list []FigureID) float64 {
	sum := 0.0
	for _, id := range list {
		sum += byID[id].Of(m)
	}
	return sum
}

// Most returns the largest of some figures of a month, the first of equals; NoFigure where
// none is above nothing.
func (m *SiteMonth) Most(list []FigureID) (FigureID, float64) {
	id, most := NoFigure, 0.0
	for _, k := range list {
		if x := byID[k].Of(m); x > most {
			id, most = k, x
		}
	}
	return id, most
}

// Add adds another month, or another site's, figure by figure.
func (m *SiteMonth) Add(o *SiteMonth) { m.combine(o, 1) }

// less returns the month less another, figure by figure.
func (m SiteMonth) less(o *SiteMonth) SiteMonth {
	m.combine(o, -1)
	return m
}

func (m *SiteMonth) combine(o *SiteMonth, sign int) {
	for i := range registry {
		if f := &registry[i]; f.count != nil {
			*f.count(m) += sign * *f.count(o)
		} else {
			*f.real(m) += float64(sign) * *f.real(o)
		}
	}
}

// The two sides of the balance of stalks.
var (
	stalksIn  = OfKinds(AtStart, Came)
	stalksOut = OfKinds(Left, Lost, AtEnd)
)

// checkStalks returns an error if not every stalk of the month is accounted for.
func (m *SiteMonth) checkStalks() error {
	in, out := m.Sum(stalksIn), m.Sum(stalksOut)
	if in != out {
		return tongue.Errorf("stalks do not balance: %.0f lay there or came, but %.0f left, were lost or lie there", in, out)
	}
	return nil
}

// Column is a figure as a column of the ledger.
type Column struct {
	Name   string // of the field, "Shift Firing" where nested
	Figure *Figure
}

// Columns returns the figures of a SiteMonth in the order and by the names of its fields.
func Columns() []Column {
	var m SiteMonth
	at := map[any]*Figure{} // by where the month holds it
	for id := range byID {
		switch f := &byID[id]; {
		case f.count != nil:
			at[f.count(&m)] = f
		case f.real != nil:
			at[f.real(&m)] = f
		}
	}
	var out []Column
	var walk func(v reflect.Value, name string)
	walk = func(v reflect.Value, name string) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i), joined(name, v.Type().Field(i).Name))
			}
		case reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i), joined(name, DryerState(i).field()))
			}
		default:
			out = append(out, Column{name, at[v.Addr().Interface()]})
		}
	}
	walk(reflect.ValueOf(&m).Elem(), "")
	return out
}

func joined(prefix, name string) string {
	if prefix == "" {
		return name
	}
	return prefix + " " + name
}
