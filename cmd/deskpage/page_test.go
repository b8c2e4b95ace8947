package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
)

// built is the page, built once for all tests; DESKPART_PAGE names one that is there
// already.
func built(t *testing.T) string {
	t.Helper()
	if page := os.Getenv("DESKPART_PAGE"); page != "" {
		return page
	}
	page := filepath.Join(t.TempDir(), "deskpart.html")
	require.NoError(t, build(page))
	return page
}

// await waits until a script says true, and says what the page shows where it does not.
func await(t *testing.T, page *browsertest.Page, script string) {
	t.Helper()
	for range 300 {
		if page.Text("String(!!("+script+"))") == "true" {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	page.Shoot("stuck")
	require.Fail(t, "the page does not come to "+script, page.Text(`document.body.innerText`))
}

func TestPageOfParts(t *testing.T) {
	browser := browsertest.Start(t)
	page := browser.Open(t, built(t), browsertest.Size(1280, 900))
	await(t, page, `document.body.dataset.ready === "yes"`)
	page.Shoot("start")
	page.Click("#try-example")
	await(t, page, `!document.querySelector("#parts-next").disabled`)
	page.Shoot("score")
	page.Click("#parts-next")
	await(t, page, `!!document.querySelector(".seats")`)
	page.Shoot("players")
	page.Click("#parts-next")
	await(t, page, `!!document.querySelector(".pages img")`)
	await(t, page, `document.querySelector("#parts-state-16")?.textContent`)
	page.Shoot("look")
	page.Click("#parts-next")
	page.Shoot("take")
}
