package machines

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of this file run server and workers as processes of their own, which are the test
// program again in another role.
const roleVariable = "DRYSTALK_TEST_ROLE"

func TestMain(m *testing.M) {
	switch os.Getenv(roleVariable) {
	case "serve":
		os.Exit(serveRole(os.Args[1], os.Args[2], os.Args[3], os.Args[4]))
	case "work":
		os.Exit(workRole(os.Args[1], os.Args[2], os.Args[3]))
	}
	os.Exit(m.Run())
}

// shardsOf returns so many keys.
func shardsOf(n int) (keys []string) {
	for i := range n {
		keys = append(keys, fmt.Sprintf("point0001-%08d", i))
	}
	return keys
}

// rowsOf is what is worked out of a shard: bytes that go by its key alone.
func rowsOf(key string) []byte {
	sum := sha256.Sum256([]byte("rows of " + key))
	return bytes.Repeat(sum[:], 20)
}

func digestOf(rows []byte) string {
	sum := sha256.Sum256(rows)
	return hex.EncodeToString(sum[:8])
}

// serveRole serves so many shards into a folder, says where it listens, and at the end says the
// digest of all rows and how often rows were kept.
func serveRole(folder, shards, lease, listen string) int {
	n, _ := strconv.Atoi(shards)
	span, _ := time.ParseDuration(lease)
	parts := filepath.Join(folder, "parts")
	if err := os.MkdirAll(parts, 0o755); err != nil {
		fmt.Println("failed", err)
		return 1
	}
	var todo []string
	for _, key := range shardsOf(n) {
		if _, err := os.Stat(filepath.Join(parts, key)); err != nil {
			todo = append(todo, key)
		}
	}
	s := Study{Name: "test", Hash: "h", Build: "b", Brief: []byte("brief"), Todo: todo, Keep: func(_ context.Context, key, digest string, rows []byte) error {
		if digestOf(rows) != digest {
			return errors.New("digest")
		}
		temporary := filepath.Join(folder, "temporary "+key)
		if err := os.WriteFile(temporary, rows, 0o644); err != nil {
			return err
		}
		return os.Link(temporary, filepath.Join(parts, key)) // fails where the part is there
	}, Tell: func(e Event) {
		switch {
		case e.Address != "":
			fmt.Println("address", e.Address, len(todo))
		case e.Key != "":
			fmt.Println("kept", e.Key, e.Left)
		}
	}}
	if err := (Hub{Listen: listen, Folder: filepath.Join(folder, "queue"), Lease: span}).Serve(context.Background(), s); err != nil {
		fmt.Println("failed", err)
		return 1
	}
	all := sha256.New()
	for _, key := range shardsOf(n) {
		rows, err := os.ReadFile(filepath.Join(parts, key))
		if err != nil {
			fmt.Println("failed", err)
			return 1
		}
		_, _ = all.Write(rows)
	}
	fmt.Println("digest", hex.EncodeToString(all.Sum(nil)[:8]))
	return 0
}

// workRole works shards out, each in so long.
func workRole(address, each, build string) int {
	span, _ := time.ParseDuration(each)
	w := Worker{Connect: address, Build: build, Abreast: 1, Patience: 20 * time.Second, Prepare: func(_ About, brief []byte) (Job, error) {
		if string(brief) != "brief" {
			return nil, errors.New("not the brief")
		}
		return func(_ context.Context, key string) ([]byte, string, error) {
			time.Sleep(span)
			rows := rowsOf(key)
			return rows, digestOf(rows), nil
		}, nil
	}, Tell: func(key string, _ int) { fmt.Println("did", key) }}
	done, err := w.Run(context.Background())
	if err != nil {
		fmt.Println("failed", err)
		return 1
	}
	fmt.Println("left", done)
	return 0
}

// process is a process in a role, with the lines that it says.
type process struct {
	t     *testing.T
	cmd   *exec.Cmd
	lines chan string
	said  []string
}

// long leaves the slower tests to .ci/run.
func long(t *testing.T) {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG=1, as in .ci/run, starts more processes")
	}
}

func start(t *testing.T, role string, args ...string) *process {
	t.Helper()
	p := &process{t: t, cmd: exec.Command(os.Args[0], args...), lines: make(chan string, 10_000)}
	p.cmd.Env = append(os.Environ(), roleVariable+"="+role)
	p.cmd.Stderr = os.Stderr
	out, err := p.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, p.cmd.Start())
	go func() {
		defer close(p.lines)
		for s := bufio.NewScanner(out); s.Scan(); {
			p.lines <- s.Text()
		}
	}()
	t.Cleanup(func() { p.kill() })
	return p
}

// kill ends the process as a power cut would.
func (p *process) kill() {
	if p.cmd.ProcessState == nil {
		_ = p.cmd.Process.Signal(syscall.SIGKILL)
		_ = p.cmd.Wait()
	}
}

// hears waits for a line that begins so and returns its words.
func (p *process) hears(word string) []string {
	p.t.Helper()
	timeout := time.After(60 * time.Second)
	for {
		select {
		case line, ok := <-p.lines:
			if !ok {
				require.FailNow(p.t, "the process ended", "before it said %q; it said %q", word, p.said)
			}
			p.said = append(p.said, line)
			if strings.HasPrefix(line, word+" ") {
				return strings.Fields(line)
			}
		case <-timeout:
			require.FailNow(p.t, "too slow", "no %q after a minute; it said %q", word, p.said)
		}
	}
}

// over waits for the process to end and returns how many lines it said that begin so.
func (p *process) over(word string) (n int) {
	for line := range p.lines {
		p.said = append(p.said, line)
	}
	_ = p.cmd.Wait()
	for _, line := range p.said {
		if strings.HasPrefix(line, word+" ") {
			n++
		}
	}
	return n
}

// wanted is the digest of so many shards, worked out here.
func wanted(n int) string {
	all := sha256.New()
	for _, key := range shardsOf(n) {
		_, _ = all.Write(rowsOf(key))
	}
	return hex.EncodeToString(all.Sum(nil)[:8])
}

const shards = 40

// serve starts a server and returns its address.
func serve(t *testing.T, folder, lease, listen string) (*process, string) {
	t.Helper()
	p := start(t, "serve", folder, strconv.Itoa(shards), lease, listen)
	return p, p.hears("address")[1]
}

// finished checks that a server ends with the digest of all shards, each kept once by it or by
// those before it.
func finished(t *testing.T, server *process, before int) {
	t.Helper()
	assert.Equal(t, wanted(shards), server.hears("digest")[1])
	assert.Equal(t, shards-before, server.over("kept"))
	assert.Equal(t, 0, server.cmd.ProcessState.ExitCode())
}

func TestOneWorker(t *testing.T) {
	t.Parallel()
	server, at := serve(t, t.TempDir(), "5s", "127.0.0.1:0")
	worker := start(t, "work", at, "5ms", "b")
	finished(t, server, 0)
	assert.Equal(t, strconv.Itoa(shards), worker.hears("left")[1])
	assert.Equal(t, shards, worker.over("did"))
}

func TestThreeWorkers(t *testing.T) {
	t.Parallel()
	long(t)
	server, at := serve(t, t.TempDir(), "5s", "127.0.0.1:0")
	workers := []*process{start(t, "work", at, "20ms", "b"), start(t, "work", at, "20ms", "b"), start(t, "work", at, "20ms", "b")}
	finished(t, server, 0)
	sum := 0
	for _, w := range workers {
		did := w.over("did")
		assert.Positive(t, did)
		sum += did
	}
	assert.Equal(t, shards, sum)
}

// A worker that is killed over a shard loses it to another when its lease is over.
func TestAKilledWorker(t *testing.T) {
	t.Parallel()
	server, at := serve(t, t.TempDir(), "1s", "127.0.0.1:0")
	victim := start(t, "work", at, "30ms", "b")
	victim.hears("did")
	victim.hears("did")
	start(t, "work", at, "10ms", "b")
	victim.kill()
	finished(t, server, 0)
}

// Worker and server are killed; a server on the same folder goes on with what is not done, and the
// worker that lives on finds it.
func TestAKilledServer(t *testing.T) {
	t.Parallel()
	long(t)
	folder := t.TempDir()
	server, at := serve(t, folder, "1s", "127.0.0.1:0")
	victim, survivor := start(t, "work", at, "30ms", "b"), start(t, "work", at, "30ms", "b")
	for range 5 {
		server.hears("kept")
	}
	victim.kill()
	server.kill()
	parts, err := os.ReadDir(filepath.Join(folder, "parts"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(parts), 5)
	require.Less(t, len(parts), shards)
	again, _ := serve(t, folder, "1s", at)
	finished(t, again, len(parts))
	assert.Positive(t, survivor.over("did"))
}

// Where the lease is far too short, shards are worked out several times over and kept once.
func TestALeaseFarTooShort(t *testing.T) {
	t.Parallel()
	long(t)
	server, at := serve(t, t.TempDir(), "10ms", "127.0.0.1:0")
	workers := []*process{start(t, "work", at, "50ms", "b"), start(t, "work", at, "50ms", "b"), start(t, "work", at, "50ms", "b")}
	finished(t, server, 0)
	did := 0
	for _, w := range workers {
		did += w.over("did")
	}
	assert.Greater(t, did, shards, "no shard came twice, so the lease was not too short")
}

// One folder is served once at a time.
func TestTwoServersOnOneFolder(t *testing.T) {
	t.Parallel()
	long(t)
	folder := t.TempDir()
	first, at := serve(t, folder, "5s", "127.0.0.1:0")
	second := start(t, "serve", folder, strconv.Itoa(shards), "5s", "127.0.0.1:0")
	assert.Equal(t, 1, second.over("failed"))
	assert.Contains(t, second.said[0], "the study is being served by another process")
	start(t, "work", at, "1ms", "b")
	finished(t, first, 0)
}

// A worker of another build works nothing out.
func TestAWorkerOfAnotherBuild(t *testing.T) {
	t.Parallel()
	server, at := serve(t, t.TempDir(), "5s", "127.0.0.1:0")
	other := start(t, "work", at, "1ms", "c")
	assert.Equal(t, 1, other.over("failed"))
	assert.Contains(t, other.said[0], "the server runs another build of drystalk")
	assert.False(t, slices.ContainsFunc(other.said, func(s string) bool { return strings.HasPrefix(s, "did") }))
	start(t, "work", at, "1ms", "b")
	finished(t, server, 0)
}

// A folder that is deleted under the server ends the study with a line that says so, and the
// worker with it.
func TestAFolderDeletedUnderTheServer(t *testing.T) {
	t.Parallel()
	long(t)
	folder := filepath.Join(t.TempDir(), "study")
	server, at := serve(t, folder, "5s", "127.0.0.1:0")
	worker := start(t, "work", at, "20ms", "b")
	server.hears("kept")
	for os.RemoveAll(folder) != nil { // the server may be writing
		time.Sleep(time.Millisecond)
	}
	line := strings.Join(server.hears("failed"), " ")
	assert.Contains(t, line, "the folder of the study was deleted or moved while it was served")
	assert.Equal(t, 1, worker.over("failed"))
}
