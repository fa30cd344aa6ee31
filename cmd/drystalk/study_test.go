package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/columns"
	"drystalk/report/folder"
	"drystalk/scenarios"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
)

// tinyStudy is a study of two points in many small shards.
const tinyStudy = `study: tiny
scenario: plan.yaml
seasons: 120
block_seasons: 6
seed: 5
factors:
  dryers: {key: "sites.Stone Weir's.dryers", values: [0, 1]}
`

// withTinyStudy puts a study and its scenario into the folder that the test works in.
func withTinyStudy(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, os.WriteFile("tiny.yaml", []byte(tinyStudy), 0o644))
}

// outcome returns what the manifest of a finished study states.
func outcome(t *testing.T, dir string) folder.Outcome {
	t.Helper()
	m, err := folder.Read(dir)
	require.NoError(t, err)
	require.NotNil(t, m.Result)
	return *m.Result
}

// The command gives the digest of a study that a program puts together from the public packages,
// whatever the number of workers, with a table of all its rows.
func TestStudyIsThatOfAProgram(t *testing.T) {
	withTinyStudy(t)
	code, out, errOut := runHere(t, "study", "tiny.yaml", "--workers", "2", "--table", "rows.parquet")
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, `In the study "tiny" all contract months of a season are met`)

	plan, err := scenarios.Read("plan.yaml", []byte(tiny))
	require.NoError(t, err)
	s := &study.Study{Seed: 5, Seasons: 120, Block: 6, Factors: []tidy.Column{{Name: "dryers", Kind: tidy.Real}}}
	for n := range 2 {
		with, err := plan.With([]string{fmt.Sprintf("Stone Weir's: dryers=%d", n)})
		require.NoError(t, err)
		s.Points = append(s.Points, study.Point{Name: fmt.Sprintf("dryers %d", n), Levels: []tidy.Cell{tidy.Count(n)}, Plan: with})
	}
	var store study.Memory
	todo, err := s.Missing(context.Background(), &store)
	require.NoError(t, err)
	require.NoError(t, s.Fill(context.Background(), &store, todo, 1, nil))
	result, err := s.Merge(context.Background(), &store, nil)
	require.NoError(t, err)
	assert.Equal(t, result.Digest, outcome(t, "out/tiny").Digest)
	rows, err := columns.ReadFile("rows.parquet")
	require.NoError(t, err)
	assert.Len(t, rows.Rows, 240)

	code, out, errOut = runHere(t, "study", "verify", "out/tiny", "--fraction", "0.1")
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "4 of 40 shards were worked out again and came out the same; the 240 rows have the digest "+result.Digest)
}

// long skips what takes a while unless it is asked for.
func long(t *testing.T) {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG is not set")
	}
}

// started starts the program itself as a process.
func started(t *testing.T, program string, args ...string) (*exec.Cmd, *strings.Builder) {
	t.Helper()
	cmd, said := exec.Command(program, args...), &strings.Builder{}
	cmd.Stdout, cmd.Stderr = said, said
	require.NoError(t, cmd.Start())
	return cmd, said
}

// A study that is killed at any moment, again and again, goes on from what is on the disk and ends
// with the digest of one that was not.
func TestStudyIsResumedAfterKills(t *testing.T) {
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	studies, kills := 1, 2
	if os.Getenv("DRYSTALK_LONG") != "" {
		studies, kills = 4, 5
	}
	random := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 1))
	for n := range studies {
		dir := filepath.Join("killed", string(rune('a'+n)))
		killed := 0
		for range kills {
			cmd, _ := started(t, "program", "study", "tiny.yaml", "--out", dir)
			time.Sleep(time.Duration(50+random.IntN(700)) * time.Millisecond)
			require.NoError(t, cmd.Process.Kill())
			if err := cmd.Wait(); err != nil {
				killed++
			}
		}
		cmd, said := started(t, "program", "study", "tiny.yaml", "--out", dir)
		require.NoError(t, cmd.Wait(), said)
		assert.Equal(t, outcome(t, "whole").Digest, outcome(t, dir).Digest, "after %d kills", killed)
		left, err := filepath.Glob(filepath.Join(dir, "parts", ".fresh-*"))
		require.NoError(t, err)
		assert.Empty(t, left)
	}
}

// Shares that run side by side in one folder are put together to the digest of the whole; before
// all are there, and where parts were taken away, the study is said to be incomplete and never
// finished smaller.
func TestSharesAreOneStudy(t *testing.T) {
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	code, out, errOut := runHere(t, "study", "tiny.yaml", "--out", "shared", "--share", "2/3")
	require.Equal(t, exitDone, code, errOut)
	assert.Contains(t, out, "Share 2 of 3 of the study tiny is done: 13 shards in shared. Of the whole study 27 shards are missing. When all are there: drystalk study finish shared")
	code, _, errOut = runHere(t, "study", "finish", "shared")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "error: incomplete: 27 of 40 shards are missing (point0001-00000000-00000005, ")
	require.NoError(t, os.Remove("whole/parts/point0002-00000006-00000011.parquet"))
	code, _, errOut = runHere(t, "study", "finish", "whole")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "incomplete: 1 of 40 shards are missing (point0002-00000006-00000011)")
	long(t)
	code, _, errOut = runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	first, said := started(t, "program", "study", "tiny.yaml", "--out", "elsewhere", "--share", "1/2")
	second, saidToo := started(t, "program", "study", "tiny.yaml", "--out", "elsewhere", "--share", "2/2")
	require.NoError(t, first.Wait(), said)
	require.NoError(t, second.Wait(), saidToo)
	third, said := started(t, "program", "study", "finish", "elsewhere", "--json")
	require.NoError(t, third.Wait(), said)
	assert.Equal(t, outcome(t, "whole").Digest, outcome(t, "elsewhere").Digest)
	assert.Contains(t, said.String(), `"event":"finished"`)
}

// Where the parts are deleted while a study runs, it says so in one line or that it is incomplete;
// run again it is whole, and the same.
func TestPartsDeletedInTheMiddle(t *testing.T) {
	long(t)
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	cmd, said := started(t, "program", "study", "tiny.yaml", "--out", "broken")
	parts := "broken/parts"
	require.Eventually(t, func() bool {
		there, err := os.ReadDir(parts)
		return err == nil && len(there) > 3
	}, 20*time.Second, 2*time.Millisecond)
	require.NoError(t, os.Rename(parts, "gone"))
	if err := cmd.Wait(); err != nil {
		assert.Len(t, strings.Split(strings.TrimSpace(said.String()), "\n"), 1, said)
	}
	again, said := started(t, "program", "study", "tiny.yaml", "--out", "broken")
	require.NoError(t, again.Wait(), said)
	assert.Equal(t, outcome(t, "whole").Digest, outcome(t, "broken").Digest)
}

// The folder of another study, or of another build of the program, is refused in one line that
// says what to do.
func TestAnotherStudyOrBuildIsRefused(t *testing.T) {
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	other := strings.Replace(tinyStudy, "seed: 5", "seed: 6", 1)
	require.NoError(t, os.WriteFile("other.yaml", []byte(other), 0o644))
	code, _, errOut = runHere(t, "study", "other.yaml", "--out", "whole")
	assert.Equal(t, exitUsage, code)
	assert.Equal(t, "error: --out: whole: found another study (seed 5 there, 6 here), allowed: the folder of this study, or another with --out\n", errOut)

	long(t)
	name, err := exec.LookPath("program")
	require.NoError(t, err)
	built, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.Mkdir("other", 0o755))
	require.NoError(t, os.WriteFile("other/program", append(built, "another build"...), 0o755))
	for _, args := range [][]string{{"study", "tiny.yaml", "--out", "whole"}, {"study", "finish", "whole"}} {
		cmd, said := started(t, "./other/program", args...)
		err = cmd.Wait()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit)
		assert.Equal(t, exitUsage, exit.ExitCode())
		assert.Contains(t, said.String(), "found parts by another build of the program")
		assert.Len(t, strings.Split(strings.TrimSpace(said.String()), "\n"), 1, said)
	}
	cmd, said := started(t, "./other/program", "study", "verify", "whole")
	require.NoError(t, cmd.Wait(), said) // a referee may compare another build
}

// A part that was changed is found, by whoever reads it and by verify.
func TestChangedPartsAreFound(t *testing.T) {
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	name := "whole/parts/point0001-00000000-00000005.parquet"
	part, err := columns.ReadFile(name)
	require.NoError(t, err)
	last := len(part.Columns) - 1
	part.Rows[0][last].Number++
	require.NoError(t, columns.WriteFile(name, part, map[string]string{"digest": part.Digest()}))
	code, _, errOut = runHere(t, "study", "verify", "whole", "--fraction", "1")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "allowed: that of the manifest")
	require.NoError(t, os.Truncate(name, 1000))
	code, _, errOut = runHere(t, "study", "finish", "whole")
	assert.Equal(t, exitFailed, code)
	assert.Regexp(t, `^error: whole/parts/point0001-00000000-00000005.parquet: no Parquet file: .*; take this file away and run the study again, it works out nothing else\n$`, errOut)
}

// With --json every line is an event of its own, and nothing else is printed.
func TestStudyEvents(t *testing.T) {
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--json", "--share", "1/20")
	require.Equal(t, exitDone, code, errOut)
	var o, e strings.Builder
	require.Equal(t, exitDone, run(context.Background(), []string{"study", "tiny.yaml", "--json"}, &o, &e))
	lines := strings.Split(strings.TrimSpace(o.String()), "\n")
	require.Len(t, lines, 1+38+1, "began, 40 shards but the 2 that are done, finished")
	for i, line := range lines {
		var event struct {
			Event  string  `json:"event"`
			Shards int     `json:"shards"`
			Done   int     `json:"shards_done"`
			Rate   float64 `json:"seasons_per_s"`
			Left   float64 `json:"left_s"`
			Digest string  `json:"digest"`
		}
		require.NoError(t, json.Unmarshal([]byte(line), &event))
		switch i {
		case 0:
			assert.Equal(t, []any{"began", 40, 2}, []any{event.Event, event.Shards, event.Done})
		case len(lines) - 1:
			assert.Equal(t, "finished", event.Event)
			assert.Equal(t, outcome(t, "out/tiny").Digest, event.Digest)
		default:
			assert.Equal(t, []any{"shard", 2 + i}, []any{event.Event, event.Done})
			assert.Greater(t, event.Rate, 0.0)
		}
	}
}

// What is wrong is said in one line with what was found and what is allowed.
func TestStudyUsage(t *testing.T) {
	withTinyStudy(t)
	require.NoError(t, os.WriteFile("file", nil, 0o644))
	require.NoError(t, os.Mkdir("empty", 0o755))
	for want, args := range map[string][]string{
		`error: none.yaml: no such file of a study`:                                                  {"study", "none.yaml"},
		`error: --share: found "4/3", allowed: I/N with I from 1 to N, such as 3/10`:                 {"study", "tiny.yaml", "--share", "4/3"},
		`error: --workers: found -3, allowed: 0 to 256`:                                              {"study", "tiny.yaml", "--workers=-3"},
		`error: --table: found "rows.xlsx", allowed: a file that ends in .parquet or .csv`:           {"study", "tiny.yaml", "--table", "rows.xlsx"},
		`error: --out: the folder file cannot be used: not a directory`:                              {"study", "tiny.yaml", "--out", "file"},
		`error: empty: found no manifest.json, allowed: the folder of a study`:                       {"study", "finish", "empty"},
		`error: --fraction: found 0, allowed: above 0 to 1`:                                          {"study", "verify", "empty", "--fraction", "0"},
		`error: plan.yaml:1: found a scenario, allowed: the file of a study, which names a scenario`: {"study", "plan.yaml"},
	} {
		code, _, errOut := runHere(t, args...)
		assert.Equal(t, exitUsage, code, args)
		assert.True(t, strings.HasPrefix(errOut, want), "%s", errOut)
	}
}
