package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"tunwright/pricing/register"
)

func TestTheFirstLinkWorksOnce(t *testing.T) {
	p := open(t)
	link, err := p.web.FirstLink(t.Context())
	if err != nil || link == "" {
		t.Fatal(link, err)
	}
	b := p.browser()
	if a := b.get("/first/WRONG"); a.Code != http.StatusGone {
		t.Errorf("a wrong link: %d", a.Code)
	}
	bad := b.post(link, "name", "", "email", "nobody", "password", "short")
	if doc := bad.doc(t); bad.Code != http.StatusUnprocessableEntity || doc.Find(".error").Length() != 3 || strings.Contains(bad.Body, "short\"") {
		t.Errorf("%d, %d errors", bad.Code, doc.Find(".error").Length())
	}
	if a := b.post(link, "name", "Ada", "email", "ada@firm.example", "password", password); a.Code != http.StatusSeeOther {
		t.Fatalf("the first person: %d", a.Code)
	}
	for _, other := range []*desk{b, p.browser()} {
		if a := other.post(link, "name", "Eve", "email", "eve@firm.example", "password", password); a.Code != http.StatusGone {
			t.Errorf("used again: %d", a.Code)
		}
	}
	if again, err := p.web.FirstLink(t.Context()); err != nil || again != "" {
		t.Errorf("a second first link: %q, %v", again, err)
	}
}

func TestNobodyGetsInWithoutSigningIn(t *testing.T) {
	p := open(t)
	b := p.browser()
	for _, path := range []string{"/", "/enquiries", "/enquiries/new", demo, demo + "/papers/pack.pdf", demo + "/issue", "/quotations", "/quotations/weaving-mill", "/books", "/people", "/settings"} {
		if a := b.get(path); a.Code != http.StatusSeeOther || !strings.HasPrefix(a.Header.Get("Location"), "/sign-in?to=") {
			t.Errorf("GET %s: %d to %s", path, a.Code, a.Header.Get("Location"))
		}
	}
	for _, path := range []string{"/enquiries", demo + "/facts", demo + "/undo", demo + "/issue", "/quotations/x/approve", "/books", "/people", "/settings"} {
		if a := b.post(path, "sheet", "brief"); a.Code != http.StatusUnauthorized || a.doc(t).Find("h1").Length() != 1 {
			t.Errorf("POST %s: %d", path, a.Code)
		}
	}
}

// Each role gets through its own doors and no others.
func TestRoles(t *testing.T) {
	owner := newDesk(t)
	sales, office, approver := owner.colleague("Sam", register.Sales), owner.colleague("Olive", register.Office), owner.colleague("Abel", register.Approver)
	for _, tt := range []struct {
		path string
		who  map[*desk]bool
	}{
		{"/enquiries", map[*desk]bool{owner: true, sales: true, approver: true, office: false}},
		{demo, map[*desk]bool{owner: true, sales: true, approver: true, office: false}},
		{"/quotations", map[*desk]bool{owner: true, sales: true, approver: true, office: true}},
		{"/books", map[*desk]bool{owner: true, sales: false, approver: false, office: true}},
		{"/people", map[*desk]bool{owner: true, sales: false, approver: false, office: false}},
		{"/settings", map[*desk]bool{owner: true, sales: false, approver: false, office: false}},
	} {
		for _, d := range []*desk{owner, sales, office, approver} {
			want := http.StatusForbidden
			if tt.who[d] {
				want = http.StatusOK
			}
			a := d.get(tt.path)
			if a.Code != want {
				t.Errorf("%s: %d, want %d", tt.path, a.Code, want)
			}
			if a.Code == http.StatusOK {
				continue
			}
			if a.doc(t).Find(`nav a[href="`+tt.path+`"]`).Length() > 0 {
				t.Errorf("%s is offered to somebody whom it refuses", tt.path)
			}
		}
	}
	if a := sales.post("/quotations/weaving-mill/approve", "reason", "x"); a.Code != http.StatusForbidden {
		t.Errorf("sales approves: %d", a.Code)
	}
	if a := office.post(demo+"/facts", "sheet", "services", "v:"+fuse, "400"); a.Code != http.StatusForbidden {
		t.Errorf("the office changes an enquiry: %d", a.Code)
	}
	if got := office.get("/").Header.Get("Location"); got != "/quotations" {
		t.Errorf("the office begins at %s", got)
	}
}

func TestSessionsEnd(t *testing.T) {
	owner := newDesk(t)
	out := owner.colleague("Sam", register.Sales)
	cookies := out.client.Jar.Cookies(mustURL(t, owner.server.URL))
	if len(cookies) != 1 {
		t.Fatalf("%d cookies", len(cookies))
	}
	if a := out.post("/sign-out"); a.Code != http.StatusSeeOther {
		t.Errorf("sign out: %d", a.Code)
	}
	out.client.Jar.SetCookies(mustURL(t, owner.server.URL), cookies) // somebody kept a copy
	if a := out.get("/enquiries"); a.Code != http.StatusSeeOther {
		t.Errorf("a session after signing out: %d", a.Code)
	}
	gone := owner.colleague("Gil", register.Sales)
	var path string
	owner.page("/people").Find("tr").Each(func(_ int, s *selection) {
		if strings.Contains(s.Text(), "Gil") {
			path = s.Find(`form[action$="/disable"]`).AttrOr("action", "")
		}
	})
	if a := owner.post(path); a.Code != http.StatusSeeOther {
		t.Fatalf("let go: %d", a.Code)
	}
	if a := gone.get("/enquiries"); a.Code != http.StatusSeeOther {
		t.Errorf("a session of somebody who left: %d", a.Code)
	}
	if a := gone.post("/sign-in", "email", "gil@marlowetarn.example", "password", password); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("somebody who left signs in: %d", a.Code)
	}
	late := owner.colleague("Lou", register.Sales)
	owner.later(13 * time.Hour)
	if a := late.get("/enquiries"); a.Code != http.StatusSeeOther {
		t.Errorf("a session after thirteen hours: %d", a.Code)
	}
}

func TestCookie(t *testing.T) {
	for _, secure := range []bool{false, true} {
		p := open(t, func(c *config) { c.Secure = secure })
		link, err := p.web.FirstLink(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		a := p.browser().post(link, "name", "Ada", "email", "ada@firm.example", "password", password)
		got := a.Header.Get("Set-Cookie")
		for _, want := range []string{"HttpOnly", "SameSite=Lax", "Path=/"} {
			if !strings.Contains(got, want) {
				t.Errorf("secure %t: %q has no %s", secure, got, want)
			}
		}
		if strings.Contains(got, "Secure") != secure || strings.HasPrefix(got, "__Host-") != secure {
			t.Errorf("secure %t: %q", secure, got)
		}
	}
}

func TestTriesAreLimited(t *testing.T) {
	p := newDesk(t).place
	b := p.browser()
	for range 10 {
		if a := b.post("/sign-in", "email", "tamsin@marlowetarn.example", "password", "not this one either"); a.Code != http.StatusUnprocessableEntity {
			t.Fatalf("a wrong password: %d", a.Code)
		}
	}
	if a := b.post("/sign-in", "email", "tamsin@marlowetarn.example", "password", password); a.Code != http.StatusTooManyRequests || a.Header.Get("Retry-After") == "" {
		t.Errorf("the eleventh try: %d", a.Code)
	}
	p.later(16 * time.Minute)
	if a := b.post("/sign-in", "email", "Tamsin@MarloweTarn.example", "password", password); a.Code != http.StatusSeeOther {
		t.Errorf("after the pause: %d", a.Code)
	}
}

// Signing in leads back to where a person wanted to go, and to no other server.
func TestSignInLeadsBack(t *testing.T) {
	p := newDesk(t).place
	for to, want := range map[string]string{demo + "?sheet=floor": demo + "?sheet=floor", "//evil.example": "/enquiries", "https://evil.example": "/enquiries", "/\\evil.example": "/enquiries", "": "/enquiries"} {
		a := p.browser().post("/sign-in", "email", "tamsin@marlowetarn.example", "password", password, "to", to)
		if got := a.Header.Get("Location"); got != want {
			t.Errorf("%q leads to %q, want %q", to, got, want)
		}
	}
}

func TestPasswordsThatAreTriedFirstAreRefused(t *testing.T) {
	owner := newDesk(t)
	for _, bad := range []string{"", "elevenchars", "password1234", "aaaaaaaaaaaaaaaa", "brewerybrewery", "samsamsamsamsam", strings.Repeat("long", 40)} {
		if a := owner.post("/people", "name", "Sam Hill", "email", "sam@firm.example", "role", "sales", "password", bad); a.Code != http.StatusUnprocessableEntity {
			t.Errorf("%q was taken: %d", bad, a.Code)
		}
	}
}

func TestAPersonChangesTheirOwnPassword(t *testing.T) {
	owner := newDesk(t)
	sam := owner.colleague("Sam", register.Sales)
	elsewhere := owner.browser()
	elsewhere.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
	const fresh = "seven slow barges at dawn"
	if a := sam.post("/account", "old", "not this one", "new", "short"); a.Code != http.StatusUnprocessableEntity || a.doc(t).Find(".error").Length() != 2 {
		t.Errorf("two mistakes: %d", a.Code)
	}
	if a := sam.post("/account", "old", password, "new", fresh); a.Code != http.StatusSeeOther {
		t.Fatalf("change: %d", a.Code)
	}
	if got := sam.get("/enquiries").Code; got != http.StatusOK {
		t.Errorf("signed out by the change: %d", got)
	}
	if got := elsewhere.get("/enquiries").Code; got != http.StatusSeeOther {
		t.Errorf("still signed in elsewhere: %d", got)
	}
	if got := owner.browser().post("/sign-in", "email", "sam@marlowetarn.example", "password", password).Code; got != http.StatusUnprocessableEntity {
		t.Errorf("the old password: %d", got)
	}
}

func TestAProxyTellsWhoAsks(t *testing.T) {
	p := open(t, func(c *config) { c.ProxyHeader = "X-Forwarded-For" })
	miss := func(from string) int {
		req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, p.server.URL+"/q/nothing", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("X-Forwarded-For", from)
		return p.browser().do(req).Code
	}
	for i := range 20 {
		if code := miss("spoofed, 192.0.2.7"); code != http.StatusNotFound {
			t.Fatalf("try %d: %d", i, code)
		}
	}
	if code := miss("another, 192.0.2.7"); code != http.StatusTooManyRequests {
		t.Errorf("the twenty-first try: %d", code)
	}
	if code := miss("192.0.2.8"); code != http.StatusNotFound {
		t.Errorf("somebody else: %d", code)
	}
}
