package scenarios

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// conforms checks the parts of a JSON Schema that ours uses: types, limits, required and
// unknown keys.
func conforms(t *testing.T, schema map[string]any, value any, path string) {
	t.Helper()
	properties, isObject := schema["properties"].(map[string]any)
	if m, ok := value.(map[string]any); ok {
		if forms, several := schema["oneOf"].([]any); several { // a name or a group of keys
			conforms(t, forms[1].(map[string]any), value, path)
			return
		}
		require.Equal(t, "object", schema["type"], path)
		for key, v := range m {
			s, known := properties[key].(map[string]any)
			if !known {
				s, known = schema["additionalProperties"].(map[string]any)
			}
			require.True(t, known, "%s.%s is not in the schema", path, key)
			conforms(t, s, v, path+"."+key)
		}
		if required, ok := schema["required"].([]any); ok && isObject {
			for _, key := range required {
				assert.Contains(t, m, key, path)
			}
		}
		return
	}
	var number float64
	switch v := value.(type) {
	case uint64:
		number = float64(v)
	case int64:
		number = float64(v)
	case float64:
		number = v
	default:
		return
	}
	if low, ok := schema["minimum"].(float64); ok {
		assert.GreaterOrEqual(t, number, low, path)
	}
	if high, ok := schema["maximum"].(float64); ok {
		assert.LessOrEqual(t, number, high, path)
	}
}

// Everything the program writes, with every key stated, conforms to the schema it gives to
// editors; so no key of the tables is missing there.
func TestSchemaKnowsEveryKey(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var schema map[string]any
	require.NoError(t, json.Unmarshal(text, &schema))
	for _, name := range []string{LakeTavari, OneCooperative} {
		s, err := Demo(name)
		require.NoError(t, err)
		var written map[string]any
		require.NoError(t, yaml.Unmarshal(s.Write(), &written))
		conforms(t, schema, written, name)
	}
	lakes := read(t, strings.Replace(twoStations("81"), "dryers: 1,", "dryers: 1, weather: {wmo_station: 43057, monsoon: {onset: 6 jun, withdrawal: 28 sep}},", 1))
	var written map[string]any
	require.NoError(t, yaml.Unmarshal(lakes.Write(), &written))
	require.Contains(t, written, "weathers")
	conforms(t, schema, written, "two lakes")
	again, err := Schema()
	require.NoError(t, err)
	assert.Equal(t, string(text), string(again))
}

// What is no row of a table has the same bounds in the schema as for the reader: at each bound
// both take a value, beyond it neither.
func TestSchemaBoundsBesideTheTables(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var root map[string]any
	require.NoError(t, json.Unmarshal(text, &root))
	at := func(path ...string) map[string]any {
		s := root
		for _, part := range path {
			s = s["properties"].(map[string]any)[part].(map[string]any)
		}
		return s
	}
	type bound struct {
		path   string
		schema map[string]any
	}
	bounds := []bound{
		{"season.days", at("season", "days")},
		{"contract.stalks_per_month.jun", at("contract", "stalks_per_month", "jun")},
		{"contract.target_stock_stalks.jul", at("contract", "target_stock_stalks", "jul")},
		{"moves[1].cost", at("moves")["items"].(map[string]any)["properties"].(map[string]any)["cost"].(map[string]any)},
		{"moves[1].days_lost", at("moves")["items"].(map[string]any)["properties"].(map[string]any)["days_lost"].(map[string]any)},
		{"people.away[1].fraction", at("people", "away")["items"].(map[string]any)["properties"].(map[string]any)["fraction"].(map[string]any)},
	}
	for _, key := range []string{"rain_mm", "rain_days", "tmax_c", "tmin_c"} {
		months := at("weather", "normals", key)["prefixItems"].([]any)
		require.Len(t, months, 12, key)
		for m, month := range monthNames {
			bounds = append(bounds, bound{"weather.normals." + key + "[" + month + "]", months[m].(map[string]any)})
		}
	}
	s := whole(t)
	require.NotEmpty(t, s.Knowledge.Ranges)
	for _, k := range s.Knowledge.Ranges {
		path := "knowledge." + string(k.Key)
		bounds = append(bounds, bound{path + ".low", at("knowledge", string(k.Key), "low")}, bound{path + ".high", at("knowledge", string(k.Key), "high")})
	}
	for _, b := range bounds {
		low, high := b.schema["minimum"].(float64), b.schema["maximum"].(float64)
		step := 1.0
		if b.schema["type"] == "number" {
			step = 1e-6 * max(1, high)
		}
		said := plain(low) + " to " + plain(high)
		for _, x := range []float64{low, high} {
			for _, f := range tried(t, s, b.path, plain(x)) {
				assert.NotContains(t, f.Allowed, said, "%s = %s", b.path, plain(x))
			}
		}
		for _, x := range []float64{low - step, high + step} {
			faults := tried(t, s, b.path, plain(x))
			require.NotEmpty(t, faults, "%s = %s", b.path, plain(x))
			assert.Equal(t, b.path, faults[0].Key)
			assert.Contains(t, faults[0].Allowed, said, b.path)
		}
	}
}

// Editors warn of unknown keys wherever the reader does, of lists that are too long and of
// what is missing: every group of the schema is closed but the sites and weathers, which have names.
func TestSchemaIsClosed(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var root map[string]any
	require.NoError(t, json.Unmarshal(text, &root))
	groups, required := 0, map[string][]string{}
	var walk func(s map[string]any, path string)
	walk = func(s map[string]any, path string) {
		if list, ok := s["required"].([]any); ok {
			for _, key := range list {
				required[path] = append(required[path], key.(string))
			}
		}
		if items, ok := s["items"].(map[string]any); ok && items["type"] == "object" {
			assert.Equal(t, 100.0, s["maxItems"], path)
			walk(items, path+"[]")
		}
		if forms, ok := s["oneOf"].([]any); ok {
			require.Len(t, forms, 2, path)
			walk(forms[1].(map[string]any), path)
		}
		if s["type"] != "object" {
			return
		}
		groups++
		if path == ".sites" || path == ".weathers" {
			walk(s["additionalProperties"].(map[string]any), path+".*")
			return
		}
		assert.Equal(t, false, s["additionalProperties"], path)
		require.NotEmpty(t, s["properties"], path)
		for key, v := range s["properties"].(map[string]any) {
			walk(v.(map[string]any), path+"."+key)
		}
	}
	walk(root, "")
	assert.Equal(t, 50, groups, "the file, 15 groups, 3 lists, months twice, normals, monsoon, a site, 19 ranges; weathers, and twice a weather with normals and monsoon")
	range3 := []string{"low", "mode", "high"}
	want := map[string][]string{
		"": {"region", "season", "weather", "contract", "sites"}, ".season": {"start", "days"}, ".sites.*": {"cutters", "stalks_per_person_h", "open_rack_m2"},
		".money": {"price_per_good_stalk", "pay_per_stalk_cut", "wood_per_kg", "dryer_cost"},
	}
	for _, k := range whole(t).Knowledge.Ranges {
		want[".knowledge."+string(k.Key)] = range3
	}
	assert.Equal(t, want, required)
	sites := root["properties"].(map[string]any)["sites"].(map[string]any)
	assert.Equal(t, []any{1.0, 60.0}, []any{sites["minProperties"], sites["maxProperties"]})
}

// What is written in words, dates and lists has its kind in the schema too, and descriptions
// tell meaning and unit.
func TestSchemaBesideNumbers(t *testing.T) {
	text, err := Schema()
	require.NoError(t, err)
	var root map[string]any
	require.NoError(t, json.Unmarshal(text, &root))
	at := func(path string) map[string]any {
		s := root
		for _, part := range strings.Split(path, ".") {
			switch part {
			case "[]":
				s = s["items"].(map[string]any)
			case "*":
				s = s["additionalProperties"].(map[string]any)
			default:
				s = s["properties"].(map[string]any)[part].(map[string]any)
			}
		}
		return s
	}
	for _, path := range []string{
		"region", "currency", "numbers_as_in", "season.start", "weather.climate_file", "weather.monsoon.onset", "weather.monsoon.withdrawal", "people.away.[].from", "people.away.[].to", "people.away.[].name",
		"moves.[].from", "moves.[].to", "moves.[].on", "sites.*.haul_to", "sites.*.closed.[].from", "sites.*.closed.[].to", "sites.*.closed.[].why",
	} {
		assert.Equal(t, "string", at(path)["type"], path)
	}
	assert.Equal(t, []any{"string", "number"}, at("weather.wmo_station")["type"])
	assert.Equal(t, "boolean", at("knowledge.fixed")["type"])
	assert.Equal(t, "boolean", at("invented")["type"])
	for path, bounds := range map[string][]any{
		"season.days": {"integer", 1.0, 365.0}, "moves.[].days_lost": {"integer", 0.0, 365.0}, "moves.[].cost": {"number", 0.0, 1e9}, "people.away.[].fraction": {"number", 0.0, 1.0},
		"sites.*.closed.[].removed_fraction": {"number", 0.0, 1.0}, "contract.stalks_per_month.feb": {"integer", 0.0, 1e8}, "contract.target_stock_stalks.dec": {"integer", 0.0, 1e8},
		"sites.*.latitude_deg": {"number", -60.0, 60.0}, "sites.*.longitude_deg": {"number", -180.0, 180.0}, "knowledge.mould_factor.mode": {"number", 0.2, 12.5}, "knowledge.accepted_share.high": {"number", 0.16, 1.0},
	} {
		s := at(path)
		assert.Equal(t, bounds, []any{s["type"], s["minimum"], s["maximum"]}, path)
	}
	assert.Len(t, at("contract.stalks_per_month")["properties"], 12)
	rain := at("weather.normals.rain_days")
	assert.Equal(t, []any{"array", 12.0, 12.0, "days with at least 1 mm, January to December, days"}, []any{rain["type"], rain["minItems"], rain["maxItems"], rain["description"]})
	february := rain["prefixItems"].([]any)[1].(map[string]any)
	assert.Equal(t, []any{"number", 0.0, 28.0}, []any{february["type"], february["minimum"], february["maximum"]})
	assert.Equal(t, "people who cut, people; required", at("sites.*.cutters")["description"])
	assert.Equal(t, "dryers of the plan as written; if missing 0 (none stated)", at("sites.*.dryers")["description"])
	assert.Equal(t, "mould growth times pine", at("knowledge.mould_factor")["description"])
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", root["$schema"])
}
