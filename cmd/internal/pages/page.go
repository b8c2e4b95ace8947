package pages

import (
	"html"
	"strings"

	"deskpart/musicxml/engraving"
)

// A Page is one HTML file that needs nothing else: no network, no fonts, no
// files beside it. It reads from the keyboard and with a screen reader, follows
// the reader's light or dark setting, and prints on A4 and Letter.
type Page struct {
	Title string
	// Style is added to the style of all pages.
	Style string
	// Script is the page's own, "" for none.
	Script string
	// Drawings are the music on the page, whose glyphs it must hold.
	Drawings []*engraving.Drawing
	Body     string
	// Large is for readers of large print.
	Large bool
}

// Bytes writes the page.
func (p Page) Bytes() []byte {
	var b strings.Builder
	class := ""
	if p.Large {
		class = ` class="large"`
	}
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\"" + class + ">\n<head>\n<meta charset=\"utf-8\">\n")
	b.WriteString(`<meta name="viewport" content="width=device-width, initial-scale=1">` + "\n")
	script := "'none'"
	if p.Script != "" {
		script = "'unsafe-inline'"
	}
	b.WriteString(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src ` + script + `; img-src data:">` + "\n")
	b.WriteString(`<link rel="icon" href="data:,">` + "\n")
	b.WriteString("<title>" + html.EscapeString(p.Title) + "</title>\n")
	b.WriteString("<style>" + engraving.Style + "\n" + pageStyle + p.Style + "</style>\n</head>\n<body>\n")
	b.WriteString(engraving.Definitions(p.Drawings...) + "\n")
	b.WriteString(tints)
	b.WriteString(p.Body)
	if p.Script != "" {
		b.WriteString("<script>\n" + p.Script + "</script>\n")
	}
	b.WriteString("</body>\n</html>\n")
	return []byte(b.String())
}

// tints offers a paper colour on the screen: chosen by the reader, it helps some
// (trade/teaching.md, section 6).
const tints = `<fieldset class="tints"><legend>Paper</legend>` +
	`<label><input type="radio" name="tint" id="tint-none" checked> plain</label> ` +
	`<label><input type="radio" name="tint" id="tint-cream"> cream</label> ` +
	`<label><input type="radio" name="tint" id="tint-blue"> blue</label> ` +
	`<label><input type="radio" name="tint" id="tint-green"> green</label></fieldset>` + "\n"

// pageStyle is shared by all pages.
const pageStyle = `:root{color-scheme:light dark;--ink:#1b1b1b;--paper:#fff;--soft:#595959;--line:#c9c9c9;--accent:#0b57a4;--band:#eef3f9}
@media(prefers-color-scheme:dark){:root{--ink:#ececec;--paper:#17191c;--soft:#b4b4b4;--line:#4a4d52;--accent:#8cc0ff;--band:#232a33}}
:root:has(#tint-cream:checked){color-scheme:light;--ink:#1b1b1b;--paper:#fdf3dc;--soft:#54503f;--line:#cfc4a6;--accent:#0b4a8c;--band:#f6e8c6}
:root:has(#tint-blue:checked){color-scheme:light;--ink:#14202b;--paper:#dcebf7;--soft:#3f5263;--line:#a9c1d6;--accent:#0b4a8c;--band:#c9def0}
:root:has(#tint-green:checked){color-scheme:light;--ink:#16241a;--paper:#e0f1e0;--soft:#42563f;--line:#afcbaf;--accent:#0b4f5c;--band:#cfe6cf}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,-apple-system,"Segoe UI","Noto Sans",Arial,sans-serif}
body{max-width:200mm;margin:0 auto;padding:6mm 7mm}
h1{font-size:1.55em;line-height:1.2;margin:0 0 .3em}h2{font-size:1.2em;margin:1.4em 0 .4em;break-after:avoid}h3{font-size:1.05em;margin:1em 0 .3em;break-after:avoid}
p{margin:.4em 0}.soft{color:var(--soft)}
a{color:var(--accent)}
button{font:inherit;padding:.4em .9em;border:1px solid var(--accent);border-radius:.4em;background:var(--paper);color:var(--accent);cursor:pointer}
button:hover{background:var(--band)}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.tints{border:1px solid var(--line);border-radius:.4em;padding:0 .6em .2em;margin:0 0 .8em;font-size:.82em;color:var(--soft);width:fit-content;margin-left:auto}
svg.music{margin:.3em 0}
.scroll{overflow-x:auto}.scroll svg.music{max-width:max(100%,34em)}
.large{font-size:24px}.large body{max-width:none}
@page{margin:14mm}
@media print{html{background:none;color:#000;font-size:11pt}.large{font-size:18pt}body{max-width:none;padding:0}.tints,.screen{display:none}.scroll{overflow:visible}.scroll svg.music{max-width:100%}:root:root:has(#tint-none){--ink:#000;--soft:#333;--line:#999;--accent:#000;--band:#f2f2f2}}
`
