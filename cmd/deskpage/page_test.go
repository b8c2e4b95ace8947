package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
	"deskpart/musicxml/musicxmltest"
)

func TestMain(m *testing.M) { musicxmltest.Main(m) }

var building = sync.OnceValues(func() (string, error) {
	if page := os.Getenv("DESKPART_PAGE"); page != "" {
		return page, nil
	}
	page := filepath.Join(musicxmltest.Folder(), "deskpart.html")
	return page, build(page)
})

// built is the page, built once for all tests; DESKPART_PAGE names one that is there
// already.
func built(t *testing.T) string {
	t.Helper()
	page, err := building()
	require.NoError(t, err)
	return page
}

// desk is the page in use.
type desk struct {
	*browsertest.Page
	t *testing.T
}

// spy keeps what the page saves, and its workers.
const spy = `
try { localStorage.clear(); } catch {}
window.saved = []; window.workers = []; const blobs = new Map();
const create = URL.createObjectURL.bind(URL);
URL.createObjectURL = (blob) => { const url = create(blob); blobs.set(url, blob); return url; };
const click = HTMLAnchorElement.prototype.click;
HTMLAnchorElement.prototype.click = function () { if (this.download) saved.push([this.download, blobs.get(this.href)]); else click.call(this); };
const Real = Worker;
window.Worker = class extends Real { constructor(url) { super(url); workers.push(this); } };
window.print = () => { window.printed = (window.printed ?? 0) + 1; };
`

// open opens the page from the disk and waits until the program in it is ready.
func open(t *testing.T, b *browsertest.Browser, before ...browsertest.Step) *desk {
	t.Helper()
	path, err := filepath.Abs(built(t))
	require.NoError(t, err)
	return openAt(t, b, (&url.URL{Scheme: "file", Path: path}).String(), before...)
}

// openAt opens the page where it is, likewise.
func openAt(t *testing.T, b *browsertest.Browser, address string, before ...browsertest.Step) *desk {
	t.Helper()
	d := &desk{b.OpenURL(t, address, append([]browsertest.Step{browsertest.First(spy), browsertest.Size(1280, 900)}, before...)...), t}
	d.await(`document.body.dataset.ready === "yes"`)
	return d
}

// await waits until a script says true, and says what the page shows where it does not.
func (d *desk) await(script string) {
	d.t.Helper()
	const most = 100 * time.Millisecond
	pause := most / 50
	for began := time.Now(); time.Since(began) < 5*time.Minute; pause = min(2*pause, most) { // a machine may be busy
		if d.Text("String(!!("+script+"))") == "true" {
			return
		}
		time.Sleep(pause)
	}
	d.Shoot("stuck")
	require.Fail(d.t, "the page does not come to "+script, d.Text(`document.body.innerText`))
}

// do has a script done that says nothing.
func (d *desk) do(script string) {
	d.t.Helper()
	d.Text("(async () => { " + script + "; return ''; })()")
}

// transfer is a script that makes a transfer t of files.
func transfer(files map[string][]byte) string {
	var list []string
	for name, data := range files {
		list = append(list, fmt.Sprintf("new File([Uint8Array.from(atob(%q), (c) => c.charCodeAt(0))], %q)", base64.StdEncoding.EncodeToString(data), name))
	}
	return `const t = new DataTransfer(); for (const f of [` + strings.Join(list, ",") + `]) t.items.add(f); `
}

// drop drops files on the page.
func (d *desk) drop(files map[string][]byte) {
	d.t.Helper()
	d.do(transfer(files) + `document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: t, bubbles: true, cancelable: true }))`)
}

// give chooses files in a field for them.
func (d *desk) give(selector string, files map[string][]byte) {
	d.t.Helper()
	d.do(transfer(files) + fmt.Sprintf(`const e = document.querySelector(%q); e.files = t.files; e.dispatchEvent(new Event("change", { bubbles: true }))`, selector))
}

// saved waits for the next file that the page saves.
func (d *desk) saved() (name string, data []byte) {
	d.t.Helper()
	d.await(`saved.length > 0`)
	said := d.Text(`(async () => { const [name, blob] = saved.shift(); const bytes = new Uint8Array(await blob.arrayBuffer());
		let text = ""; for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192)); return JSON.stringify([name, btoa(text)]); })()`)
	var pair [2]string
	require.NoError(d.t, json.Unmarshal([]byte(said), &pair))
	data, err := base64.StdEncoding.DecodeString(pair[1])
	require.NoError(d.t, err)
	return pair[0], data
}

// choose sets a control as a person would.
func (d *desk) choose(selector, value string) {
	d.t.Helper()
	d.do(fmt.Sprintf(`const e = document.querySelector(%q); e.focus(); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true }))`, selector, value))
}

// next goes on along the road of a room.
func (d *desk) next(room string) {
	d.t.Helper()
	d.await(fmt.Sprintf(`document.querySelector("#%s-next:not(:disabled)")`, room))
	d.Click("#" + room + "-next")
}

// narrow asserts that nothing is wider than the window. The way on and back stays in sight
// over what is longer than the window, so that buttons may lie over one another.
func (d *desk) narrow() {
	d.t.Helper()
	require.Zero(d.t, d.Number(`Math.max(0, document.documentElement.scrollWidth - innerWidth)`), "the page is too wide for its window")
}

// messages are the lines that the page shows.
func (d *desk) messages() string {
	d.t.Helper()
	return d.Text(`document.querySelector("#messages").innerText`)
}

func read(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

func example(t *testing.T, name string) string {
	return filepath.Join(musicxmltest.ProjectRoot(t), "examples", name)
}

// served is the page on a server of a school.
func served(t *testing.T) string {
	t.Helper()
	page := read(t, built(t))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write(page)
	}))
	t.Cleanup(server.Close)
	return server.URL + "/deskpart.html"
}
