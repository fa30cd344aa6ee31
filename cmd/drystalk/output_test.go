//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// itself is the program as a process of its own.
func itself(args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], args...)
	c.Args[0] = "program"
	return c
}

// Folders, pipes and devices in place of a scenario, a second plan, a climate or a record are
// refused at once, in one line.
func TestNoFileIsRefusedAtOnce(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, syscall.Mkfifo("pipe", 0o600))
	require.NoError(t, os.Mkdir("folder", 0o755))
	for _, bad := range []string{"/dev/zero", "pipe", "folder"} {
		named := strings.Replace(tiny, "{wmo_station: 41923}", "{climate_file: "+bad+"}", 1)
		require.NoError(t, os.WriteFile("named.yaml", []byte(named), 0o644))
		for _, args := range [][]string{
			{"check", bad},
			{"odds", bad},
			{"compare", "plan.yaml", bad},
			{"check", "named.yaml"},
			{"odds", "plan.yaml", "--record", bad},
			{"fit", "weather", bad, "--wmo-station", "43057"},
			{"fit", "weather", "plan.yaml", "--scenario", bad},
		} {
			soon := time.AfterFunc(20*time.Second, func() { panic("still reading: " + strings.Join(args, " ")) })
			code, out, errOut := runHere(t, args...)
			soon.Stop()
			assert.Equal(t, exitUsage, code, "%v: %s", args, errOut)
			assert.Empty(t, out, args)
			lines := strings.Split(strings.TrimSpace(errOut), "\n")
			assert.Regexp(t, "folder|pipe|device|cannot be read there", lines[len(lines)-1], args)
		}
	}
}

// A folder that cannot be written is found before the run, which is not begun.
func TestFolderIsTriedBeforeTheRun(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, os.WriteFile("taken", nil, 0o644))
	for _, args := range [][]string{
		{"odds", "plan.yaml"},
		{"dryers", "plan.yaml"},
		{"promise", "plan.yaml"},
		{"season", "plan.yaml"},
		{"spend", "plan.yaml", "--budget", "100"},
		{"compare", "plan.yaml", "--with", "Stone Weir's: dryers=2"},
		{"fit", "weather", "plan.yaml", "--wmo-station", "43057"},
	} {
		for _, out := range []string{"taken", "taken/below", "/proc/nowhere"} {
			var said, errOut bytes.Buffer
			ctx, cancel := context.WithCancel(context.Background())
			cancel() // a run that is begun says that it was stopped
			code := run(ctx, append(args, "--out", out), &said, &errOut)
			assert.Equal(t, exitUsage, code, "%v %s: %s", args, out, errOut.String())
			assert.Contains(t, errOut.String(), "error: --out: the folder "+out+" cannot be written: ", args)
			assert.Empty(t, said.String())
		}
	}
}

// Where files cannot be written after all, the answer is printed and the command fails.
func TestAnswerIsPrintedWhereItsFilesAreNot(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	require.NoError(t, os.MkdirAll("out/answer.json", 0o755)) // found when it is to be written
	for _, args := range [][]string{{"odds", "plan.yaml", "--seasons", "30"}, {"spend", "plan.yaml", "--budget", "100", "--seasons", "30", "--search", "30"}} {
		code, out, errOut := runHere(t, args...)
		assert.Equal(t, exitFailed, code)
		assert.Contains(t, out, "trial seasons", args)
		assert.Contains(t, errOut, "error: the answer above is whole, but its files were not written: the folder out cannot be written: out/answer.json is a folder")
	}
	left, err := os.ReadDir("out")
	require.NoError(t, err)
	assert.Len(t, left, 1, "no part of an answer")
}

// An answer that does not reach the output is no success.
func TestFullOutputFails(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("there is no /dev/full here")
	}
	defer func() { _ = full.Close() }()
	for _, args := range [][]string{{"--help"}, {"--version"}, {"check"}, {"check", "--schema"}, {"charge"}, {"charge", "--json"}} {
		var errOut bytes.Buffer
		code := run(context.Background(), args, full, &errOut)
		assert.Equal(t, exitFailed, code, args)
		assert.Contains(t, errOut.String(), "error: the answer could not be written to the output: ", args)
	}
}

// A reader that goes away, as head does, ends the program without a word.
func TestBrokenPipeIsQuiet(t *testing.T) {
	for _, args := range [][]string{{"check", "--explain"}, {"check", "--schema"}, {"charge", "--json"}} {
		r, w, err := os.Pipe()
		require.NoError(t, err)
		require.NoError(t, r.Close())
		c := itself(args...)
		var errOut bytes.Buffer
		c.Stdout, c.Stderr = w, &errOut
		err = c.Run()
		require.NoError(t, w.Close())
		require.Error(t, err)
		assert.NotContains(t, errOut.String(), "error", args)
		assert.NotContains(t, errOut.String(), "goroutine", args)
	}
}

// Ctrl-C ends every command soon, with one line and exit code 1, also those that know of no
// interruption; a fit writes nothing then.
func TestInterruptionEndsEveryCommand(t *testing.T) {
	t.Chdir(t.TempDir())
	var errOut bytes.Buffer
	var err error
	for wait := 2 * time.Second; err == nil && wait > 50*time.Millisecond; wait /= 2 { // a fast machine is done before
		require.NoError(t, os.RemoveAll("out"))
		errOut.Reset()
		c := itself("fit", "weather", colabaRecord, "--wmo-station", "43057", "--years", "20000")
		c.Stderr = &errOut
		require.NoError(t, c.Start())
		time.Sleep(wait)
		_ = c.Process.Signal(os.Interrupt)                                     // in vain where it is done
		soon := time.AfterFunc(5*time.Second, func() { _ = c.Process.Kill() }) // which is no exit code of ours
		err = c.Wait()
		soon.Stop()
	}
	var ended *exec.ExitError
	require.ErrorAs(t, err, &ended)
	assert.Equal(t, exitFailed, ended.ExitCode())
	assert.Contains(t, errOut.String(), "stopped; nothing was written")
	assert.NoDirExists(t, "out")

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = within(ctx, func() (int, error) { time.Sleep(time.Second); return 1, nil })
	assert.ErrorIs(t, err, context.Canceled)
	one, err := within(context.Background(), func() (int, error) { return 1, nil })
	require.NoError(t, err)
	assert.Equal(t, 1, one)
}

// A fault of the program is told from one of the user: exit code 1, and words that say so.
func TestPanicIsNoUsageError(t *testing.T) {
	err := interruptible(context.Background(), func() error {
		var none []int
		return errors.New(string(rune(none[3])))
	})
	require.ErrorIs(t, err, errBroke)
	var errOut bytes.Buffer
	assert.Equal(t, exitFailed, explain(err, &errOut))
	assert.Contains(t, errOut.String(), "error: the program broke; that is a fault of drystalk, not of your files: runtime error: index out of range")
	_, err = within(context.Background(), func() (int, error) { panic("inside") })
	assert.ErrorIs(t, err, errBroke)
}

// More workers than any machine has processors are refused before memory is taken for them.
func TestWorkersAreBounded(t *testing.T) {
	for _, question := range []string{"odds", "dryers", "promise"} {
		code, _, errOut := runHere(t, question, "--workers", "1000000000", "--out", filepath.Join(t.TempDir(), "x"))
		assert.Equal(t, exitUsage, code)
		assert.Contains(t, errOut, "error: --workers: found 1000000000, allowed: 0 to 256")
	}
}
