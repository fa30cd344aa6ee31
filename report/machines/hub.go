package machines

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"drystalk/tongue"

	"github.com/gofrs/flock"
	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"
)

// Hub is where and how a study is served.
type Hub struct {
	Listen string        // address and port; a port of 0 takes any that is free
	Token  string        // that workers must give; needed for every address but the loopback
	Folder string        // of the queue; made if it is not there
	Lease  time.Duration // after which a shard whose worker is silent goes to another

	quiet time.Duration // before what the queue gave up is missed; 0 for ten seconds
}

// LeastToken is the least length of a token.
const LeastToken = 16

// Check tells what is wrong with a hub, for its user.
func (h Hub) Check() error {
	host, ok := hostOf(h.Listen, 0)
	switch {
	case !ok:
		return tongue.Errorf("--listen: found %q, allowed: an address and a port from 0 to 65535, such as 127.0.0.1:7741", h.Listen)
	case h.Token != "" && len(h.Token) < LeastToken:
		return tongue.Errorf("--token: found %d characters, allowed: %d or more", len(h.Token), LeastToken)
	case h.Token == "" && !loopback(host):
		return tongue.Errorf("--listen: found %s, which other machines can reach, without a token; allowed: 127.0.0.1, or a --token of %d characters or more that workers must give", h.Listen, LeastToken)
	case h.Lease < LeastLease || h.Lease > MostLease:
		return tongue.Errorf("--lease-seconds: found %g, allowed: %g to %g", h.Lease.Seconds(), LeastLease.Seconds(), MostLease.Seconds())
	}
	return nil
}

// hostOf returns the host of an address with a port that is a number, from the least to 65535.
func hostOf(address string, least uint64) (host string, ok bool) {
	host, port, err := net.SplitHostPort(address)
	if err != nil {
		return "", false
	}
	n, err := strconv.ParseUint(port, 10, 16)
	return host, err == nil && n >= least
}

// LeastLease and MostLease bound a lease.
const (
	LeastLease = 10 * time.Millisecond
	MostLease  = time.Hour
)

// loopback tells whether only this machine reaches a host.
func loopback(host string) bool {
	if host == "localhost" {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// ErrListen is returned where the address of a hub cannot be had.
var ErrListen error = tongue.Fault("allowed: an address of this machine with a port that no other program listens at")

// ErrServed is returned where a study is served already.
var ErrServed error = tongue.Fault("the study is being served by another process, which holds its folder; there can be one only")

// open is a hub that serves.
type open struct {
	hub    Hub
	lock   *flock.Flock
	locked os.FileInfo
	server *server.Server
	conn   *nats.Conn
	js     jetstream.JetStream
	queue  jetstream.Stream
	work   jetstream.Consumer
	study  jetstream.KeyValue
	rows   jetstream.KeyValue
	failed jetstream.KeyValue
}

// open takes the folder, starts the server and makes what it holds.
func (h Hub) open(ctx context.Context) (_ *open, err error) {
	if err := h.Check(); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(h.Folder, 0o755); err != nil {
		return nil, tongue.Errorf("%s: the folder of the queue cannot be made: %w", h.Folder, err)
	}
	o := &open{hub: h, lock: flock.New(filepath.Join(h.Folder, "lock"))}
	free, err := o.lock.TryLock()
	switch {
	case err != nil:
		return nil, tongue.Errorf("%s: the folder of the queue cannot be locked: %w", h.Folder, err)
	case !free:
		return nil, fmt.Errorf("%s: %w", h.Folder, ErrServed)
	}
	defer func() {
		if err != nil {
			o.close()
		}
	}()
	if o.locked, err = os.Stat(o.lock.Path()); err != nil {
		return nil, err
	}
	if err := o.start(); err != nil {
		return nil, err
	}
	return o, o.furnish(ctx)
}

// start starts the server and connects to it.
func (o *open) start() (err error) {
	listener, err := net.Listen("tcp", o.hub.Listen) // for a clear error, and for a port of 0
	if err != nil {
		return tongue.Errorf("--listen: found %s, which cannot be had (%w), %w", o.hub.Listen, cause(err), ErrListen)
	}
	at, ok := listener.Addr().(*net.TCPAddr)
	if err := listener.Close(); err != nil || !ok {
		return tongue.Errorf("%s: the port cannot be given up: %w", o.hub.Listen, err)
	}
	host, _, err := net.SplitHostPort(o.hub.Listen)
	if err != nil {
		return err
	}
	if host == "" {
		host = "0.0.0.0"
	}
	o.server, err = server.NewServer(&server.Options{
		ServerName: "drystalk", Host: host, Port: at.Port, Authorization: o.hub.Token,
		JetStream: true, StoreDir: o.hub.Folder, SyncAlways: true, MaxPayload: mostPayload + 1<<10,
		NoLog: true, NoSigs: true,
	})
	if err != nil {
		return err
	}
	o.server.Start()
	if !o.server.ReadyForConnections(20 * time.Second) {
		return tongue.Errorf("%s: the queue did not start within 20 seconds", o.hub.Folder)
	}
	o.conn, err = nats.Connect("", nats.InProcessServer(o.server), nats.Token(o.hub.Token), nats.ErrorHandler(func(*nats.Conn, *nats.Subscription, error) {}))
	if err != nil {
		return err
	}
	o.js, err = jetstream.New(o.conn)
	return err
}

// cause returns what the system said of an address.
func cause(err error) error {
	var at *net.OpError
	var call *os.SyscallError
	if errors.As(err, &at) {
		err = at.Err
	}
	if errors.As(err, &call) {
		err = call.Err
	}
	return err
}

// furnish makes stream, consumer and buckets, or finds them as they were left.
func (o *open) furnish(ctx context.Context) (err error) {
	o.queue, err = o.js.CreateOrUpdateStream(ctx, jetstream.StreamConfig{
		Name: queueName, Subjects: []string{queueSubject + "*"}, Retention: jetstream.WorkQueuePolicy, Storage: jetstream.FileStorage,
		Discard: jetstream.DiscardNew, DiscardNewPerSubject: true, MaxMsgsPerSubject: 1, Duplicates: time.Hour,
	})
	if err != nil {
		return tongue.Errorf("%s: the queue cannot be made: %w", o.hub.Folder, err)
	}
	o.work, err = o.queue.CreateOrUpdateConsumer(ctx, jetstream.ConsumerConfig{
		Durable: consumerName, AckPolicy: jetstream.AckExplicitPolicy, AckWait: o.hub.Lease, MaxDeliver: MostTries,
	})
	if err != nil {
		return tongue.Errorf("%s: the queue cannot be read: %w", o.hub.Folder, err)
	}
	for name, bucket := range map[string]*jetstream.KeyValue{studyBucket: &o.study, rowsBucket: &o.rows, failedBucket: &o.failed} {
		if *bucket, err = o.js.CreateOrUpdateKeyValue(ctx, jetstream.KeyValueConfig{Bucket: name, Storage: jetstream.FileStorage}); err != nil {
			return tongue.Errorf("%s: %s cannot be kept: %w", o.hub.Folder, name, err)
		}
	}
	return nil
}

// announce says what is served. What a former server said of an end no longer holds.
func (o *open) announce(ctx context.Context, about About, brief []byte) error {
	if int64(len(brief)) > mostBrief {
		return tongue.Errorf("the files of the study are %d MB, allowed: %d MB", len(brief)>>20, mostBrief>>20)
	}
	if err := o.study.Purge(ctx, endKey); err != nil {
		return err
	}
	briefs, err := o.js.CreateOrUpdateObjectStore(ctx, jetstream.ObjectStoreConfig{Bucket: briefBucket, Storage: jetstream.FileStorage})
	if err != nil {
		return err
	}
	if _, err := briefs.PutBytes(ctx, briefObject, brief); err != nil {
		return err
	}
	value, err := json.Marshal(about)
	if err != nil {
		return err
	}
	_, err = o.study.Put(ctx, aboutKey, value)
	return err
}

// gone tells whether the folder of the queue was deleted or replaced.
func (o *open) gone() bool {
	now, err := os.Stat(o.lock.Path())
	return err != nil || !os.SameFile(now, o.locked)
}

// farewell is how long a server that ends waits for its workers to leave.
const farewell = 3 * time.Second

// say tells workers how the study ended and gives them time to leave.
func (o *open) say(e end) {
	value, err := json.Marshal(e)
	if err != nil {
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), farewell)
	defer cancel()
	if _, err := o.study.Put(ctx, endKey, value); err != nil {
		return // they will find that nobody serves any more
	}
	for o.server.NumClients() > 1 && ctx.Err() == nil {
		time.Sleep(20 * time.Millisecond)
	}
}

// close stops the server and gives the folder up.
func (o *open) close() {
	if o.conn != nil {
		o.conn.Close()
	}
	if o.server != nil {
		o.server.Shutdown()
		o.server.WaitForShutdown()
	}
	_ = o.lock.Unlock() // it ends with the process anyway
}
