package browsertest

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// patience is how long one step of a page may take before it is taken for stuck;
// no test depends on how long it does take.
const patience = 2 * time.Minute

// Browser is a running browser.
type Browser struct{ ctx context.Context }

// Start starts a browser for as long as the test runs. Where there is none, the
// test is skipped; under DESKPART_REQUIRE_SHARED=1 that is a failure. With -short
// it is skipped, too.
func Start(t *testing.T) *Browser {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	path := find(t)
	// Not the test's own temporary folder: a browser may still write while it ends.
	profile, err := os.MkdirTemp("", "deskpart-browser-")
	require.NoError(t, err)
	options := append([]chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.UserDataDir(profile)}, flags...)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, closeBrowser := chromedp.NewContext(allocator)
	t.Cleanup(func() {
		_ = chromedp.Cancel(ctx) // waits until the browser has ended
		closeBrowser()
		stop()
		_ = os.RemoveAll(profile)
	})
	require.NoError(t, chromedp.Do(ctx), "the browser does not start")
	return &Browser{ctx}
}

// flags keep the browser to itself: it must start as root in a container, and
// nothing but the page may ask for the network.
var flags = []chromedp.ExecAllocatorOption{
	chromedp.NoSandbox, chromedp.Headless, chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.DisableGPU,
	chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
	chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
	chromedp.Flag("disable-default-apps", true), chromedp.Flag("disable-extensions", true),
	chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("autoplay-policy", "no-user-gesture-required"),
	chromedp.WSURLReadTimeout(patience),
}

func find(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	message := "no browser is installed (Debian: apt-get install chromium)"
	if os.Getenv("DESKPART_REQUIRE_SHARED") == "1" {
		t.Fatal(message)
	}
	t.Skip(message)
	return ""
}
