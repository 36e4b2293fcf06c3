package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"

	"tunwright/pricing/register"
)

// upload posts a file with the fields of its form.
func (d *desk) upload(path, name, text string, fields ...string) answer {
	d.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for i := 0; i+1 < len(fields); i += 2 {
		if err := w.WriteField(fields[i], fields[i+1]); err != nil {
			d.t.Fatal(err)
		}
	}
	if name != "" {
		f, err := w.CreateFormFile("file", name)
		if err != nil {
			d.t.Fatal(err)
		}
		if _, err := f.Write([]byte(text)); err != nil {
			d.t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		d.t.Fatal(err)
	}
	req, err := http.NewRequestWithContext(d.t.Context(), http.MethodPost, d.server.URL+path, &b)
	if err != nil {
		d.t.Fatal(err)
	}
	req.Header.Set("Content-Type", w.FormDataContentType())
	return d.do(req)
}

// A price book goes out as a spreadsheet, comes back changed, is looked at, and counts
// from its first day on.
func TestAPriceBookIsTakenOver(t *testing.T) {
	owner := newDesk(t)
	office := owner.colleague("Olive", register.Office)
	old := office.get("/books/2026")
	if old.Code != http.StatusOK || !strings.Contains(old.Body, "FV-20,") {
		t.Fatalf("the book in force: %d", old.Code)
	}
	code := owner.page(demo+"?sheet=equipment").Find(".item:contains('FV1') option[selected]").AttrOr("value", "")
	var lines []string
	for _, line := range strings.Split(old.Body, "\n") {
		if cells := strings.Split(line, ","); cells[0] == code {
			cells[1] = "14000.00"
			line = strings.Join(cells, ",")
		}
		lines = append(lines, line)
	}
	text := strings.ReplaceAll(strings.Join(lines, "\n"), "2026-01-01", "")
	text = strings.ReplaceAll(text, "2027-07-01", "")
	a := office.upload("/books", "new.csv", text, "id", "2026-12", "from", "2026-12-01")
	doc := a.doc(t)
	if a.Code != http.StatusOK || !strings.Contains(squeeze(doc.Find("table").First().Text()), code) {
		t.Fatalf("%d %s", a.Code, squeeze(doc.Find("main").Text()))
	}
	take := []string{"id", input(doc, "id"), "from", input(doc, "from"), "to", "", "note", "", "name", "new.csv", "data", input(doc, "data")}
	if a := office.post("/books/take", take...); a.Code != http.StatusSeeOther {
		t.Fatalf("take over: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	price := func(date string) string {
		owner.post(demo+"/facts", "sheet", "brief", "v:date", date)
		return owner.page(demo + "?sheet=equipment").Find("#sum-FV1").Text()
	}
	if before, after := price("2026-11-25"), price("2026-12-02"); before == after || !strings.Contains(after, "14,000") {
		t.Errorf("before its first day %s, after %s", before, after)
	}
	if a := office.post("/books/take", take...); a.Code != http.StatusUnprocessableEntity || !strings.Contains(a.Body, "name of its own") {
		t.Errorf("taken twice: %d", a.Code)
	}
}

func TestABadPriceBookSaysEverythingThatIsWrong(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct{ name, text, id, from, says string }{
		{"", "", "x", "2027-01-01", "no file was chosen"},
		{"a.csv", "code,list\nFV-20,many\nFV-10,-3\n", "x", "2027-01-01", "FV-10"},
		{"a.csv", "code,list\nFV-20,10.00\n", "x", "next spring", "first day"},
		{"a.xlsx", "not a workbook", "x", "2027-01-01", "a.xlsx"},
		{"a.csv", "code,list\nFV-20,10.00\n", "", "2027-01-01", "name of its own"},
	} {
		a := d.upload("/books", tt.name, tt.text, "id", tt.id, "from", tt.from)
		doc := a.doc(t)
		if a.Code != http.StatusUnprocessableEntity || !strings.Contains(doc.Find("#problems").Text(), tt.says) || input(doc, "from") != tt.from {
			t.Errorf("%q: %d %s", tt.says, a.Code, squeeze(doc.Find("#problems").Text()))
		}
	}
}

func TestTheFirmIsSet(t *testing.T) {
	d := newDesk(t)
	if a := d.post("/settings", "v:name", "Otter & Sons", "v:valid_days", "nine hundred"); a.Code != http.StatusUnprocessableEntity || input(a.doc(t), "v:name") != "Otter & Sons" {
		t.Errorf("wrong days: %d", a.Code)
	}
	if a := d.post("/settings", "v:stages[1].percent", "31"); a.Code != http.StatusUnprocessableEntity || !strings.Contains(a.doc(t).Find("#problems").Text(), "101") {
		t.Errorf("stages that do not sum: %d %s", a.Code, squeeze(a.doc(t).Find("#problems").Text()))
	}
	if a := d.post("/settings", "v:name", "Otter & Sons", "v:valid_days", "45"); a.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", a.Code, squeeze(a.doc(t).Find("#problems").Text()))
	}
	if got := d.page("/enquiries").Find(".firm").Text(); got != "Otter & Sons" {
		t.Errorf("the firm is called %q", got)
	}
	until := start.AddDate(0, 0, 45).Format("2 January 2006")
	if got := d.page(demo).Find("#answer .price").Text(); !strings.Contains(got, until) {
		t.Errorf("not valid until %s: %s", until, squeeze(got))
	}
}
