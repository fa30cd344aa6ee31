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
