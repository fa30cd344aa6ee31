package main

import (
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/url"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/page"
)

// get reads an address of the page.
func get(t *testing.T, address string) (int, string) {
	t.Helper()
	r, err := http.Get(address)
	require.NoError(t, err)
	defer func() { _ = r.Body.Close() }()
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	return r.StatusCode, string(body)
}

// The page, the command and its JSON give the same numbers for the same scenario and seed: a
// comparison, the odds of the plan alone, and the number of dryers.
func TestPageAndCommandAgree(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- page.New(version).Serve(ctx, l) }()
	t.Cleanup(func() {
		cancel()
		require.NoError(t, <-done)
	})
	address := "http://" + l.Addr().String()
	_, start := get(t, address)
	token := regexp.MustCompile(`name="token" value="(\w+)"`).FindStringSubmatch(start)[1]
	r, err := http.PostForm(address+"/start", url.Values{"token": {token}, "demo": {"one-cooperative"}})
	require.NoError(t, err)
	_ = r.Body.Close()
	plan := r.Request.URL.String()

	for _, tt := range []struct {
		name, ask, dryers, years string
		args                     []string
		part                     string
	}{
		{"a comparison", "compare", "2", "2", []string{"compare", "one-cooperative", "--with", "Heron Point: dryers=2", "--with", "money: dryer_life_years=2", "--futures", "30"}, "comparison"},
		{"the plan alone", "compare", "1", "8", []string{"odds", "one-cooperative", "--short", "30"}, "plan"},
		{"dryers", "dryers", "1", "8", []string{"dryers", "one-cooperative", "--search", "40", "--limit", "80", "--short", "30"}, "answer"},
	} {
		r, err := http.PostForm(plan, url.Values{"token": {token}, "ask": {tt.ask}, "seasons": {"40"}, "seed": {"3"}, "n:sites.Heron Point.dryers": {tt.dryers}, "n:money.dryer_life_years": {tt.years}})
		require.NoError(t, err)
		_ = r.Body.Close()
		require.Equal(t, http.StatusOK, r.StatusCode, tt.name)
		require.Eventually(t, func() bool {
			_, status := get(t, plan+"/status")
			return regexp.MustCompile(`"under_way":false`).MatchString(status)
		}, 2*time.Minute, 100*time.Millisecond)
		code, text := get(t, plan+"/file/answer.json")
		require.Equal(t, http.StatusOK, code, tt.name)
		var onPage struct {
			Sentence  string          `json:"sentence"`
			Paragraph string          `json:"paragraph"`
			Hash      string          `json:"scenario_hash"`
			Answer    json.RawMessage `json:"answer"`
		}
		require.NoError(t, json.Unmarshal([]byte(text), &onPage))

		code, out, errOut := runHere(t, append(tt.args, "--seasons", "40", "--seed", "3", "--json")...)
		require.Equal(t, exitDone, code, errOut)
		command := map[string]json.RawMessage{}
		require.NoError(t, json.Unmarshal([]byte(out), &command))
		assert.JSONEq(t, string(command[tt.part]), string(onPage.Answer), tt.name)
		var sentence, paragraph string
		require.NoError(t, json.Unmarshal(command["sentence"], &sentence))
		require.NoError(t, json.Unmarshal(command["paragraph"], &paragraph))
		assert.Equal(t, sentence, onPage.Sentence, tt.name)
		assert.Equal(t, paragraph, onPage.Paragraph, tt.name)
	}
}
