package browsertest

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Step is something done to a page.
type Step = chromedp.Action[chromedp.Void]

// Page is a page in a tab of its own.
type Page struct {
	t   *testing.T
	ctx context.Context
	url string

	mu     sync.Mutex
	faults []string
}

// Open opens a file. When the test ends, the page must have asked the network for
// nothing but itself and complained of nothing.
func (b *Browser) Open(t *testing.T, file string, before ...Step) *Page {
	t.Helper()
	path, err := filepath.Abs(file)
	require.NoError(t, err)
	return b.OpenURL(t, (&url.URL{Scheme: "file", Path: path}).String(), before...)
}

// OpenURL opens a page where it is, likewise.
func (b *Browser) OpenURL(t *testing.T, address string, before ...Step) *Page {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(b.ctx)
	p := &Page{t: t, ctx: ctx, url: address}
	require.NoError(t, chromedp.Listen(ctx, p.listen))
	t.Cleanup(func() {
		p.NoFaults()
		closeTab()
	})
	p.Do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, network.Enable, network.EnableParams{})
		return err
	}))
	p.Do(before...)
	p.Do(chromedp.Navigate(p.url))
	return p
}

// First has a script run before any of the page's own.
func First(script string) Step {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	})
}

// listen takes down what a page must not do.
func (p *Page) listen(event any) {
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		if own, _, _ := strings.Cut(e.Request.URL, "#"); own != p.url && !strings.HasPrefix(own, "data:") && !strings.HasPrefix(own, "blob:") {
			p.fault("asks for " + e.Request.URL)
		}
	case *network.EventWebSocketCreated:
		p.fault("opens a connection to " + e.URL)
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if thrown := e.ExceptionDetails.Exception; thrown != nil {
			text += " " + thrown.Description
		}
		p.fault("throws " + text)
	case *runtime.EventConsoleAPICalled:
		p.fault(fmt.Sprintf("writes to the console (%s)", e.Type))
	case *cdplog.EventEntryAdded:
		p.fault(fmt.Sprintf("is reproved (%s): %s", e.Entry.Level, e.Entry.Text))
	}
}

func (p *Page) fault(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.faults = append(p.faults, text)
}

// NoFaults asserts that the page has done nothing amiss so far.
func (p *Page) NoFaults() {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	assert.Empty(p.t, p.faults, p.url)
}

// Do carries out steps one after another.
func (p *Page) Do(steps ...Step) {
	p.t.Helper()
	_ = result(p, chromedp.Steps(steps...))
}

// result carries out one action within patience.
func result[T any](p *Page, action chromedp.Action[T]) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	value, err := chromedp.Run(ctx, action)
	require.NoError(p.t, err, p.url)
	return value
}

// Text evaluates a script, or awaits its promise, to a string.
func (p *Page) Text(script string) string {
	p.t.Helper()
	return result(p, chromedp.Evaluate[string](script, chromedp.EvalAwaitPromise))
}

// Number evaluates a script to a whole number.
func (p *Page) Number(script string) int {
	p.t.Helper()
	return result(p, chromedp.Evaluate[int](script, chromedp.EvalAwaitPromise))
}

// Await waits until a script says true.
func (p *Page) Await(script string) {
	p.t.Helper()
	_ = result(p, chromedp.Poll[bool](script, chromedp.WithPollingTimeout(patience)))
}

// Click clicks the first element of a selector. A page that draws itself anew may replace the
// element after it was found: then it is looked for again.
func (p *Page) Click(selector string) {
	p.t.Helper()
	click := chromedp.Click(chromedp.CSS(selector))
	p.Do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		for {
			_, err := click(ctx, target)
			if err == nil || !strings.Contains(err.Error(), "Could not find node") {
				return err
			}
		}
	}))
}

// Press presses keys; package kb of chromedp has the names of those without a
// letter.
func (p *Page) Press(keys string) {
	p.t.Helper()
	p.Do(chromedp.KeyEvent(keys))
}

// Music is the SVG of the drawings that a selector finds, for package svgread.
func (p *Page) Music(selector string) string {
	p.t.Helper()
	return p.Text(fmt.Sprintf(`[...document.querySelectorAll(%q)].map((e) => new XMLSerializer().serializeToString(e)).join("\n")`, selector))
}

// Prefer sets the reader's preference for pages that are "dark" or "light".
func Prefer(light string) Step {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: light}}})
		return err
	})
}

// Size sets the window's size in pixels.
func Size(width, height int64) Step { return chromedp.EmulateViewport(width, height) }

// Papers are what pages are printed on.
var Papers = map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter}

// Print prints the page as PDF.
func (p *Page) Print(paper chromedp.PaperSize) []byte {
	p.t.Helper()
	return result(p, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize()))
}

// Shoot saves a picture of what the window shows to look at, where the variable
// DESKPART_SHOTS names a folder.
func (p *Page) Shoot(name string) {
	p.t.Helper()
	if dir := os.Getenv("DESKPART_SHOTS"); dir != "" {
		p.save(filepath.Join(dir, name+".png"), result(p, chromedp.CaptureScreenshot()))
	}
}

// Picture is what the window shows.
func (p *Page) Picture() image.Image {
	p.t.Helper()
	shown, err := png.Decode(bytes.NewReader(result(p, chromedp.CaptureScreenshot())))
	require.NoError(p.t, err)
	return shown
}

// ShootPaper saves the page as printed, likewise.
func (p *Page) ShootPaper(name string, paper chromedp.PaperSize) {
	p.t.Helper()
	if dir := os.Getenv("DESKPART_SHOTS"); dir != "" {
		p.save(filepath.Join(dir, name+".pdf"), p.Print(paper))
	}
}

func (p *Page) save(path string, data []byte) {
	p.t.Helper()
	require.NoError(p.t, os.WriteFile(path, data, 0o666))
}
