package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// printer prints a page to PDF as a browser does and returns its text page by page; the test is
// skipped where no browser is installed, or no program that reads PDF.
func printer(t *testing.T) func(html string) []string {
	t.Helper()
	if os.Getenv("DRYSTALK_LONG") == "" {
		t.Skip("DRYSTALK_LONG=1, as in .ci/run, prints with a browser")
	}
	browser := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	reader, err := exec.LookPath("pdftotext")
	if browser == "" || err != nil {
		t.Skip("no browser, or no pdftotext, is installed here; .ci/run installs them where it may")
	}
	return func(html string) []string {
		file, err := filepath.Abs(html)
		require.NoError(t, err)
		pdf := strings.TrimSuffix(file, ".html") + ".pdf"
		out, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--user-data-dir="+t.TempDir(), "--print-to-pdf="+pdf, "file://"+file).CombinedOutput()
		require.NoError(t, err, "%s", out)
		text, err := exec.Command(reader, "-layout", pdf, "-").Output()
		require.NoError(t, err)
		return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	}
}

// paperHeads are the headings of a paper, in their order.
var paperHeads = []string{"The answer", "What it costs, and who pays what", "What would change the answer", "What to measure first", "Cautions", "How this paper was made"}

// longNames is a scenario of fourteen sites with long names whose dryers are given, borrowed and paid for.
func longNames() string {
	return strings.NewReplacer("wood_per_kg: 0.1,", "wood_per_kg: 0.1, grant_fraction: 0.3, loan_fraction: 0.5, loan_months: 24, loan_interest_per_year: 0.12,", "max_dryers: 1", "max_dryers: 2").Replace(fourteenSites())
}

// The papers of all four questions print on two pages, dated and numbered, and no heading stands
// alone at the foot of a page: for both demos, fourteen sites with long names, and where nothing
// reaches the target. The long report of each cuts no column and has at most ten pages.
func TestPapersPrintOnTwoPages(t *testing.T) {
	pagesOf := printer(t)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("fourteen.yaml", []byte(longNames()), 0o644))
	require.NoError(t, os.WriteFile("nothing.yaml", []byte(strings.Replace(tiny, "jun: 4500", "jun: 450000", 1)), 0o644))
	for _, p := range papers {
		if p.more && os.Getenv("DRYSTALK_LONG") != "all" {
			continue
		}
		args := strings.Split(p.asked, "|")
		what := strings.Join(args[:2], " of ")
		code, _, errOut := runHere(t, append(args, "--seasons", "30", "--brief", "--date", "2026-11-26", "--out", "out")...)
		require.Equal(t, exitDone, code, "%s: %s", what, errOut)
		onTwoPages(t, what, pagesOf("out/brief.html"))
		if !p.annex {
			continue
		}
		long := pagesOf("out/report.html")
		assert.LessOrEqual(t, len(long), 10, "%s: pages of the report", what)
		assert.Contains(t, strings.Join(long, " "), "How to get the same numbers", what)
		headed(t, what, long)
	}
}

// papers are the answers that are printed; those of more only where DRYSTALK_LONG is "all", for each
// print takes a browser some seconds.
var papers = []struct {
	asked       string
	annex, more bool
}{
	{"dryers|lake-tavari|--search|30|--limit|30|--short|5", true, false},
	{"dryers|fourteen.yaml|--search|30|--limit|30|--short|5", true, false},
	{"dryers|nothing.yaml|--search|30|--limit|30|--short|5", false, false},
	{"compare|one-cooperative|--with|Heron Point: dryers=2|--futures|30", false, false},
	{"spend|fourteen.yaml|--budget|15000|--search|30", false, false},
	{"promise|one-cooperative|--search|30", false, false},
	{"compare|nothing.yaml|--with|Stone Weir's: dryers=2|--futures|30", true, false},
	{"compare|lake-tavari|--with|Heron Point: dryers=2|--futures|30", true, true},
	{"spend|lake-tavari|--budget|12000|--search|30", true, true},
	{"spend|one-cooperative|--budget|10000|--search|30", true, true},
	{"promise|lake-tavari|--search|30", true, true},
	{"dryers|one-cooperative|--search|30|--limit|30|--short|5", true, true},
	{"promise|fourteen.yaml|--search|30", true, true},
	{"promise|nothing.yaml|--search|30", false, true},
	{"compare|fourteen.yaml|--with|Upper Backwater Landing of the Village of C: dryers=1|--with|Upper Backwater Landing of the Village of D: clear_roof_m2=40|--futures|30", true, true},
	{"spend|nothing.yaml|--budget|2500,5000|--search|30", true, true},
}

var footer = regexp.MustCompile(`26 November 2026\s+page (\d) of (\d)\s*$`)

// row is a line of a table that begins with a name and goes on with figures alone.
var row = regexp.MustCompile(`^\S+(?: \S+)*(?:\s{2,}[-+]?\d[\d,.%]*){3,}\s*$`)

// headed tells that no page of a report but its first begins with a row of figures: the head of a table
// that runs on is said again. A table whose heads are figures has the numbers of dryers there.
func headed(t *testing.T, what string, pages []string) {
	t.Helper()
	for k, page := range pages[1:] {
		first, _, _ := strings.Cut(strings.TrimLeft(page, " \n"), "\n")
		if !strings.HasPrefix(first, "dryers ") {
			assert.NotRegexp(t, row, first, "%s: page %d", what, k+2)
		}
	}
}

// cutOff is an interval that begins a line of a table, without its figure.
var cutOff = regexp.MustCompile(`(?m)^ {6,}\([^()\n]* to [^()\n]*\)`)

// onTwoPages looks at the pages of a paper.
func onTwoPages(t *testing.T, what string, pages []string) {
	t.Helper()
	require.LessOrEqual(t, len(pages), 2, what)
	whole := strings.Join(pages, "\n")
	assert.NotRegexp(t, cutOff, whole, what)
	at := -1
	for _, head := range paperHeads {
		found := strings.Index(whole[at+1:], "\n"+head+"\n")
		require.GreaterOrEqual(t, found, 0, "%s: %s", what, head)
		at += found + 1
	}
	for k, page := range pages {
		foot := footer.FindStringSubmatch(page)
		require.NotNil(t, foot, "%s: page %d: %s", what, k+1, page)
		assert.Equal(t, []string{strconv.Itoa(k + 1), strconv.Itoa(len(pages))}, foot[1:], what)
		lines := strings.Split(strings.TrimSpace(footer.ReplaceAllString(page, "")), "\n")
		assert.NotContains(t, paperHeads, strings.TrimSpace(lines[len(lines)-1]), "%s: page %d ends with a heading", what, k+1)
	}
}
