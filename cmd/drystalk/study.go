package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"time"

	"drystalk/report"
	"drystalk/report/columns"
	"drystalk/report/folder"
	"drystalk/scenarios"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// studyCmd runs studies.
type studyCmd struct {
	Run    studyRunCmd    `cmd:"" default:"withargs" help:"Run a study, or go on with one that was stopped."`
	Serve  studyServeCmd  `cmd:"" help:"Deal a study to workers on many machines, and gather their rows."`
	Work   studyWorkCmd   `cmd:"" help:"Work shards of a served study out, on this machine."`
	Finish studyFinishCmd `cmd:"" help:"Put the shares of a study together once all are there."`
	Verify studyVerifyCmd `cmd:"" help:"Work some shards of a study out again and compare."`
}

// studyFlags are shared by the commands that run a study.
type studyFlags struct {
	File  string `arg:"" help:"File of the study: a scenario, points, seasons; or the name of the demo: two-climates."`
	Out   string `help:"Folder of the study; unless stated a folder of its name in out."`
	Table string `placeholder:"FILE" help:"Write all rows into one file besides, .parquet or .csv."`
	JSON  bool   `name:"json" help:"Print what happens as lines of JSON and nothing else."`
}

// begun is a study whose folder is ready.
type begun struct {
	file *scenarios.StudyFile
	dir  *folder.Folder
	todo []study.Shard // of the share asked for
	tell *teller
}

// begin reads the study and makes its folder ready.
func (c *studyFlags) begin(t terminal, n, of int) (*begun, error) {
	if err := checkTable(c.Table); err != nil {
		return nil, err
	}
	f, err := readStudy(t, c.File)
	if err != nil {
		return nil, err
	}
	if c.Out == "" {
		c.Out = filepath.Join("out", strings.TrimSuffix(filepath.Base(c.File), filepath.Ext(c.File)))
	}
	dir, err := openFolder(c.Out, f)
	if err != nil {
		return nil, usagef("--out: %v", err)
	}
	todo, err := f.Missing(t.ctx, dir)
	if err != nil {
		return nil, err
	}
	plan, err := f.Plan()
	if err != nil {
		return nil, err
	}
	mine := study.Share(plan, n, of)
	todo = inBoth(mine, todo)
	return &begun{f, dir, todo, newTeller(t, c.JSON, f.Study, mine, todo)}, nil
}

// studyRunCmd runs a study.
type studyRunCmd struct {
	studyFlags
	Workers int    `default:"0" help:"Shards worked out side by side; 0 for one on each processor. The rows do not depend on it."`
	Share   string `placeholder:"I/N" help:"Work out the I-th of N shares only, such as 3/10 in a job array; drystalk study finish puts them together."`
}

// Run runs the study, or its share.
func (c *studyRunCmd) Run(t terminal) error {
	if err := checkWorkers(c.Workers); err != nil {
		return err
	}
	n, of, err := c.share()
	if err != nil {
		return err
	}
	b, err := c.begin(t, n, of)
	if err != nil {
		return err
	}
	err = b.file.Fill(t.ctx, b.dir, b.todo, workersOf(c.Workers), b.tell.shard)
	b.tell.end()
	if err != nil {
		return c.stopped(err, b.tell)
	}
	if of > 1 {
		return c.shared(t, b.file.Study, b.dir, n, of, b.tell)
	}
	return finish(t, b.file, b.dir, c.Out, c.Table, b.tell)
}

// checkWorkers tells what is wrong with a number of workers.
func checkWorkers(n int) error {
	if n < 0 || n > 256 {
		return usagef("--workers: found %d, allowed: 0 to 256", n)
	}
	return nil
}

// share reads which share of the study is asked for.
func (c *studyRunCmd) share() (n, of int, err error) {
	if c.Share == "" {
		return 1, 1, nil
	}
	a, b, ok := strings.Cut(c.Share, "/")
	n, errN := strconv.Atoi(a)
	of, errOf := strconv.Atoi(b)
	if !ok || errN != nil || errOf != nil || n < 1 || of < n || of > 1_000_000 {
		return 0, 0, usagef("--share: found %q, allowed: I/N with I from 1 to N, such as 3/10", c.Share)
	}
	if c.Table != "" {
		return 0, 0, usagef("--table: found it beside --share, allowed: with drystalk study finish, when all shares are there")
	}
	return n, of, nil
}

// workersOf returns how many shards are worked out side by side.
func workersOf(asked int) int {
	if asked > 0 {
		return asked
	}
	return runtime.GOMAXPROCS(0)
}

// stopped says how far a run came that did not end.
func (c *studyFlags) stopped(err error, tell *teller) error {
	if errors.Is(err, context.Canceled) {
		return tongue.Errorf("%w: %d of %d shards are done and kept in %s; the same command goes on from there", errStoppedShort, tell.done, tell.of, c.Out)
	}
	return tongue.Errorf("%w; %d of %d shards are done and kept in %s; the same command goes on from there", err, tell.done, tell.of, c.Out)
}

// errStoppedShort is returned by a study that was interrupted.
var errStoppedShort error = tongue.Fault("stopped")

// shared says what is done of a share, and what is missing of the whole.
func (c *studyRunCmd) shared(t terminal, s *study.Study, dir *folder.Folder, n, of int, tell *teller) error {
	missing, err := s.Missing(t.ctx, dir)
	if err != nil {
		return err
	}
	tell.event(map[string]any{"event": "share_done", "share": n, "of_shares": of, "shards_missing": len(missing), "folder": c.Out})
	if c.JSON {
		return nil
	}
	_, _ = tongue.Fprintf(t.out, "Share %d of %d of the study %s is done: %d shards in %s. Of the whole study %s missing. When all are there: drystalk study finish %s\n",
		n, of, s.Name, tell.of, c.Out, shardsAre(len(missing)), c.Out)
	return nil
}

func shardsAre(n int) string {
	if n == 1 {
		return tongue.Say("1 shard is")
	}
	return tongue.Sayf("%s shards are", report.Number(float64(n)))
}

// inBoth returns the shards of a that are in b too.
func inBoth(a, b []study.Shard) (out []study.Shard) {
	in := make(map[string]bool, len(b))
	for _, s := range b {
		in[s.Key] = true
	}
	for _, s := range a {
		if in[s.Key] {
			out = append(out, s)
		}
	}
	return out
}

// largestStudy is the largest file of a study that is read, bytes.
const largestStudy = 1 << 20

// readStudy reads the file of a study and prints its warnings.
func readStudy(t terminal, name string) (*scenarios.StudyFile, error) {
	if name == scenarios.TwoClimates {
		data, err := scenarios.DemoStudy(name)
		if err != nil {
			return nil, err
		}
		return scenarios.ReadStudy(name+".yaml", data, nil)
	}
	data, err := readRegular(name, tongue.Say("file of a study"), largestStudy)
	if err != nil {
		return nil, err
	}
	f, err := scenarios.ReadStudy(name, data, readBeside(filepath.Dir(name)))
	if err != nil {
		return nil, err
	}
	for _, w := range f.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	return f, nil
}

// openFolder makes the folder of a study ready, or goes on with it.
func openFolder(dir string, f *scenarios.StudyFile) (*folder.Folder, error) {
	build, err := buildOf()
	if err != nil {
		return nil, err
	}
	var inputs []folder.Input
	for _, in := range f.Inputs {
		inputs = append(inputs, folder.Input(in))
	}
	m, err := folder.ManifestOf(f.Study, inputs, program(), build)
	if err != nil {
		return nil, err
	}
	m.Began = time.Now().UTC().Format(time.RFC3339)
	return folder.Open(dir, m, inputs)
}

// program says what this program is.
func program() folder.Program {
	return folder.Program{Version: version, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
}

// buildOf returns the fingerprint of the program that runs: of the bytes of its file, so that two
// programs with one are the same program.
var buildOf = sync.OnceValues(func() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", tongue.Errorf("the program cannot find its own file: %w", err)
	}
	at, err := os.Open(name)
	if err != nil {
		return "", tongue.Errorf("the program cannot read its own file: %w", err)
	}
	defer func() { _ = at.Close() }()
	h := sha256.New()
	if _, err := io.Copy(h, at); err != nil {
		return "", tongue.Errorf("the program cannot read its own file: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil)[:8]), nil
})

// checkTable tells before a run what is wrong with the file of a table; "" is none.
func checkTable(name string) error {
	if name == "" {
		return nil
	}
	if err := columns.CheckName(name); err != nil {
		return usagef("--table: %v", err)
	}
	if err := report.Ready(filepath.Dir(name)); err != nil {
		return usagef("--table: %v", err)
	}
	return nil
}

// finish puts the shards of a study together and says what it comes to.
func finish(t terminal, f *scenarios.StudyFile, dir *folder.Folder, out, table string, tell *teller) error {
	s := f.Study
	result, err := merge(t, s, dir, table)
	if err != nil {
		return err
	}
	if err := dir.Finish(s, result, time.Now().UTC().Format(time.RFC3339)); err != nil {
		return err
	}
	said := report.ForStudy(s, result)
	said.Invented = f.Base.Invented
	pictures, err := said.Files("svg", "png")
	if err != nil {
		return err
	}
	drawn, err := report.WriteFiles(out, pictures)
	if err != nil {
		return err
	}
	tell.event(map[string]any{"event": "finished", "digest": result.Digest, "trials": result.Trials, "points": len(s.Points), "folder": out})
	if tell.json {
		return nil
	}
	files := append(dir.Files(), drawn...)
	if table != "" {
		files = append(files, table)
	}
	_, _ = fmt.Fprint(t.out, said.Text()+"\n")
	for _, name := range files {
		_, _ = fmt.Fprintln(t.out, "  "+name)
	}
	return nil
}

// merge puts the shards together, and all rows into the file of a table, if one is named.
func merge(t terminal, s *study.Study, dir *folder.Folder, table string) (*study.Result, error) {
	if table == "" {
		return s.Merge(t.ctx, dir, nil)
	}
	cols, err := s.Columns()
	if err != nil {
		return nil, err
	}
	rows, err := columns.Create(table, cols, map[string]string{"study": s.Name})
	if err != nil {
		return nil, err
	}
	result, err := s.Merge(t.ctx, dir, func(_ study.Shard, part *tidy.Table) error {
		for _, row := range part.Rows {
			if err := rows.Write(row); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		rows.Drop()
		return nil, err
	}
	return result, rows.Close()
}

// teller says how far a study has come: on a terminal as a line that is written over, with --json
// as lines of JSON.
type teller struct {
	t        terminal
	json     bool
	shows    bool
	begun    time.Time
	done, of int // shards
	trials   int // done in this run
	left     int // trials to do in this run
}

func newTeller(t terminal, asJSON bool, s *study.Study, mine, todo []study.Shard) *teller {
	tell := &teller{t: t, json: asJSON, begun: time.Now(), done: len(mine) - len(todo), of: len(mine)}
	tell.shows = !asJSON && onTerminal(t.err)
	for _, shard := range todo {
		tell.left += shard.Trials()
	}
	hash, _ := s.Hash() // it was checked when it was read
	tell.event(map[string]any{"event": "began", "study": s.Name, "study_hash": hash, "points": len(s.Points), "shards": tell.of, "shards_done": tell.done, "seasons_to_run": tell.left})
	return tell
}

// event writes a line of JSON.
func (l *teller) event(what map[string]any) {
	if !l.json {
		return
	}
	text, err := json.Marshal(what)
	if err != nil {
		panic("study: " + err.Error()) // strings and numbers always marshal
	}
	_, _ = fmt.Fprintf(l.t.out, "%s\n", text)
}

// shard tells that a shard is done.
func (l *teller) shard(shard study.Shard) {
	l.done++
	l.trials, l.left = l.trials+shard.Trials(), l.left-shard.Trials()
	rate := float64(l.trials) / max(time.Since(l.begun).Seconds(), 1e-3)
	left := float64(l.left) / rate
	l.event(map[string]any{"event": "shard", "key": shard.Key, "shards_done": l.done, "shards": l.of, "seasons_per_s": rate, "left_s": left})
	if l.shows {
		_, _ = tongue.Fprintf(l.t.err, "\r\x1b[K%d of %d shards, %.0f seasons a second, %s left", l.done, l.of, rate, time.Duration(left*float64(time.Second)).Round(time.Second))
	}
}

// end takes the line of progress away.
func (l *teller) end() {
	if l.shows {
		_, _ = fmt.Fprint(l.t.err, "\r\x1b[K")
	}
}
