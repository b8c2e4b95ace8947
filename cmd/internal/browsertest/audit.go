package browsertest

import (
	_ "embed"
	"fmt"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

//go:embed audit.js
var audit string

//go:embed contrast.js
var contrast string

// Accessible asserts what a page must have to be used with a keyboard or a screen
// reader: a language, a title, headings in order, names for whatever can be
// reached, a text alternative for each drawing; and what axe-core asks for.
func (p *Page) Accessible() {
	p.t.Helper()
	assert.Empty(p.t, result(p, chromedp.Evaluate[[]string](audit)), p.url)
	p.audited()
}

// Legible asserts that all text stands out from the paper at least 4.5 to 1
// (WCAG 2.2, 1.4.3).
func (p *Page) Legible() {
	p.t.Helper()
	assert.Empty(p.t, result(p, chromedp.Evaluate[[]string](fmt.Sprintf("(%s)(%q)", contrast, "body *"))), p.url)
}

// Narrow asserts that nothing is wider than the window: only music may be scrolled
// sideways, within its own box. And no button touches another.
func (p *Page) Narrow() {
	p.t.Helper()
	assert.Zero(p.t, p.Number(`Math.max(0, document.documentElement.scrollWidth - innerWidth)`), "%s is too wide for its window", p.url)
	assert.Zero(p.t, p.Number(`Math.max(0, ...[...document.querySelectorAll(".scroll")].filter((e) => !e.querySelector("svg")).map((e) => e.scrollWidth - e.clientWidth))`),
		"%s: a table is cut", p.url)
	assert.Zero(p.t, p.Number(touching), "%s: buttons touch", p.url)
}

// touching counts the pairs of buttons that are less than four pixels apart.
const touching = `(() => {
	const boxes = [...document.querySelectorAll("button")].map((e) => e.getBoundingClientRect()).filter((r) => r.width > 0);
	const apart = (a, b) => Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom);
	return boxes.flatMap((a, i) => boxes.slice(i + 1).map((b) => apart(a, b))).filter((d) => d < 4).length;
})()`

// IsDark reports whether the paper is dark.
func (p *Page) IsDark() bool {
	p.t.Helper()
	return p.Text(`String(getComputedStyle(document.documentElement).backgroundColor.match(/\d+/g).slice(0, 3).every((c) => c < 64))`) == "true"
}
