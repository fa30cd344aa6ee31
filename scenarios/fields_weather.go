package scenarios

import "slices"

var placeFields = []field{
	{
		key: "latitude_deg", meaning: "latitude, north positive", unit: "°", low: -60, high: 60,
		number: func(d *draft) *float64 { return &d.place().LatitudeDeg },
	},
	{
		key: "elevation_m", meaning: "above sea level", unit: "m", low: -100, high: 5000,
		missing: "0", source: "sea level", number: func(d *draft) *float64 { return &d.place().ElevationM },
	},
	{
		key: "coast", meaning: "on a coast", missing: "false", source: "inland",
		flag: func(d *draft) *bool { return &d.place().Coast },
	},
}

// changeFields are what a climate of the future may differ by wherever the weather comes from.
var changeFields = []field{
	{
		key: "warmer_c", meaning: "added to all temperatures; the relative humidity stays", unit: "°C", low: -5, high: 8,
		missing: "0", source: "no change of climate", number: func(d *draft) *float64 { return &d.change.TempC },
	},
	{
		key: "humidity_points", meaning: "added to the relative humidity of all months, in points of a hundred", unit: "points", low: -30, high: 30,
		missing: "0", source: "no change of climate", number: func(d *draft) *float64 { return &d.change.HumidityPoints },
	},
}

// normalsFields are the keys of a weather by normals beside its months.
var normalsFields = slices.Concat(placeFields, changeFields)

// apartFields say how rain goes together at sites that lie apart or have weathers of their own.
var apartFields = []field{
	{
		key: "correlation_nearby", meaning: "correlation of rain between sites that are near but do not share one weather", low: 0, high: 1,
		missing: "1", source: "own fit to a pair of stations on a monsoon coast", number: func(d *draft) *float64 { return &d.nearby },
	},
	{
		key: "correlation_length_km", meaning: "distance over which that correlation falls to 0.37", unit: "km", low: 5, high: 1000,
		missing: "115", source: "own fit to a pair of stations on a monsoon coast", number: func(d *draft) *float64 { return &d.lengthKm },
	},
}

// climateFields are the keys of a weather by a climate file.
var climateFields = slices.Concat([]field{
	{
		key: "wetness_of_year", meaning: "mean of the years' wetness: 0 as in the record; 1.28 makes a middling year as wet as the wettest of four to five, -1.28 as dry as the driest, for the chance of single days adds to it", low: -3, high: 3,
		missing: "0", source: "as in the record", number: func(d *draft) *float64 { return &d.climate.Wetness },
	},
}, apartFields, []field{
	{
		key: "storms_per_year", meaning: "three-day storms added to the record's rain", low: 0, high: 10,
		missing: "0", source: "off", number: func(d *draft) *float64 { return &d.climate.Storms.PerYear },
	},
	{
		key: "storm_rain_mm", meaning: "median rain of an added storm", unit: "mm", low: 1, high: 1500,
		missing: "150", source: assumption, number: func(d *draft) *float64 { return &d.climate.Storms.TotalMM },
	},
	{
		key: "storm_spread_sd", meaning: "spread of the rain of added storms, sd of its logarithm", low: 0, high: 2,
		missing: "0.5", source: assumption, number: func(d *draft) *float64 { return &d.climate.Storms.LogSD },
	},
	{
		key: "rain_amount_factor", meaning: "on the rain of a wet day", low: 0.3, high: 3,
		missing: "1", source: "no change of climate", number: func(d *draft) *float64 { return &d.change.AmountFactor },
	},
	{
		key: "rain_chance_probit", meaning: "added to the chance of rain, probit scale", low: -1, high: 1,
		missing: "0", source: "no change of climate", number: func(d *draft) *float64 { return &d.change.ChanceProbit },
	},
	{
		key: "later_onset_days", meaning: "by which the rains set in later", unit: "days", low: -40, high: 40,
		missing: "0", source: "no change of climate", number: func(d *draft) *float64 { return &d.change.OnsetDays },
	},
}, changeFields)

var monsoonFields = []field{
	{
		key: "onset_sd_days", meaning: "how much the onset of the rains varies between years, standard deviation", unit: "days", low: 0, high: 30,
		missing: "7", source: "assumption: 7 to 8.5 days are reported from one long-observed coast", number: func(d *draft) *float64 { return &d.weatherRaw.onsetSD },
	},
	{
		key: "withdrawal_sd_days", meaning: "how much the withdrawal varies, standard deviation", unit: "days", low: 0, high: 30,
		missing: "7", source: "own fit to a 69-year record", number: func(d *draft) *float64 { return &d.weatherRaw.withdrawalSD },
	},
}
