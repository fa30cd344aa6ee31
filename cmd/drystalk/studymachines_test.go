package main

import (
	"bufio"
	"encoding/json"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// served starts the program as a server of the tiny study, and returns it with its address and a
// reader of what else it says.
func served(t *testing.T, dir, listen string) (*exec.Cmd, string, *bufio.Scanner) {
	t.Helper()
	cmd := exec.Command("program", "study", "serve", "tiny.yaml", "--out", dir, "--listen", listen, "--lease-seconds", "2", "--json")
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	said := bufio.NewScanner(out)
	address := regexp.MustCompile(`"address":"([^"]+)"`)
	for said.Scan() {
		if found := address.FindStringSubmatch(said.Text()); found != nil {
			return cmd, found[1], said
		}
	}
	require.FailNow(t, "the server ended before it served")
	return nil, "", nil
}

// A study whose shards are worked out by other processes has the digest of one that runs by
// itself, whatever is killed: here a worker, then the server and another worker. A program that is
// another build takes no part.
func TestStudyOnManyMachines(t *testing.T) {
	long(t)
	withTinyStudy(t)
	code, _, errOut := runHere(t, "study", "tiny.yaml", "--out", "whole")
	require.Equal(t, exitDone, code, errOut)
	server, at, said := served(t, "served", "127.0.0.1:0")
	victim, _ := started(t, "program", "study", "work", "--connect", at, "--workers", "1")
	for range 3 {
		require.True(t, said.Scan())
	}
	require.NoError(t, victim.Process.Kill())
	_ = victim.Wait()

	other, _ := started(t, "program", "study", "work", "--connect", at, "--workers", "2")
	require.True(t, said.Scan())
	require.NoError(t, server.Process.Kill())
	_ = server.Wait()
	require.NoError(t, other.Process.Kill())
	_ = other.Wait()
	server, at, said = served(t, "served", at)
	refused, words := started(t, anotherBuild(t), "study", "work", "--connect", at)
	var exit *exec.ExitError
	require.ErrorAs(t, refused.Wait(), &exit)
	assert.Equal(t, exitUsage, exit.ExitCode())
	assert.Contains(t, words.String(), "the server runs another build of drystalk: copy the program of the serving machine to this one")
	listening, words := started(t, "program", "study", "work", "--connect", at, "--json", "--workers", "1")
	worker, wordsToo := started(t, "program", "study", "work", "--connect", at)
	for said.Scan() { // to its end
	}
	require.NoError(t, server.Wait())
	require.NoError(t, worker.Wait(), wordsToo)
	require.NoError(t, listening.Wait(), words)
	assert.Regexp(t, `The study tiny is done; [\d,]+ shards? (was|were) worked out here\.`, wordsToo)
	events := strings.Split(strings.TrimSpace(words.String()), "\n")
	for _, line := range events {
		assert.True(t, json.Valid([]byte(line)), line)
	}
	assert.Contains(t, events[len(events)-1], `"event":"done"`)
	assert.Equal(t, outcome(t, "whole").Digest, outcome(t, "served").Digest)
	assert.NoDirExists(t, "served/queue")
}

// anotherBuild returns a program that does the same and is another.
func anotherBuild(t *testing.T) string {
	t.Helper()
	name, err := exec.LookPath("program")
	require.NoError(t, err)
	built, err := os.ReadFile(name)
	require.NoError(t, err)
	require.NoError(t, os.Mkdir("other", 0o755))
	require.NoError(t, os.WriteFile("other/program", append(built, "another build"...), 0o755))
	return "./other/program"
}

// What is wrong is said in one line with what was found and what is allowed.
func TestStudyMachinesUsage(t *testing.T) {
	withTinyStudy(t)
	for want, args := range map[string][]string{
		`error: none.yaml: no such file of a study`:                                                         {"serve", "none.yaml"},
		`error: --listen: found "7741", allowed: an address and a port from 0 to 65535, such as`:            {"serve", "tiny.yaml", "--listen", "7741"},
		`error: --listen: found :7741, which other machines can reach, without a token; allowed: 127.0.0.1`: {"serve", "tiny.yaml", "--listen", ":7741"},
		`error: --token: found 5 characters, allowed: 16 or more`:                                           {"serve", "tiny.yaml", "--token", "short"},
		`error: --lease-seconds: found 0, allowed: 0.01 to 3600`:                                            {"serve", "tiny.yaml", "--lease-seconds", "0"},
		`error: --table: found "rows.xlsx", allowed: a file that ends in .parquet or .csv`:                  {"serve", "tiny.yaml", "--table", "rows.xlsx"},
		`error: missing flags: --connect=ADDRESS:PORT`:                                                      {"work"},
		`error: --connect: found "localhost", allowed: an address and a port from 1 to 65535`:               {"work", "--connect", "localhost"},
		`error: --patience-minutes: found 0, allowed: above 0 to 10000`:                                     {"work", "--connect", "localhost:1", "--patience-minutes", "0"},
		`error: --patience-minutes: found 10001, allowed: above 0 to 10000`:                                 {"work", "--connect", "localhost:1", "--patience-minutes", "10001"},
	} {
		code, _, errOut := runHere(t, append([]string{"study"}, args...)...)
		assert.Equal(t, exitUsage, code, args)
		assert.True(t, strings.HasPrefix(errOut, want), "%s", errOut)
	}
	code, _, errOut := runHere(t, "study", "work", "--connect", "127.0.0.1:1", "--patience-minutes", "0.005")
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, errOut, "error: 127.0.0.1:1: no server of a study answers there\n")
}
