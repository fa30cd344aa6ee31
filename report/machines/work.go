package machines

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"drystalk/tongue"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// Job works a shard out and returns its rows with their digest. It is called by several workers at
// once.
type Job func(ctx context.Context, key string) (rows []byte, digest string, err error)

// Worker is a machine that works shards out.
type Worker struct {
	Connect  string // address and port of the server
	Token    string // that the server asks for
	Build    string // of this program
	Abreast  int    // shards worked out side by side
	Patience time.Duration

	// Prepare makes the job from the server's brief.
	Prepare func(about About, brief []byte) (Job, error)

	// Tell, if any, is told of each shard that was worked out here; one at a time.
	Tell func(key string, done int)
}

// Patience is how long a worker waits for a server that does not answer, unless it is told.
const Patience = 10 * time.Minute

// Check tells what is wrong with a worker, for its user.
func (w Worker) Check() error {
	if host, ok := hostOf(w.Connect, 1); !ok || host == "" {
		return tongue.Errorf("--connect: found %q, allowed: an address and a port from 1 to 65535, such as 192.168.1.10:7741", w.Connect)
	}
	if w.Abreast < 1 {
		return tongue.Errorf("--workers: found %d, allowed: 1 or more", w.Abreast)
	}
	return nil
}

// Run works shards out until the study ends, and returns how many were worked out here. It returns
// ErrBuild where the server runs another program.
func (w Worker) Run(ctx context.Context) (int, error) {
	if err := w.Check(); err != nil {
		return 0, err
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	conn, err := w.connect(ctx, stop)
	if err != nil {
		return 0, err
	}
	defer conn.Close()
	h, err := w.hands(ctx, conn)
	if err != nil {
		return 0, err
	}
	go h.listen(ctx, stop)
	var side sync.WaitGroup
	for range w.Abreast {
		side.Go(func() { h.work(ctx, stop) })
	}
	side.Wait()
	err = context.Cause(ctx)
	if errors.Is(err, errDone) {
		err = nil
	}
	return int(h.done.Load()), err
}

// errDone is the cause by which a worker leaves a study that is complete.
var errDone error = tongue.Fault("the study is complete")

// answer is how long the server has to answer.
const answer = 2 * time.Second

// between is how long a worker waits before it tries again what failed for want of a server.
const between = 300 * time.Millisecond

// connect waits for the server. A connection that is lost later comes back by itself, or stops the
// worker when its patience is at an end.
func (w Worker) connect(ctx context.Context, stop context.CancelCauseFunc) (*nats.Conn, error) {
	gone := tongue.Errorf("%s: no server of a study answers there", w.Connect)
	timer := time.AfterFunc(w.Patience, func() { stop(gone) })
	options := []nats.Option{
		nats.Token(w.Token), nats.IgnoreDiscoveredServers(), nats.MaxReconnects(-1), nats.ReconnectWait(between), nats.ReconnectJitter(0, 0), nats.Timeout(answer),
		nats.DisconnectErrHandler(func(*nats.Conn, error) { timer.Reset(w.Patience) }),
		nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {}), // what fails is tried again, or is its caller's error
		nats.ReconnectHandler(func(*nats.Conn) { timer.Stop() }),
	}
	for {
		conn, err := nats.Connect("nats://"+w.Connect, options...)
		switch {
		case err == nil:
			timer.Stop()
			return conn, nil
		case errors.Is(err, nats.ErrAuthorization):
			timer.Stop()
			return nil, tongue.Errorf("%s: the server %w", w.Connect, ErrToken)
		}
		if pause(ctx, between); ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
	}
}

// hands are a worker that is connected.
type hands struct {
	worker  Worker
	job     Job
	lease   time.Duration
	shards  jetstream.Consumer
	study   jetstream.KeyValue
	rows    jetstream.KeyValue
	failed  jetstream.KeyValue
	done    atomic.Int64
	telling sync.Mutex
}

// hands asks the server what is to be done, as soon as it says so.
func (w Worker) hands(ctx context.Context, conn *nats.Conn) (*hands, error) {
	js, err := jetstream.New(conn)
	if err != nil {
		return nil, err
	}
	h := &hands{worker: w}
	var about About
	for {
		if about, err = h.find(ctx, js); err == nil {
			break
		}
		if pause(ctx, between); ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
	}
	if about.Build != w.Build {
		return nil, tongue.Errorf("%s: the server runs %w", w.Connect, ErrBuild)
	}
	h.lease = about.Lease
	briefs, err := js.ObjectStore(ctx, briefBucket)
	if err != nil {
		return nil, err
	}
	brief, err := briefs.GetBytes(ctx, briefObject)
	if err != nil {
		return nil, err
	}
	h.job, err = w.Prepare(about, brief)
	return h, err
}

// find finds what the server made.
func (h *hands) find(ctx context.Context, js jetstream.JetStream) (about About, err error) {
	ctx, cancel := context.WithTimeout(ctx, answer)
	defer cancel()
	for name, bucket := range map[string]*jetstream.KeyValue{studyBucket: &h.study, rowsBucket: &h.rows, failedBucket: &h.failed} {
		if *bucket, err = js.KeyValue(ctx, name); err != nil {
			return about, err
		}
	}
	if h.shards, err = js.Consumer(ctx, queueName, consumerName); err != nil {
		return about, err
	}
	entry, err := h.study.Get(ctx, aboutKey)
	if err != nil {
		return about, err
	}
	return about, json.Unmarshal(entry.Value(), &about)
}

// listenEvery is how often a worker asks whether the study has ended; a watch would be quicker, but
// takes long to come back after a server was killed.
const listenEvery = 500 * time.Millisecond

// listen hears how the study ends, and of a server that comes back with another program.
func (h *hands) listen(ctx context.Context, stop context.CancelCauseFunc) {
	for ctx.Err() == nil {
		asked, cancel := context.WithTimeout(ctx, answer)
		entry, err := h.study.Get(asked, endKey)
		if err == nil {
			h.hear(entry.Value(), stop)
		}
		if entry, err = h.study.Get(asked, aboutKey); err == nil {
			var about About
			if json.Unmarshal(entry.Value(), &about) == nil && about.Build != h.worker.Build {
				stop(tongue.Errorf("%s: the server came back with %w", h.worker.Connect, ErrBuild))
			}
		}
		cancel()
		pause(ctx, listenEvery)
	}
}

// hear leaves a study that has ended.
func (h *hands) hear(value []byte, stop context.CancelCauseFunc) {
	var e end
	if json.Unmarshal(value, &e) != nil {
		return
	}
	switch e.How {
	case endedDone:
		stop(errDone)
	case endedDiffers:
		stop(fmt.Errorf("%s: %w", e.Text, ErrDiffers))
	default:
		stop(tongue.Errorf("the server ended the study: %s", e.Text))
	}
}

// work takes shards, one after another.
func (h *hands) work(ctx context.Context, stop context.CancelCauseFunc) {
	for ctx.Err() == nil {
		asked, cancel := context.WithTimeout(ctx, answer)
		batch, err := h.shards.Fetch(1, jetstream.FetchContext(asked))
		if err == nil {
			for msg := range batch.Messages() {
				if err := h.shard(ctx, msg); err != nil {
					stop(err)
				}
			}
			err = batch.Error()
		}
		if cancel(); err != nil && !errors.Is(err, nats.ErrTimeout) && !errors.Is(err, context.DeadlineExceeded) {
			pause(ctx, between)
		}
	}
}

// pause waits, or returns as soon as the context ends.
func pause(ctx context.Context, span time.Duration) {
	select {
	case <-ctx.Done():
	case <-time.After(span):
	}
}

// shard works one shard out. What fails is tried again, here or elsewhere, MostTries times in all;
// only what ends the study is an error.
func (h *hands) shard(ctx context.Context, msg jetstream.Msg) error {
	key := keyOf(msg.Subject())
	silent := h.beat(msg)
	rows, digest, err := h.job(ctx, key)
	if err == nil && len(rows) > mostPayload {
		err = tongue.Errorf("its rows are %d MB, allowed: %d MB; block_seasons of the study makes shards smaller", len(rows)>>20, mostPayload>>20)
	}
	if err == nil {
		err = h.put(ctx, key, pack(digest, rows))
	}
	silent()
	switch {
	case errors.Is(err, ErrDiffers):
		return err
	case ctx.Err() != nil:
		_ = msg.Nak() // another takes it at once; if that is not heard, when the lease ends
		return nil
	case err != nil:
		h.fail(ctx, msg, err)
		return nil
	}
	acked, cancel := context.WithTimeout(ctx, answer)
	defer cancel()
	_ = msg.DoubleAck(acked) // if it is lost the shard comes again, and its rows are there
	h.telling.Lock()
	defer h.telling.Unlock()
	done := int(h.done.Add(1))
	if h.worker.Tell != nil {
		h.worker.Tell(key, done)
	}
	return nil
}

// leastBeat is the least time between two signs of life.
const leastBeat = 100 * time.Millisecond

// beat says every sixth of a lease that a shard is being worked on, until silent is called.
func (h *hands) beat(msg jetstream.Msg) (silent func()) {
	quit, over := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(over)
		tick := time.NewTicker(max(leastBeat, h.lease/6))
		defer tick.Stop()
		for {
			select {
			case <-quit:
				return
			case <-tick.C:
				_ = msg.InProgress() // a sign that is lost is followed by others
			}
		}
	}()
	return func() {
		close(quit)
		<-over
	}
}

// put puts rows down unless some are there, which must then be the same. It tries until the server
// answers or the worker's patience is at an end.
func (h *hands) put(ctx context.Context, key string, value []byte) error {
	for ctx.Err() == nil {
		asked, cancel := context.WithTimeout(ctx, answer)
		_, err := h.rows.Create(asked, key, value)
		if errors.Is(err, jetstream.ErrKeyExists) {
			err = h.compare(asked, key, value)
		}
		cancel()
		if err == nil || errors.Is(err, ErrDiffers) {
			return err
		}
		pause(ctx, between)
	}
	return context.Cause(ctx)
}

// compare tells whether rows are those that are there; if they are not, everybody is told.
func (h *hands) compare(ctx context.Context, key string, value []byte) error {
	there, err := h.rows.Get(ctx, key)
	if err != nil {
		return err
	}
	was, _ := unpack(there.Value())
	if is, _ := unpack(value); is == was {
		return nil
	}
	text, err := json.Marshal(end{How: endedDiffers, Text: key})
	if err != nil {
		return err
	}
	if _, err := h.study.Put(ctx, endKey, text); err != nil {
		return err
	}
	return fmt.Errorf("%s: %w", key, ErrDiffers)
}

// fail notes that a shard failed and gives it back, or up.
func (h *hands) fail(ctx context.Context, msg jetstream.Msg, cause error) {
	meta, err := msg.Metadata()
	if err != nil {
		return
	}
	f := failure{Tries: int(meta.NumDelivered), Text: cause.Error()}
	value, err := json.Marshal(f)
	if err != nil {
		return
	}
	asked, cancel := context.WithTimeout(ctx, answer)
	defer cancel()
	_, _ = h.failed.Put(asked, keyOf(msg.Subject()), value) // unheard, the server misses the shard itself
	if f.Tries >= MostTries {
		_ = msg.Term()
		return
	}
	_ = msg.NakWithDelay(time.Second)
}
