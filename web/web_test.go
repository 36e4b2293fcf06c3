package web_test

import (
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"tunwright/catalog"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"
	"tunwright/web"

	"github.com/PuerkitoBio/goquery"
)

// house is the invented firm, read once.
var house = sync.OnceValues(func() (offer.House, error) {
	c, err := catalog.Embedded()
	if err != nil {
		return offer.House{}, err
	}
	book, err := pricing.ReadBook(data.PricesFile, data.Prices())
	if err != nil {
		return offer.House{}, err
	}
	firm, err := offer.ReadFirm(data.FirmFile, data.Firm())
	return offer.House{Firm: firm, Catalogue: c, Book: book}, err
})

// start is the moment at which every test begins.
var start = time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)

// place is a running server with the demo on its desk.
type place struct {
	t      testing.TB
	server *httptest.Server
	web    *web.Server
	reg    *register.Register
	now    time.Time
	mu     sync.Mutex
}

// desk is one person's browser.
type desk struct {
	*place
	client *http.Client
}

const password = "four grey kettles on a hill"

// open starts a server; nobody works there yet.
func open(t testing.TB, change ...func(*web.Config)) *place {
	t.Helper()
	h, err := house()
	if err != nil {
		t.Fatal(err)
	}
	r, err := register.Open(t.Context(), filepath.Join(t.TempDir(), "register.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := r.Close(); err != nil {
			t.Error(err)
		}
	})
	p := &place{t: t, reg: r, now: start}
	c := web.Config{House: h, Desk: r, Clock: p.clock, Version: "test"}
	for _, f := range change {
		f(&c)
	}
	if p.web, err = web.New(c); err != nil {
		t.Fatal(err)
	}
	if err := p.web.LoadDemo(t.Context()); err != nil {
		t.Fatal(err)
	}
	p.server = httptest.NewServer(p.web.Handler())
	t.Cleanup(p.server.Close)
	return p
}

// clock moves a little with each look, as clocks do.
func (p *place) clock() time.Time {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.now = p.now.Add(time.Millisecond)
	return p.now
}

func (p *place) later(d time.Duration) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.now = p.now.Add(d)
}

// browser is a stranger's browser.
func (p *place) browser() *desk {
	p.t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		p.t.Fatal(err)
	}
	return &desk{p, &http.Client{Jar: jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
}

// newDesk is the browser of the first owner, signed in.
func newDesk(t testing.TB, change ...func(*web.Config)) *desk {
	t.Helper()
	p := open(t, change...)
	link, err := p.web.FirstLink(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d := p.browser()
	if a := d.post(link, "name", "Tamsin Rourke", "email", "tamsin@marlowetarn.example", "password", password); a.Code != http.StatusSeeOther {
		t.Fatalf("the first person: %d %s", a.Code, squeeze(a.doc(t).Find("main").Text()))
	}
	return d
}

// colleague is the browser of somebody else, whom the owner lets in.
func (d *desk) colleague(name string, role register.Role) *desk {
	d.t.Helper()
	email := strings.ToLower(name) + "@marlowetarn.example"
	if a := d.post("/people", "name", name, "email", email, "role", string(role), "password", password); a.Code != http.StatusSeeOther {
		d.t.Fatalf("let %s in: %d %s", name, a.Code, squeeze(a.doc(d.t).Find("main").Text()))
	}
	other := d.browser()
	if a := other.post("/sign-in", "email", email, "password", password); a.Code != http.StatusSeeOther {
		d.t.Fatalf("%s signs in: %d", name, a.Code)
	}
	return other
}

// answer is a response read to its end.
type answer struct {
	Code   int
	Header http.Header
	Body   string
}

func (d *desk) do(req *http.Request) answer {
	d.t.Helper()
	res, err := d.client.Do(req)
	if err != nil {
		d.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		d.t.Fatal(err)
	}
	return answer{res.StatusCode, res.Header, string(body)}
}

func (d *desk) get(path string) answer {
	d.t.Helper()
	req, err := http.NewRequestWithContext(d.t.Context(), http.MethodGet, d.server.URL+path, nil)
	if err != nil {
		d.t.Fatal(err)
	}
	return d.do(req)
}

func (d *desk) post(path string, fields ...string) answer {
	d.t.Helper()
	return d.do(d.form(path, fields...))
}

// live posts as the page's script does.
func (d *desk) live(path string, fields ...string) answer {
	d.t.Helper()
	req := d.form(path, fields...)
	req.Header.Set("HX-Request", "true")
	return d.do(req)
}

func (d *desk) form(path string, fields ...string) *http.Request {
	d.t.Helper()
	values := url.Values{}
	for i := 0; i+1 < len(fields); i += 2 {
		values.Add(fields[i], fields[i+1])
	}
	req, err := http.NewRequestWithContext(d.t.Context(), http.MethodPost, d.server.URL+path, strings.NewReader(values.Encode()))
	if err != nil {
		d.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return req
}

func (a answer) doc(t testing.TB) *goquery.Document {
	t.Helper()
	doc, err := goquery.NewDocumentFromReader(strings.NewReader(a.Body))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func (d *desk) page(path string) *goquery.Document {
	d.t.Helper()
	a := d.get(path)
	if a.Code != http.StatusOK {
		d.t.Fatalf("GET %s: %d %s", path, a.Code, a.Body)
	}
	return a.doc(d.t)
}

// input is what stands in the input of a field.
func input(doc *goquery.Document, name string) string {
	return doc.Find(`input[name="`+name+`"]`).AttrOr("value", "(no such input)")
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// Short names for what the tests handle all the time.
type (
	config    = web.Config
	selection = goquery.Selection
)

func mustURL(t testing.TB, text string) *url.URL {
	t.Helper()
	u, err := url.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return u
}
