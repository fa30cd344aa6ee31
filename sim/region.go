package sim

import (
	"time"

	"drystalk/sim/charge"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
)

// Region is everything of a scenario but the weather source and the ranges of
// knowledge: where, when, who, with what, and for which buyer.
type Region struct {
	Name     string
	Place    weather.Place
	Calendar Calendar
	Contract Contract
	Hub      Hub
	Sites    []Site
	Dryer    Dryer
	Yard     Yard
	Luck     Luck
	People   People
	Trouble  Trouble
	Road     Road
	Stand    Stand
	Store    Store
	Moves    []Move
	Start    Start
}

// Move takes one dryer of a site apart and puts it up at another.
type Move struct {
	From, To string // sites
	Day      int    // of the season, from 0: no charge starts at From from this day on
	DaysLost int    // until it works at To
	Cost     Amount // of taking apart, carrying and putting up
}

// Store is the air in which dry stalks lie at the sites.
type Store struct {
	Humidity float64 // of the air, fraction, as a hygrometer shows it; 0: that of the outside air
}

// People says how the hours of a site are spent. One pool: tending fires, loading and
// unloading, pulling sheets, grading and bundling, and the collection come first, and what
// is left is cut. Work done in one day is taken off the next day's cutting.
type People struct {
	Pool               bool    // false: other work takes no hours from cutting
	WorkHPerDay        float64 // of each cutter, all tasks together
	TendsDryers        float64 // dryers that one person tends at a time
	HandlingHPer1000   float64 // hours to load, and again to unload, 1,000 stalks
	GradingHPer1000    float64 // hours to grade and bundle 1,000 stalks on their way into the store
	LookingHPer1000    float64 // hours to look 1,000 stalks through: before a charge, and again at a collection
	SpreadingHPer100M2 float64 // hours to spread stalks over 100 m² of rack, beyond what cutters' output counts
	SheetHPer100M2     float64 // hours to pull and clear sheets over 100 m² on a day of rain
	CollectionH        float64 // hours of a collection
	HaulHPer1000       float64 // hours to haul 1,000 stalks, of the site that sends them
	CrewHPerDay        float64 // hours of each of the extra paid crew, spent on other work than cutting
	Planting           Planting
	Away               []Away
}

// Away is a spell of the calendar in which people are away: holidays, fishing, rice work.
type Away struct {
	Name              string
	FirstDay, LastDay int     // of the season, from 0, both included
	Fraction          float64 // of the cutters
}

// Planting is the time after the onset of the rains when people are in their fields.
type Planting struct {
	AfterOnsetDays int     // days from the onset until it begins
	Days           int     // it lasts; 0: nobody leaves
	AwayFraction   float64 // of the cutters' hours
}

// Stand is the plant on the water that a site cuts. Logistic growth with a response to
// temperature; all per square metre of mat.
type Stand struct {
	GrowthPerDay    float64 // at the best temperature: doubling in ln 2 over this
	CapacityKgM2    float64 // fresh mass of a full mat
	StartKgM2       float64 // on the first day
	KgPerStalk      float64 // fresh plant cut for one usable stalk
	ThinAtKgM2      float64 // output falls to half where so little stands
	FlushAboveMM    float64 // rain of three days that flushes mats away; 0: none does
	FlushedFraction float64 // of the stand, by each such spell
	FlushClosedDays int     // days from such a spell on which nobody goes on the water
	SiltedFraction  float64 // of the stalks cut in the days after that are broken or silted
	SiltedDays      int     // after such a spell
}

// Trouble is what keeps dryers and sheets from working. Zero: nothing does.
type Trouble struct {
	OutForSeason   float64 // chance that a dryer is out all season: parts, quarrels, theft, fire
	FiringHPerFail float64 // mean firing hours between breakdowns; 0: none
	RepairDays     float64 // median days until it works again
	RepairLogSD    float64 // spread of the repair time: a long tail
	Ignore         bool    // dryers work all season whatever the season has in store for them
	SheetsMissed   float64 // chance that sheets are not pulled in time on a day of rain
	NightMissed    float64 // chance that nobody pulls them in a night of rain
}

// Road is how stalks get to the hub.
type Road struct {
	MoistureLimit stalk.WetBasis // wetter stalks are not taken and go back on a rack; 0: no limit
	ClosedAboveMM float64        // no collection while the last three days brought more rain; 0: always open
	VehicleStalks int            // most stalks of one collection at a site; 0: no limit
	MinimumStalks int            // the vehicle does not come for fewer in the site store
}

// Calendar is the span of a season, half open [start, start+Days). A year has
// 365 days; 29 February does not exist.
type Calendar struct {
	StartMonth time.Month
	StartDay   int
	Days       int
}

// Contract is what the buyer takes from the hub at the end of each month.
type Contract struct {
	StalksByMonth map[time.Month]int // good stalks asked for; a month without an entry asks for none
	Grace         bool               // a shortfall may be made good within the next month
	Tolerance     float64            // fraction short that still counts as met, 0 to below 1
	TargetStock   map[time.Month]int // good stalks the region wants ahead of the contract at the end of the month
}

// Hub is the store from which the contract is served.
type Hub struct {
	OpeningStock        int     // good stalks lying at the hub on the first day
	CollectionsPerMonth int     // equally spaced, the last on the last day of the month
	Humidity            float64 // of its air, fraction, as a hygrometer shows it; 0: an open shed, that of the outside air
	SealedStore         bool    // stalks in tied bags with liner instead of open to its air
	StoreStalks         int     // good stalks that it takes; 0: any number
	Speaks              Speaks  // when it tells the sites whether more is wanted
}

// Site is one group's place of work.
type Site struct {
	Name             string
	Cutters          int
	OutputPerPersonH float64 // usable stalks per person-hour
	CuttingHPerDay   float64 // hours each cutter cuts on a working day
	OpenRackM2       float64
	ClearRoofM2      float64
	SolidRoofM2      float64
	LoadingKgPerM2   float64 // fresh mass spread on a full rack, kg/m²
	// LoadingInWetWeeksKgPerM2 stands in for LoadingKgPerM2 after a week with Yard.WetWeekMM of
	// rain; 0: it does not.
	LoadingInWetWeeksKgPerM2 float64
	Dryers                   int
	StandM2                  float64 // mat within reach; 0: always enough to cut
	HaulTo                   string  // site whose dryers get stalks of this one; "" for none
	HaulStalksPerDay         int     // most stalks hauled in a day
	Sheets                   bool    // open racks are covered by sheets when it rains
	SealedStore              bool    // stalks in tied bags with liner instead of open to outside air
	OpeningStock             int     // dry good stalks in the site store on the first day
	Crew                     int     // people of an extra paid crew, for all work but cutting
	StoreStalks              int     // dry stalks that the site store takes; 0: any number
	LongerShiftH             float64 // hours by which the shift of this site's dryers ends later than the region's
	Closed                   []Closure
}

// Closure is a time in which the stand of a site must not be cut: sprayed, or cleared by a
// campaign. Sprayed stands are never harvested.
type Closure struct {
	Why               string
	FirstDay, LastDay int     // of the season, from 0, both included
	Removed           float64 // fraction of the stand taken away on the first day
}

// Dryer is the one kind of cabinet a region funds, with the way it is worked.
type Dryer struct {
	HoldsFresh     int     // stalks of a full fresh charge
	HoldsPredried  int     // stalks of a full pre-dried charge
	ShiftStartH    float64 // hour of day when the first charge may start
	ShiftEndH      float64 // hour when the last fire must be out; above 24 the shift runs into the night
	HandlingH      float64 // hours to load, and again to unload, one charge
	MinimumFill    float64 // smallest charge worth a fire, fraction of the capacity
	LoadingRule    LoadingRule
	FireAtIndex    float64        // mould index from which a batch is at risk and asks for a charge
	AtRiskFraction float64        // of a full charge that must be at risk before it is fired; 0: any stalk
	BreakFraction  float64        // of the stalks dried too far, below 8 % wet basis, wherever they dried
	ReadyAfterDays int            // of the season before any dryer works
	HoldsFraction  float64        // of the full numbers while the group learns; 0 or 1: all
	WetWood        stalk.WetBasis // moisture of the wood after a week of rain; 0: as dry as ever
	WoodLimited    bool           // false: wood never runs out
	OpeningWoodKg  float64        // dry wood at each site on the first day
	WoodKgPerMonth float64        // wood that each site gets at the start of each month
	FireSize       float64        // on the evaporation of Parameters.Cabinet, which is of 1,000 fresh stalks; 0: as it is
	SteelSize      float64        // on its heated mass; 0: as it is
	WallSize       float64        // on what its walls lose; 0: as it is
	BrownsPerH     float64        // part of a charge that browns in an hour at 90 °C; 0: none ever
}

// Cabinet returns a cabinet of the size of this dryer.
func (d *Dryer) Cabinet(c charge.Cabinet) charge.Cabinet {
	if d.FireSize > 0 {
		c.EvaporatesKgPerH *= d.FireSize
	}
	if d.SteelSize > 0 {
		c.MassKg *= d.SteelSize
	}
	if d.WallSize > 0 {
		c.WallLossWPerK *= d.WallSize
	}
	return c
}

// LoadingRule orders batches for a charge.
type LoadingRule int

// The loading rules.
const (
	MostAtRiskFirst LoadingRule = iota // highest mould index, then oldest
	DriestFirst
	WettestFirst
	OldestFirst
)

// Yard holds the rules of cutting and spreading shared by all sites.
type Yard struct {
	MaxCutRainMM          float64        // no cutting on a day with more rain, mm
	RestEveryDays         int            // one day in this many nobody cuts; 0 for none
	HandoverMoisture      stalk.DryBasis // pre-dried below this
	DiscardBelowFullShare float64        // a batch whose full-grade share falls below is thrown out when its place is needed
	HeapDaysOfCut         float64        // overflow that the yard takes before cutting stops, in ordinary days of cutting
	SheetReactionH        int            // whole hours of a shower until the sheets are over
	SheetsAtNight         bool           // sheets lie over the racks every night
	Spreading             Spreading      // how thick stalks lie
	LeastLoadingKgPerM2   float64        // with SpreadOverFreeRack: no thinner, fresh stalks; 0: one layer
	WetWeekMM             float64        // rain of the seven days before from which LoadingInWetWeeksKgPerM2 holds
	CutUntil              CutLimit       // when cutting stops for what lies in the yard
	WetKgPerM2            float64        // with CutWhatCanDry: fresh mass that may lie wet on a square metre of rack, however thick stalks are spread
	WetCharges            float64        // with CutWhatCanDry: and so many full charges of each working dryer
}

// Luck is the spread of what differs between seasons of the same parameters,
// as standard deviations of the logarithm of output.
type Luck struct {
	OutputSeason      float64 // shared by all sites
	OutputSiteSeason  float64
	OutputDay         float64
	RefusedSiteSeason float64 // of the logarithm of the share refused at the gate, by site and season
}

// Parameters is one draw of what nobody has measured here.
type Parameters struct {
	OutputFactor            float64          // multiplies every site's output
	AcceptedShare           float64          // good stalks accepted at the gate, fraction
	Stalk                   stalk.Properties // drying, sorption and mould of a stalk
	Cabinet                 charge.Cabinet   // the dryer with the drawn rates
	StoreExchangeOpenPerH   float64
	StoreExchangeSealedPerH float64
	ClearRoofSunFactor      float64
	SolidRoofSunFactor      float64
	SolidRoofAirFactor      float64
	RainsHumidityPoints     float64 // added to the relative humidity of the rains, hundredths
}
