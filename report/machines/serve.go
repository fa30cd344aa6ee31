package machines

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"drystalk/tongue"

	"github.com/nats-io/nats.go/jetstream"
	"github.com/nats-io/nuid"
)

// Study is what is dealt to workers.
type Study struct {
	Name  string   // for people
	Hash  string   // of all that its rows depend on but the program
	Build string   // of the program
	Brief []byte   // what a worker must know to work any shard out
	Todo  []string // keys of the shards that are not done

	// Keep keeps the rows of a shard where they last. It is called for one shard at a time; an
	// error ends the study.
	Keep func(ctx context.Context, key, digest string, rows []byte) error

	// Tell, if any, is told what happens.
	Tell func(Event)
}

// Event is something that happened: the server listens (Address), or a shard was kept or failed
// for good (Key).
type Event struct {
	Address string // where the server listens
	Key     string
	Failed  bool
	Left    int // shards that are neither kept nor failed
	Workers int // connected, of all machines
}

const (
	ahead      = 256              // shards that wait in the queue at most
	mostFailed = 20               // shards may fail before the rest is left undone
	lookEvery  = time.Second      // at folder and queue
	quiet      = 10 * time.Second // and a lease: so long nothing comes in before what the queue gave up is missed
)

// Serve deals shards until all are kept. It returns *Failed where some fail too often, ErrDiffers
// where two workers differ, the cause where the context ends; what was kept is kept.
func (h Hub) Serve(ctx context.Context, s Study) (err error) {
	o, err := h.open(ctx)
	if err != nil {
		return err
	}
	defer o.close()
	d := &dealer{open: o, study: s, run: nuid.Next(), left: map[string]bool{}, dealt: map[string]bool{}, why: map[string]failure{}, heard: time.Now()}
	for _, key := range s.Todo {
		d.left[key] = true
	}
	if err := d.prepare(ctx); err != nil {
		return err
	}
	d.tell(Event{Address: o.server.Addr().String()})
	err = d.deal(ctx)
	switch {
	case err == nil:
		o.say(end{How: endedDone})
	case ctx.Err() == nil: // a server that is stopped may come back
		o.say(end{How: endedStopped, Text: err.Error()})
	}
	return err
}

// dealer is a server at work.
type dealer struct {
	*open
	study Study
	run   string          // tells this start of the server from others
	next  int             // of Todo: the first that was not put into the queue
	left  map[string]bool // neither kept nor failed for good
	dealt map[string]bool // of those: in the queue
	why   map[string]failure
	heard time.Time // when something came in last
}

// prepare takes what a former server of the study left: rows that were kept but are wanted again,
// and failures, which are tried again.
func (d *dealer) prepare(ctx context.Context) error {
	err := each(ctx, d.rows, func(key string, value []byte) error {
		if _, rows := unpack(value); d.left[key] && len(rows) == 0 {
			return d.rows.Purge(ctx, key)
		}
		return nil
	})
	if err != nil {
		return err
	}
	err = each(ctx, d.failed, func(key string, _ []byte) error {
		if err := d.unqueue(ctx, key); err != nil {
			return err
		}
		return d.failed.Purge(ctx, key)
	})
	if err != nil {
		return err
	}
	about := About{Study: d.study.Name, Hash: d.study.Hash, Build: d.study.Build, Lease: d.hub.Lease}
	return d.announce(ctx, about, d.study.Brief)
}

// each does something with everything in a bucket.
func each(ctx context.Context, bucket jetstream.KeyValue, do func(key string, value []byte) error) error {
	keys, err := bucket.Keys(ctx)
	if err != nil && !errors.Is(err, jetstream.ErrNoKeysFound) {
		return err
	}
	for _, key := range keys {
		entry, err := bucket.Get(ctx, key)
		if err != nil {
			return err
		}
		if err := do(key, entry.Value()); err != nil {
			return err
		}
	}
	return nil
}

// unqueue takes a shard off the queue, with the count of its tries.
func (d *dealer) unqueue(ctx context.Context, key string) error {
	msg, err := d.queue.GetLastMsgForSubject(ctx, queueSubject+key)
	if errors.Is(err, jetstream.ErrMsgNotFound) {
		return nil
	}
	if err == nil {
		err = d.queue.DeleteMsg(ctx, msg.Sequence)
	}
	return err
}

// deal keeps the queue filled and takes in what comes, until nothing is left.
func (d *dealer) deal(ctx context.Context) error {
	rows, err := d.rows.WatchAll(ctx)
	if err != nil {
		return err
	}
	failures, err := d.failed.WatchAll(ctx)
	if err != nil {
		return err
	}
	ends, err := d.open.study.Watch(ctx, endKey)
	if err != nil {
		return err
	}
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	for len(d.left) > 0 {
		if err := d.fill(ctx); err != nil {
			return err
		}
		select {
		case <-ctx.Done():
			return context.Cause(ctx)
		case entry := <-rows.Updates():
			err = d.take(ctx, entry)
		case entry := <-failures.Updates():
			d.miss(entry)
		case entry := <-ends.Updates():
			err = endOf(entry)
		case <-look.C:
			err = d.look(ctx)
		}
		if err != nil {
			return err
		}
		if len(d.why) >= mostFailed {
			break
		}
	}
	return d.outcome()
}

// fill puts shards into the queue until enough wait there.
func (d *dealer) fill(ctx context.Context) error {
	for len(d.dealt) < ahead && d.next < len(d.study.Todo) {
		key := d.study.Todo[d.next]
		d.next++
		if !d.left[key] {
			continue // its rows lay there already
		}
		_, err := d.js.Publish(ctx, queueSubject+key, nil, jetstream.WithMsgID(key+"@"+d.run))
		if err != nil && !isCode(err, alreadyQueued) {
			return d.lost(tongue.Errorf("%s: %s cannot be queued: %w", d.hub.Folder, key, err))
		}
		d.dealt[key] = true
	}
	return nil
}

// alreadyQueued is the server's code where the subject of a shard holds a message already.
const alreadyQueued jetstream.ErrorCode = 10077

// take keeps the rows of a shard.
func (d *dealer) take(ctx context.Context, entry jetstream.KeyValueEntry) error {
	if entry == nil || entry.Operation() != jetstream.KeyValuePut {
		return nil
	}
	digest, rows := unpack(entry.Value())
	if len(rows) == 0 || !d.left[entry.Key()] {
		return nil
	}
	if err := d.study.Keep(ctx, entry.Key(), digest, rows); err != nil {
		return d.lost(err)
	}
	if _, err := d.rows.Put(ctx, entry.Key(), pack(digest, nil)); err != nil {
		return d.lost(tongue.Errorf("%s: what was kept cannot be noted: %w", d.hub.Folder, err))
	}
	d.done(entry.Key(), false)
	return nil
}

// miss notes that a shard failed.
func (d *dealer) miss(entry jetstream.KeyValueEntry) {
	var f failure
	if entry == nil || json.Unmarshal(entry.Value(), &f) != nil || !d.left[entry.Key()] {
		return
	}
	if f.Tries >= MostTries {
		d.why[entry.Key()] = f
		d.done(entry.Key(), true)
	}
}

// done takes a shard off what is left.
func (d *dealer) done(key string, failed bool) {
	delete(d.left, key)
	delete(d.dealt, key)
	d.heard = time.Now()
	d.tell(Event{Key: key, Failed: failed})
}

func (d *dealer) tell(e Event) {
	if d.study.Tell != nil {
		e.Left, e.Workers = len(d.left), d.server.NumClients()-1
		d.study.Tell(e)
	}
}

// endOf returns the error of an end that a worker found.
func endOf(entry jetstream.KeyValueEntry) error {
	var e end
	if entry == nil || json.Unmarshal(entry.Value(), &e) != nil || e.How != endedDiffers {
		return nil
	}
	return fmt.Errorf("%s: %w", e.Text, ErrDiffers)
}

// look sees to it that the folder is there, and misses shards that the queue has given up: their
// workers fell silent as often as they were tried.
func (d *dealer) look(ctx context.Context) error {
	if d.gone() {
		return d.lost(nil)
	}
	info, err := d.work.Info(ctx)
	if err != nil {
		return d.lost(tongue.Errorf("%s: the queue cannot be read: %w", d.hub.Folder, err))
	}
	if info.NumPending > 0 || info.NumAckPending > 0 || d.next < len(d.study.Todo) {
		d.heard = time.Now()
		return nil
	}
	if time.Since(d.heard) < cmp.Or(d.hub.quiet, quiet)+d.hub.Lease {
		return nil
	}
	for key := range d.left {
		text, err := json.Marshal(failure{MostTries, "every worker that took it fell silent: killed, out of memory, or cut off"})
		if err != nil {
			return err
		}
		if _, err := d.failed.Put(ctx, key, text); err != nil {
			return err
		}
	}
	return nil
}

// lost tells what is wrong if the folder has gone, which explains any other error.
func (d *dealer) lost(err error) error {
	if d.gone() {
		return tongue.Errorf("%s: the folder of the study was deleted or moved while it was served; what lay there is lost, and the same command starts it anew", d.hub.Folder)
	}
	return err
}

// outcome returns the error of shards that failed, if any did.
func (d *dealer) outcome() error {
	if len(d.why) == 0 {
		return nil
	}
	f := &Failed{Why: map[string]string{}}
	for _, key := range d.study.Todo {
		if w, ok := d.why[key]; ok {
			f.Keys = append(f.Keys, key)
			f.Why[key] = w.Text
		}
	}
	return f
}
