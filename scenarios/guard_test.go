package scenarios

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What would take the YAML parser minutes or gigabytes never comes to it: the guard's one
// sentence is all that is said, with the line.
func TestGuardBeforeTheParser(t *testing.T) {
	for text, want := range map[string]string{
		"region: x\n" + strings.Repeat("[", 64_000):                         "f:2: found 101 brackets opened and not closed, allowed: at most 100",
		strings.Repeat("[\n", 101):                                          "f:101: found 101 brackets opened and not closed, allowed: at most 100",
		strings.Repeat("[]{", 101):                                          "f:1: found 101 brackets opened and not closed, allowed: at most 100",
		"a: " + strings.Repeat(":", 60_000):                                 "f:1: found 60001 colons on a line, allowed: at most 1000",
		strings.Repeat(":", 900_000):                                        "f:1: found a line of 900000 bytes, allowed: at most 65536 bytes",
		"a: 1\n\nb: " + strings.Repeat("x", 65_536):                         "f:3: found a line of 65539 bytes, allowed: at most 65536 bytes",
		"a:\n" + strings.Repeat("- ", 4001):                                 "f:2: found 4001 of the marks []{},-?&!* on a line, allowed: at most 4000",
		strings.Repeat(strings.Repeat("- ", 4000)+"\n", 11):                 "f:11: found more than 40000 of the marks []{},-?&!* so far, allowed: fewer, as a scenario needs",
		strings.Repeat("k: 1\n", 8001):                                      "f:8001: found more than 8000 colons so far, allowed: fewer, as a scenario needs",
		"\xFF\xFEr\x00e\x00":                                                "f:1: found a file in UTF-16, allowed: plain text in UTF-8; editors ask for the encoding where they save",
		"\xFE\xFF\x00r\x00e":                                                "f:1: found a file in UTF-16, allowed: plain text in UTF-8; editors ask for the encoding where they save",
		"r\x00e\x00":                                                        "f:1: found a zero byte (a file in UTF-16?), allowed: plain text in UTF-8; editors ask for the encoding where they save",
		"region: x\nsites: {Caf\xe9: {}}\n":                                 "f:2: found a byte that is no UTF-8, allowed: plain text in UTF-8; editors ask for the encoding where they save",
		"# " + strings.Repeat("x", 65_534) + "\nregion: [" + "\xff" + "]\n": "f:2: found a byte that is no UTF-8, allowed: plain text in UTF-8; editors ask for the encoding where they save",
	} {
		_, err := Read("f", []byte(text))
		var faults Faults
		require.ErrorAs(t, err, &faults, want)
		assert.Equal(t, want, faults.Error())
		_, err = ReadClimate("f", []byte(text))
		assert.EqualError(t, err, want)
	}
}

// At each of its bounds the guard lets a file by.
func TestGuardAtItsBounds(t *testing.T) {
	for _, text := range []string{
		strings.Repeat("[", deepestOpen) + strings.Repeat("]", deepestOpen) + strings.Repeat("[", deepestOpen),
		strings.Repeat("]", 300) + strings.Repeat("{", deepestOpen),
		strings.Repeat(strings.Repeat(":", lineColons)+"\n", fileColons/lineColons),
		strings.Repeat(strings.Repeat("-", lineMarks)+"\n", fileMarks/lineMarks),
		strings.Repeat("x", longestLine) + "\n",
	} {
		r := &reader{file: "f"}
		data, ok := r.guard([]byte(text))
		assert.True(t, ok)
		assert.Empty(t, r.faults)
		assert.Equal(t, text, string(data))
	}
}

// A byte-order mark, as some editors put before UTF-8, changes nothing, and neither do their
// line ends.
func TestByteOrderMark(t *testing.T) {
	data, err := os.ReadFile(folder + "whole.good.yaml")
	require.NoError(t, err)
	s, err := Read("marked.yaml", append([]byte(utf8Mark), data...))
	require.NoError(t, err)
	assert.Equal(t, whole(t).Hash, s.Hash)
	s, err = Read("windows.yaml", []byte(utf8Mark+strings.ReplaceAll(string(data), "\n", "\r\n")))
	require.NoError(t, err)
	assert.Equal(t, whole(t).Hash, s.Hash)
}

// The largest scenario that is meant passes the guard by far: 60 sites with every key stated.
func TestLargestScenarioPasses(t *testing.T) {
	var b strings.Builder
	data, err := os.ReadFile(folder + "small.good.yaml")
	require.NoError(t, err)
	head, _, _ := strings.Cut(string(data), "sites:")
	b.WriteString(head + "sites:\n")
	for i := range 60 {
		b.WriteString("  Site " + string(rune('A'+i%26)) + string(rune('a'+i/26)) + ": {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, closed: [{from: 1 jul, to: 2 jul, why: sprayed}]}\n")
	}
	s, err := Read("large.yaml", []byte(b.String()))
	require.NoError(t, err)
	written := s.Write()
	_, err = Read("again.yaml", written)
	require.NoError(t, err)
	assert.Less(t, strings.Count(string(written), ":"), fileColons/4)
}
