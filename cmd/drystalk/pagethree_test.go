package main

import (
	"net/http"
	"net/url"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// threeNumbers are those of today and two plans in a row of the page's table.
const threeNumbers = `<td [^>]*>(.*?)</td><td [^>]*>(.*?)</td><td [^>]*>(.*?)</td>`

// A plan that was set aside stands beside today and the plan, each against its own contract, and what the
// page says of both is what compare says of each.
func TestPageThreePlansAgreeWithCompare(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	plan, token := opened(t, "plan.yaml", tiny)
	form := func(ask, dryers, june string) url.Values {
		return url.Values{
			"token": {token}, "ask": {ask}, "seasons": {"30"}, "futures": {"30"},
			"n:sites.Stone Weir's.dryers": {dryers}, "n:contract.stalks_per_month.jun": {june},
		}
	}
	body := asks(t, plan, form("aside", "2", "4500"))
	assert.Contains(t, body, "Compared as well:</strong> the plan that was set aside")
	body = asks(t, plan, form("compare", "2", "4700"))
	sameAsLine(t, plan, `drystalk compare plan.yaml --with 'Stone Weir'\''s: dryers=2' --with 'contract: stalks_per_month.jun=4700' --seed 1 --seasons 30 --futures 30`)
	code, beside := get(t, plan+"/file/beside-answer.json")
	require.Equal(t, http.StatusOK, code)
	line := printedLine(t, beside)
	assert.Equal(t, `drystalk compare plan.yaml --with 'Stone Weir'\''s: dryers=2' --seed 1 --seasons 30 --futures 30`, line)
	code, out, errOut := runHere(t, append(shellWords(t, line)[1:], "--json")...)
	require.Equal(t, exitDone, code, errOut)
	assert.Equal(t, out, beside)

	asked := regexp.MustCompile(`>June, asked for</th>` + threeNumbers).FindStringSubmatch(body)
	require.Len(t, asked, 4)
	assert.Equal(t, []string{"4,500", "4,700", "4,500"}, asked[1:], "each against its own contract")
	met := regexp.MustCompile(`>June, met in</th>` + threeNumbers).FindStringSubmatch(body)
	require.Len(t, met, 4)
	_, text, _ := runHere(t, append(shellWords(t, line)[1:], "--out", "beside")...)
	assert.Regexp(t, `June +`+regexp.QuoteMeta(met[1])+` +`+regexp.QuoteMeta(met[3]), text, "as compare says of the plan set aside")
	_, text, _ = runHere(t, append(shellWords(t, `drystalk compare plan.yaml --with "Stone Weir's: dryers=2" --with 'contract: stalks_per_month.jun=4700' --seed 1 --seasons 30 --futures 30`)[1:], "--out", "plan")...)
	assert.Regexp(t, `June +`+regexp.QuoteMeta(met[1])+` +`+regexp.QuoteMeta(met[2]), text, "as compare says of the plan")

	body = asks(t, plan, form("alone", "2", "4700"))
	assert.NotContains(t, body, "Compared as well:</strong>")
	assert.Contains(t, body, `id="outdated"`)
}
