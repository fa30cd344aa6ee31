package trials

import (
	"crypto/sha256"
	"encoding/binary"
	"math/rand/v2"
)

// RegionWide is the site of a stream that all sites share.
const RegionWide = ^uint64(0)

// Stream returns the stream of chance of one purpose at one site in one season:
// ChaCha8 seeded with SHA-256 of seed, season and site (64 bits, little endian)
// and the purpose. No two keys share a stream in practice, and nothing a plan
// changes can shift one.
func Stream(seed, season, site uint64, purpose string) *rand.Rand {
	key := make([]byte, 24, 24+len(purpose))
	binary.LittleEndian.PutUint64(key[0:], seed)
	binary.LittleEndian.PutUint64(key[8:], season)
	binary.LittleEndian.PutUint64(key[16:], site)
	return rand.New(rand.NewChaCha8(sha256.Sum256(append(key, purpose...))))
}
