package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"drystalk/report"
	"drystalk/report/columns"
	"drystalk/report/folder"
	"drystalk/report/machines"
	"drystalk/scenarios"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"

	"golang.org/x/sys/cpu"
)

// tokenFlag is shared by server and workers.
type tokenFlag struct {
	Token string `env:"DRYSTALK_TOKEN" placeholder:"WORD" help:"Word that workers must give, 16 characters or more; needed unless only this machine can connect."`
}

// studyServeCmd deals a study to workers on many machines.
type studyServeCmd struct {
	studyFlags
	tokenFlag
	Listen       string  `default:"127.0.0.1:7741" placeholder:"ADDRESS:PORT" help:"Where workers connect; unless stated this machine alone."`
	LeaseSeconds float64 `default:"30" help:"A shard whose worker is silent for so long goes to another worker."`
}

// Run deals shards until all are done, and puts them together.
func (c *studyServeCmd) Run(t terminal) error {
	hub := machines.Hub{Listen: c.Listen, Token: c.Token, Lease: time.Duration(c.LeaseSeconds * float64(time.Second))}
	if err := hub.Check(); err != nil {
		return usageError{err}
	}
	b, err := c.begin(t, 1, 1)
	if err != nil {
		return err
	}
	hub.Folder = filepath.Join(c.Out, queueFolder)
	if len(b.todo) > 0 {
		err = c.serve(t, hub, b)
	}
	b.tell.end()
	if err != nil {
		return c.refusedOr(err, b.tell)
	}
	if err := os.RemoveAll(hub.Folder); err != nil { // every part lies in the folder of the study
		return err
	}
	return finish(t, b.file, b.dir, c.Out, c.Table, b.tell)
}

// queueFolder lies in the folder of a study while it is served.
const queueFolder = "queue"

// refusedOr returns an error of use where the study cannot be served so, else how far it came.
func (c *studyServeCmd) refusedOr(err error, tell *teller) error {
	if errors.Is(err, machines.ErrServed) || errors.Is(err, machines.ErrListen) {
		return usageError{err}
	}
	return c.stopped(err, tell)
}

// serve deals the shards that are not done.
func (c *studyServeCmd) serve(t terminal, hub machines.Hub, b *begun) error {
	brief, err := packed(b.file.Inputs)
	if err != nil {
		return err
	}
	hash, err := b.file.Hash()
	if err != nil {
		return err
	}
	build, err := rowsBuild()
	if err != nil {
		return err
	}
	s := machines.Study{Name: b.file.Name, Hash: hash, Build: build, Brief: brief, Keep: keeper(b.dir)}
	shards := map[string]study.Shard{}
	for _, shard := range b.todo {
		s.Todo = append(s.Todo, shard.Key)
		shards[shard.Key] = shard
	}
	s.Tell = func(e machines.Event) {
		switch {
		case e.Address != "":
			c.listening(t, b.tell, e.Address)
		case e.Failed:
			b.tell.event(map[string]any{"event": "shard_failed", "key": e.Key})
		default:
			b.tell.shard(shards[e.Key])
		}
	}
	return hub.Serve(t.ctx, s)
}

// listening says where workers connect.
func (c *studyServeCmd) listening(t terminal, tell *teller, address string) {
	tell.event(map[string]any{"event": "serving", "address": address})
	if tell.json {
		return
	}
	token := ""
	if c.Token != "" {
		token = " --token WORD"
	}
	_, _ = tongue.Fprintf(t.err, "The study is served at %s. Start on every machine: drystalk study work --connect %s%s\n", address, address, token)
}

// keeper returns what keeps the rows of shards in the folder of a study.
func keeper(dir *folder.Folder) func(context.Context, string, string, []byte) error {
	return func(ctx context.Context, key, digest string, rows []byte) error {
		table, err := columns.ReadParquet(bytes.NewReader(rows), int64(len(rows)))
		if err != nil {
			return tongue.Errorf("%s: rows came in that cannot be read: %w", key, err)
		}
		if table.Digest() != digest {
			return tongue.Errorf("%s: rows came in damaged", key)
		}
		return dir.Put(ctx, key, table)
	}
}

// studyWorkCmd works shards of a served study out.
type studyWorkCmd struct {
	tokenFlag
	Connect         string  `required:"" placeholder:"ADDRESS:PORT" help:"Where drystalk study serve listens."`
	Workers         int     `default:"0" help:"Shards worked out side by side; 0 for one on each processor."`
	PatienceMinutes float64 `default:"10" help:"Wait so long for a server that does not answer, before the study and in the middle."`
	JSON            bool    `name:"json" help:"Print what happens as lines of JSON and nothing else."`
}

// Run works shards out until the study ends.
func (c *studyWorkCmd) Run(t terminal) error {
	w, err := c.worker()
	if err != nil {
		return err
	}
	name, prepare := "", w.Prepare
	w.Prepare = func(about machines.About, brief []byte) (machines.Job, error) {
		name = about.Study
		return prepare(about, brief)
	}
	tell := teller{t: t, json: c.JSON}
	shows := onTerminal(t.err) && !c.JSON
	w.Tell = func(key string, done int) {
		tell.event(map[string]any{"event": "shard", "key": key, "shards_worked_out": done})
		if shows {
			_, _ = tongue.Fprintf(t.err, "\r\x1b[K%s worked out here, %s the last", shardsWere(done), key)
		}
	}
	if !c.JSON {
		_, _ = tongue.Fprintf(t.err, "Asking %s for work; Ctrl-C ends it, and what is not done here is done elsewhere.\n", c.Connect)
	}
	done, err := w.Run(t.ctx)
	if shows {
		_, _ = fmt.Fprint(t.err, "\r\x1b[K")
	}
	if err != nil {
		return leftBy(err, done)
	}
	tell.event(map[string]any{"event": "done", "study": name, "shards_worked_out": done})
	if !c.JSON {
		_, _ = tongue.Fprintf(t.out, "The study %s is done; %s worked out here.\n", name, shardsWere(done))
	}
	return nil
}

// worker returns the worker that the flags ask for.
func (c *studyWorkCmd) worker() (w machines.Worker, err error) {
	if !(c.PatienceMinutes > 0 && c.PatienceMinutes <= mostPatienceMinutes) {
		return w, usagef("--patience-minutes: found %g, allowed: above 0 to %d", c.PatienceMinutes, mostPatienceMinutes)
	}
	build, err := rowsBuild()
	if err != nil {
		return w, err
	}
	w = machines.Worker{
		Connect: c.Connect, Token: c.Token, Build: build, Abreast: workersOf(c.Workers),
		Patience: time.Duration(c.PatienceMinutes * float64(time.Minute)), Prepare: jobOf,
	}
	if err := w.Check(); err != nil {
		return w, usageError{err}
	}
	return w, nil
}

// leftBy says why a worker left before the study was done, and what it did until then.
func leftBy(err error, done int) error {
	switch {
	case errors.Is(err, machines.ErrBuild) || errors.Is(err, machines.ErrToken):
		return usageError{err}
	case errors.Is(err, context.Canceled):
		return tongue.Errorf("%w: %s worked out here", errStoppedShort, shardsWere(done))
	case done > 0:
		return tongue.Errorf("%w; %s worked out here", err, shardsWere(done))
	}
	return err
}

const mostPatienceMinutes = 10_000

func shardsWere(n int) string {
	if n == 1 {
		return tongue.Say("1 shard was")
	}
	return tongue.Sayf("%s shards were", report.Number(float64(n)))
}

// rowsBuild returns the fingerprint of all that rows depend on but the study: the program, and
// whether its processor multiplies and adds in one step, of which the exponential makes use.
func rowsBuild() (string, error) {
	build, err := buildOf()
	if cpu.X86.HasFMA && cpu.X86.HasAVX {
		build += " fma"
	}
	return build, err
}

// packed returns the files of a study as a brief for workers.
func packed(inputs []scenarios.Input) ([]byte, error) {
	var out bytes.Buffer
	small := gzip.NewWriter(&out)
	if err := gob.NewEncoder(small).Encode(inputs); err != nil {
		return nil, err
	}
	if err := small.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// largestBrief is the most that the files of a study may be together, bytes.
const largestBrief = 1 << 30

// unpacked returns the files of a brief.
func unpacked(brief []byte) (inputs []scenarios.Input, err error) {
	large, err := gzip.NewReader(bytes.NewReader(brief))
	if err != nil {
		return nil, err
	}
	err = gob.NewDecoder(io.LimitReader(large, largestBrief)).Decode(&inputs)
	if err == nil && len(inputs) == 0 {
		err = tongue.Errorf("no file is in it")
	}
	return inputs, err
}

// studyOf reads the study of a brief.
func studyOf(about machines.About, brief []byte) (*scenarios.StudyFile, error) {
	inputs, err := unpacked(brief)
	if err != nil {
		return nil, tongue.Errorf("the server's files of the study cannot be read: %w", err)
	}
	f, err := scenarios.ReadStudy(inputs[0].Name, inputs[0].Data, func(name string) ([]byte, error) {
		for _, in := range inputs {
			if in.Name == name {
				return in.Data, nil
			}
		}
		return nil, tongue.Errorf("the server did not send it")
	})
	if err != nil {
		return nil, tongue.Errorf("the server's study cannot be read here: %w", err)
	}
	if hash, err := f.Hash(); err != nil || hash != about.Hash {
		return nil, errors.Join(tongue.Errorf("the study %s came over as another, %s", about.Hash, hash), err)
	}
	return f, nil
}

// jobOf returns what works the shards of the study of a brief out.
func jobOf(about machines.About, brief []byte) (machines.Job, error) {
	f, err := studyOf(about, brief)
	if err != nil {
		return nil, err
	}
	plan, err := f.Plan()
	if err != nil {
		return nil, err
	}
	shards := map[string]study.Shard{}
	for _, shard := range plan {
		shards[shard.Key] = shard
	}
	return func(ctx context.Context, key string) ([]byte, string, error) {
		shard, ok := shards[key]
		if !ok {
			return nil, "", tongue.Errorf("the study has no such shard")
		}
		table, err := f.Run(ctx, shard)
		if err != nil {
			return nil, "", err
		}
		rows, err := parquetOf(table)
		return rows, table.Digest(), err
	}, nil
}

// parquetOf returns a table as the bytes of a Parquet file.
func parquetOf(table *tidy.Table) ([]byte, error) {
	var out bytes.Buffer
	w, err := columns.NewParquet(&out, table.Columns, nil)
	if err != nil {
		return nil, err
	}
	for _, row := range table.Rows {
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	err = w.Close()
	return out.Bytes(), err
}
