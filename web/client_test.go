package web_test

import (
	"archive/zip"
	"bytes"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tunwright/catalog"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/testdata/projects"
)

// send issues the demo and makes a link; it returns the client's browser and path.
func (d *desk) send(fields ...string) (client *desk, path string) {
	d.t.Helper()
	d.issue()
	a := d.post(quote+"/links", append([]string{"days", "30"}, fields...)...)
	link := a.doc(d.t).Find("#new-link").AttrOr("value", "")
	if a.Code != http.StatusOK || !strings.Contains(link, "/q/") {
		d.t.Fatalf("no link: %d %s", a.Code, squeeze(a.doc(d.t).Find("main").Text()))
	}
	return d.browser(), strings.TrimPrefix(link, d.server.URL)
}

func TestTheClientReadsWithoutAnythingElse(t *testing.T) {
	client, path := newDesk(t, easy).send()
	a := client.get(path)
	doc := a.doc(t)
	if a.Code != http.StatusOK || doc.Find(".price .net dd").Text() == "" || doc.Find("#fit").Length() != 1 || doc.Find(`[aria-labelledby="supplied"] tbody tr`).Length() < 20 {
		t.Errorf("%d: %s", a.Code, squeeze(doc.Find("main").Text()))
	}
	if a.Header.Get("Referrer-Policy") != "no-referrer" || !strings.Contains(a.Header.Get("X-Robots-Tag"), "noindex") {
		t.Error("the link's secret may travel on")
	}
	if doc.Find("#choices").Length() != 0 || doc.Find("nav").Length() != 0 {
		t.Error("a link that opens nothing offers choices, or a door of the house")
	}
	doc.Find(".papers a").Each(func(_ int, s *selection) {
		if p := client.get(s.AttrOr("href", "")); p.Code != http.StatusOK || !strings.HasPrefix(p.Body, "%PDF-") {
			t.Errorf("%s: %d", s.AttrOr("href", ""), p.Code)
		}
	})
	for _, file := range []string{"electrical.xlsx", "access.pdf", "enquiry.yaml", "../../"} {
		if p := client.get(path + "/papers/" + file); p.Code != http.StatusNotFound {
			t.Errorf("%s: %d", file, p.Code)
		}
	}
}

func TestTheClientChangesOnlyWhatIsOpen(t *testing.T) {
	client, path := newDesk(t, easy).send("open-FV4", "near", "min-1", "200", "max-1", "400")
	doc := client.page(path)
	if got := doc.Find("#choices select").Length(); got != 1 {
		t.Errorf("%d choices are open", got)
	}
	options := doc.Find("#i-FV4 option").Map(func(_ int, s *selection) string { return s.AttrOr("value", "") })
	if !slices.Equal(options, []string{"FV-7.5", "FV-10", "FV-15"}) {
		t.Errorf("one size up or down gives %v", options)
	}
	before := doc.Find("#live .price .net dd").Text()
	after := client.page(path + "?i-FV4=" + options[2])
	if got := after.Find("#live .price .net dd").Text(); got == before || !strings.Contains(after.Find("#live").Text(), "as issued: "+before) {
		t.Errorf("price before %s, after %s", before, got)
	}
	if after.Find(`form[action$="/wish"]`).Length() != 1 {
		t.Error("a change cannot be sent as a wish")
	}
	for _, query := range []string{"?i-FV4=FV-40-LOW", "?i-BH1=BH-30-S-3V", "?i-FV4=<script>", "?v-2=1"} {
		if got := client.page(path + query).Find("#live .price .net dd").Text(); got != before {
			t.Errorf("%s changed the price to %s", query, got)
		}
	}
	for value, says := range map[string]string{"900": "200 to 400 hL", "-3": "write a number", "many": "write a number", "NaN": "write a number", "+Inf": "write a number"} {
		doc := client.page(path + "?v-1=" + value)
		if got := doc.Find("#v-1-e").Text(); !strings.Contains(got, says) || doc.Find("#v-1").AttrOr("value", "") == "320" {
			t.Errorf("%s: %q", value, got)
		}
	}
}

func TestAWishIsAdoptedOrNot(t *testing.T) {
	sales := newDesk(t, easy)
	client, path := sales.send("open-FV4", "any", "min-1", "200", "max-1", "400")
	if a := client.post(path+"/wish", "name", "Orla", "i-FV4", "FV-10", "v-1", "320"); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("a wish for nothing: %d", a.Code)
	}
	for range 2 {
		if a := client.post(path+"/wish", "name", "Orla", "text", "room for one more", "i-FV4", "FV-20", "v-1", "280,5"); a.Code != http.StatusSeeOther {
			t.Fatalf("wish: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
		}
	}
	doc := sales.page(quote)
	if got := squeeze(doc.Find(".wish").First().Text()); !strings.Contains(got, "Orla") || !strings.Contains(got, "280.5 hL") {
		t.Errorf("the wish reads %q", got)
	}
	forms := doc.Find(`.wish form`).Map(func(_ int, s *selection) string { return s.AttrOr("action", "") })
	if a := sales.post(forms[0], "adopt", "yes"); a.Code != http.StatusSeeOther {
		t.Fatalf("adopt: %d", a.Code)
	}
	if a := sales.post(forms[1], "adopt", "no"); a.Code != http.StatusSeeOther {
		t.Fatalf("refuse: %d", a.Code)
	}
	brief := sales.page(demo + "?sheet=brief")
	if input(brief, "v:brief.beers[1].yearly_hl") != "280.5" || !strings.Contains(brief.Find("#undo").AttrOr("title", ""), "wish of Orla") {
		t.Errorf("the wish does not stand: %s", input(brief, "v:brief.beers[1].yearly_hl"))
	}
	if a := sales.post(forms[0], "adopt", "yes"); a.Code != http.StatusConflict {
		t.Errorf("adopted twice: %d", a.Code)
	}
}

func TestTheClientWritesAndAccepts(t *testing.T) {
	sales := newDesk(t, easy)
	client, path := sales.send()
	if a := client.post(path+"/comment", "name", "Orla", "text", ""); a.Code != http.StatusUnprocessableEntity || input(a.doc(t), "name") != "Orla" {
		t.Errorf("empty words: %d", a.Code)
	}
	if a := client.post(path+"/comment", "name", "Orla", "text", "<b>When</b> could you start?"); a.Code != http.StatusSeeOther {
		t.Errorf("words: %d", a.Code)
	}
	if got := sales.get(quote); !strings.Contains(got.Body, "&lt;b&gt;When") {
		t.Error("the words do not arrive, or arrive as markup")
	}
	digest := input(client.page(path), "digest")
	for _, bad := range [][]string{{"name", "", "agree", "yes", "digest", digest}, {"name", "Orla", "digest", digest}, {"name", "Orla", "agree", "yes", "digest", "other"}} {
		if a := client.post(path+"/accept", bad...); a.Code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", bad, a.Code)
		}
	}
	if a := client.post(path+"/accept", "name", "Orla Pennick", "role", "director", "agree", "yes", "digest", digest); a.Code != http.StatusSeeOther {
		t.Fatalf("accept: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	if got := squeeze(sales.page(quote).Find(".rev").Text()); !strings.Contains(got, "accepted by Orla Pennick") {
		t.Errorf("the revision reads %q", got)
	}
	doc := client.page(path)
	if doc.Find(`form[action$="/accept"]`).Length() != 0 || !strings.Contains(doc.Find(".said").Text(), "Orla Pennick") {
		t.Error("it can be accepted again, or does not say by whom it was")
	}
	if a := client.post(path+"/accept", "name", "Orla", "agree", "yes", "digest", digest); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("accepted twice: %d", a.Code)
	}
}

func TestALinkEnds(t *testing.T) {
	sales := newDesk(t, easy)
	client, path := sales.send()
	form := sales.page(quote).Find(`form[action$="/withdraw"]`).AttrOr("action", "")
	if a := sales.post(form); a.Code != http.StatusSeeOther {
		t.Fatalf("withdraw: %d", a.Code)
	}
	for _, p := range []string{path, path + "/papers/pack.pdf"} {
		if a := client.get(p); a.Code != http.StatusGone || strings.Contains(a.Body, "£") {
			t.Errorf("%s after withdrawal: %d", p, a.Code)
		}
	}
	if a := client.post(path+"/accept", "name", "Orla", "agree", "yes"); a.Code != http.StatusGone {
		t.Errorf("accept after withdrawal: %d", a.Code)
	}
	a := sales.post(quote+"/links", "days", "2")
	second := strings.TrimPrefix(a.doc(t).Find("#new-link").AttrOr("value", ""), sales.server.URL)
	if got := client.get(second).Code; got != http.StatusOK {
		t.Fatalf("a new link: %d", got)
	}
	sales.later(49 * time.Hour)
	if got := client.get(second).Code; got != http.StatusGone {
		t.Errorf("after its days: %d", got)
	}
	cut := second[:len(second)-2]
	if got := client.get(cut).Code; got != http.StatusNotFound {
		t.Errorf("a link cut short: %d", got)
	}
}

// secrets are what only the house may know, in every form a byte of it could take.
func secrets(t *testing.T) []string {
	t.Helper()
	h, err := house()
	if err != nil {
		t.Fatal(err)
	}
	text, err := projects.Text(projects.Demo)
	if err != nil {
		t.Fatal(err)
	}
	job, err := offer.Read(projects.Demo, text)
	if err != nil {
		t.Fatal(err)
	}
	o, err := offer.Make(job, h)
	if err != nil {
		t.Fatal(err)
	}
	sold := map[string]bool{}
	q := o.Quotation
	for _, l := range q.Lines {
		for _, a := range []money.Amount{l.Price, l.Net, l.Gross} {
			sold[a.Fixed()] = true
		}
	}
	for _, st := range q.Stages {
		for _, a := range []money.Amount{st.Net, st.Tax, st.Gross} {
			sold[a.Fixed()] = true
		}
	}
	visible(t, h, sold)
	out := []string{"ours alone", "Ours alone", "lowest price", "margin_percent", "markup_percent", "floor_price", "further_discount"}
	add := func(a money.Amount) {
		if !sold[a.Fixed()] && !a.IsZero() {
			out = append(out, a.Fixed(), a.FormatNumber(money.EnGB))
		}
	}
	for _, l := range o.Costs.Lines {
		add(l.Cost)
		add(l.Margin.Margin)
	}
	add(o.Costs.Whole.Cost)
	add(o.Costs.Whole.Margin)
	add(o.Costs.FloorPrice)
	return append(out, o.Costs.Whole.Percent.String()+"%")
}

// visible adds what a client may see by trying every choice: list prices, and what one
// product of a class costs more than another.
func visible(t *testing.T, h offer.House, sold map[string]bool) {
	t.Helper()
	for _, class := range catalog.Classes() {
		var prices []money.Amount
		for _, p := range h.Catalogue.ByClass(class) {
			price, err := h.Book.Find(p.Code, pricing.DateOf(start))
			if err != nil {
				continue
			}
			prices = append(prices, price.List)
			sold[price.List.Fixed()] = true
		}
		for _, a := range prices {
			for _, b := range prices {
				diff, err := a.Sub(b)
				if err != nil {
					t.Fatal(err)
				}
				sold[diff.Abs().Fixed()] = true
			}
		}
	}
}

// tells finds a secret that is not the tail of a longer figure.
func tells(text, secret string) bool {
	for {
		at := strings.Index(text, secret)
		if at < 0 {
			return false
		}
		if at == 0 || !strings.ContainsRune("0123456789.,", rune(text[at-1])) || secret[0] < '0' || secret[0] > '9' {
			return true
		}
		text = text[at+len(secret):]
	}
}

// Every byte that a client can get is read: pages, fragments, refusals and papers,
// unpacked where they are packed.
func TestNoByteToTheClientTellsCosts(t *testing.T) {
	sales := newDesk(t, easy)
	sales.post("/enquiries/sample", "sample", "hill-farm")
	client, path := sales.send("open-FV4", "any", "open-CH1", "any", "min-1", "200", "max-1", "400")
	digest := input(client.page(path), "digest")
	seen := map[string]string{}
	for _, q := range []string{"", "?i-FV4=FV-20", "?i-CH1=CH-60&v-1=399", "?v-1=9999", "?said=wish", "/papers/pack.pdf", "/papers/quotation.pdf", "/papers/findings.pdf", "/papers/none"} {
		seen[q] = client.get(path + q).Body
	}
	live, err := http.NewRequestWithContext(t.Context(), http.MethodGet, client.server.URL+path+"?i-FV4=FV-20", nil)
	if err != nil {
		t.Fatal(err)
	}
	live.Header.Set("HX-Request", "true")
	seen["live"] = client.do(live).Body
	seen["comment"] = client.post(path+"/comment", "text", "x").Body
	seen["wish"] = client.post(path+"/wish", "name", "x").Body
	seen["refused"] = client.post(path+"/accept", "name", "Orla").Body
	seen["accepted"] = client.post(path+"/accept", "name", "Orla", "agree", "yes", "digest", digest).Body
	seen["after"] = client.get(path).Body
	words := secrets(t)
	if len(words) < 40 {
		t.Fatalf("only %d secrets are looked for", len(words))
	}
	read := 0
	for where, body := range seen {
		text := body
		if strings.HasPrefix(body, "%PDF-") {
			text = pdfText(t, body)
		}
		read += len(text)
		for _, w := range append(words, "Ballymorrane", "Haggard") {
			if tells(text, w) {
				t.Errorf("%s holds %q", where, w)
			}
		}
	}
	if read < 50_000 {
		t.Errorf("only %d bytes were read", read)
	}
	known := 0
	house := sales.get(demo + "?sheet=price").Body
	for _, w := range words {
		if tells(house, w) {
			known++
		}
	}
	if known < 10 {
		t.Errorf("even the house shows only %d of the secrets: the test would find nothing", known)
	}
}

func pdfText(t *testing.T, body string) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is needed to read the papers")
		}
		t.Log("the text of PDFs was not read: there is no pdftotext")
		return ""
	}
	file := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(file, []byte(body), 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.CommandContext(t.Context(), tool, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The zip and the spreadsheets are the office's, and still go out to trades.
func TestNoPaperTellsCosts(t *testing.T) {
	sales := newDesk(t, easy)
	sales.issue()
	a := sales.get(quote + "/A/papers.zip")
	z, err := zip.NewReader(bytes.NewReader([]byte(a.Body)), int64(len(a.Body)))
	if err != nil {
		t.Fatal(err)
	}
	words := secrets(t)
	for _, f := range z.File {
		for name, text := range unpacked(t, f) {
			for _, w := range words {
				if tells(text, w) {
					t.Errorf("%s holds %q", name, w)
				}
			}
		}
	}
}

// unpacked gives the texts of a file of the zip; a workbook is a zip itself.
func unpacked(t *testing.T, f *zip.File) map[string]string {
	t.Helper()
	r, err := f.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{f.Name: string(data)}
	switch filepath.Ext(f.Name) {
	case ".pdf":
		out[f.Name] = pdfText(t, string(data))
	case ".xlsx":
		inner, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range inner.File {
			for name, text := range unpacked(t, g) {
				out[f.Name+"/"+name] = text
			}
		}
	}
	return out
}
