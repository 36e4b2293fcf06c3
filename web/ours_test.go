package web_test

import (
	"net/http"
	"strings"
	"testing"

	"tunwright/pricing/register"
)

// back posts as a browser does from a page: with where it was.
func (d *desk) back(from, path string, fields ...string) answer {
	d.t.Helper()
	req := d.form(path, fields...)
	req.Header.Set("Referer", d.server.URL+from)
	return d.do(req)
}

// While the house's own figures are put away no page and no fragment holds them; the
// browser remembers, and each colleague's own decides for themselves.
func TestOwnFiguresAreHiddenFromTheScreen(t *testing.T) {
	d := newDesk(t, easy)
	sam := d.colleague("Sam", register.Sales)
	copied := d.post(demo + "/copy").Header.Get("Location")
	other := copied[strings.LastIndex(copied, "=")+1:]
	screens := []string{demo + "?sheet=services", demo + "?sheet=price", demo + "/issue", demo + "/compare?with=" + other}
	house := d.page(screens[0]).Find(".price .house dd").Text()
	percent, margin, _ := strings.Cut(squeeze(house), " ")
	floor := squeeze(d.page(screens[0]).Find(".price .small").Text())
	floor = strings.TrimSuffix(floor[strings.LastIndex(floor, " ")+1:], ".")
	tells := func(text string) (which string) {
		for _, word := range []string{percent, margin, floor, "ours alone", "our margin", `class="num house"`} {
			if strings.Contains(text, word) {
				return word
			}
		}
		return ""
	}
	for _, screen := range screens {
		if tells(d.get(screen).Body) == "" {
			t.Fatalf("%s does not show the house's figures", screen)
		}
	}
	from := screens[1]
	if a := d.back(from, "/account/ours", "hide", "yes"); a.Code != http.StatusSeeOther || a.Header.Get("Location") != from {
		t.Fatalf("%d to %q", a.Code, a.Header.Get("Location"))
	}
	for _, screen := range screens {
		if word := tells(d.get(screen).Body); word != "" {
			t.Errorf("%s still tells %q", screen, word)
		}
	}
	if word := tells(d.live(demo+"/facts", "sheet", "services", "v:"+fuse, "200").Body); word != "" {
		t.Errorf("the answer to a change tells %q", word)
	}
	if tells(sam.get(screens[0]).Body) == "" {
		t.Error("they are hidden from Sam too")
	}
	d.back(from, "/account/ours", "hide", "no")
	if tells(d.get(screens[0]).Body) == "" {
		t.Error("they do not come back")
	}
	for _, evil := range []string{"https://evil.example/x", d.server.URL + "//evil.example"} {
		req := d.form("/account/ours", "hide", "no")
		req.Header.Set("Referer", evil)
		if to := d.do(req).Header.Get("Location"); to != "/" {
			t.Errorf("from %s it leads to %q", evil, to)
		}
	}
}
