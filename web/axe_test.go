package web_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tunwright/pricing/register"

	"github.com/chromedp/chromedp"
)

// axeFile is the checker; npm ci in its folder puts it there.
var axeFile = filepath.Join("..", "testdata", "axe", "node_modules", "axe-core", "axe.min.js")

// picturesFlag names the environment variable with which the README's pictures are
// made anew.
const picturesFlag = "TUNWRIGHT_PICTURES"

// screen is one page of one reader.
type screen struct {
	name, path string
	client     bool
}

// Every screen, light and dark, wide and on a phone: no finding of axe against WCAG 2.2
// AA and its best practices, and nothing wider than the window.
func TestScreensAreAccessible(t *testing.T) {
	checker, err := os.ReadFile(axeFile)
	if err != nil {
		missing(t, "axe is not installed: run npm ci in testdata/axe")
	}
	d := newDesk(t, easy)
	d.post(demo+"/arrange", "sheet", "plan", "anew", "yes")
	client, path := d.send("open-FV4", "near", "min-1", "200", "max-1", "400")
	client.post(path+"/comment", "name", "Orla", "text", "When could you start?")
	client.post(path+"/wish", "name", "Orla", "i-FV4", "FV-7.5")
	d.post(demo+"/facts", "sheet", "services", "v:"+fuse, "250", "b:"+fuse, "told", "w:"+fuse, "operator")
	d.issue()
	copied := d.post(demo + "/copy").Header.Get("Location")
	other := copied[strings.LastIndex(copied, "=")+1:]
	d.post("/enquiries/"+other+"/entries", "sheet", "equipment", "add", "equipment.items", "product", "FV-10")
	pat := d.colleague("Pat", register.Office)
	pat.factored()
	b := browse(t, d.server.URL)
	b.signIn(d)
	half := d.browser()
	half.post("/sign-in", "email", "pat@marlowetarn.example", "password", password)
	b.signIn(half)
	screens := []screen{
		{"list", "/enquiries", false},
		{"start", "/enquiries/new", false},
		{"issue", demo + "/issue", false},
		{"compare", demo + "/compare?with=" + other, false},
		{"register", "/quotations", false},
		{"quotation", quote, false},
		{"books", "/books", false},
		{"people", "/people", false},
		{"account", "/account", false},
		{"factor", "/account/factor", false},
		{"second", "/sign-in/second", false},
		{"trail", "/trail", false},
		{"settings", "/settings", false},
		{"sign in", "/sign-in", false},
		{"no page", "/nothing", false},
		{"client", path, true},
		{"client changed", path + "?i-FV4=FV-7.5&v-1=9", true},
		{"client refused", "/q/none", true},
	}
	for _, s := range []string{"brief", "building", "floor", "way-in", "plan", "services", "equipment", "price", "survey", "papers"} {
		screens = append(screens, screen{s, demo + "?sheet=" + s, false})
	}
	for _, width := range []int64{1440, 390} {
		for _, s := range screens {
			b.t = t
			b.look(width, "light")
			b.open(s.path)
			b.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details").forEach((d) => { d.open = true; })`), chromedp.Evaluate[chromedp.Void](string(checker)))
			for _, scheme := range []string{"light", "dark"} {
				t.Run(fmt.Sprintf("%s %s %d", s.name, scheme, width), func(t *testing.T) {
					b.t = t
					b.look(width, scheme)
					b.check()
					if b.truth(`document.documentElement.scrollWidth > innerWidth`) {
						t.Error("it is wider than the window")
					}
				})
			}
		}
	}
}

// check runs axe, which the page has been given, on the page as it stands.
func (b *tabOf) check() {
	b.t.Helper()
	const run = `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}})
		.then((r) => JSON.stringify(r.violations.map((v) => ({id: v.id, help: v.help, nodes: v.nodes.map((n) => n.target.join(" ") + ": " + n.failureSummary)}))))`
	text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](run, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatal(err)
	}
	var found []struct {
		ID, Help string
		Nodes    []string
	}
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		b.t.Fatal(err)
	}
	for _, f := range found {
		b.t.Errorf("%s (%s), %d times, first: %s", f.ID, f.Help, len(f.Nodes), f.Nodes[0])
	}
}

// The pictures of the README are made by a run of this test with the environment
// variable set; without it the pages are only drawn.
func TestPictures(t *testing.T) {
	d := newDesk(t, easy)
	d.post(demo+"/arrange", "sheet", "plan", "anew", "yes")
	_, path := d.send("open-FV4", "near", "min-1", "200", "max-1", "400")
	b := browse(t, d.server.URL)
	b.signIn(d)
	for _, p := range []struct {
		name, path string
		width      int64
		scheme     string
	}{
		{"desk", demo + "?sheet=services", 1440, "light"},
		{"plan", demo + "?sheet=plan", 1440, "dark"},
		{"office", quote, 1440, "light"},
		{"client", path + "?i-FV4=FV-15", 390, "light"},
	} {
		b.look(p.width, p.scheme)
		b.open(p.path)
		picture, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if len(picture) < 10_000 || !strings.HasPrefix(string(picture[1:4]), "PNG") {
			t.Errorf("%s: %d bytes", p.name, len(picture))
		}
		if os.Getenv(picturesFlag) == "" {
			continue
		}
		if err := os.WriteFile(filepath.Join("..", ".github", "pictures", "web-"+p.name+".png"), picture, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
