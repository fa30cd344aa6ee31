package machines

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// kept is a study of so many shards whose rows are kept in memory.
type kept struct {
	mu     sync.Mutex
	rows   map[string]string
	failed []string
	at     chan string
}

func (k *kept) study(n int) Study {
	k.rows, k.failed, k.at = map[string]string{}, nil, make(chan string, 1)
	return Study{Name: "test", Hash: "h", Build: "b", Brief: []byte("brief"), Todo: shardsOf(n), Keep: func(_ context.Context, key, _ string, rows []byte) error {
		k.mu.Lock()
		defer k.mu.Unlock()
		k.rows[key] = string(rows)
		return nil
	}, Tell: func(e Event) {
		switch {
		case e.Address != "":
			k.at <- e.Address
		case e.Failed:
			k.failed = append(k.failed, e.Key)
		}
	}}
}

// run serves a study and works at it with one worker whose job is given; it returns the errors of
// both.
func (k *kept) run(t *testing.T, hub Hub, s Study, job Job) (served, worked error) {
	t.Helper()
	end := make(chan error, 1)
	go func() { end <- hub.Serve(t.Context(), s) }()
	at := ""
	select {
	case at = <-k.at:
	case err := <-end:
		require.NoError(t, err)
	}
	_, worked = Worker{Connect: at, Token: hub.Token, Build: "b", Abreast: 2, Patience: 5 * time.Second, Prepare: always(job)}.Run(t.Context())
	return <-end, worked
}

func always(job Job) func(About, []byte) (Job, error) {
	return func(about About, brief []byte) (Job, error) {
		if about.Study != "test" || about.Hash != "h" || string(brief) != "brief" {
			return nil, fmt.Errorf("another study: %v %q", about, brief)
		}
		return job, nil
	}
}

func honest(_ context.Context, key string) ([]byte, string, error) {
	rows := rowsOf(key)
	return rows, digestOf(rows), nil
}

func hubIn(t *testing.T) Hub {
	return Hub{Listen: "127.0.0.1:0", Folder: t.TempDir(), Lease: 5 * time.Second}
}

// More shards than may wait in the queue are all kept, with their rows.
func TestMoreShardsThanTheQueueHolds(t *testing.T) {
	t.Parallel()
	long(t)
	var k kept
	served, worked := k.run(t, hubIn(t), k.study(ahead+50), honest)
	require.NoError(t, served)
	require.NoError(t, worked)
	require.Len(t, k.rows, ahead+50)
	for key, rows := range k.rows {
		assert.Equal(t, string(rowsOf(key)), rows)
	}
}

// A shard that fails is tried five times, then the study is incomplete, with the rest kept; served
// again, it is tried again.
func TestAShardThatFails(t *testing.T) {
	t.Parallel()
	long(t)
	var k kept
	var tries atomic.Int64
	bad := shardsOf(5)[3]
	hub, s := hubIn(t), k.study(5)
	served, worked := k.run(t, hub, s, func(ctx context.Context, key string) ([]byte, string, error) {
		if key == bad {
			tries.Add(1)
			return nil, "", errors.New("no such weather")
		}
		return honest(ctx, key)
	})
	var failed *Failed
	require.ErrorAs(t, served, &failed)
	assert.Equal(t, []string{bad}, failed.Keys)
	assert.EqualError(t, served, "incomplete: 1 shard failed 5 times and the rest is kept; "+bad+": no such weather")
	assert.ErrorContains(t, worked, "the server ended the study: incomplete: 1 shard")
	assert.EqualValues(t, MostTries, tries.Load())
	assert.Equal(t, []string{bad}, k.failed)
	assert.Len(t, k.rows, 4)

	s = k.study(5)
	s.Todo = []string{bad}
	served, worked = k.run(t, hub, s, honest)
	require.NoError(t, served)
	require.NoError(t, worked)
	assert.Equal(t, []string{bad}, slices.Collect(maps.Keys(k.rows)))
}

// A shard whose workers fall silent every time, as if it killed them, is missed at last.
func TestAShardThatKillsItsWorkers(t *testing.T) {
	long(t)
	var k kept
	hub, s := hubIn(t), k.study(2)
	hub.Lease, hub.quiet = 20*time.Millisecond, time.Second
	end := make(chan error, 1)
	go func() { end <- hub.Serve(t.Context(), s) }()
	conn, err := nats.Connect("nats://" + <-k.at)
	require.NoError(t, err)
	defer conn.Close()
	js, err := jetstream.New(conn)
	require.NoError(t, err)
	shards, err := js.Consumer(t.Context(), queueName, consumerName)
	require.NoError(t, err)
	taken := 0
	for taken < 2*MostTries { // taken, and nothing is ever heard of it
		msg, err := shards.Next(jetstream.FetchMaxWait(5 * time.Second))
		require.NoError(t, err)
		assert.Contains(t, shardsOf(2), keyOf(msg.Subject()))
		taken++
	}
	go func() { // another worker asks for more
		for t.Context().Err() == nil {
			_, _ = shards.Next(jetstream.FetchMaxWait(time.Second))
		}
	}()
	var failed *Failed
	require.ErrorAs(t, <-end, &failed)
	assert.Equal(t, shardsOf(2), failed.Keys)
	assert.Equal(t, "every worker that took it fell silent: killed, out of memory, or cut off", failed.Why[failed.Keys[1]])
	assert.ErrorContains(t, failed, "incomplete: 2 shards failed 5 times and the rest is kept")
}

// A shard that comes out differently when it is worked out again ends the study for all.
func TestAShardThatDiffers(t *testing.T) {
	t.Parallel()
	long(t)
	var k kept
	hub, s := hubIn(t), k.study(1)
	s.Keep = func(context.Context, string, string, []byte) error {
		time.Sleep(2 * time.Second) // the second try is over first
		return nil
	}
	var tries atomic.Int64
	hub.Lease = LeastLease // so that the shard is dealt twice
	served, worked := k.run(t, hub, s, func(_ context.Context, key string) ([]byte, string, error) {
		time.Sleep(50 * time.Millisecond)
		rows := []byte(key + strconv.FormatInt(tries.Add(1), 10))
		return rows, digestOf(rows), nil
	})
	require.ErrorIs(t, worked, ErrDiffers)
	assert.ErrorContains(t, worked, shardsOf(1)[0]+": a shard was worked out twice and came out differently")
	_ = served // it may have kept its only shard before it heard
}

// What cannot be kept ends the study, and its workers hear why.
func TestAFullDisk(t *testing.T) {
	t.Parallel()
	var k kept
	s := k.study(3)
	s.Keep = func(context.Context, string, string, []byte) error { return errors.New("no space left on device") }
	served, worked := k.run(t, hubIn(t), s, honest)
	assert.EqualError(t, served, "no space left on device")
	assert.EqualError(t, worked, "the server ended the study: no space left on device")
}

// Without the token of the server a worker is turned away at once.
func TestTokens(t *testing.T) {
	t.Parallel()
	var k kept
	hub := hubIn(t)
	hub.Token = "sixteen letters!"
	ctx, stop := context.WithCancel(t.Context())
	end, s := make(chan error, 1), k.study(2)
	go func() { end <- hub.Serve(ctx, s) }()
	at := <-k.at
	for _, token := range []string{"", "sixteen letters?"} {
		_, err := Worker{Connect: at, Token: token, Build: "b", Abreast: 1, Patience: 5 * time.Second, Prepare: always(honest)}.Run(t.Context())
		assert.ErrorIs(t, err, ErrToken)
	}
	stop()
	assert.ErrorIs(t, <-end, context.Canceled)
	served, worked := k.run(t, hub, k.study(2), honest)
	require.NoError(t, served)
	require.NoError(t, worked)
	assert.Len(t, k.rows, 2)
}

// Where nobody serves a worker says so when its patience is at an end.
func TestNobodyServes(t *testing.T) {
	t.Parallel()
	_, err := Worker{Connect: "127.0.0.1:1", Build: "b", Abreast: 1, Patience: 500 * time.Millisecond, Prepare: always(honest)}.Run(t.Context())
	assert.EqualError(t, err, "127.0.0.1:1: no server of a study answers there")
}

// Nonsense is refused before anything is opened.
func TestNonsense(t *testing.T) {
	t.Parallel()
	good := Hub{Listen: "127.0.0.1:0", Folder: t.TempDir(), Lease: time.Second}
	require.NoError(t, good.Check())
	for want, spoil := range map[string]func(*Hub){
		`--listen: found "here", allowed: an address and a port`:                            func(h *Hub) { h.Listen = "here" },
		"--listen: found 0.0.0.0:7741, which other machines can reach, without a token":     func(h *Hub) { h.Listen = "0.0.0.0:7741" },
		"--listen: found :7741, which other machines can reach, without a token":            func(h *Hub) { h.Listen = ":7741" },
		"--listen: found example.org:7741, which other machines can reach, without a token": func(h *Hub) { h.Listen = "example.org:7741" },
		"--listen: found 192.168.1.2:7741, which other machines can reach, without a token": func(h *Hub) { h.Listen = "192.168.1.2:7741" },
		"--token: found 15 characters, allowed: 16 or more":                                 func(h *Hub) { h.Token = "fifteen letters" },
		"--lease-seconds: found 0.009, allowed: 0.01 to 3600":                               func(h *Hub) { h.Lease = 9 * time.Millisecond },
		"--lease-seconds: found 3601, allowed: 0.01 to 3600":                                func(h *Hub) { h.Lease = 3601 * time.Second },
	} {
		hub := good
		spoil(&hub)
		assert.ErrorContains(t, hub.Check(), want)
		assert.ErrorContains(t, hub.Serve(t.Context(), Study{}), want)
	}
	for _, host := range []string{"localhost:1", "[::1]:1", "127.0.0.2:1"} {
		hub := good
		hub.Listen = host
		assert.NoError(t, hub.Check(), host)
	}
	hub := good
	hub.Listen, hub.Token = "0.0.0.0:1", "sixteen letters!"
	assert.NoError(t, hub.Check())
	for _, at := range []string{"host", "host:0", "host:65536", "host:http", ":1"} {
		assert.ErrorContains(t, Worker{Connect: at, Abreast: 1}.Check(), `--connect: found "`+at+`", allowed: an address and a port`)
	}
	require.NoError(t, Worker{Connect: "host:65535", Abreast: 1}.Check())
	assert.ErrorContains(t, Worker{Connect: "host:1"}.Check(), "--workers: found 0, allowed: 1 or more")
}

// A port that another program holds is an error that says so.
func TestAPortThatIsTaken(t *testing.T) {
	t.Parallel()
	var k kept
	end := make(chan error, 1)
	ctx, stop := context.WithCancel(t.Context())
	first, s := hubIn(t), k.study(2)
	go func() { end <- first.Serve(ctx, s) }()
	at := <-k.at
	hub := hubIn(t)
	hub.Listen = at
	assert.ErrorContains(t, hub.Serve(t.Context(), Study{}), "--listen: found "+at+", which cannot be had (address already in use), allowed: an address of this machine")
	stop()
	<-end
}
