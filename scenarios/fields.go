package scenarios

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/stalk"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// field describes one key of a scenario: what it means, what is allowed, what
// stands in when it is missing, and where it is kept. The reader, Explain, the
// writer and the schema all go by these tables.
type field struct {
	key     string
	meaning tongue.Text
	unit    string
	low     float64 // allowed, both ends included
	high    float64
	usual   [2]float64  // outside it a warning is given; zero: no warning
	hint    tongue.Text // of the warning
	missing string      // stands in when the key is missing; "" means the key is required
	source  tongue.Text // of what stands in

	number  func(*draft) *float64
	amount  func(*draft) *sim.Amount // stated in units of the currency
	whole   func(*draft) *int
	flag    func(*draft) *bool
	choice  func(*draft) *int
	choices []string
}

// draft is a scenario being read, and the site whose keys are read.
type draft struct {
	*Scenario
	site       *sim.Site
	maxDryers  *int
	at         *coordinates
	weatherRaw *rawWeather
	here       *localWeather // whose keys are read; nil: the region's
}

// place returns where the weather lies whose keys are read.
func (d *draft) place() *weather.Place {
	if d.here != nil {
		return &d.here.raw.Place
	}
	return &d.raw.Place
}

// rawWeather holds the numbers of the weather section that are not months.
type rawWeather struct {
	onsetSD, withdrawalSD float64
}

// coordinates are where a site lies, if the file says so.
type coordinates struct {
	latitudeDeg, longitudeDeg float64
	given                     bool
}

// coordinateFields are read for a site that has one of them.
var coordinateFields = []field{
	{
		key: "latitude_deg", meaning: "latitude of the site, north positive", unit: "°", low: -60, high: 60,
		number: func(d *draft) *float64 { return &d.at.latitudeDeg },
	},
	{
		key: "longitude_deg", meaning: "longitude of the site, east positive", unit: "°", low: -180, high: 180,
		number: func(d *draft) *float64 { return &d.at.longitudeDeg },
	},
}

const assumption tongue.Text = "assumption"

func wet(w *stalk.WetBasis) *float64 { return (*float64)(w) }
func dry(m *stalk.DryBasis) *float64 { return (*float64)(m) }

var contractFields = []field{
	{
		key: "grace_of_a_month", meaning: "a shortfall may be made good within the next month", missing: "false", source: "the contract as written",
		flag: func(d *draft) *bool { return &d.Region.Contract.Grace },
	},
	{
		key: "tolerance_fraction", meaning: "part of a month's contract that may be missing and the month still counts as met", low: 0, high: 0.5,
		usual: [2]float64{0, 0.2}, hint: "a fraction: 5 % is 0.05", missing: "0", source: "the contract as written",
		number: func(d *draft) *float64 { return &d.Region.Contract.Tolerance },
	},
	{
		key: "target", meaning: "what must be reached in target_odds of the seasons: each contract month by itself, all of them in one season, a part of the season's stalks delivered, or where prices are stated no more than a penalty or no less than an income", choices: goal.Keys(),
		missing: "worst_month", source: "common practice, no source", choice: func(d *draft) *int { return (*int)(&d.Goal.Kind) },
	},
	{
		key: "target_delivered_fraction", meaning: "of the target share_delivered: part of the stalks asked in a season that must be delivered", low: 0.01, high: 1,
		missing: "0.95", source: "common practice, no source",
		number: func(d *draft) *float64 { return &d.Goal.Share },
	},
	{
		key: "target_most_penalty", meaning: "of the target penalty_at_most: what is paid at most in a season for missing stalks; -1: none stated", low: -1, high: 1e12,
		missing: "-1", source: "none stated", amount: func(d *draft) *sim.Amount { return &d.Goal.MostPenalty },
	},
	{
		key: "target_least_income", meaning: "of the target income_at_least: what the region earns at least in a season, its dryers by the year taken off; the pay of members is in it, that of hired hands is not; -1: none stated", low: -1, high: 1e12,
		missing: "-1", source: "none stated", amount: func(d *draft) *sim.Amount { return &d.Goal.LeastIncome },
	},
	{
		key: "target_odds", meaning: "part of the seasons in which the target must be reached", low: 0.01, high: 0.999,
		usual: [2]float64{0.5, 0.99}, hint: "a fraction: 9 seasons of 10 are 0.9", missing: "0.9", source: "common practice, no source",
		number: func(d *draft) *float64 { return &d.TargetOdds },
	},
}

var hubFields = []field{
	{
		key: "opening_stock_stalks", meaning: "good stalks at the hub on the first day", unit: "stalks", low: 0, high: 1e8,
		missing: "0", source: "nothing in stock", whole: func(d *draft) *int { return &d.Region.Hub.OpeningStock },
	},
	{
		key: "collections_per_month", meaning: "pick-ups in each month, equally spaced, the last on its last day", low: 1, high: 15,
		missing: "2", source: "common practice, no source", whole: func(d *draft) *int { return &d.Region.Hub.CollectionsPerMonth },
	},
	{
		key: "humidity_fraction", meaning: "humidity of the air in which stalks lie at the hub, as a hygrometer shows it; 0: an open shed, that of the outside air", low: 0, high: 1,
		usual: [2]float64{0, 0.9}, hint: "a fraction: 65 % is 0.65", missing: "0.65", source: "assumption: a dry warehouse",
		number: func(d *draft) *float64 { return &d.Region.Hub.Humidity },
	},
	{
		key: "sealed_store", meaning: "stalks at the hub lie in tied bags with liner instead of open to its air", missing: "false", source: assumption,
		flag: func(d *draft) *bool { return &d.Region.Hub.SealedStore },
	},
	{
		key: "store_stalks", meaning: "good stalks that the hub takes; 0: any number", unit: "stalks", low: 0, high: 1e9,
		missing: "0", source: "not stated", whole: func(d *draft) *int { return &d.Region.Hub.StoreStalks },
	},
	{
		key: "speaks", meaning: "when the hub tells the sites whether more is wanted: daily, at_collections, or by_cutters where each site has a fixed share of the contract by its cutters and counts for itself", choices: hubSpeaks,
		missing: "daily", source: "common practice, no source: a call in the evening",
		choice: func(d *draft) *int { return (*int)(&d.Region.Hub.Speaks) },
	},
}

// hubSpeaks are the words of sim.Speaks.
var hubSpeaks = []string{"daily", "at_collections", "by_cutters"}

var dryerFields = []field{
	{
		key: "set_temperature_c", meaning: "temperature of the chamber", unit: "°C", low: 45, high: 95, usual: [2]float64{60, 90},
		hint: "the usual band is 70 to 90 °C", missing: "80", source: "common practice, no source",
		number: func(d *draft) *float64 { return &d.Base.Cabinet.SetC },
	},
	{
		key: "holds_stalks_fresh", meaning: "stalks of a full charge of fresh stalks", unit: "stalks", low: 10, high: 100_000,
		usual: [2]float64{200, 5000}, hint: "count stalks, not kilograms", missing: "1000", source: "common practice, no source",
		whole: func(d *draft) *int { return &d.Region.Dryer.HoldsFresh },
	},
	{
		key: "holds_stalks_predried", meaning: "stalks of a full charge of pre-dried stalks", unit: "stalks", low: 10, high: 150_000,
		missing: "1500", source: "assumption: stalks shrink, bundles do not close up fully",
		whole: func(d *draft) *int { return &d.Region.Dryer.HoldsPredried },
	},
	{
		key: "shift_start_h", meaning: "hour of the day at which the first charge may be loaded", unit: "h", low: 0, high: 23,
		missing: "7", source: "common practice, no source", number: func(d *draft) *float64 { return &d.Region.Dryer.ShiftStartH },
	},
	{
		key: "shift_end_h", meaning: "hour at which the last fire must be out; above 24 the shift runs into the night", unit: "h", low: 1, high: 31,
		usual: [2]float64{1, 22}, hint: "a shift into the night needs the word of those who tend the fire, and the law on night work holds",
		missing: "19", source: "common practice, no source", number: func(d *draft) *float64 { return &d.Region.Dryer.ShiftEndH },
	},
	{
		key: "handling_h", meaning: "hours to load a charge, and again to unload it", unit: "h", low: 0, high: 6,
		missing: "0.5", source: assumption, number: func(d *draft) *float64 { return &d.Region.Dryer.HandlingH },
	},
	{
		key: "minimum_fill_fraction", meaning: "smallest charge worth a fire, as part of a full one", low: 0.05, high: 1,
		missing: "0.3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Dryer.MinimumFill },
	},
	{
		key: "loads_first", meaning: "which batches go in first", choices: loadingRules,
		missing: "most_at_risk", source: "assumption: near equal to driest, starves nobody",
		choice: func(d *draft) *int { return (*int)(&d.Region.Dryer.LoadingRule) },
	},
	{
		key: "fire_at_mould_index", meaning: "stalks of a batch with this mould index are at risk and ask for a charge", low: 0, high: 6,
		missing: "0.3", source: "assumption: later firing loses stalks, earlier burns wood",
		number: func(d *draft) *float64 { return &d.Region.Dryer.FireAtIndex },
	},
	{
		key: "at_risk_fraction", meaning: "part of a full charge that must be at risk before one is fired for it; 0: a single stalk is enough", low: 0, high: 1,
		missing: "0.1", source: "assumption: a few stalks left over are worth no fire",
		number: func(d *draft) *float64 { return &d.Region.Dryer.AtRiskFraction },
	},
	{
		key: "breaks_fraction", meaning: "part of the stalks dried below 8 % wet basis, in a dryer, on a rack or in the store, that break", low: 0, high: 1,
		missing: "0.03", source: assumption, number: func(d *draft) *float64 { return &d.Region.Dryer.BreakFraction },
	},
	{
		key: "target_moisture_wet_basis", meaning: "a charge ends and a rack is cleared when stalks are this dry", low: 0.08, high: 0.2,
		usual: [2]float64{0.12, 0.15}, hint: "wet basis, as a fraction: 14 % is 0.14", missing: "0.14",
		source: "assumption, near finished stalks of 12.2 % (Purbono, Ainuri & Suryandono, Agritech 30(2), 2010)",
		number: func(d *draft) *float64 { return wet(&d.Base.Cabinet.Target) },
	},
	{
		key: "wood_moisture_wet_basis", meaning: "moisture of the firewood", low: 0.05, high: 0.6,
		usual: [2]float64{0.12, 0.4}, hint: "wet basis, as a fraction: air-dry wood is 0.15 to 0.25", missing: "0.20",
		source: "assumption: air-dry wood", number: func(d *draft) *float64 { return wet(&d.Base.Cabinet.WoodMoisture) },
	},
	{
		key: "ready_after_days", meaning: "days of the season before any dryer works", unit: "days", low: 0, high: 365,
		missing: "0", source: "ready on the first day", whole: func(d *draft) *int { return &d.Region.Dryer.ReadyAfterDays },
	},
	{
		key: "first_season_fraction", meaning: "part of a full charge that the group manages in its first season", low: 0.2, high: 1,
		missing: "1", source: "assumption: the group has learned", number: func(d *draft) *float64 { return &d.Region.Dryer.HoldsFraction },
	},
	{
		key: "wet_wood_wet_basis", meaning: "moisture of the wood after a week of rain; 0: as dry as ever", low: 0, high: 0.6,
		missing: "0", source: "assumption: wood lies under a roof", number: func(d *draft) *float64 { return wet(&d.Region.Dryer.WetWood) },
	},
	{
		key: "wood_limited", meaning: "wood can run out",
		missing: "false", source: "assumption: wood is at hand", flag: func(d *draft) *bool { return &d.Region.Dryer.WoodLimited },
	},
	{
		key: "opening_wood_kg", meaning: "dry wood at each site on the first day", unit: "kg", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Region.Dryer.OpeningWoodKg },
	},
	{
		key: "wood_kg_per_month", meaning: "wood that each site gets at the start of each month", unit: "kg", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Region.Dryer.WoodKgPerMonth },
	},
	{
		key: "browned_fraction_per_h_at_90c", meaning: "part of a charge that browns to second grade in an hour at 90 °C; half of it at 85 °C, twice at 95 °C; 0: none ever", low: 0, high: 0.5,
		usual: [2]float64{0, 0.015}, hint: "a fraction: half a per cent an hour is 0.005", missing: "0.005",
		source: "browning rises with temperature (Casas et al., Science Diliman 24(2), 2012); rate: assumption, 0.002 to 0.015",
		number: func(d *draft) *float64 { return &d.Region.Dryer.BrownsPerH },
	},
	{
		key: "heat_up_h", meaning: "hours from lighting to the set temperature", unit: "h", low: 0.75, high: 5,
		missing: "0.75", source: assumption, number: func(d *draft) *float64 { return &d.Base.Cabinet.HeatUpH },
	},
}

var loadingRules = []string{"most_at_risk", "driest", "wettest", "oldest"}

func keysOf(fields []field, more ...string) []string {
	var keys []string
	for _, f := range fields {
		keys = append(keys, f.key)
	}
	return append(keys, more...)
}
