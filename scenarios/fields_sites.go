package scenarios

var yardFields = []field{
	{
		key: "no_cutting_above_rain_mm", meaning: "nobody cuts on a day with more rain", unit: "mm", low: 0, high: 1000,
		usual: [2]float64{0, 50}, hint: "nobody is to cut in heavy rain, floods or lightning",
		missing: "25", source: assumption, number: func(d *draft) *float64 { return &d.Region.Yard.MaxCutRainMM },
	},
	{
		key: "rest_every_days", meaning: "one day in so many nobody cuts; 0 for no rest", unit: "days", low: 0, high: 365,
		usual: [2]float64{1, 7}, hint: "people need a day of rest in seven",
		missing: "7", source: "common practice, no source", whole: func(d *draft) *int { return &d.Region.Yard.RestEveryDays },
	},
	{
		key: "predried_moisture_dry_basis", meaning: "below it batches are closed up on the rack", low: 0.3, high: 3,
		usual: [2]float64{0.4, 1.2}, hint: "dry basis, kg water per kg dry matter: 41 % wet basis is 0.7", missing: "0.7", source: assumption,
		number: func(d *draft) *float64 { return dry(&d.Base.Stalk.PredriedMoisture) },
	},
	{
		key: "closed_up_area_fraction", meaning: "rack area of a closed-up batch over its fresh area", low: 0.2, high: 1,
		missing: "0.6", source: assumption, number: func(d *draft) *float64 { return &d.Base.Stalk.AreaAfterPredry },
	},
	{
		key: "one_layer_kg_per_m2", meaning: "fresh stalks on a rack that one layer covers; thinner spreading leaves it partly bare", unit: "kg/m2", low: 4, high: 7.2,
		missing: "6", source: "assumption: touching stalks of 65 g, 60 cm by 15 mm weigh 7.2; one stalk deep is reached at 4 to 6",
		number: func(d *draft) *float64 { return &d.Base.Stalk.LayerKgPerM2 },
	},
	{
		key: "stalks_are_spread", meaning: "at_full_load: as thick as the loading of their site, however much rack is free; over_free_rack: as thin as the free rack of a kind allows, spread again at sunrise, after landing and before dusk", choices: []string{"at_full_load", "over_free_rack"},
		missing: "over_free_rack", source: "assumption: free rack costs nothing; as many groups work now is at_full_load", choice: func(d *draft) *int { return (*int)(&d.Region.Yard.Spreading) },
	},
	{
		key: "least_loading_kg_per_m2", meaning: "of stalks_are_spread over_free_rack: spread no thinner than this, fresh stalks", unit: "kg/m2", low: 1, high: 60,
		usual: [2]float64{3, 20}, hint: "one stalk deep is 4 to 6", missing: "6", source: "assumption: one layer, see one_layer_kg_per_m2",
		number: func(d *draft) *float64 { return &d.Region.Yard.LeastLoadingKgPerM2 },
	},
	{
		key: "wet_week_mm", meaning: "rain of seven days from which a week is wet, for loading_in_wet_weeks_kg_per_m2 of a site", unit: "mm", low: 0, high: 3000,
		missing: "50", source: assumption, number: func(d *draft) *float64 { return &d.Region.Yard.WetWeekMM },
	},
	{
		key: "cutting_stops_at", meaning: "full_yard: cutting stops when the racks are full and the heap holds heap_holds_days_of_cut; what_can_dry: when the racks are full, or more lies wet than racks and working dryers bring home", choices: []string{"full_yard", "what_can_dry"},
		missing: "what_can_dry", source: "assumption: nobody cuts what cannot be saved; as many groups work now is full_yard", choice: func(d *draft) *int { return (*int)(&d.Region.Yard.CutUntil) },
	},
	{
		key: "wet_kg_per_m2", meaning: "of cutting_stops_at what_can_dry: fresh stalks that may lie wet for each square metre of rack, however thick they are spread", unit: "kg/m2", low: 0, high: 60,
		usual: [2]float64{4, 12}, hint: "one stalk deep is 4 to 6", missing: "7", source: "assumption: a little over one layer",
		number: func(d *draft) *float64 { return &d.Region.Yard.WetKgPerM2 },
	},
	{
		key: "wet_charges_per_dryer", meaning: "of cutting_stops_at what_can_dry: full charges of each working dryer that may lie wet besides", low: 0, high: 100,
		missing: "2", source: "assumption: a day of two charges", number: func(d *draft) *float64 { return &d.Region.Yard.WetCharges },
	},
	{
		key: "thrown_out_below_full_share", meaning: "a batch with a smaller part of full grade is thrown out when its place is needed", low: 0, high: 1,
		missing: "0.1", source: assumption, number: func(d *draft) *float64 { return &d.Region.Yard.DiscardBelowFullShare },
	},
	{
		key: "heap_holds_days_of_cut", meaning: "of cutting_stops_at full_yard: overflow that is heaped before cutting stops, in ordinary days of cutting", low: 0, high: 30,
		usual: [2]float64{0, 3}, hint: "nobody cuts into a rotting heap", missing: "1", source: "common practice, no source",
		number: func(d *draft) *float64 { return &d.Region.Yard.HeapDaysOfCut },
	},
	{
		key: "sheet_reaction_h", meaning: "whole hours of a shower until sheets are over", unit: "h", low: 0, high: 6,
		missing: "0", source: assumption, whole: func(d *draft) *int { return &d.Region.Yard.SheetReactionH },
	},
	{
		key: "sheets_at_night", meaning: "sheets lie over the racks every night, from 18 to 6 h",
		missing: "false", source: "none stated", flag: func(d *draft) *bool { return &d.Region.Yard.SheetsAtNight },
	},
}

var luckFields = []field{
	{
		key: "output_season_sd", meaning: "spread of output between seasons, shared by all sites, sd of its logarithm", low: 0, high: 1,
		missing: "0.10", source: assumption, number: func(d *draft) *float64 { return &d.Region.Luck.OutputSeason },
	},
	{
		key: "output_site_season_sd", meaning: "spread of a site's season, sd of the logarithm", low: 0, high: 1,
		missing: "0.15", source: assumption, number: func(d *draft) *float64 { return &d.Region.Luck.OutputSiteSeason },
	},
	{
		key: "output_day_sd", meaning: "spread between days, sd of the logarithm", low: 0, high: 1,
		missing: "0.25", source: assumption, number: func(d *draft) *float64 { return &d.Region.Luck.OutputDay },
	},
	{
		key: "refused_site_season_sd", meaning: "spread of the share refused at the gate between sites and seasons, sd of the logarithm", low: 0, high: 2,
		missing: "0.3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Luck.RefusedSiteSeason },
	},
}

var peopleFields = []field{
	{
		key: "one_pool", meaning: "other work takes its hours from cutting", missing: "true", source: "common practice, no source",
		flag: func(d *draft) *bool { return &d.Region.People.Pool },
	},
	{
		key: "work_h_per_day", meaning: "hours each cutter works, all tasks together", unit: "h", low: 0, high: 16,
		usual: [2]float64{0, 10}, hint: "long days wear people out; keep to the law on hours of work",
		missing: "8", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.WorkHPerDay },
	},
	{
		key: "tends_dryers", meaning: "dryers that one person tends at a time", low: 1, high: 10,
		missing: "2", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.TendsDryers },
	},
	{
		key: "handling_h_per_1000_stalks", meaning: "person-hours to load, and again to unload, 1,000 stalks", unit: "h", low: 0, high: 20,
		missing: "1", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.HandlingHPer1000 },
	},
	{
		key: "grading_h_per_1000_stalks", meaning: "person-hours to grade and bundle 1,000 stalks, once, on their way into the store", unit: "h", low: 0, high: 20,
		missing: "1", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.GradingHPer1000 },
	},
	{
		key: "looking_h_per_1000_stalks", meaning: "person-hours to look 1,000 stalks through, before a charge and again at a collection", unit: "h", low: 0, high: 20,
		missing: "0.2", source: "assumption: a fifth of grading and bundling", number: func(d *draft) *float64 { return &d.Region.People.LookingHPer1000 },
	},
	{
		key: "sheets_h_per_100_m2", meaning: "person-hours to pull and clear sheets over 100 m2 on a day of rain", unit: "h", low: 0, high: 10,
		missing: "0.5", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.SheetHPer100M2 },
	},
	{
		key: "spreading_h_per_100_m2", meaning: "person-hours to spread stalks over 100 m2 of rack, besides what stalks_per_person_h counts", unit: "h", low: 0, high: 20,
		missing: "1", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.SpreadingHPer100M2 },
	},
	{
		key: "haul_h_per_1000_stalks", meaning: "person-hours of the sending site to haul 1,000 stalks", unit: "h", low: 0, high: 50,
		missing: "2", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.HaulHPer1000 },
	},
	{
		key: "collection_h", meaning: "person-hours of a collection at a site", unit: "h", low: 0, high: 50,
		missing: "3", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.CollectionH },
	},
	{
		key: "crew_h_per_day", meaning: "hours of each person of a site's extra paid crew, for all work but cutting", unit: "h", low: 0, high: 16,
		usual: [2]float64{0, 10}, hint: "long days wear people out; keep to the law on hours of work",
		missing: "8", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.CrewHPerDay },
	},
	{
		key: "cutters_are", meaning: "members of their group, so that their pay is its income, or hired hands", choices: []string{"members", "hired"},
		missing: "members", source: "assumption: groups cut for themselves", choice: func(d *draft) *int { return (*int)(&d.Money.Hands) },
	},
	{
		key: "pay_for", meaning: "pay_per_stalk_cut is paid for every stalk cut, or for good stalks only, when the hub accepts them", choices: []string{"cut", "good"},
		missing: "cut", source: "common practice, no source", choice: func(d *draft) *int { return (*int)(&d.Money.PayFor) },
	},
	{
		key: "worth_of_hour", meaning: "what an hour of a member's time is worth elsewhere, in the currency; -1: as wage_per_h", low: -1, high: 10000,
		missing: "-1", source: "the wage of other work", number: func(d *draft) *float64 { return &d.Money.HourWorth },
	},
}

var plantingFields = []field{
	{
		key: "planting_after_onset_days", meaning: "days from the onset of the rains until people leave for planting", unit: "days", low: 0, high: 120,
		missing: "10", source: assumption, whole: func(d *draft) *int { return &d.Region.People.Planting.AfterOnsetDays },
	},
	{
		key: "planting_days", meaning: "days that planting lasts; 0: nobody leaves", unit: "days", low: 0, high: 120,
		missing: "0", source: "none stated", whole: func(d *draft) *int { return &d.Region.People.Planting.Days },
	},
	{
		key: "planting_away_fraction", meaning: "part of the cutting hours away for planting", low: 0, high: 1,
		missing: "0.5", source: assumption, number: func(d *draft) *float64 { return &d.Region.People.Planting.AwayFraction },
	},
}

// standFields matter only where a site states its stand.
var standFields = []field{
	{
		key: "growth_per_day", meaning: "growth of the plants at the best temperature", unit: "1/day", low: 0, high: 0.3,
		missing: "0.07", source: "assumption: mats that double in 1 to 2 weeks", number: func(d *draft) *float64 { return &d.Region.Stand.GrowthPerDay },
	},
	{
		key: "capacity_kg_per_m2", meaning: "fresh mass of a full mat", unit: "kg/m2", low: 1, high: 100,
		missing: "40", source: "Lahon et al. 2023, PeerJ e14811", number: func(d *draft) *float64 { return &d.Region.Stand.CapacityKgM2 },
	},
	{
		key: "start_kg_per_m2", meaning: "fresh mass of the mat on the first day", unit: "kg/m2", low: 0, high: 100,
		missing: "20", source: assumption, number: func(d *draft) *float64 { return &d.Region.Stand.StartKgM2 },
	},
	{
		key: "kg_per_stalk", meaning: "fresh plant cut for one usable stalk", unit: "kg", low: 0.01, high: 5,
		missing: "0.33", source: "assumption: a stalk of 65 g, 40 % petioles, half of them usable", number: func(d *draft) *float64 { return &d.Region.Stand.KgPerStalk },
	},
	{
		key: "thin_at_kg_per_m2", meaning: "output falls to half where so little stands", unit: "kg/m2", low: 0, high: 50,
		missing: "5", source: assumption, number: func(d *draft) *float64 { return &d.Region.Stand.ThinAtKgM2 },
	},
	{
		key: "flushed_above_mm_in_3_days", meaning: "rain of three days that flushes mats away; 0: none does", unit: "mm", low: 0, high: 3000,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.Region.Stand.FlushAboveMM },
	},
	{
		key: "flushed_fraction", meaning: "part of the stand that such a spell takes", low: 0, high: 1,
		missing: "0.3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Stand.FlushedFraction },
	},
	{
		key: "flush_closed_days", meaning: "days from such a spell on which nobody goes on the water", unit: "days", low: 0, high: 60,
		missing: "4", source: assumption, whole: func(d *draft) *int { return &d.Region.Stand.FlushClosedDays },
	},
	{
		key: "silted_fraction", meaning: "part of the stalks that is broken or silted for some days after", low: 0, high: 1,
		missing: "0.3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Stand.SiltedFraction },
	},
	{
		key: "silted_days", meaning: "days for which that lasts", unit: "days", low: 0, high: 120,
		missing: "14", source: assumption, whole: func(d *draft) *int { return &d.Region.Stand.SiltedDays },
	},
}

var troubleFields = []field{
	{
		key: "out_for_season_fraction", meaning: "chance that a dryer is out all season: parts, quarrels, theft, fire", low: 0, high: 1,
		usual: [2]float64{0, 0.3}, hint: "a fraction: 5 % is 0.05", missing: "0.03", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.OutForSeason },
	},
	{
		key: "firing_h_between_breakdowns", meaning: "mean firing hours of a dryer between breakdowns; 0 for none", unit: "h", low: 0, high: 1e5,
		missing: "600", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.FiringHPerFail },
	},
	{
		key: "repair_days", meaning: "median days until a broken dryer works again", unit: "days", low: 0, high: 120,
		missing: "3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.RepairDays },
	},
	{
		key: "repair_spread_sd", meaning: "spread of repair times, sd of the logarithm: a long tail", low: 0, high: 2,
		missing: "0.8", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.RepairLogSD },
	},
	{
		key: "sheets_missed_fraction", meaning: "chance that sheets are not pulled in time on a day of rain", low: 0, high: 1,
		missing: "0.1", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.SheetsMissed },
	},
	{
		key: "sheets_missed_at_night_fraction", meaning: "chance that nobody pulls the sheets in a night of rain", low: 0, high: 1,
		missing: "0.3", source: assumption, number: func(d *draft) *float64 { return &d.Region.Trouble.NightMissed },
	},
}

var roadFields = []field{
	{
		key: "gate_moisture_limit_wet_basis", meaning: "wetter stalks are not taken and go back on a rack; 0: no limit", low: 0, high: 0.3,
		missing: "0", source: "no limit in the contract", number: func(d *draft) *float64 { return wet(&d.Region.Road.MoistureLimit) },
	},
	{
		key: "closed_above_mm_in_3_days", meaning: "no collection while three days brought more rain; 0 for an open road", unit: "mm", low: 0, high: 3000,
		missing: "300", source: assumption, number: func(d *draft) *float64 { return &d.Region.Road.ClosedAboveMM },
	},
	{
		key: "vehicle_stalks", meaning: "most stalks of one collection at a site; 0 for no limit", unit: "stalks", low: 0, high: 1e7,
		missing: "0", source: "no limit", whole: func(d *draft) *int { return &d.Region.Road.VehicleStalks },
	},
	{
		key: "minimum_pickup_stalks", meaning: "the vehicle does not come for fewer in the site store", unit: "stalks", low: 0, high: 1e7,
		missing: "0", source: "it comes for any", whole: func(d *draft) *int { return &d.Region.Road.MinimumStalks },
	},
}

var storeFields = []field{
	{
		key: "humidity_fraction", meaning: "humidity of the air in site stores as a hygrometer shows it; 0: that of the outside air", low: 0, high: 1,
		usual: [2]float64{0, 0.95}, hint: "a fraction: 75 % is 0.75", missing: "0", source: "outside air",
		number: func(d *draft) *float64 { return &d.Region.Store.Humidity },
	},
}

var siteFields = []field{
	{
		key: "cutters", meaning: "people who cut", unit: "people", low: 0, high: 10_000,
		whole: func(d *draft) *int { return &d.site.Cutters },
	},
	{
		key: "stalks_per_person_h", meaning: "usable stalks a cutter brings in an hour: cutting, landing, spreading", unit: "stalks", low: 0, high: 5000,
		usual: [2]float64{50, 600}, hint: "usable stalks of one person in one hour", number: func(d *draft) *float64 { return &d.site.OutputPerPersonH },
	},
	{
		key: "cutting_h_per_day", meaning: "hours each cutter works on a cutting day", unit: "h", low: 0, high: 11,
		usual: [2]float64{0, 8}, hint: "cutting is heavy work in open water",
		missing: "6", source: assumption, number: func(d *draft) *float64 { return &d.site.CuttingHPerDay },
	},
	{
		key: "open_rack_m2", meaning: "rack without a roof", unit: "m2", low: 0, high: 1e6,
		number: func(d *draft) *float64 { return &d.site.OpenRackM2 },
	},
	{
		key: "clear_roof_m2", meaning: "rack under clear sheet", unit: "m2", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.site.ClearRoofM2 },
	},
	{
		key: "solid_roof_m2", meaning: "rack under tin or thatch", unit: "m2", low: 0, high: 1e6,
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.site.SolidRoofM2 },
	},
	{
		key: "loading_kg_per_m2", meaning: "fresh stalks spread on a rack", unit: "kg/m2", low: 1, high: 60,
		usual: [2]float64{3, 20}, hint: "one stalk deep is 4 to 6, a crowded yard 20", missing: "10", source: assumption,
		number: func(d *draft) *float64 { return &d.site.LoadingKgPerM2 },
	},
	{
		key: "loading_in_wet_weeks_kg_per_m2", meaning: "fresh stalks spread on a rack after a week with wet_week_mm of rain; 0: as in dry weeks", unit: "kg/m2", low: 0, high: 60,
		usual: [2]float64{0, 20}, hint: "one stalk deep is 4 to 6, a crowded yard 20", missing: "0", source: "as in dry weeks",
		number: func(d *draft) *float64 { return &d.site.LoadingInWetWeeksKgPerM2 },
	},
	{
		key: "dryers", meaning: "dryers of the plan as written", low: 0, high: 50,
		missing: "0", source: "none stated", whole: func(d *draft) *int { return &d.site.Dryers },
	},
	{
		key: "max_dryers", meaning: "most dryers that may be placed here", low: 0, high: 50,
		missing: "4", source: "assumption: fire, wood and people for more are rare", whole: func(d *draft) *int { return d.maxDryers },
	},
	{
		key: "haul_stalks_per_day", meaning: "most stalks that are hauled in a day to the dryers of the site haul_to", unit: "stalks", low: 0, high: 1e6,
		missing: "0", source: "none stated", whole: func(d *draft) *int { return &d.site.HaulStalksPerDay },
	},
	{
		key: "crew", meaning: "people of an extra paid crew, for all work but cutting", unit: "people", low: 0, high: 1000,
		missing: "0", source: "none stated", whole: func(d *draft) *int { return &d.site.Crew },
	},
	{
		key: "store_stalks", meaning: "dry stalks that the site store takes; 0: any number", unit: "stalks", low: 0, high: 1e8,
		missing: "0", source: "room enough", whole: func(d *draft) *int { return &d.site.StoreStalks },
	},
	{
		key: "longer_shift_h", meaning: "hours by which the shift of this site's dryers ends later than the region's", unit: "h", low: 0, high: 12,
		usual: [2]float64{0, 4}, hint: "long shifts need more people, and the law on night work holds",
		missing: "0", source: "none stated", number: func(d *draft) *float64 { return &d.site.LongerShiftH },
	},
	{
		key: "stand_m2", meaning: "mat of plants within reach; 0: always enough to cut", unit: "m2", low: 0, high: 1e9,
		missing: "0", source: "assumption: plants are not short", number: func(d *draft) *float64 { return &d.site.StandM2 },
	},
	{
		key: "sheets", meaning: "open racks are covered by sheets when it rains",
		missing: "false", source: "none stated", flag: func(d *draft) *bool { return &d.site.Sheets },
	},
	{
		key: "sealed_store", meaning: "dry stalks lie in tied bags with liner instead of open air",
		missing: "false", source: "none stated", flag: func(d *draft) *bool { return &d.site.SealedStore },
	},
	{
		key: "opening_stock_stalks", meaning: "dry good stalks in the site store on the first day", unit: "stalks", low: 0, high: 1e8,
		missing: "0", source: "nothing in stock", whole: func(d *draft) *int { return &d.site.OpeningStock },
	},
}
