package machines

import (
	"bytes"
	"errors"
	"strings"
	"time"

	"drystalk/tongue"

	"github.com/nats-io/nats.go/jetstream"
)

// What server and workers call things.
const (
	queueName    = "SHARDS"       // the stream of shards to be worked out, one subject each
	queueSubject = "shards."      // and the key of the shard
	consumerName = "workers"      // that all workers share
	studyBucket  = "study"        // aboutKey and endKey
	rowsBucket   = "rows"         // by shard: what a worker worked out
	failedBucket = "failed"       // by shard: how often it failed, and why
	briefBucket  = "brief"        // briefObject
	briefObject  = "brief"        // what a worker must know of the study
	aboutKey     = "about"        // an About
	endKey       = "end"          // an end
	mostPayload  = 8 << 20        // bytes of the rows of one shard
	mostBrief    = int64(1) << 30 // bytes of a brief
)

// MostTries is how often a shard may fail before the study ends without it.
const MostTries = 5

// About is what a server says of itself and of the study.
type About struct {
	Study string `json:"study"` // its name
	Hash  string `json:"hash"`  // of the study
	Build string `json:"build"` // of the server's program
	Lease time.Duration
}

// How a study ended, for its workers.
const (
	endedDone    = "done"
	endedStopped = "stopped" // by the server
	endedDiffers = "differs" // found by a worker
)

// end is how and why a study ended.
type end struct {
	How  string `json:"how"`
	Text string `json:"text"`
}

// failure is how a shard failed so far.
type failure struct {
	Tries int    `json:"tries"`
	Text  string `json:"text"`
}

// ErrDiffers is returned where a shard was worked out twice and came out differently.
var ErrDiffers error = tongue.Fault("a shard was worked out twice and came out differently: a machine is broken, or its program is not the same")

// ErrBuild is returned by a worker whose program is not that of the server.
var ErrBuild error = tongue.Fault("another build of drystalk: copy the program of the serving machine to this one; machines of another kind of processor or system cannot take part, because their rows would differ in the last digits")

// ErrToken is returned by a worker that a server turns away.
var ErrToken error = tongue.Fault("asks for a token and this is not it, allowed: --token with that of drystalk study serve")

// Failed is the error of a study of which shards failed too often.
type Failed struct {
	Keys []string          // sorted as they were given
	Why  map[string]string // by key
}

// Error says how many shards failed, and why the first did.
func (f *Failed) Error() string {
	shards := tongue.Say("1 shard")
	if len(f.Keys) > 1 {
		shards = tongue.Sayf("%d shards", len(f.Keys))
	}
	return tongue.Sayf("incomplete: %s failed %d times and the rest is kept; %s: %s", shards, MostTries, f.Keys[0], f.Why[f.Keys[0]])
}

// pack puts digest and rows together; unpack takes them apart. Rows that are kept leave their
// digest behind alone.
func pack(digest string, rows []byte) []byte {
	return append([]byte(digest+"\n"), rows...)
}

func unpack(value []byte) (digest string, rows []byte) {
	before, after, _ := bytes.Cut(value, []byte("\n"))
	return string(before), after
}

// isCode tells whether an error is that of the server with a code.
func isCode(err error, code jetstream.ErrorCode) bool {
	var api *jetstream.APIError
	return errors.As(err, &api) && api.ErrorCode == code
}

// keyOf returns the key of the shard of a subject.
func keyOf(subject string) string { return strings.TrimPrefix(subject, queueSubject) }
