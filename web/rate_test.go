package web_test

import (
	"net/http"
	"strings"
	"testing"
)

const rate = "commercial.exchange_rate."

// In a foreign currency the price waits for its rate, the rest does not.
func TestAForeignCurrencyAsksForItsRate(t *testing.T) {
	d := newDesk(t)
	before := d.page(demo + "?sheet=price")
	if before.Find("#rate input").Length() != 0 {
		t.Error("a job in the book's currency is asked for a rate")
	}
	if first := before.Find(`select[name="v:commercial.delivery.rule"] option`).First(); first.AttrOr("value", "?") != "" || first.Text() != "as the firm's terms" {
		t.Errorf("with no rule agreed the choice shows %q", first.Text())
	}
	counts := squeeze(before.Find(".counts").Text())
	a := d.live(demo+"/facts", "sheet", "price", "v:commercial.currency", "EUR")
	doc := a.doc(t)
	for _, name := range []string{"to", "value", "source", "date", "until"} {
		if doc.Find(`#rate [name="v:`+rate+name+`"]`).Length() != 1 {
			t.Errorf("the rate's %s is not asked for", name)
		}
	}
	if got := squeeze(doc.Find(".counts").Text()); got != counts {
		t.Errorf("without a price the findings are %q, were %q", got, counts)
	}
	if !strings.Contains(doc.Find(".price").Text(), "No price yet") {
		t.Errorf("the price says %q", squeeze(doc.Find(".price").Text()))
	}
	for _, sheet := range []string{"price", "equipment", "plan", "papers", "survey"} {
		if got := squeeze(d.page(demo + "?sheet=" + sheet).Find(".counts").Text()); got != counts {
			t.Errorf("%s: %q", sheet, got)
		}
	}
	if a := d.post(demo+"/facts", "sheet", "price", "v:"+rate+"to", input(doc, "v:"+rate+"to"), "v:"+rate+"value", "1.15", "v:"+rate+"source", "European Central Bank", "v:"+rate+"date", "2026-11-20", "v:"+rate+"until", "2027-01-31"); a.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", a.Code, squeeze(a.doc(t).Find("#problems").Text()))
	}
	if net := d.page(demo + "?sheet=price").Find(".price .net dd").Text(); !strings.Contains(net, "€") {
		t.Errorf("with a rate the price is %q", squeeze(d.page(demo+"?sheet=price").Find(".price").Text()))
	}
}
