package browsertest

import (
	"os"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// axePath names the file of axe-core, the kept library that audits pages; .ci/run
// installs it and says where.
const axePath = "DESKPART_AXE"

var readAxe = sync.OnceValues(func() (string, error) {
	script, err := os.ReadFile(os.Getenv(axePath))
	return string(script), err
})

// axe is the library, "" where there is none: under DESKPART_REQUIRE_SHARED=1 that is a
// failure.
func axe(t *testing.T) string {
	t.Helper()
	if os.Getenv(axePath) == "" {
		if os.Getenv("DESKPART_REQUIRE_SHARED") == "1" {
			t.Fatal(axePath + " names no file of axe-core (npm install axe-core, then its axe.min.js)")
		}
		return ""
	}
	script, err := readAxe()
	require.NoError(t, err)
	return script
}

// audited asserts that axe-core finds nothing amiss in what the page shows: its rules for
// WCAG 2.2 at level AA and its best practices. Pages within the page are audited where
// they are opened by themselves.
func (p *Page) audited() {
	p.t.Helper()
	script := axe(p.t)
	if script == "" {
		return
	}
	if p.Text(`typeof axe`) == "undefined" {
		_ = p.Text(script + "\n;''")
	}
	assert.Empty(p.t, result(p, chromedp.Evaluate[[]string](broken, chromedp.EvalAwaitPromise)), p.url)
}

// broken lists the rules that are broken, where and why.
// What a bar that stays in sight covers is not what is meant, so that the end is shown.
const broken = `scrollTo(0, document.documentElement.scrollHeight); axe.run(document, { iframes: false, resultTypes: ["violations"], runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
	.then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + " " + n.target.join(" ") + ": " + n.failureSummary.replace(/\s+/g, " "))))`
