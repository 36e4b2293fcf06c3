package web_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"tunwright/pricing/register"

	"github.com/shopspring/decimal"
)

const quote = "/quotations/weaving-mill"

// easy is a house whose limits ask for nobody's approval.
func easy(c *config) { c.House.Firm.MarginFloor = decimal.New(5, 0) }

// issue sends the demo out, despite what stops it.
func (d *desk) issue() {
	d.t.Helper()
	if a := d.post(demo+"/issue", "despite", "yes"); a.Code != http.StatusSeeOther || !strings.HasPrefix(a.Header.Get("Location"), quote) {
		d.t.Fatalf("issue: %d %s", a.Code, squeeze(a.doc(d.t).Find("main").Text()))
	}
}

func TestIssuingMakesARevisionThatNeverChanges(t *testing.T) {
	d := newDesk(t, easy)
	d.issue()
	doc := d.page(quote)
	if got := squeeze(doc.Find("h1").Text()); got != "Q-2026-0001" {
		t.Errorf("number %q", got)
	}
	first := d.get(quote + "/A/papers/pack.pdf")
	if first.Code != http.StatusOK || !strings.HasPrefix(first.Body, "%PDF-") || !strings.Contains(first.Header.Get("Content-Disposition"), `"Q-2026-0001-A-pack.pdf"`) {
		t.Errorf("%d %s", first.Code, first.Header.Get("Content-Disposition"))
	}
	d.post(demo+"/facts", "sheet", "services", "v:"+fuse, "315", "b:"+fuse, "told", "w:"+fuse, "operator")
	d.post(demo+"/entries", "sheet", "equipment", "add", "equipment.items", "product", "FV-10")
	page := d.page(demo + "/issue")
	if changes := squeeze(page.Find(".changes").Text()); !strings.Contains(changes, "added") || !strings.Contains(page.Find("h1").Text(), "revision B") {
		t.Errorf("%q, changes %q", page.Find("h1").Text(), changes)
	}
	d.issue()
	doc = d.page(quote)
	if doc.Find(".rev.old .mark").First().Text() != "superseded" || squeeze(doc.Find("h1").Text()) != "Q-2026-0001" {
		t.Error("revision A is not marked as superseded, or the number changed")
	}
	again := d.get(quote + "/A/papers/pack.pdf")
	if again.Body != first.Body {
		t.Error("revision A has other bytes than when it was issued")
	}
	if !strings.Contains(again.Header.Get("Content-Disposition"), "SUPERSEDED-") {
		t.Error("the old paper's name does not say that it is superseded")
	}
}

func TestWhatStopsIsNotIssuedUnseen(t *testing.T) {
	d := newDesk(t, easy)
	d.post(demo+"/facts", "sheet", "services", "v:"+fuse, "20", "b:"+fuse, "told", "w:"+fuse, "him")
	if d.page(demo).Find("#answer .finding.stop").Length() == 0 {
		t.Fatal("a supply of 20 A does not stop the demo")
	}
	a := d.post(demo + "/issue")
	if a.Code != http.StatusUnprocessableEntity || a.doc(t).Find("#problems").Length() != 1 {
		t.Errorf("issued unseen: %d", a.Code)
	}
}

// Where the limits ask for it, a second person says yes to exactly what goes out.
func TestASecondPersonApproves(t *testing.T) {
	owner := newDesk(t, func(c *config) { c.House.Firm.MarginFloor = decimal.New(60, 0) })
	sales, approver := owner.colleague("Sam", register.Sales), owner.colleague("Abel", register.Approver)
	a := sales.post(demo+"/issue", "despite", "yes")
	if a.Code != http.StatusConflict || !strings.Contains(a.doc(t).Find("#problems").Text(), "second person") {
		t.Fatalf("issued without approval: %d", a.Code)
	}
	if d := approver.page(quote); d.Find(`form[action$="/approve"]`).Length() != 1 || sales.page(quote).Find(`form[action$="/approve"]`).Length() != 0 {
		t.Error("the approval is offered to the wrong person")
	}
	if a := approver.post(quote+"/approve", "reason", "a friend of the house"); a.Code != http.StatusSeeOther {
		t.Fatalf("approve: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	sales.issue()
	sales.post(demo+"/entries", "sheet", "equipment", "add", "equipment.items", "product", "FV-10")
	if a := sales.post(demo+"/issue", "despite", "yes"); a.Code != http.StatusConflict {
		t.Errorf("a changed draft went out on the old approval: %d", a.Code)
	}
}

func TestPapersByReceiverAndAllAsOne(t *testing.T) {
	owner := newDesk(t, easy)
	owner.issue()
	office := owner.colleague("Olive", register.Office)
	doc := office.page(quote)
	if got := doc.Find(`section table tbody th`).First().Text(); got != "Electrician" {
		t.Errorf("the first receiver is %q", got)
	}
	doc.Find(".files a").Each(func(_ int, s *selection) {
		if a := office.get(s.AttrOr("href", "")); a.Code != http.StatusOK {
			t.Errorf("%s: %d", s.AttrOr("href", ""), a.Code)
		}
	})
	a := office.get(quote + "/A/papers.zip")
	z, err := zip.NewReader(bytes.NewReader([]byte(a.Body)), int64(len(a.Body)))
	if err != nil {
		t.Fatal(err)
	}
	index, err := z.File[0].Open()
	if err != nil {
		t.Fatal(err)
	}
	defer index.Close()
	rows, err := csv.NewReader(index).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if z.File[0].Name != "index.csv" || len(rows) != len(z.File) {
		t.Errorf("first %s, %d rows for %d files", z.File[0].Name, len(rows), len(z.File))
	}
	if again := office.get(quote + "/A/papers.zip"); again.Body != a.Body {
		t.Error("the same revision gives another zip")
	}
}

func TestWhatWasSentIsEntered(t *testing.T) {
	owner := newDesk(t, easy)
	owner.issue()
	office := owner.colleague("Olive", register.Office)
	if a := office.post(quote+"/transmittals", "letter", "A", "paper", "electrical.pdf", "to", "", "means", "e-mail"); a.Code != http.StatusUnprocessableEntity || input(a.doc(t), "means") != "e-mail" {
		t.Errorf("nobody received it: %d", a.Code)
	}
	if a := office.post(quote+"/transmittals", "letter", "A", "paper", "electrical.pdf", "to", "Volt & Sons", "means", "e-mail"); a.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	if got := squeeze(office.page(quote).Find(`section table:contains("Volt & Sons")`).Text()); !strings.Contains(got, "electrical.pdf") || !strings.Contains(got, "Olive") {
		t.Errorf("the record says %q", got)
	}
}

func TestTheRegisterIsSearched(t *testing.T) {
	d := newDesk(t, easy)
	if d.page("/quotations").Find(".empty").Length() != 1 {
		t.Error("an empty register teaches nothing")
	}
	d.issue()
	for query, want := range map[string]int{"": 1, "?words=Shed": 1, "?words=Q-2026": 1, "?words=nobody": 0, "?state=issued": 1, "?state=accepted": 0} {
		if got := d.page("/quotations" + query).Find("tbody tr").Length(); got != want {
			t.Errorf("%q finds %d, want %d", query, got, want)
		}
	}
}
