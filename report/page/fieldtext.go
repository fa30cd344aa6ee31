package page

import "drystalk/tongue"

// sentences say the fields that a treasurer reads first, each around its number.
var sentences = map[string]tongue.Text{
	"site.cutters":              "People who cut: {} people",
	"site.stalks_per_person_h":  "Each brings {} usable stalks an hour",
	"site.open_rack_m2":         "Rack without a roof: {} m²",
	"site.clear_roof_m2":        "Rack under clear sheet: {} m²",
	"site.solid_roof_m2":        "Rack under tin or thatch: {} m²",
	"site.dryers":               "Dryers in the plan: {} dryers",
	"site.max_dryers":           "Most dryers that may stand here: {} dryers",
	"site.longer_shift_h":       "The shift of this site's dryers ends {} hours later than the region's",
	"site.opening_stock_stalks": "Dry good stalks in the site store on the first day: {} stalks",
	"site.crew":                 "An extra paid crew of {} people",
	"site.cutting_h_per_day":    "Each cutter cuts {} hours on a cutting day",

	"site.loading_in_wet_weeks_kg_per_m2": "After a wet week {} kg of fresh stalks are spread on a m² of rack (0: as in dry weeks)",
	"site.haul_stalks_per_day":            "At most {} stalks a day are hauled to the dryers of another site",
	"site.loading_kg_per_m2":              "On a m² of rack {} kg of fresh stalks are spread",
	"yard.least_loading_kg_per_m2":        "Where stalks are spread over the free rack: no thinner than {} kg of fresh stalks a m²",
	"yard.wet_week_mm":                    "A week is wet from {} mm of rain in seven days",
	"yard.wet_kg_per_m2":                  "Where cutting stops at what can dry: {} kg of fresh stalks may lie wet for each m² of rack",
	"yard.wet_charges_per_dryer":          "Where cutting stops at what can dry: besides, {} full charges of each working dryer may lie wet",
	"yard.heap_holds_days_of_cut":         "Where cutting stops at a full yard: {} ordinary days of cutting are heaped first",
	"people.spreading_h_per_100_m2":       "Spreading stalks over 100 m² of rack takes {} person-hours, besides what is counted as cutting",
	"people.pay_for":                      "Cutters are paid for {} stalks (cut: for every one; good: for those the hub accepts)",
	"hub.speaks":                          "The hub tells the sites whether more is wanted {} (by cutters: each site has a fixed share of the contract by its cutters and counts for itself)",
	"contract.target":                     "The target is {} (worst month: each contract month by itself; all months: all of them in one season; share delivered: a part of the season's stalks; with prices also a most penalty or a least income)",
	"contract.target_delivered_fraction":  "For the target share delivered: a part of {} of the stalks asked in a season is delivered (0.95 is 95 %)",

	"dryer.shift_end_h":        "The last fire is out at {} h (above 24: in the night)",
	"dryer.shift_start_h":      "The first charge is loaded at {} h",
	"dryer.holds_stalks_fresh": "A full charge is {} fresh stalks",

	"money.price_per_good_stalk":               "The buyer pays {} {money} for a good stalk delivered",
	"money.second_grade_price_per_stalk":       "A stalk of second grade sells for {} {money}",
	"money.second_grade_most_stalks_per_month": "In a month at most {} stalks of second grade find a buyer, from all sites together (-1: no ceiling)",
	"money.penalty_per_missing_stalk":          "A stalk missing from a month's contract costs {} {money}",
	"money.paid_after_months":                  "The buyer pays {} months after delivery",
	"money.opening_cash":                       "On the first day each site has {} {money} in cash",
	"money.pay_per_stalk_cut":                  "Cutters are paid {} {money} for a stalk",
	"money.wage_per_h":                         "An hour of all work but cutting is paid {} {money}",
	"money.night_extra_per_h":                  "An hour between 22 and 6 h is paid {} {money} more",
	"money.crew_wage_per_h":                    "An hour of the extra crew costs {} {money}, for as long as it is there",
	"money.wood_per_kg":                        "A kg of firewood costs {} {money}",
	"money.wood_in_rains_per_kg":               "A kg of wood in months with more than 100 mm of rain costs {} {money} (-1: as in other months)",
	"money.collection_trip":                    "A collection at a site costs {} {money}",
	"money.transport_per_stalk":                "Carrying a stalk to the hub costs {} {money}",
	"money.bags_per_stalk":                     "Bags and bundling cost {} {money} a stalk",
	"money.upkeep_per_firing_h":                "An hour of firing costs {} {money} of upkeep",
	"money.upkeep_per_dryer_year":              "A dryer costs {} {money} of upkeep a year, whether it fires or not",
	"money.rent_per_site_year":                 "Land, store and dues cost each site {} {money} a year",
	"money.left_over_price_per_stalk":          "A good stalk left over at the end of the season is worth {} {money}",
	"money.dryer_cost":                         "A dryer, put up and ready, costs {} {money}",
	"money.dryer_life_years":                   "A dryer lasts {} years",
	"money.grant_fraction":                     "Of a purchase nobody pays back a part of {} (0.3 is 30 %)",
	"money.loan_fraction":                      "Of a purchase a part of {} is borrowed (0.6 is 60 %)",
	"money.loan_months":                        "A loan is paid back over {} months",
	"money.loan_interest_per_year":             "A loan costs {} of its sum a year in interest (0.12 is 12 %), a twelfth of it each month",
	"money.discount_per_year":                  "Money a year later is worth {} less than money now (0.1 is 10 %)",
	"money.open_rack_per_m2":                   "A m² of rack without a roof costs {} {money} (0: none stated, not tried)",
	"money.clear_roof_per_m2":                  "A m² of clear roof with the rack under it costs {} {money} (0: none stated, not tried)",
	"money.sheets_per_m2":                      "Sheets over open racks cost {} {money} a m² (0: none stated, not tried)",
	"money.sealed_bags_per_site":               "Sealed bags for the stock of a site cost {} {money} (0: none stated, not tried)",
	"money.store_room_per_1000_stalks":         "Room for 1,000 stalks in a site store costs {} {money} (0: none stated, not tried)",
	"money.cutter_cost":                        "Tools and training of one more cutter cost {} {money} (0: none stated, not tried)",
	"money.longer_shift_cost_per_h":            "An hour of longer shift costs a site {} {money} for lamps and the like (0: none stated, not tried)",
	"money.stock_ahead_per_stalk":              "A good stalk bought or dried ahead of the season costs {} {money} (0: none stated, not tried)",
	"money.other_life_years":                   "Racks, roofs, sheets and the like last {} years",

	"people.worth_of_hour":          "An hour of a member's time is worth {} {money} elsewhere (-1: as the wage of an hour)",
	"contract.target_most_penalty":  "For the target penalty at most: at most {} {money} are paid in a season for missing stalks (-1: none stated)",
	"contract.target_least_income":  "For the target income at least: the region earns at least {} {money} in a season, with the pay of members and without that of hired hands (-1: none stated)",
	"contract.target_odds":          "The target must be reached in a part of {} of the seasons (0.9 is 90 of 100)",
	"contract.tolerance_fraction":   "A month counts as met with a part of {} missing (0.05 is 5 %)",
	"hub.opening_stock_stalks":      "On the first day {} good stalks lie at the hub",
	"hub.collections_per_month":     "Stalks are collected {} times a month, the last on its last day",
	"dryer.minimum_fill_fraction":   "The smallest charge worth a fire is a part of {} of a full one (0.5 is half)",
	"dryer.first_season_fraction":   "In its first season a group manages a part of {} of a full charge (1 is all of it)",
	"dryer.set_temperature_c":       "The chamber is set to {} °C",
	"dryer.wood_kg_per_month":       "Each site gets {} kg of wood at the start of each month",
	"yard.no_cutting_above_rain_mm": "Nobody cuts on a day with more than {} mm of rain",
	"yard.rest_every_days":          "One day in {} nobody cuts (0: no rest)",
	"yard.stalks_are_spread":        "Stalks are spread {} (at full load: as thick as their site loads a rack; over free rack: as thin as the free rack allows, and again through the day)",
	"yard.cutting_stops_at":         "Cutting stops at a {} (full yard: racks full and the heap at its limit; what can dry: more lies wet than racks and dryers bring home)",
}

// unitByEnd is a unit of numbers by a part of their key.
type unitByEnd struct {
	part string
	unit tongue.Text
}

// unitsByEnd are the units of numbers that a scenario gives none, by a part of their key: the first
// that fits.
var unitsByEnd = []unitByEnd{
	{"wet_basis", "kg water per kg of wet stalk or wood (0.14 is 14 %)"},
	{"dry_basis", "kg water per kg of dry stalk"},
	{"_fraction", "part (0.3 is 30 %)"},
	{"_share", "part (0.3 is 30 %)"},
	{"_sd", "of the logarithm"},
	{"per_month", "a month"},
	{"per_dryer", "charges a dryer"},
	{"days_of_cut", "days of cutting"},
	{"tends_dryers", "dryers"},
	{"_per_m2", "a m²"},
	{"mould_index", "of 6"},
	{"correlation", "from -1 to 1"},
}

// choices are the words of the choices of a scenario.
var choices = map[string]tongue.Text{
	"true": "yes", "false": "no",
	"at_full_load": "at full load", "over_free_rack": "over free rack", "full_yard": "full yard", "what_can_dry": "what can dry",
	"most_at_risk": "most at risk", "driest": "driest", "wettest": "wettest", "oldest": "oldest",
	"members": "members", "hired": "hired", "cut": "cut", "good": "good",
	"daily": "daily", "at_collections": "at collections", "by_cutters": "by cutters",
	"worst_month": "worst month", "all_months": "all months", "share_delivered": "share delivered", "penalty_at_most": "penalty at most", "income_at_least": "income at least",
}
