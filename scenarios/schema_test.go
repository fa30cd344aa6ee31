package scenarios

import (
	"encoding/json"
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
