package answers_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A module of somebody's own uses the packages by a replace line: it is built and run from a
// folder elsewhere, with nothing fetched.
func TestFromAnotherModule(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	dir := t.TempDir()
	for _, name := range []string{"go.mod", "main.go"} {
		data, err := os.ReadFile(filepath.Join(root, "testdata/module", name))
		require.NoError(t, err)
		text := strings.Replace(string(data), "=> ../..", "=> "+root, 1)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "go.sum"), sums, 0o644))
	cmd := exec.Command("go", "run", ".")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Len(t, lines, 4, "%s", out)
	assert.Equal(t, "shift_end_h,month,met,seasons", lines[0])
	for i, hour := range []string{"17", "19", "22"} {
		assert.Regexp(t, "^"+hour+`,\w+,\d+,60$`, lines[i+1])
	}
}
