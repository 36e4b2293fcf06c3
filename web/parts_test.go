package web_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"tunwright/web"

	"github.com/PuerkitoBio/goquery"
)

// have are the digests of the parts on a page.
func have(doc *goquery.Document) string {
	return strings.Join(doc.Find("#answer [data-as]").Map(func(_ int, s *selection) string { return s.AttrOr("data-as", "") }), " ")
}

func (d *desk) liveHaving(have, path string, fields ...string) answer {
	d.t.Helper()
	req := d.form(path, fields...)
	req.Header.Set("HX-Request", "true")
	req.Header.Set("X-Have", have)
	return d.do(req)
}

// A part of the answer comes without its content exactly where the page has it, so that
// page and parts together are the page as it would be loaded anew.
func TestOnlyWhatChangedIsSent(t *testing.T) {
	d := newDesk(t)
	page := d.page(demo + "?sheet=services")
	a := d.liveHaving(have(page), demo+"/facts", "sheet", "services", "v:"+fuse, "63", "b:"+fuse, "told", "w:"+fuse, "him")
	if a.Code != http.StatusOK || a.Header.Get("X-Merge") == "" {
		t.Fatalf("%d, merged %q", a.Code, a.Header.Get("X-Merge"))
	}
	fresh := d.page(demo + "?sheet=services")
	sent, kept := 0, 0
	order := a.doc(t).Find("#answer [data-as]")
	if order.Length() != fresh.Find("#answer [data-as]").Length() {
		t.Fatalf("%d parts came, the page has %d", order.Length(), fresh.Find("#answer [data-as]").Length())
	}
	order.Each(func(i int, s *selection) {
		now := fresh.Find("#answer [data-as]").Eq(i)
		html, err := s.Html()
		if err != nil {
			t.Fatal(err)
		}
		if html == "" {
			kept++
			html, err = page.Find(`#answer [data-as="` + s.AttrOr("data-as", "") + `"]`).Html()
		} else {
			sent++
		}
		want, wantErr := now.Html()
		if err != nil || wantErr != nil || html != want || s.AttrOr("id", "") != now.AttrOr("id", "") {
			t.Errorf("part %s: %s\nwant %s %s", s.AttrOr("id", ""), html, now.AttrOr("id", ""), want)
		}
	})
	t.Logf("%d parts sent, %d kept, %d bytes", sent, kept, len(a.Body))
	if sent == 0 || kept < 2*sent {
		t.Errorf("a smaller fuse sends %d parts and keeps %d", sent, kept)
	}
	if whole := d.live(demo+"/facts", "sheet", "services", "v:"+fuse, "63"); len(whole.Body) < 3*len(a.Body) {
		t.Errorf("%d bytes to a page that has all but the change, %d to one that has nothing", len(a.Body), len(whole.Body))
	}
}

// What is kept of a state says what its file says: another server on the same register
// shows the same pages after every kind of change.
func TestWhatIsKeptIsWhatWasSaved(t *testing.T) {
	d := newDesk(t)
	steps := []struct {
		path   string
		fields []string
	}{
		{"/facts", []string{"sheet", "services", "v:" + fuse, "63.333333333", "b:" + fuse, "told", "w:" + fuse, "him: \"so\""}},
		{"/entries", []string{"sheet", "equipment", "add", "equipment.items", "product", "FV-10"}},
		{"/arrange", []string{"sheet", "plan", "anew", "yes"}},
		{"/place", []string{"sheet", "plan", "tag", "FV1", "part", "", "x", "3.333333", "y", "2,2", "turn", "90"}},
		{"/undo", []string{"sheet", "plan"}},
		{"/redo", []string{"sheet", "plan"}},
		{"/entries", []string{"sheet", "equipment", "remove", "equipment.items[1]"}},
	}
	for _, step := range steps {
		if a := d.post(demo+step.path, step.fields...); a.Code != http.StatusSeeOther {
			t.Fatalf("%s: %d %s", step.path, a.Code, squeeze(a.doc(t).Find("main").Text()))
		}
		for _, sheet := range []string{"services", "plan", "price"} {
			here := d.get(demo + "?sheet=" + sheet)
			if there := d.elsewhere().get(demo + "?sheet=" + sheet); here.Body != there.Body {
				t.Errorf("after %s the sheet %s differs from the one read anew", step.path, sheet)
			}
		}
	}
}

// elsewhere is the same browser at another server on the same register.
func (d *desk) elsewhere() *desk {
	d.t.Helper()
	h, err := house()
	if err != nil {
		d.t.Fatal(err)
	}
	other, err := web.New(web.Config{House: h, Desk: d.reg, Clock: d.clock, Version: "test"})
	if err != nil {
		d.t.Fatal(err)
	}
	p := &place{t: d.t, reg: d.reg, web: other, server: httptest.NewServer(other.Handler()), now: d.now}
	d.t.Cleanup(p.server.Close)
	browser := p.browser()
	browser.client.Jar.SetCookies(mustURL(d.t, p.server.URL), d.client.Jar.Cookies(mustURL(d.t, d.server.URL)))
	return browser
}
