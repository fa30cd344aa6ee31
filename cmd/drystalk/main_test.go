package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/decide"
)

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"program": main}) }

// here is the folder that the process works in: one script at a time.
var here sync.Mutex

// inProcess runs a command of a script without a process of its own, so that the scripts share
// what takes a moment to build. A command that is to fail must fail as a wrong command line or
// file does, with exit code 2.
func inProcess(ts *testscript.TestScript, fails bool, args []string) {
	here.Lock()
	defer here.Unlock()
	before, err := os.Getwd()
	ts.Check(err)
	ts.Check(os.Chdir(ts.MkAbs(".")))
	defer func() { ts.Check(os.Chdir(before)) }()
	want := exitDone
	if fails {
		want = exitUsage
	}
	if code := run(context.Background(), args, ts.Stdout(), ts.Stderr()); code != want {
		ts.Fatalf("exit code %d instead of %d", code, want)
	}
}

// The commands as users type them; one topic a file. "exec program" is the program itself.
func TestScripts(t *testing.T) {
	dir, err := filepath.Abs("../../testdata/script")
	require.NoError(t, err)
	scenarios, err := filepath.Abs("../../testdata/scenarios")
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Setup: func(e *testscript.Env) error {
			e.Setenv("SCENARIOS", scenarios)
			return nil
		},
		Dir: dir, Cmds: map[string]func(*testscript.TestScript, bool, []string){"drystalk": inProcess},
	})
}

// Every broken scenario ends with exit code 2, one line on standard error, nothing on
// standard output and no file written.
func TestBrokenScenariosExitWithTwo(t *testing.T) {
	files, err := filepath.Glob("../../testdata/scenarios/*.bad.yaml")
	require.NoError(t, err)
	for _, file := range files {
		var out, errOut bytes.Buffer
		dir := filepath.Join(t.TempDir(), "out")
		code := run(context.Background(), []string{"odds", file, "--out", dir}, &out, &errOut)
		assert.Equal(t, exitUsage, code, file)
		assert.Empty(t, out.String(), file)
		assert.Equal(t, 1, strings.Count(errOut.String(), "\n"), errOut.String())
		assert.True(t, strings.HasPrefix(errOut.String(), "error: "+file+":"), errOut.String())
		assert.NoDirExists(t, dir)
	}
}

// What the sentence says are the numbers of the JSON answer, and neither depends on the
// number of workers.
func TestSentenceAndJSONAgree(t *testing.T) {
	file := filepath.Join(t.TempDir(), "tiny.yaml")
	unpriced := regexp.MustCompile(`(?m)^money: .*\n`).ReplaceAllString(tiny, "")
	require.NoError(t, os.WriteFile(file, []byte(unpriced), 0o644))
	answer := func(workers string) string {
		var out, errOut bytes.Buffer
		code := run(context.Background(), []string{"dryers", file, "--seasons", "40", "--limit", "80", "--short", "3", "--search", "30", "--json", "--workers", workers}, &out, &errOut)
		require.Equal(t, exitDone, code, errOut.String())
		return out.String()
	}
	text := answer("1")
	assert.Equal(t, text, answer("2"))
	assert.Equal(t, text, answer("7"))
	var got struct {
		Sentence string        `json:"sentence"`
		Answer   decide.Answer `json:"answer"`
	}
	require.NoError(t, json.Unmarshal([]byte(text), &got))
	require.GreaterOrEqual(t, got.Answer.Needed, 0)
	worst := got.Answer.Plans[got.Answer.Needed].WorstMonth()
	o := worst.Odds
	assert.Contains(t, got.Sentence, fmt.Sprintf("the worst month, %s, is met in %.0f of 100 trial seasons (%.0f to ", worst.Name, 100*o.Share, 100*o.Low))
	assert.InDelta(t, o.Share, float64(o.Met)/float64(o.Seasons), 1e-12)
	assert.Contains(t, []int{40, 80}, o.Seasons)
}

// The numbers in the report and its JSON are those on the terminal.
func TestReportHoldsTheSentence(t *testing.T) {
	dir := t.TempDir()
	var out, errOut bytes.Buffer
	code := run(context.Background(), []string{"odds", "../../testdata/scenarios/small.good.yaml", "--seasons", "60", "--out", dir}, &out, &errOut)
	require.Equal(t, exitDone, code, errOut.String())
	sentence, _, _ := strings.Cut(out.String(), "\n\n")
	sentence = strings.ReplaceAll(sentence, "\n", " ")
	page, err := os.ReadFile(filepath.Join(dir, "report.html"))
	require.NoError(t, err)
	assert.Contains(t, string(page), sentence)
	data, err := os.ReadFile(filepath.Join(dir, "answer.json"))
	require.NoError(t, err)
	assert.Contains(t, string(data), sentence)
	assert.Contains(t, string(page), "Cautions")
}

// A run that is interrupted says so and writes nothing.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	dir := filepath.Join(t.TempDir(), "out")
	var out, errOut bytes.Buffer
	assert.Equal(t, exitFailed, run(ctx, []string{"dryers", "--out", dir}, &out, &errOut))
	assert.Empty(t, out.String())
	assert.Contains(t, errOut.String(), "stopped")
	assert.NoDirExists(t, dir)
}
