package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// answerDefs are the parts of the schema that it refers to.
var answerDefs map[string]map[string]any

// keeps lists where a JSON value does not keep to a schema, for the words that the schema of
// answers uses (JSON Schema, draft 2020-12).
func keeps(schema map[string]any, v any, at string) (off []string) {
	if ref, ok := schema["$ref"].(string); ok {
		def := answerDefs[strings.TrimPrefix(ref, "#/$defs/")]
		if def == nil {
			return []string{at + ": nothing stands under " + ref}
		}
		return keeps(def, v, at)
	}
	if want, ok := schema["const"]; ok {
		if want != v {
			return []string{fmt.Sprintf("%s: %v instead of %v", at, v, want)}
		}
		return nil
	}
	types, ok := schema["type"].([]any)
	if !ok {
		types = []any{schema["type"]}
	}
	if is := typeOf(v); !slices.Contains(types, any(is)) && (is != "integer" || !slices.Contains(types, any("number"))) {
		return []string{fmt.Sprintf("%s: is %s, not %v", at, is, types)}
	}
	switch v := v.(type) {
	case []any:
		for i, x := range v {
			off = append(off, keeps(schema["items"].(map[string]any), x, fmt.Sprintf("%s[%d]", at, i))...)
		}
	case map[string]any:
		known := schema["properties"].(map[string]any)
		for key, x := range v {
			if known[key] == nil {
				off = append(off, at+"."+key+": is not in the schema")
				continue
			}
			off = append(off, keeps(known[key].(map[string]any), x, at+"."+key)...)
		}
		for _, key := range schema["required"].([]any) {
			if _, ok := v[key.(string)]; !ok {
				off = append(off, at+"."+key.(string)+": is missing")
			}
		}
	}
	return off
}

// typeOf names the type of a JSON value.
func typeOf(v any) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case bool:
		return "boolean"
	case float64:
		if v == math.Trunc(v) {
			return "integer"
		}
		return "number"
	case string:
		return "string"
	case []any:
		return "array"
	}
	return "object"
}

// answerSchemas returns the schema of each question.
func answerSchemas(t *testing.T) map[string]map[string]any {
	t.Helper()
	code, text, errOut := runHere(t, "check", "--answer-schema")
	require.Equal(t, exitDone, code, errOut)
	var all struct {
		Description string                    `json:"description"`
		OneOf       []map[string]any          `json:"oneOf"`
		Defs        map[string]map[string]any `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal([]byte(text), &all))
	assert.Contains(t, all.Description, "`currency`")
	answerDefs = all.Defs
	out := map[string]map[string]any{}
	for _, s := range all.OneOf {
		out[s["title"].(string)] = s
	}
	return out
}

// Every JSON answer keeps to the schema that the program prints; its keys are small letters, its
// lists are never null, and it names its form, its question and its currency.
func TestAnswersKeepToTheirSchema(t *testing.T) {
	schemas := answerSchemas(t)
	fittedScenario(t)
	charges, err := filepath.Abs("../../testdata/logs/lake_tavari_charges.csv")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	record, err := os.ReadFile(colabaRecord)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile("station.csv", []byte(strings.Join(strings.SplitAfter(string(record), "\n")[:1500], "")), 0o644))
	asked := [][]string{
		{"odds", "plan.yaml", "--seasons", "31", "--record", "station.csv", "--draws", "2"},
		{"odds", "plan.yaml", "--seasons", "30", "--with", "contract: stalks_per_month.jun=100"},
		{"spend", "plan.yaml", "--seasons", "31", "--search", "30", "--budget", "1"},
		{"spend", "plan.yaml", "--seasons", "31", "--search", "30", "--cheapest"},
		{"season", "plan.yaml"},
		{"charge", "plan.yaml"},
		{"check", "plan.yaml"},
		{"fit", "charges", charges, "--scenario", "plan.yaml"},
		{"fit", "output", strings.Replace(charges, "charges", "output", 1), "--scenario", "plan.yaml"},
		{"fit", "racks", strings.Replace(charges, "charges", "racks", 1), "--scenario", "plan.yaml", "--record", strings.Replace(charges, "charges", "racks_weather", 1)},
	}
	answers := []string{string(fitted.numbers)}
	for _, args := range asked {
		code, out, errOut := runHere(t, append(args, "--json")...)
		require.Equal(t, exitDone, code, errOut)
		answers = append(answers, out)
	}
	require.Len(t, tinyAsked, 9)
	for name := range tinyAsked {
		answers = append(answers, writtenOf(t, name)["answer.json"])
	}
	camel := regexp.MustCompile(`"[^"\s]*[A-Z][^"\s]*":`)
	seen := map[string]bool{}
	for _, text := range answers {
		var v map[string]any
		require.NoError(t, json.Unmarshal([]byte(text), &v))
		question := v["question"].(string)
		seen[question] = true
		require.Contains(t, schemas, question)
		assert.Empty(t, keeps(schemas[question], v, question))
		assert.Empty(t, camel.FindAllString(text, 5), question)
		if !strings.HasPrefix(question, "fit ") {
			assert.Equal(t, "coins", v["currency"], question)
		}
	}
	assert.Len(t, seen, len(schemas), "every question was asked")
	broken := map[string]any{"question": "check", "Seed": 1.0, "warnings": nil}
	assert.Greater(t, len(keeps(schemas["check"], broken, "check")), 5, "the check can fail")
}

// The file that a command writes is the answer that it prints as JSON, to the byte.
func TestAnswerFileIsThePrintedAnswer(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	for _, name := range []string{"odds", "dryers", "compare", "promise", "spend", "ways", "ahead"} {
		code, printed, errOut := runHere(t, append(tinyAsked[name], "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.Equal(t, printed, writtenOf(t, name)["answer.json"], name)
		assert.True(t, strings.HasPrefix(printed, "{\n  \"schema_version\": 2,\n"), name)
	}
}
