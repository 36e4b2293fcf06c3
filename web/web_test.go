package web_test

import (
	"io"
	"net/http"
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

// desk is a server with the demo on its desk, and the client of one person.
type desk struct {
	t      *testing.T
	server *httptest.Server
	client *http.Client
}

func newDesk(t *testing.T) *desk {
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
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	s, err := web.New(web.Config{House: h, Desk: r, Clock: func() time.Time { return now }, Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.LoadDemo(t.Context()); err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(s.Handler())
	t.Cleanup(server.Close)
	return &desk{t, server, &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
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

func (a answer) doc(t *testing.T) *goquery.Document {
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
