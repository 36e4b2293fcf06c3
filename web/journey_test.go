package web_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"tunwright/configurator"
	"tunwright/configurator/propose"
	"tunwright/pricing/offer"
	"tunwright/web"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// From an empty page to an issued quotation: at most 25 actions and five minutes.
func TestFromNothingToAnIssuedQuotation(t *testing.T) {
	d := newDesk(t, easy)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open("/enquiries")
	began := time.Now()
	b.follow(`a[href="/enquiries/new"]`, "#f-client")
	b.enter("#f-client", "Fellmonger's Yard Ltd")
	b.enter("#f-place", "Old tannery, hall 2")
	b.enter("#f-volume", "620")
	b.choose("#f-storey", "1")
	b.enter("#f-length", "14,5")
	b.enter("#f-width", "8")
	b.choose("#f-phases", "3")
	b.enter("#f-fuse", "125")
	b.follow("form.start button", "#answer .price")
	enquiry := b.text(".block h1")
	if enquiry != "Brewery for Fellmonger's Yard Ltd" {
		t.Errorf("the enquiry is called %q", enquiry)
	}
	b.follow(`a[href$="/issue"]`, "form.start button")
	if b.truth(`document.querySelector("input[name=despite]")`) {
		b.click("input[name=despite]")
	}
	b.follow("form.start button", ".block.quote")
	if got := b.text("h1"); !strings.HasPrefix(got, "Q-2026-") {
		t.Errorf("issued as %q", got)
	}
	t.Logf("%d actions, %s of the machine's time", b.acted, time.Since(began).Round(time.Millisecond))
	if b.acted > 25 || time.Since(began) > 5*time.Minute {
		t.Errorf("%d actions in %s", b.acted, time.Since(began))
	}
}

// A change is answered without a new page, what was typed stays, and both ways back
// work.
func TestAChangeIsAnsweredOnThePage(t *testing.T) {
	d := newDesk(t)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=services")
	b.do(chromedp.Evaluate[chromedp.Void](`window.sameage = 1;` + stopwatch))
	before := b.text("#answer")
	b.enter("#v-site-supply-fuse_a", "63")
	b.until(`document.querySelector("#undo:not([disabled])") && window.took.length === 1`)
	if b.text("#answer") == before || !b.truth("window.sameage") {
		t.Error("the answer is the same, or the page was loaded anew")
	}
	b.sameAsFresh(d, "a smaller fuse")
	b.enter("#v-site-supply-phases", "1")
	b.until("window.took.length === 2")
	b.sameAsFresh(d, "one phase")
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("main").focus()`), chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	b.until("window.took.length === 3")
	b.sameAsFresh(d, "three phases again")
	b.enter("#v-site-supply-board_distance_m", "many")
	b.until(`document.querySelector("#v-site-supply-board_distance_m[aria-invalid]")`)
	if got := b.text("#m-site-supply-board_distance_m"); !strings.Contains(got, "is not a number") {
		t.Errorf("beside the field stands %q", got)
	}
	if !b.truth(`document.querySelector("#v-site-supply-board_distance_m").value === "many"`) {
		t.Error("what was typed is gone")
	}
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("main").focus()`), chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	b.until(`document.querySelector("#v-site-supply-fuse_a").value === "200" && document.querySelector("#redo:not([disabled])")`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("main").focus()`), chromedp.KeyEvent("y", chromedp.KeyModifiers(kb.ModifierCtrl)))
	b.until(`document.querySelector("#v-site-supply-fuse_a").value === "63"`)
}

// sameAsFresh holds the answer that was put together part by part against a page that is
// loaded anew.
func (b *tabOf) sameAsFresh(d *desk, after string) {
	b.t.Helper()
	if got, want := b.text("#answer"), squeeze(d.page(demo+"?sheet=services").Find("#answer").Text()); got != want {
		b.t.Errorf("after %s the answer reads\n%s\nand on a fresh page\n%s", after, got, want)
	}
}

// A remedy that was tried stands under the finding, is tried anew when the job has
// changed, and is made with one key.
func TestARemedyIsMadeInTheBrowser(t *testing.T) {
	tried := make(chan string, 100)
	d := newDesk(t, func(c *config) {
		c.Mends = func(j offer.Job, r configurator.Report, f configurator.Finding) []web.Mend {
			tried <- f.Rule.ID
			var out []web.Mend
			for _, m := range propose.Mends(j.Project, c.House.Catalogue, r, f) {
				out = append(out, web.Mend{Words: m.Words, Edits: m.Edits, After: m.After.Report})
			}
			return out
		}
	})
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=services")
	b.do(chromedp.Evaluate[chromedp.Void](stopwatch))
	b.enter("#v-site-supply-fuse_a", "63")
	const button = ".finding.stop .mends button"
	b.do(chromedp.WaitReady(button))
	b.until("!document.querySelector('.finding.stop .mends > a')")
	for len(tried) > 0 {
		<-tried
	}
	b.enter("#v-site-supply-board_distance_m", "30")
	select {
	case <-tried:
	case <-time.After(20 * time.Second):
		t.Error("what was tried on an earlier state stands as if it were new")
	}
	b.until("window.took.length === 2 && document.querySelector('" + button + "') && !document.querySelector('.htmx-request')")
	words := b.text(button)
	b.do(chromedp.Focus(button), chromedp.KeyEvent(kb.Enter))
	b.until("document.querySelector('#undo').title.includes(" + quoted(strings.TrimPrefix(words, "Apply: ")) + ")")
}

// stopwatch measures in the page, from a change of an input to the frame that shows the
// answer, in milliseconds.
const stopwatch = `
	window.took = [];
	document.addEventListener("change", () => { window.changed = performance.now(); }, true);
	document.addEventListener("answered", () => requestAnimationFrame(() => {
		const after = new MessageChannel();
		after.port1.onmessage = () => window.took.push(performance.now() - window.changed);
		after.port2.postMessage(0);
	}));`

// How long a change takes until it is seen is printed, not judged: it is the machine's.
func TestHowSoonAChangeIsSeen(t *testing.T) {
	d := newDesk(t)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=services")
	b.do(chromedp.Evaluate[chromedp.Void](stopwatch))
	const changes = 11
	for i := range changes {
		b.enter("#v-site-supply-fuse_a", strconv.Itoa(63+i))
		b.until(fmt.Sprintf("window.took.length === %d", i+1))
	}
	took, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]float64]("window.took"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(took)
	t.Logf("seen after %.0f ms, between %.0f and %.0f ms, of %d changes", took[changes/2], took[0], took[changes-1], changes)
	b.sameAsFresh(d, "these changes")
}

// When the session has ended or the server is gone, the page says so and keeps what
// was typed, with a button to save it later.
func TestNothingTypedIsLostWithoutTheServer(t *testing.T) {
	d := newDesk(t)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=services")
	d.post("/sign-out")
	b.enter("#v-site-supply-fuse_a", "63")
	b.until(`document.querySelector("#saved.unsaved")`)
	if got := b.text("#saved"); !strings.Contains(got, "sign in again") {
		t.Errorf("after signing out the page says %q", got)
	}
	d.server.Close()
	b.enter("#v-site-supply-existing_load_a", "33")
	b.until(`document.querySelector("#saved").textContent.includes("does not answer")`)
	for selector, want := range map[string]string{"#v-site-supply-fuse_a": "63", "#v-site-supply-existing_load_a": "33"} {
		if !b.truth(`document.querySelector(` + quoted(selector) + `).value === ` + quoted(want)) {
			t.Errorf("what was typed into %s is gone", selector)
		}
	}
	b.do(chromedp.WaitVisible(".save button"))
}

// Whoever has no pointer gets as far: sign in, change, move a piece, send it out.
func TestWithTheKeyboardAlone(t *testing.T) {
	d := newDesk(t, easy)
	d.post(demo+"/arrange", "sheet", "plan", "anew", "yes")
	b := browse(t, d.server.URL)
	b.open(demo + "?sheet=plan")
	b.tabTo("#email")
	b.do(chromedp.KeyEvent("tamsin@marlowetarn.example"))
	b.tabTo("#password")
	b.do(chromedp.KeyEvent(password), chromedp.KeyEvent(kb.Enter), chromedp.WaitReady(".plan .piece"))
	if !b.truth(`location.search === "?sheet=plan"`) {
		t.Error("signing in does not lead back to the plan")
	}
	b.do(chromedp.KeyEvent(kb.Tab))
	if !b.truth(`document.activeElement.matches(".skip")`) {
		t.Error("the first stop does not skip to the content")
	}
	b.tabTo("#piece-FV4")
	x := `Number(document.querySelector("#piece-FV4").dataset.x)`
	was, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](x))
	if err != nil {
		t.Fatal(err)
	}
	b.do(chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft))
	b.until(`document.querySelector("#undo:not([disabled])") && document.querySelector("#piece-FV4").transform.baseVal.length === 0`)
	is, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](x))
	if err != nil {
		t.Fatal(err)
	}
	if diff := was - is; diff < 0.199 || diff > 0.201 {
		t.Errorf("two steps of 0.1 m moved it from %.2f to %.2f", was, is)
	}
	if !b.truth(`document.activeElement.id === "piece-FV4"`) {
		t.Error("the focus is lost after a move")
	}
	b.open(demo + "?sheet=services")
	b.tabTo("#v-site-supply-fuse_a")
	b.do(chromedp.KeyEvent("315"), chromedp.KeyEvent(kb.Tab))
	b.until(`document.querySelector("#o-site-supply-fuse_a").value.startsWith('["315"')`)
	b.open(demo + "/issue")
	if b.truth(`document.querySelector("input[name=despite]")`) {
		b.tabTo("input[name=despite]")
		b.do(chromedp.KeyEvent(" "))
	}
	b.tabTo("form.start button")
	b.do(chromedp.KeyEvent(kb.Enter), chromedp.WaitReady(".block.quote"))
	if got := b.text("h1"); got != "Q-2026-0001" {
		t.Errorf("issued as %q", got)
	}
}

func TestAPieceIsDragged(t *testing.T) {
	d := newDesk(t)
	d.post(demo+"/arrange", "sheet", "plan", "anew", "yes")
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=plan")
	at := func(name string) float64 {
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](`(() => { const r = document.querySelector("#piece-FV4 .p-body, #piece-FV4 .p-conflict").getBoundingClientRect(); return {x: r.x + r.width / 2, y: r.y + r.height / 2, place: Number(document.querySelector("#piece-FV4").dataset.x)}.`+name+`; })()`))
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	const members = `[...document.querySelectorAll(".ground text")].map((t) => t.textContent).filter((t) => t.includes("%")).join("; ")`
	used := func() string {
		text, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](members))
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	x, y, was, before := at("x"), at("y"), at("place"), used()
	b.do(chromedp.DragAndDropXY(x, y, x-40, y))
	b.until(`document.querySelector("#undo:not([disabled])") && document.querySelector("#piece-FV4").transform.baseVal.length === 0`)
	if is := at("place"); is >= was {
		t.Errorf("dragged to the left it went from %.2f to %.2f", was, is)
	}
	if after := used(); !strings.Contains(after, "%") || after == before {
		t.Errorf("the members read %q before and %q after", before, after)
	}
}

// A person sets up a second factor in the browser and signs in with it; the page of the
// codes, which is shown once, is accessible too.
func TestASecondFactorInTheBrowser(t *testing.T) {
	checker, err := os.ReadFile(axeFile)
	if err != nil {
		missing(t, "axe is not installed: run npm ci in testdata/axe")
	}
	d := newDesk(t)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open("/account")
	b.follow(`a[href="/account/factor"]`, "#code")
	if !b.truth(`document.querySelector("img.qr").naturalWidth > 100`) {
		t.Error("the picture of the key is not drawn")
	}
	secret := strings.ReplaceAll(b.text(".steps-list code"), " ", "")
	b.enter("#code", d.device(secret))
	b.enter("#old", password)
	b.follow("form.start button", ".codes")
	b.do(chromedp.Evaluate[chromedp.Void](string(checker)))
	b.check()
	b.open("/enquiries")
	b.follow(`form[action="/sign-out"] button`, "#email")
	b.enter("#email", "tamsin@marlowetarn.example")
	b.enter("#password", password)
	b.follow("form.start button", "#code")
	d.later(time.Minute)
	b.enter("#code", d.device(secret))
	b.follow("form.start button", ".headline")
}

// A piece that cannot be put somewhere goes back, and the page says why.
func TestARefusedPlaceIsTakenBack(t *testing.T) {
	d := newDesk(t)
	d.post(demo+"/arrange", "sheet", "plan", "anew", "yes")
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.open(demo + "?sheet=plan")
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#piece-FV4").dataset.tag = "FV77"; document.querySelector("#piece-FV4").focus()`), chromedp.KeyEvent(kb.ArrowLeft))
	b.until(`document.querySelector("#saved.unsaved")`)
	if got := b.text("#saved"); !strings.Contains(got, "There is no FV77 any more") {
		t.Errorf("the page says %q", got)
	}
	if b.truth(`document.querySelector("#piece-FV4").hasAttribute("transform")`) {
		t.Error("the piece stands where it was refused")
	}
}

// The client reads, changes and accepts on a phone.
func TestTheClientOnAPhone(t *testing.T) {
	sales := newDesk(t, easy)
	_, path := sales.send("open-FV4", "any")
	b := browse(t, sales.server.URL)
	b.look(390, "light")
	b.open(path)
	before := b.text("#live .net dd")
	b.choose("#i-FV4", "FV-30")
	b.until(`document.querySelector("#live .net dd").textContent !== ` + quoted(before))
	if b.truth(`document.documentElement.scrollWidth > innerWidth`) {
		t.Error("the page is wider than the phone")
	}
	b.enter("#a-name", "Orla Pennick")
	b.click("input[name=agree]")
	b.follow(".accept button", ".said")
	if got := b.text(".said"); !strings.Contains(got, "accepted") {
		t.Errorf("after accepting stands %q", got)
	}
}

// A browser that runs no script reads the quotation, asks for another price and sends
// the wish.
func TestTheClientWithoutScript(t *testing.T) {
	sales := newDesk(t, easy)
	_, path := sales.send("open-FV4", "any", "min-1", "200", "max-1", "400")
	b := browse(t, sales.server.URL)
	b.look(390, "light")
	b.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
	b.open(path)
	if b.truth(`document.documentElement.classList.contains("js")`) {
		t.Fatal("a script has run")
	}
	before := b.text("#live .net dd")
	if !strings.HasPrefix(before, "£") || b.text("#live .fit") == "" || b.text("#i-FV4 option:checked") == "" || b.text("#terms ~ ol") == "" {
		t.Errorf("price %q, fit %q, chosen %q", before, b.text("#live .fit"), b.text("#i-FV4 option:checked"))
	}
	b.choose("#i-FV4", "FV-30")
	b.enter("#v-1", "350")
	b.follow("#choices button", "#w-name")
	if after := b.text("#live .net dd"); after == before || !strings.HasPrefix(after, "£") {
		t.Errorf("with a larger tank it costs %q, before %q", after, before)
	}
	if got := b.text("#live .price p"); !strings.Contains(got, "FV4") || !strings.Contains(got, "350 hL a year") {
		t.Errorf("what is changed reads %q", got)
	}
	b.enter("#w-name", "Orla Pennick")
	b.enter("#w-text", "The larger one would suit us.")
	b.follow(`form[action$="/wish"] button`, ".said")
	if got := b.text(".said"); !strings.Contains(got, "Your wish is with us") {
		t.Errorf("after sending stands %q", got)
	}
	if got := squeeze(sales.page(quote).Find(".wish").Text()); !strings.Contains(got, "The larger one would suit us.") || !strings.Contains(got, "350 hL a year") {
		t.Errorf("the salesperson reads %q", got)
	}
}

// On a phone the first field of a sheet is in sight before anybody scrolls, and the
// figures of the house are put away with the keyboard.
func TestTheDeskOnAPhone(t *testing.T) {
	d := newDesk(t)
	b := browse(t, d.server.URL)
	b.signIn(d)
	b.do(chromedp.EmulateViewport(390, 664)) // a phone of 844, less the browser's own bars
	for _, sheet := range []string{"brief", "building", "services", "equipment", "price", "survey"} {
		b.open(demo + "?sheet=" + sheet)
		if !b.truth(`document.querySelector("#sheet input:not([type=hidden]), #sheet select, #sheet textarea").getBoundingClientRect().bottom < document.querySelector(".brief").getBoundingClientRect().top`) {
			t.Errorf("%s: the first field is out of sight", sheet)
		}
	}
	b.follow("#head-more summary", "#head-more[open]")
	if got := b.text("#head-more p"); !strings.Contains(got, "Shed Nine Brewing Ltd") {
		t.Errorf("unfolded, the head reads %q", got)
	}
	b.tabTo("#ours")
	b.do(chromedp.KeyEvent(kb.Enter), chromedp.WaitReady(`#ours[value="no"]`))
	if got := b.text("#answer .price"); strings.Contains(got, "margin") {
		t.Errorf("the price still reads %q", got)
	}
	if !b.truth(`location.search === "?sheet=survey"`) {
		t.Error("it leads away from the sheet")
	}
}
