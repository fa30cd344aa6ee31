package words

import (
	"slices"
	"sort"

	"drystalk/sim/decide"
	"drystalk/tongue"
)

// reliefWords are the words of what may have been short.
var reliefWords = map[decide.Relief]tongue.Text{
	decide.MoreCutting:   "one and a half times the cutting hours",
	decide.MoreRack:      "one and a half times the open rack",
	decide.RoofOverRacks: "a clear roof over half of the open rack",
	decide.LongerShift:   "a dryer shift two hours longer",
	decide.StockAhead:    "one month of the contract more in stock at the start",
	decide.OtherPeople:   "other people for all work but cutting",
	decide.NoBreakdowns:  "dryers that never break",
	decide.EnoughWood:    "wood that never runs out",
	decide.Sheets:        "sheets over the open racks in rain",
	decide.SealedBags:    "sealed bags in every store",
	decide.OneDryerMore:  "one dryer more at every site",
	decide.OpenRoad:      "a road that stays open",
	decide.LargeVehicle:  "a vehicle large enough",
	decide.AnyMoisture:   "a gate without a limit of moisture",
	decide.AnyNumber:     "a vehicle that comes for any number",
	decide.NoPlanting:    "nobody away for planting",
	decide.NoHolidays:    "nobody away on holidays",
	decide.DryStore:      "stores kept at 65 % humidity",
	decide.EnoughRoom:    "room enough in the stores",
	decide.DryWood:       "wood kept dry",
	decide.ClearRoofs:    "clear sheets in place of solid roofs",
	decide.OpenStands:    "stands that are never closed",
	decide.EnoughPlant:   "plant enough within reach",
	decide.AnyRain:       "cutting in any rain",
	decide.ThinSpreading: "stalks spread at no more than 6 kg per m²",
	decide.TwiceTheStock: "twice the stock wanted ahead",
}

// neverDone are what a missed month may be understood by and what nobody may be advised to do:
// cutting in heavy rain, and from stands that are closed.
var neverDone = []decide.Relief{decide.AnyRain, decide.OpenStands}

// Advisable tells whether things that would have met missed months may be advised.
func Advisable(things []decide.Relief) bool {
	return !slices.ContainsFunc(things, func(r decide.Relief) bool { return slices.Contains(neverDone, r) })
}

// Advised returns the things that would have met most missed months and may be advised.
func Advised(list []decide.ShortOf) []decide.ShortOf {
	return slices.DeleteFunc(slices.Clone(list), func(s decide.ShortOf) bool { return !Advisable(s.Things) })
}

// Relief names one thing that may have been short.
func Relief(key decide.Relief) string { return reliefWords[key].String() }

// Things names one thing that would have met missed months, or two.
func Things(s decide.ShortOf) string {
	out := ""
	for k, key := range s.Things {
		if k > 0 {
			out += tongue.Say(", and ")
		}
		out += Relief(key)
	}
	return out
}

// reliefsInOrder names things that may be advised in the order of the alphabet.
func reliefsInOrder(keys []decide.Relief) []string {
	var out []string
	for _, key := range keys {
		if !Advisable([]decide.Relief{key}) {
			continue
		}
		out = append(out, Relief(key))
	}
	sort.Strings(out)
	return out
}
