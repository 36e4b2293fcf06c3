package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
)

func TestANewEnquiryFromAFewFacts(t *testing.T) {
	d := newDesk(t)
	facts := []string{"client", "Fellmonger's Yard Ltd", "place", "Old tannery: \"hall 2\"", "volume", "620", "kind", "keg-ale", "storey", "1", "length", "14,5", "width", "8", "height", "", "phases", "3", "fuse", "125"}
	a := d.post("/enquiries", facts...)
	if a.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	doc := d.page(a.Header.Get("Location") + "?sheet=building")
	if input(doc, "v:site.name") != `Old tannery: "hall 2"` || input(doc, "v:site.room.outline_m") != "0; 0 / 14.5; 0 / 14.5; 8 / 0; 8" {
		t.Errorf("site %q, outline %q", input(doc, "v:site.name"), input(doc, "v:site.room.outline_m"))
	}
	if doc.Find("#answer .price .net dd").Length() != 1 {
		t.Error("a new enquiry is not answered: " + squeeze(doc.Find("#answer").Text()))
	}
}

func TestMissingFactsComeBackWithWhatWasTyped(t *testing.T) {
	d := newDesk(t)
	a := d.post("/enquiries", "client", "", "place", "Barn", "volume", "lots", "kind", "mead", "length", "-3", "width", "8")
	doc := a.doc(t)
	if a.Code != http.StatusUnprocessableEntity || doc.Find("#problems li").Length() < 4 {
		t.Fatalf("%d: %s", a.Code, squeeze(doc.Find("#problems").Text()))
	}
	if doc.Find("#f-place").AttrOr("value", "") != "Barn" || doc.Find("#f-volume").AttrOr("value", "") != "lots" {
		t.Error("what was typed is lost")
	}
	doc.Find("#problems a").Each(func(_ int, s *goquery.Selection) {
		if doc.Find(s.AttrOr("href", "")).AttrOr("aria-invalid", "") != "true" {
			t.Errorf("%s is not marked", s.AttrOr("href", ""))
		}
	})
}

func TestSamplesAreCopiedToTheDesk(t *testing.T) {
	d := newDesk(t)
	page := d.page("/enquiries")
	page.Find("button[name=sample]").Each(func(_ int, s *goquery.Selection) {
		a := d.post("/enquiries/sample", "sample", s.AttrOr("value", ""))
		if a.Code != http.StatusSeeOther {
			t.Fatalf("%s: %d", s.AttrOr("value", ""), a.Code)
		}
		if d.page(a.Header.Get("Location")).Find("#answer .price").Length() != 1 {
			t.Errorf("%s is not answered", s.AttrOr("value", ""))
		}
	})
	if got := d.page("/enquiries").Find("tbody tr").Length(); got != 5 {
		t.Errorf("%d enquiries are listed", got)
	}
	if a := d.post("/enquiries/sample", "sample", "../secret"); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("an unknown sample: %d", a.Code)
	}
}

func TestEveryPaperCanBeHad(t *testing.T) {
	d := newDesk(t)
	kinds := map[string]string{"PDF": "%PDF-", "XLSX": "PK\x03\x04", "YAML": "title:"}
	n := 0
	d.page(demo + "?sheet=papers").Find(".files a").Each(func(_ int, s *goquery.Selection) {
		n++
		a := d.get(s.AttrOr("href", ""))
		label, _, _ := strings.Cut(strings.Fields(s.Text())[0], " ")
		if a.Code != http.StatusOK || !strings.HasPrefix(a.Body, kinds[label]) || len(a.Body) < 40 {
			t.Errorf("%s: %d, begins with %.20q", s.AttrOr("href", ""), a.Code, a.Body)
		}
		if !strings.HasPrefix(a.Header.Get("Content-Disposition"), "attachment") {
			t.Errorf("%s is not a download", s.AttrOr("href", ""))
		}
	})
	if n < 15 {
		t.Errorf("only %d files are offered", n)
	}
}

func TestErrorsTellWhatToDo(t *testing.T) {
	d := newDesk(t)
	for _, path := range []string{"/nothing", "/enquiries/none", demo + "/papers/none.pdf", demo + "/papers/electrical.doc", "/static/none.css"} {
		a := d.get(path)
		if a.Code != http.StatusNotFound || strings.Contains(a.Body, "goroutine") || len(a.Body) < 10 {
			t.Errorf("%s: %d %.80s", path, a.Code, a.Body)
		}
	}
	if a := d.post(demo+"/facts", "sheet", "services", "v:site.supply.fuse_a", strings.Repeat("9", 5<<20)); a.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a form of 5 MB: %d", a.Code)
	}
}

func TestOtherSitesCannotPost(t *testing.T) {
	d := newDesk(t)
	req := d.form(demo+"/facts", "sheet", "services", "v:site.supply.fuse_a", "400")
	req.Header.Set("Sec-Fetch-Site", "cross-site")
	if a := d.do(req); a.Code != http.StatusForbidden {
		t.Errorf("a cross-site post: %d", a.Code)
	}
	req = d.form(demo+"/facts", "sheet", "services", "v:site.supply.fuse_a", "400")
	req.Header.Set("Origin", "https://elsewhere.example")
	if a := d.do(req); a.Code != http.StatusForbidden {
		t.Errorf("a post from another origin: %d", a.Code)
	}
}

// The policy forbids inline code, so that none may stand in a page.
func TestNoPageNeedsInlineCode(t *testing.T) {
	d := newDesk(t)
	for _, path := range []string{"/enquiries", "/enquiries/new", demo, demo + "?sheet=equipment", demo + "?sheet=price", "/nothing"} {
		a := d.get(path)
		doc := a.doc(t)
		if n := doc.Find("script:not([src]), style, [style], [onclick], [onchange], [hx-on]").Length(); n > 0 {
			t.Errorf("%s has %d pieces of inline code", path, n)
		}
		csp := a.Header.Get("Content-Security-Policy")
		if !strings.Contains(csp, "script-src 'self'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: policy %q", path, csp)
		}
		doc.Find("script[src], link[href], img[src]").Each(func(_ int, s *goquery.Selection) {
			src := s.AttrOr("src", s.AttrOr("href", ""))
			if got := d.get(src); got.Code != http.StatusOK || !strings.Contains(got.Header.Get("Cache-Control"), "immutable") {
				t.Errorf("%s: %d, %q", src, got.Code, got.Header.Get("Cache-Control"))
			}
		})
	}
}

func TestOptionsStandSideBySide(t *testing.T) {
	d := newDesk(t)
	a := d.post(demo + "/copy")
	if a.Code != http.StatusSeeOther {
		t.Fatalf("copy: %d", a.Code)
	}
	at := a.Header.Get("Location")
	other := at[strings.LastIndex(at, "=")+1:]
	d.post("/enquiries/"+other+"/entries", "sheet", "equipment", "add", "equipment.items", "product", "FV-10")
	doc := d.page(at)
	if got := doc.Find("thead a").Length(); got != 2 {
		t.Errorf("%d columns", got)
	}
	if got := doc.Find("#with-0 [selected]").AttrOr("value", ""); got != other {
		t.Errorf("the choice of what stands beside it is on %q", got)
	}
	prices := doc.Find("tbody tr").First().Find("td").Map(func(_ int, s *goquery.Selection) string { return s.Text() })
	if len(prices) != 2 || prices[0] == prices[1] {
		t.Errorf("prices %v", prices)
	}
	if got := squeeze(doc.Find(".groupname").Parent().NextAll().Text()); !strings.Contains(got, "Fermenter 10 hL") {
		t.Errorf("lines that differ: %q", got)
	}
	if d.page(demo+"/compare").Find(".empty").Length() != 1 {
		t.Error("with nothing beside it the page teaches nothing")
	}
}
