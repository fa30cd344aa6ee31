package tongue

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the catalogue from the code")

const head = `# Every text of the program, with the files in which it stands. To begin a language, copy this file,
# state its tag, and write each text's translation behind it; what is empty stays English. Places for
# arguments (%s, %d) stay as they are; %[2]s is the second, wherever it stands. A text that counts
# has as many forms as the language tells apart (zero, one, two, few, many, other).
`

// catalogueOf writes what was gathered as a file of texts.
func catalogueOf(g gathered) string {
	var b strings.Builder
	b.WriteString(head + "language: en\ntexts:\n")
	for _, text := range slices.Sorted(maps.Keys(g.files)) {
		fmt.Fprintf(&b, "  # %s\n", strings.Join(slices.Sorted(slices.Values(g.files[text])), ", "))
		if one, ok := g.one[text]; ok {
			fmt.Fprintf(&b, "  %s: {one: %s, other: %s}\n", quoted(text), quoted(one), quoted(text))
			continue
		}
		fmt.Fprintf(&b, "  %s: \"\"\n", quoted(text))
	}
	return b.String()
}

// quoted writes a text in the double quotes of YAML, which are Go's but for a few signs.
func quoted(s string) string { return strconv.Quote(s) }

// The catalogue lists what the code says, no more and no less.
func TestCatalogueIsCurrent(t *testing.T) {
	g := gather(t)
	require.Greater(t, len(g.files), 100)
	want := catalogueOf(g)
	if *update {
		require.NoError(t, os.WriteFile("english.yaml", []byte(want), 0o644))
		return
	}
	listed, said := catalogue().byEnglish(), map[string]bool{}
	for text, files := range g.files {
		said[text] = true
		_, ok := listed[text]
		assert.True(t, ok, "%s: the text %q is not in the catalogue: go test ./tongue -update", strings.Join(files, ", "), text)
	}
	for text := range listed {
		assert.True(t, said[text], "nothing says %q any more: go test ./tongue -update", text)
	}
	assert.True(t, string(English) == want, "english.yaml is not as the code has it: go test ./tongue -update")
}
