package main

import (
	"context"
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

// The page and the command give the same bytes for the same scenario, options and seed: a
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
	}{
		{"a comparison", "compare", "2", "1", []string{"compare", "one-cooperative", "--with", "Heron Point: dryers=2", "--with", "money: dryer_life_years=1"}},
		{"the plan alone", "compare", "1", "8", []string{"odds", "one-cooperative"}},
		{"dryers", "dryers", "1", "8", []string{"dryers", "one-cooperative"}},
	} {
		r, err := http.PostForm(plan, url.Values{"token": {token}, "ask": {tt.ask}, "seasons": {"40"}, "seed": {"3"}, "n:sites.Heron Point.dryers": {tt.dryers}, "n:money.dryer_life_years": {tt.years}})
		require.NoError(t, err)
		_ = r.Body.Close()
		require.Equal(t, http.StatusOK, r.StatusCode, tt.name)
		require.Eventually(t, func() bool {
			_, status := get(t, plan+"/status")
			return regexp.MustCompile(`"under_way":false`).MatchString(status)
		}, 2*time.Minute, 100*time.Millisecond)
		code, onPage := get(t, plan+"/file/answer.json")
		require.Equal(t, http.StatusOK, code, tt.name)
		code, out, errOut := runHere(t, append(tt.args, "--seasons", "40", "--seed", "3", "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.Equal(t, out, onPage, tt.name)
	}
}
