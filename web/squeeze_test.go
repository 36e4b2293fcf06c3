package web_test

import (
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"
)

// raw asks for a path and names the codings it takes.
func (d *desk) raw(path, takes string) answer {
	d.t.Helper()
	req, err := http.NewRequestWithContext(d.t.Context(), http.MethodGet, d.server.URL+path, nil)
	if err != nil {
		d.t.Fatal(err)
	}
	req.Header.Set("Accept-Encoding", takes)
	return d.do(req)
}

func TestPagesAndFilesGoOutCompressed(t *testing.T) {
	d := newDesk(t)
	style := d.page(demo).Find("link[rel=stylesheet]").AttrOr("href", "")
	for _, path := range []string{style, demo} {
		plain, small := d.raw(path, "identity"), d.raw(path, "br, gzip;q=0.8")
		if small.Header.Get("Content-Encoding") != "gzip" || plain.Header.Get("Content-Encoding") != "" || small.Header.Get("Vary") != "Accept-Encoding" {
			t.Fatalf("%s: %q, %q", path, small.Header.Get("Content-Encoding"), plain.Header.Get("Content-Encoding"))
		}
		r, err := gzip.NewReader(strings.NewReader(small.Body))
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil || string(text) != plain.Body {
			t.Errorf("%s unpacked differs from the plain one (%v)", path, err)
		}
		t.Logf("%s: %d bytes instead of %d", path, len(small.Body), len(plain.Body))
		if len(small.Body)*2 > len(plain.Body) {
			t.Errorf("%s: %d bytes instead of %d", path, len(small.Body), len(plain.Body))
		}
	}
	for _, takes := range []string{"", "identity", "gzip;q=0", "br", "gzip;q=x"} {
		if got := d.raw(demo, takes).Header.Get("Content-Encoding"); got != "" {
			t.Errorf("a browser that takes %q gets %s", takes, got)
		}
	}
}

// What a script asked for in vain is said in a sentence, not with a page within the page.
func TestTroubleIsToldToTheScriptInWords(t *testing.T) {
	d := newDesk(t)
	a := d.live(demo+"/place", "sheet", "plan", "tag", "FV1", "x", "far", "y", "2", "turn", "0")
	if a.Code != http.StatusUnprocessableEntity || !strings.HasPrefix(a.Header.Get("Content-Type"), "text/plain") || strings.Contains(a.Body, "<") || !strings.Contains(a.Body, `x was "far"`) {
		t.Errorf("%d %s: %s", a.Code, a.Header.Get("Content-Type"), a.Body)
	}
}
