package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the notices of third-party code")

// module is a module that is linked into the program.
type module struct{ path, version, dir string }

// linked lists the modules that are linked into the program, as the go tool knows them.
func linked(t *testing.T) []module {
	t.Helper()
	out, err := exec.Command("go", "list", "-deps", "-f", `{{with .Module}}{{.Path}}|{{.Version}}|{{.Dir}}{{end}}`, ".").Output()
	require.NoError(t, err)
	var list []module
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		parts := strings.Split(line, "|")
		if len(parts) != 3 || parts[0] == "drystalk" {
			continue
		}
		if m := (module{parts[0], parts[1], parts[2]}); !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	slices.SortFunc(list, func(a, b module) int { return strings.Compare(a.path, b.path) })
	return list
}

// head is the line above the notice of a module.
func (m module) head() string { return "=== " + strings.TrimSpace(m.path+" "+m.version) + " ===" }

// ofLicences are the names of files that hold a licence or belong to one.
var ofLicences = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|copyright|authors)[^/]*$|^licenses/.*$`)

// notices returns what the authors of a module ask to be told with it.
func (m module) notices(t *testing.T) string {
	t.Helper()
	var out strings.Builder
	require.NoError(t, filepath.WalkDir(m.dir, func(path string, d os.DirEntry, err error) error {
		require.NoError(t, err)
		name, _ := filepath.Rel(m.dir, path)
		if d.IsDir() && strings.Contains(name, string(filepath.Separator)) {
			return filepath.SkipDir
		}
		if d.IsDir() || !ofLicences.MatchString(filepath.ToSlash(name)) || strings.HasSuffix(name, "gpl.txt") {
			return nil // where a licence may be chosen, the one without conditions on the whole
		}
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		fmt.Fprintf(&out, "\n--- %s\n\n%s\n", filepath.ToSlash(name), strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
		return nil
	}))
	require.NotEmpty(t, out.String(), "%s states no licence", m.path)
	return out.String()
}

// noticesBegin are our own words above the notices.
const noticesBegin = `drystalk is free software under the Apache License 2.0 (the file LICENSE beside its code).

Data that come with the program: monthly climate normals of stations, taken from the WMO
Climatological Standard Normals 1991-2020 (World Meteorological Organization; archived by the NOAA
National Centers for Environmental Information, accession 0253808), which the weather services of
the countries computed. Name that source when you pass on answers that rest on a station's normals.

The program is also made of the modules below. Their authors ask that these notices go with it.
`

// The notices that the program prints name every module that is linked into it, at its version,
// with the words of its authors; so does the Go standard library.
func TestLicencesNameEveryModule(t *testing.T) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	list := append(linked(t), module{"Go standard library", "", strings.TrimSpace(string(root))})
	require.Greater(t, len(list), 15)
	if *update {
		var b strings.Builder
		b.WriteString(noticesBegin)
		for _, m := range list {
			b.WriteString("\n" + m.head() + "\n")
			if m.path == "Go standard library" {
				text, err := os.ReadFile(filepath.Join(m.dir, "LICENSE"))
				require.NoError(t, err)
				b.WriteString("\n" + strings.TrimSpace(string(text)) + "\n")
				continue
			}
			b.WriteString(m.notices(t))
		}
		require.NoError(t, os.WriteFile("licences.txt", []byte(b.String()), 0o644))
		licences = b.String()
	}
	var out, errOut bytes.Buffer
	require.Equal(t, exitDone, run(context.Background(), []string{"--licences"}, &out, &errOut), errOut.String())
	printed := out.String()
	require.True(t, strings.HasPrefix(printed, noticesBegin))
	heads := regexp.MustCompile(`(?m)^=== .* ===$`).FindAllString(printed, -1)
	for _, m := range list {
		require.Contains(t, heads, m.head(), "a module without its notice; go test ./cmd/drystalk -run Licences -update")
		if m.version != "" {
			_, after, _ := strings.Cut(printed, m.head()+"\n")
			notice, _, _ := strings.Cut(after, "\n=== ")
			assert.Equal(t, strings.TrimSpace(m.notices(t)), strings.TrimSpace(notice), m.path)
		}
	}
	assert.Len(t, heads, len(list), "a notice of what is not linked any more")
}
