package web_test

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// tabOf is one tab of a headless Chromium, looking at a place.
type tabOf struct {
	t     *testing.T
	ctx   context.Context
	at    string
	acted int // what a person did: clicks, choices and entries
}

// missing skips a test on a bare laptop and fails it where everything must run.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

func browse(t *testing.T, at string) *tabOf {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		missing(t, "there is no chromium: apt install chromium")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
	)
	all, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, closeTab := chromedp.NewContext(all)
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil {
			t.Log("close the browser:", err)
		}
		closeTab()
		stop()
	})
	b := &tabOf{t: t, ctx: ctx, at: at}
	// The first run starts the browser, which lives as long as its context.
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1440, 900)); err != nil {
		t.Fatal(err)
	}
	return b
}

// stepTime is how long one step may take on a busy machine.
const stepTime = 30 * time.Second

func (b *tabOf) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	limited, cancel := context.WithTimeout(b.ctx, stepTime)
	defer cancel()
	if err := chromedp.Do(limited, steps...); err != nil {
		b.t.Fatal(err)
	}
}

func (b *tabOf) open(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.at + path))
}

// signIn takes the session of somebody who has signed in already.
func (b *tabOf) signIn(d *desk) {
	b.t.Helper()
	for _, c := range d.client.Jar.Cookies(mustURL(b.t, d.server.URL)) {
		b.do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
			_, err := chromedp.Call(ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: d.server.URL})
			return err
		}))
	}
}

// look sets the width of the window and whether it is light or dark, without the
// colours running from one to the other.
func (b *tabOf) look(width int64, scheme string) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(width, 900), chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
		return err
	}))
}

func (b *tabOf) text(selector string) string {
	b.t.Helper()
	got, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`(document.querySelector(`+quoted(selector)+`)||{textContent:""}).textContent`))
	if err != nil {
		b.t.Fatal(err)
	}
	return squeeze(got)
}

func (b *tabOf) truth(expression string) bool {
	b.t.Helper()
	got, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool]("!!("+expression+")"))
	if err != nil {
		b.t.Fatal(err)
	}
	return got
}

// until waits for something to be true on the page.
func (b *tabOf) until(expression string) {
	b.t.Helper()
	if _, err := chromedp.Run(b.ctx, chromedp.Poll[chromedp.Void]("!!("+expression+")", chromedp.WithPollingTimeout(20*time.Second))); err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
}

func quoted(s string) string { return "`" + strings.ReplaceAll(s, "`", "\\`") + "`" }

// enter types into a field and leaves it, as one action.
func (b *tabOf) enter(selector, value string) {
	b.t.Helper()
	b.acted++
	b.do(chromedp.Focus(selector), chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`), chromedp.KeyEvent(value), chromedp.KeyEvent(kb.Tab))
}

// choose takes an answer of a list.
func (b *tabOf) choose(selector, value string) {
	b.t.Helper()
	b.acted++
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.querySelector(` + quoted(selector) + `); s.value = ` + quoted(value) + `; s.dispatchEvent(new Event("change", {bubbles: true})); })()`))
}

func (b *tabOf) click(selector string) {
	b.t.Helper()
	b.acted++
	b.do(chromedp.ScrollIntoView(selector), chromedp.Click(selector))
}

// follow clicks something that leads to another page and waits for it.
func (b *tabOf) follow(selector, arrived string) {
	b.t.Helper()
	b.click(selector)
	b.do(chromedp.WaitReady(arrived))
}

// tabTo presses Tab until the focus is on an element, as somebody without a pointer
// does.
func (b *tabOf) tabTo(selector string) {
	b.t.Helper()
	const most = 400
	for range most {
		if b.truth(`document.activeElement && document.activeElement.matches(` + quoted(selector) + `)`) {
			if !b.truth(`document.activeElement.matches(":focus-visible")`) {
				b.t.Errorf("the focus on %s is not to be seen", selector)
			}
			return
		}
		b.do(chromedp.KeyEvent(kb.Tab))
	}
	b.t.Fatalf("%s is not reached with Tab", selector)
}
