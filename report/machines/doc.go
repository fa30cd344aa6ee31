// Package machines deals the shards of a study to workers on many machines and gathers what they
// work out. It knows shards by their keys and rows as bytes with a digest, nothing of seasons.
//
// One machine serves: it holds a queue of the shards that are not done (a work queue of NATS
// JetStream, embedded; https://docs.nats.io/nats-concepts/jetstream) and keeps rows as they come
// in. Any number of machines work: each takes a shard, says every few seconds that it is still at
// it, puts the rows down unless rows are there, and only then takes the shard off the queue. A
// worker that falls silent for the length of its lease loses the shard to another. So every shard
// is worked out at least once, and its rows are kept once: what comes in twice must be the same
// to the last bit, or the study ends.
//
// Whatever is killed when, the queue is the plan less what is done. A shard that fails five times
// ends the study as incomplete once all others are done.
package machines
