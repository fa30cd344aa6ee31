package scenarios

import (
	"drystalk/sim"
	"drystalk/tongue"
)

// moneyFields are the prices of a scenario, in its currency. The section may be left out:
// then nothing is said of money.
var moneyFields = []field{
	{
		key: "price_per_good_stalk", meaning: "the buyer pays for a good stalk delivered", low: 0, high: 1000,
		number: func(d *draft) *float64 { return &d.Money.PerGoodStalk },
	},
	{
		key: "second_grade_price_per_stalk", meaning: "second grade, sold apart", low: 0, high: 1000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.PerSecondStalk },
	},
	{
		key: "second_grade_most_stalks_per_month", meaning: "second grade that is sold in a month, from all sites together; -1: no ceiling", unit: "stalks", low: -1, high: 1e8,
		missing: "-1", source: "assumption: all second grade finds a buyer", whole: func(d *draft) *int { return &d.Money.SecondMost },
	},
	{
		key: "penalty_per_missing_stalk", meaning: "for a stalk missing from a month's contract", low: 0, high: 1000,
		missing: "0", source: "no penalty stated", number: func(d *draft) *float64 { return &d.Money.PerMissing },
	},
	{
		key: "paid_after_months", meaning: "months from delivery to payment", unit: "months", low: 0, high: 12,
		missing: "1", source: "assumption", whole: func(d *draft) *int { return &d.Money.PaidAfter },
	},
	{
		key: "opening_cash", meaning: "of each site on the first day", low: 0, high: 1e9,
		missing: "0", source: "nothing stated", amount: func(d *draft) *sim.Amount { return &d.Money.OpeningCash },
	},
	{
		key: "pay_per_stalk_cut", meaning: "paid to the cutters for a stalk, see people.pay_for", low: 0, high: 1000,
		number: func(d *draft) *float64 { return &d.Money.PerStalkCut },
	},
	{
		key: "wage_per_h", meaning: "of all work but cutting", low: 0, high: 10000,
		missing: "0", source: "unpaid unless stated", number: func(d *draft) *float64 { return &d.Money.WagePerH },
	},
	{
		key: "night_extra_per_h", meaning: "on top, between 22 and 6 h", low: 0, high: 10000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.NightExtraPerH },
	},
	{
		key: "crew_wage_per_h", meaning: "of the extra crew, for every hour it is there", low: 0, high: 10000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.CrewPerH },
	},
	{
		key: "wood_per_kg", meaning: "firewood", low: 0, high: 1000,
		number: func(d *draft) *float64 { return &d.Money.WoodPerKg },
	},
	{
		key: "wood_in_rains_per_kg", meaning: "firewood in months with more than 100 mm of rain; -1: as in other months", low: -1, high: 1000,
		missing: "-1", source: "as in other months", number: func(d *draft) *float64 { return &d.Money.WoodRainsPerKg },
	},
	{
		key: "collection_trip", meaning: "a collection at a site", low: 0, high: 1e6,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.PerTrip },
	},
	{
		key: "transport_per_stalk", meaning: "of stalks collected", low: 0, high: 1000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.CarryPerStalk },
	},
	{
		key: "bags_per_stalk", meaning: "bags and bundling of stalks collected", low: 0, high: 1000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.BagPerStalk },
	},
	{
		key: "upkeep_per_firing_h", meaning: "of a dryer", low: 0, high: 10000,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.UpkeepPerH },
	},
	{
		key: "upkeep_per_dryer_year", meaning: "of a dryer, whether it fires or not", low: 0, high: 1e8,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.UpkeepPerDryer },
	},
	{
		key: "rent_per_site_year", meaning: "land, store, dues", low: 0, high: 1e8,
		missing: "0", source: "nothing stated", number: func(d *draft) *float64 { return &d.Money.RentPerYear },
	},
	{
		key: "left_over_price_per_stalk", meaning: "what a good stalk left over at the end of the season is worth", low: 0, high: 1000,
		missing: "0", source: "worth nothing", number: func(d *draft) *float64 { return &d.Money.SurplusPerStalk },
	},
	{
		key: "dryer_cost", meaning: "a dryer, put up and ready", low: 0, high: 1e9,
		number: func(d *draft) *float64 { return &d.Money.DryerCost },
	},
	{
		key: "dryer_life_years", meaning: "it lasts", unit: "years", low: 1, high: 50,
		missing: "8", source: "assumption", whole: func(d *draft) *int { return &d.Money.DryerYears },
	},
	{
		key: "grant_fraction", meaning: "part of a purchase that nobody pays back", low: 0, high: 1,
		missing: "0", source: "no grant stated", number: func(d *draft) *float64 { return &d.Money.GrantShare },
	},
	{
		key: "loan_fraction", meaning: "part of a purchase that is borrowed", low: 0, high: 1,
		missing: "0", source: "no loan stated", number: func(d *draft) *float64 { return &d.Money.LoanShare },
	},
	{
		key: "loan_months", meaning: "over which it is paid back", unit: "months", low: 1, high: 360,
		missing: "36", source: "assumption", whole: func(d *draft) *int { return &d.Money.LoanMonths },
	},
	{
		key: "loan_interest_per_year", meaning: "nominal, a twelfth of it each month", low: 0, high: 1,
		missing: "0.12", source: "assumption", number: func(d *draft) *float64 { return &d.Money.LoanRate },
	},
	{
		key: "discount_per_year", meaning: "of money later against money now", low: 0, high: 1,
		missing: "0.10", source: "assumption", number: func(d *draft) *float64 { return &d.Money.Discount },
	},
	{
		key: "open_rack_per_m2", meaning: "price; 0: none stated, not tried", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.RackPerM2 },
	},
	{
		key: "clear_roof_per_m2", meaning: "with the rack under it; 0: none stated, not tried", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.RoofPerM2 },
	},
	{
		key: "sheets_per_m2", meaning: "over open racks; 0: none stated, not tried", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.SheetPerM2 },
	},
	{
		key: "sealed_bags_per_site", meaning: "for the stock of a site; 0: none stated, not tried", low: 0, high: 1e8,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.SealPerSite },
	},
	{
		key: "store_room_per_1000_stalks", meaning: "room in a site store; 0: none stated, not tried", low: 0, high: 1e7,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.RoomPer1000 },
	},
	{
		key: "cutter_cost", meaning: "tools and training of one more cutter; 0: none stated, not tried", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.PerCutter },
	},
	{
		key: "longer_shift_cost_per_h", meaning: "lamps and the like for an hour of longer shift at a site; 0: none stated, not tried", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.PerShiftH },
	},
	{
		key: "stock_ahead_per_stalk", meaning: "a good stalk bought or dried ahead of the season; 0: none stated, not tried", low: 0, high: 1000,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Money.PerStock },
	},
	{
		key: "other_life_years", meaning: "racks, roofs, sheets and the like last", unit: "years", low: 1, high: 50,
		missing: "4", source: "assumption", whole: func(d *draft) *int { return &d.Money.OtherYears },
	},
}

// money reads the prices, if the file states any.
func (r *reader) money(s *Scenario, n *node) {
	if n == nil {
		return
	}
	s.HasMoney = true
	r.fields(&draft{Scenario: s}, n, "money", moneyFields)
	m := &s.Money
	if m.WoodRainsPerKg < 0 {
		m.WoodRainsPerKg = m.WoodPerKg
	}
	if m.GrantShare+m.LoanShare > 1 && len(r.faults) == 0 {
		r.fault(n.line, "money.loan_fraction", plain(m.LoanShare), tongue.Say("grant_fraction and loan_fraction of at most 1 together"))
	}
}
