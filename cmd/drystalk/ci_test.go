package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	picked   = regexp.MustCompile(`(?m)go test [^\n]* -run ['"]?([\w|]+)['"]?`)
	assigned = regexp.MustCompile(`(?m)^(\w+)\+?='([^']*)'`)
	packages = regexp.MustCompile(`\./[\w/]+`)
	declared = regexp.MustCompile(`(?m)^func ((?:Test|Example)\w*)\(`)
)

// Each name by which .ci/run picks tests is that of a test: go test says nothing where one of several
// names picks none, so a test that was renamed would be asked no more.
func TestEveryNameInTheChecksPicksATest(t *testing.T) {
	script, err := os.ReadFile("../../.ci/run")
	require.NoError(t, err)
	text := strings.ReplaceAll(string(script), "$seen", "./report ./report/book ./report/page")
	held := map[string]string{} // by variable
	for _, m := range assigned.FindAllStringSubmatch(text, -1) {
		held[m[1]] += m[2]
	}
	require.NotEmpty(t, held["rest"])
	for name, value := range held {
		text = strings.ReplaceAll(text, "$"+name, value)
	}
	lines := picked.FindAllStringSubmatch(text, -1)
	require.Greater(t, len(lines), 5)
	asked := 0
	for _, line := range lines {
		var names []string
		for _, folder := range packages.FindAllString(line[0], -1) {
			files, err := filepath.Glob(filepath.Join("../..", folder, "*_test.go"))
			require.NoError(t, err)
			require.NotEmpty(t, files, line[0])
			for _, file := range files {
				data, err := os.ReadFile(file)
				require.NoError(t, err)
				for _, m := range declared.FindAllStringSubmatch(string(data), -1) {
					names = append(names, m[1])
				}
			}
		}
		for _, name := range strings.Split(line[1], "|") {
			assert.Regexp(t, name, strings.Join(names, " "), "%s picks nothing", line[0])
			asked++
		}
	}
	assert.Greater(t, asked, 25, "names in all")
}
