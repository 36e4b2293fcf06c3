package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/web"
)

// A remedy is offered where it was tried, made with one key, and taken back with one.
func TestARemedyIsMadeWithOneKey(t *testing.T) {
	tried := 0
	d := newDesk(t, func(c *config) {
		c.Mends = func(j offer.Job, _ configurator.Report, f configurator.Finding) []web.Mend {
			tried++
			m := web.Mend{Words: "another tank for " + f.Rule.ID, Edits: []web.Edit{{Op: "add", Path: "equipment.items", Text: "{tag: FV99, product: FV-10}"}}}
			with, err := offer.Apply(j, m.Edits...)
			if err != nil {
				t.Error(err)
			}
			if m.After, err = configurator.Check(with.Project, c.House.Catalogue); err != nil {
				t.Error(err)
			}
			return []web.Mend{m}
		}
	})
	page := d.page(demo)
	link := page.Find("#answer .mends a").First().AttrOr("href", "")
	if link == "" || tried != 0 {
		t.Fatalf("no remedy is offered, or all %d were tried before anybody looked", tried)
	}
	at, err := url.Parse(link)
	if err != nil {
		t.Fatal(err)
	}
	doc := d.page(link)
	words := doc.Find("button[name=words]").AttrOr("value", "")
	if words == "" || tried != 1 {
		t.Fatalf("%q offered, %d tried", words, tried)
	}
	if said := doc.Find("button[name=words] + .small").First().Text(); !strings.Contains(said, "more without tax") || !strings.Contains(said, "earliest opening") || !strings.Contains(said, "highest line") {
		t.Errorf("a further tank costs and takes: %q", said)
	}
	fields := []string{"rule", at.Query().Get("rule"), "subject", at.Query().Get("subject"), "words", words, "sheet", "equipment"}
	if a := d.post(demo+"/mend", fields...); a.Code != http.StatusSeeOther {
		t.Fatalf("apply: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	after := d.page(demo + "?sheet=equipment")
	if after.Find(".item:contains('FV99')").Length() != 1 || !strings.Contains(after.Find("#undo").AttrOr("title", ""), words) {
		t.Error("the remedy was not made, or cannot be taken back by its name")
	}
	if a := d.post(demo+"/mend", "rule", "XX-000", "words", words); a.Code != http.StatusConflict {
		t.Errorf("a remedy nobody offers: %d", a.Code)
	}
}

// A change is answered within the time of a blink: aim 100 ms on a quiet machine.
func BenchmarkChange(b *testing.B) {
	d := newDesk(b)
	has := have(d.page(demo + "?sheet=services"))
	values := []string{"200", "250"}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n++
		if a := d.liveHaving(has, demo+"/facts", "sheet", "services", "v:"+fuse, values[n%2], "b:"+fuse, "told", "w:"+fuse, "him"); a.Code != http.StatusOK {
			b.Fatal(a.Code)
		}
	}
}
