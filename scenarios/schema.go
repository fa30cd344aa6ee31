package scenarios

import (
	"encoding/json"
	"slices"

	"drystalk/sim/knowledge"
	"drystalk/tongue"
)

// object is a piece of a JSON Schema.
type object = map[string]any

// Schema returns the JSON Schema (draft 2020-12) of a scenario for editors, made from the
// tables the reader goes by. Editors read YAML with it too.
func Schema() ([]byte, error) {
	normals := object{}
	for i := range monthlyFields {
		normals[monthlyFields[i].key] = monthlyFields[i].schema()
	}
	byMonth := monthsSchema()
	contract := group(contractFields, object{"stalks_per_month": byMonth, "target_stock_stalks": byMonth})
	weather := group(append(append([]field(nil), placeFields...), climateFields...), object{
		"wmo_station": object{"type": []string{"string", "number"}}, "climate_file": object{"type": "string"},
		"normals": object{"type": "object", "additionalProperties": false, "properties": normals},
		"monsoon": group(monsoonFields, object{"onset": object{"type": "string"}, "withdrawal": object{"type": "string"}}),
	})
	delete(weather, "required") // what is needed depends on where the weather comes from
	local := group(placeFields, object{})
	delete(local, "required")
	for _, key := range append(slices.Clone(kinds), "monsoon") {
		local["properties"].(object)[key] = weather["properties"].(object)[key]
	}
	known := object{"fixed": object{"type": "boolean"}}
	for _, k := range knowledge.Table() {
		known[string(k.Key)] = rangeSchema(&k)
	}
	known[measuredKey] = object{
		"description": tongue.Say("files that fit charges, fit racks and fit output wrote: ranges measured by the group"),
		"oneOf":       []object{{"type": "string"}, {"type": "array", "minItems": 1, "maxItems": mostMeasured, "items": object{"type": "string"}}},
	}
	site := group(siteFields, object{})
	site["properties"].(object)["closed"] = listOf(object{
		"from": object{"type": "string"}, "to": object{"type": "string"}, "why": object{"type": "string"}, "removed_fraction": share,
	})
	site["properties"].(object)["haul_to"] = object{"type": "string", "description": tongue.Say("site whose dryers get stalks of this one")}
	site["properties"].(object)["weather"] = object{
		"description": tongue.Say("a weather of the group weathers by its name, or one of its own; if missing that of the region"),
		"oneOf":       []object{{"type": "string"}, local},
	}
	for i := range coordinateFields {
		site["properties"].(object)[coordinateFields[i].key] = coordinateFields[i].schema()
	}
	return json.MarshalIndent(object{
		"$schema": "https://json-schema.org/draft/2020-12/schema",
		"title":   "drystalk scenario", "type": "object", "additionalProperties": false,
		"required": []string{"region", "season", "weather", "contract", "sites"},
		"properties": object{
			"region": object{"type": "string"}, "invented": object{"type": "boolean", "description": tongue.Say("the place and its numbers are made up, as those of the demos; answers say so")}, "currency": object{"type": "string"}, "numbers_as_in": object{"type": "string", "description": tongue.Say("language and country, as a BCP 47 tag, whose way of writing numbers answers use: en-IN for 13,22,350.5, fr for 1 322 350,5; 1,322,350.5 where it is missing")},
			"season": object{
				"type": "object", "additionalProperties": false, "required": []string{"start", "days"},
				"properties": object{"start": object{"type": "string"}, "days": object{"type": "integer", "minimum": 1, "maximum": 365}},
			},
			"weather": weather, "weathers": object{"type": "object", "maxProperties": 60, "additionalProperties": local}, "contract": contract, "hub": group(hubFields, nil), "dryer": group(dryerFields, nil),
			"yard": group(yardFields, nil), "luck": group(luckFields, nil), "road": group(roadFields, nil), "stand": group(standFields, nil),
			"people": group(append(append([]field(nil), peopleFields...), plantingFields...), object{"away": listOf(object{
				"from": object{"type": "string"}, "to": object{"type": "string"}, "name": object{"type": "string"}, "fraction": share,
			})}),
			"store": group(storeFields, nil),
			"money": group(moneyFields, nil),
			"moves": listOf(object{
				"from": object{"type": "string"}, "to": object{"type": "string"}, "on": object{"type": "string"},
				"days_lost": object{"type": "integer", "minimum": 0, "maximum": 365}, "cost": object{"type": "number", "minimum": 0, "maximum": dearestMove},
			}),
			"trouble":   group(troubleFields, nil),
			"knowledge": object{"type": "object", "additionalProperties": false, "properties": known},
			"sites":     object{"type": "object", "minProperties": 1, "maxProperties": 60, "additionalProperties": site},
		},
	}, "", "  ")
}

// schema returns the schema of twelve numbers, January to December.
func (f *monthly) schema() object {
	var months []object
	for m := range 12 {
		low, high := f.bounds(m)
		months = append(months, object{"type": "number", "minimum": low, "maximum": high})
	}
	return object{
		"description": tongue.Plainf("%s, January to December, %s", f.meaning, f.unit),
		"type":        "array", "minItems": 12, "maxItems": 12, "prefixItems": months, "items": object{"type": "number"},
	}
}

// monthsSchema is the schema of stalks by month.
func monthsSchema() object {
	months := object{}
	for _, m := range monthNames {
		months[m] = object{"type": "integer", "minimum": 0, "maximum": mostStalks}
	}
	return object{"type": "object", "additionalProperties": false, "properties": months}
}

// rangeSchema is the schema of a range of knowledge.
func rangeSchema(k *knowledge.Range) object {
	low, high := farthest(k)
	bound := object{"type": "number", "minimum": low, "maximum": high}
	return object{
		"description": k.Name.String() + " " + k.Unit.String(), "type": "object", "additionalProperties": false, "required": []string{"low", "mode", "high"},
		"properties": object{"low": bound, "mode": bound, "high": bound, "shape": object{"enum": []string{"triangle", "even"}}},
	}
}

// share is the schema of a fraction.
var share = object{"type": "number", "minimum": 0, "maximum": 1}

// listOf returns the schema of a list of groups of keys.
func listOf(properties object) object {
	return object{"type": "array", "maxItems": mostEntries, "items": object{"type": "object", "additionalProperties": false, "properties": properties}}
}

// group returns the schema of a group of keys.
func group(fields []field, more object) object {
	properties, required := object{}, []string{}
	for i := range fields {
		properties[fields[i].key] = fields[i].schema()
		if fields[i].missing == "" {
			required = append(required, fields[i].key)
		}
	}
	for k, v := range more {
		properties[k] = v
	}
	out := object{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		out["required"] = required
	}
	return out
}

// schema returns the schema of one key.
func (f *field) schema() object {
	meaning := f.meaning.String()
	if f.unit != "" {
		meaning += ", " + f.unit
	}
	out := object{"description": meaning + "; " + f.ifMissing()}
	switch {
	case f.flag != nil:
		out["type"] = "boolean"
	case f.choice != nil:
		out["enum"] = f.choices
	default:
		out["type"] = "number"
		if f.whole != nil {
			out["type"] = "integer"
		}
		out["minimum"], out["maximum"] = f.low, f.high
	}
	return out
}
