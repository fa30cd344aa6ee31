package main

import (
	"bytes"
	"context"
	"html/template"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
	"time"

	"drystalk/report/page"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

// opened opens a scenario on a page of its own and returns the address of its plan and the
// token of its forms.
func opened(t *testing.T, name, text string) (plan, token string) {
	t.Helper()
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
	token = regexp.MustCompile(`name="token" value="(\w+)"`).FindStringSubmatch(start)[1]
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	require.NoError(t, w.WriteField("token", token))
	file, err := w.CreateFormFile("file", name)
	require.NoError(t, err)
	_, err = io.WriteString(file, text)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	r, err := http.Post(address+"/upload", w.FormDataContentType(), &form)
	require.NoError(t, err)
	_ = r.Body.Close()
	require.Contains(t, r.Request.URL.Path, "/plan/")
	return r.Request.URL.String(), token
}

// The page gives the same bytes as the command line that it prints for whoever wants its
// numbers again, whatever is asked.
func TestPageAndCommandAgree(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	plan, token := opened(t, "plan.yaml", tiny)
	for _, tt := range []struct{ name, ask, dryers, june, line string }{
		{
			"a comparison", "compare", "2", "4700",
			`drystalk compare plan.yaml --with 'Stone Weir'\''s: dryers=2' --with 'contract: stalks_per_month.jun=4700' --seed 3 --seasons 30 --futures 32`,
		},
		{"the plan alone", "compare", "1", "4500", `drystalk odds plan.yaml --seed 3 --seasons 30 --short 7`},
		{
			"dryers", "dryers", "1", "4700",
			`drystalk dryers plan.yaml --with 'contract: stalks_per_month.jun=4700' --seed 3 --seasons 30 --search 31 --limit 61 --short 7`,
		},
		{"a dryer more", "second", "1", "4500", `drystalk compare plan.yaml --with 'Stone Weir'\''s: dryers=2' --seed 3 --seasons 30 --futures 32`},
		{"a promise", "promise", "1", "4500", `drystalk promise plan.yaml --seed 3 --seasons 30 --search 100`},
		{"a budget", "spend", "1", "4500", `drystalk spend plan.yaml --seed 3 --seasons 30 --budget 9000 --search 60`},
		{"ways", "ways", "1", "4500", `drystalk ways plan.yaml --seed 3 --seasons 30 --search 60 --judge 200 --climates 0 --most-c 0`},
		{"a season", "season", "2", "4500", `drystalk season plan.yaml --with 'Stone Weir'\''s: dryers=2' --seed 3 --number 4`},
	} {
		if slow := tt.ask == "spend" || tt.ask == "ways"; slow != (os.Getenv("DRYSTALK_LONG") != "") {
			continue // DRYSTALK_LONG=1, as in .ci/run, asks the slow questions, and these alone
		}
		r, err := http.PostForm(plan, url.Values{
			"token": {token}, "ask": {tt.ask}, "seasons": {"30"}, "seed": {"3"}, "search": {"31"}, "limit": {"61"}, "short": {"7"}, "futures": {"32"}, "second": {"Stone Weir's"}, "budget": {"9 000"}, "number": {"4"},
			"n:sites.Stone Weir's.dryers": {tt.dryers}, "n:contract.stalks_per_month.jun": {tt.june},
		})
		require.NoError(t, err)
		_ = r.Body.Close()
		require.Equal(t, http.StatusOK, r.StatusCode, tt.name)
		require.Eventually(t, func() bool {
			_, status := get(t, plan+"/status")
			return regexp.MustCompile(`"under_way":false`).MatchString(status)
		}, 2*time.Minute, 20*time.Millisecond)
		code, onPage := get(t, plan+"/file/answer.json")
		require.Equal(t, http.StatusOK, code, tt.name)
		said := printedLine(t, onPage)
		assert.Equal(t, tt.line, said, tt.name)
		if name := foundFiles[tt.ask]; name != "" {
			written := folderOf(t, said)
			assert.Equal(t, written["answer.json"], onPage, tt.name)
			code, found := get(t, plan+"/file/"+name)
			require.Equal(t, http.StatusOK, code, name)
			assert.Equal(t, written[name], found, name)
			continue
		}
		code, out, errOut := runHere(t, append(shellWords(t, said)[1:], "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.Equal(t, out, onPage, tt.name)
		_, shown := get(t, plan)
		assert.Contains(t, shown, "<code>"+template.HTMLEscapeString(said)+"</code>", tt.name)
	}
}

// A plan from a file whose name a command line would take for something else, a demo or a flag,
// prints a line that gives its numbers all the same.
func TestPageLineOfOddFileNames(t *testing.T) {
	for _, name := range []string{"lake-tavari", "-plan.yaml", "it's mine.yaml"} {
		t.Chdir(t.TempDir())
		require.NoError(t, os.WriteFile(name, []byte(tiny), 0o644))
		plan, token := opened(t, name, tiny)
		r, err := http.PostForm(plan, url.Values{"token": {token}, "ask": {"compare"}, "seasons": {"30"}, "short": {"1"}})
		require.NoError(t, err)
		_ = r.Body.Close()
		require.Equal(t, http.StatusOK, r.StatusCode, name)
		require.Eventually(t, func() bool {
			_, status := get(t, plan+"/status")
			return regexp.MustCompile(`"under_way":false`).MatchString(status)
		}, 2*time.Minute, 20*time.Millisecond)
		_, onPage := get(t, plan+"/file/answer.json")
		code, out, errOut := runHere(t, append(shellWords(t, printedLine(t, onPage))[1:], "--json")...)
		require.Equal(t, exitDone, code, errOut)
		assert.Equal(t, out, onPage, name)
	}
}

// foundFiles are the files that two questions find, for other commands to take.
var foundFiles = map[string]string{"spend": "bought.yaml", "ways": "ways.yaml"}

// folderOf runs a printed line and returns what it writes, by name.
func folderOf(t *testing.T, line string) map[string]string {
	t.Helper()
	return filesOf(t, shellWords(t, line)[1:]...)
}

// filesOf runs a command and returns what it writes, by name.
func filesOf(t *testing.T, args ...string) map[string]string {
	t.Helper()
	out := t.TempDir()
	code, _, errOut := runHere(t, append(slices.Clone(args), "--out", out)...)
	require.Equal(t, exitDone, code, errOut)
	list, err := os.ReadDir(out)
	require.NoError(t, err)
	written := map[string]string{}
	for _, one := range list {
		data, err := os.ReadFile(filepath.Join(out, one.Name()))
		require.NoError(t, err)
		written[one.Name()] = string(data)
	}
	require.NotEmpty(t, written)
	return written
}
