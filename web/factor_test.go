package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"tunwright/pricing/register"

	"github.com/pquerna/otp/totp"
)

// device gives the code that somebody's device shows now.
func (d *desk) device(secret string) string {
	d.t.Helper()
	code, err := totp.GenerateCode(secret, d.clock())
	if err != nil {
		d.t.Fatal(err)
	}
	return code
}

// factored sets up a second factor as a person does.
func (d *desk) factored() (secret string, recovery []string) {
	d.t.Helper()
	secret = strings.ReplaceAll(d.page("/account/factor").Find(".steps-list code").Text(), " ", "")
	a := d.post("/account/factor", "code", d.device(secret), "old", password)
	recovery = a.doc(d.t).Find(".codes code").Map(func(_ int, s *selection) string { return s.Text() })
	if a.Code != http.StatusOK || len(recovery) != 10 {
		d.t.Fatalf("set up: %d, %d codes: %s", a.Code, len(recovery), squeeze(a.doc(d.t).Find("main").Text()))
	}
	return secret, recovery
}

func TestASecondFactorIsSetUpAndAskedFor(t *testing.T) {
	d := newDesk(t)
	sam := d.colleague("Sam", register.Sales)
	page := sam.page("/account/factor")
	secret := strings.ReplaceAll(page.Find(".steps-list code").Text(), " ", "")
	if again := strings.ReplaceAll(sam.page("/account/factor").Find(".steps-list code").Text(), " ", ""); again != secret || len(secret) < 32 {
		t.Fatalf("the key is %q, then %q", secret, again)
	}
	if !strings.HasPrefix(page.Find("img.qr").AttrOr("src", ""), "data:image/png;base64,") {
		t.Error("there is no picture of the key")
	}
	for _, tt := range [][2]string{{"000000", password}, {sam.device(secret), "not this one"}} {
		if a := sam.post("/account/factor", "code", tt[0], "old", tt[1]); a.Code != http.StatusUnprocessableEntity {
			t.Errorf("with %v: %d", tt, a.Code)
		}
	}
	sam.later(time.Minute)
	_, recovery := sam.factored()
	signIn := func() *desk {
		b := d.browser()
		if a := b.post("/sign-in", "email", "sam@marlowetarn.example", "password", password, "to", demo); a.Header.Get("Location") != "/sign-in/second" {
			t.Fatalf("after the password comes %q", a.Header.Get("Location"))
		}
		if a := b.get("/enquiries"); a.Code != http.StatusSeeOther {
			t.Error("the password alone lets in")
		}
		return b
	}
	used := sam.device(secret)
	if a := signIn().post("/sign-in/second", "code", used); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("the code that set it up: %d", a.Code)
	}
	d.later(time.Minute)
	fresh := sam.device(secret)
	if a := signIn().post("/sign-in/second", "code", fresh[:3]+" "+fresh[3:]); a.Code != http.StatusSeeOther || a.Header.Get("Location") != demo {
		t.Errorf("a fresh code: %d to %q", a.Code, a.Header.Get("Location"))
	}
	if a := signIn().post("/sign-in/second", "code", fresh); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("the same code again: %d", a.Code)
	}
	paper := strings.ToUpper(strings.ReplaceAll(recovery[3], "-", " "))
	if a := signIn().post("/sign-in/second", "code", paper); a.Code != http.StatusSeeOther {
		t.Errorf("a code from paper: %d", a.Code)
	}
	if a := signIn().post("/sign-in/second", "code", recovery[3]); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("the same from paper again: %d", a.Code)
	}
	if a := d.browser().post("/sign-in/second", "code", recovery[4]); a.Code != http.StatusSeeOther || a.Header.Get("Location") != "/sign-in" {
		t.Errorf("a code without a password: %d to %q", a.Code, a.Header.Get("Location"))
	}
}

// After five wrong codes the password is asked for again, and a sign-in that waits too
// long is forgotten.
func TestCodesAreNotGuessed(t *testing.T) {
	d := newDesk(t)
	sam := d.colleague("Sam", register.Sales)
	secret, _ := sam.factored()
	d.later(time.Hour)
	b := d.browser()
	b.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
	for i := range 5 {
		if a := b.post("/sign-in/second", "code", "000000"); a.Code != http.StatusUnprocessableEntity {
			t.Fatalf("wrong code %d: %d", i+1, a.Code)
		}
	}
	if a := b.post("/sign-in/second", "code", b.device(secret)); a.Header.Get("Location") != "/sign-in" {
		t.Errorf("the right code after five wrong ones: %d to %q", a.Code, a.Header.Get("Location"))
	}
	b.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
	d.later(11 * time.Minute)
	if a := b.post("/sign-in/second", "code", b.device(secret)); a.Header.Get("Location") != "/sign-in" {
		t.Errorf("after eleven minutes: %d to %q", a.Code, a.Header.Get("Location"))
	}
}

// Where the owner asks for it nobody gets further than the page where it is set up; the
// owner takes it away where device and paper are lost, and nobody their own when it is
// asked for.
func TestTheOwnerAsksForASecondFactor(t *testing.T) {
	d := newDesk(t)
	sam := d.colleague("Sam", register.Sales)
	if a := d.post("/settings/access", "idle", "60", "life", "12", "factor", "yes"); a.Code != http.StatusSeeOther {
		t.Fatal(a.Code)
	}
	if a := sam.get(demo); a.Header.Get("Location") != "/account/factor" {
		t.Errorf("without one Sam gets %d to %q", a.Code, a.Header.Get("Location"))
	}
	if a := sam.live(demo+"/facts", "sheet", "services", "v:"+fuse, "63"); a.Code != http.StatusForbidden {
		t.Errorf("a change without one: %d", a.Code)
	}
	sam.factored()
	if a := sam.get(demo); a.Code != http.StatusOK {
		t.Errorf("with one: %d", a.Code)
	}
	if a := sam.post("/account/factor/off", "old", password); a.Code != http.StatusForbidden {
		t.Errorf("taken away although it is asked for: %d", a.Code)
	}
	d.factored()
	form := d.page("/people").Find("form[action$='/factor']")
	if form.Length() != 1 {
		t.Fatalf("%d factors can be taken away", form.Length())
	}
	d.post(form.AttrOr("action", ""))
	if a := sam.get(demo); a.Code != http.StatusSeeOther || !strings.HasPrefix(a.Header.Get("Location"), "/sign-in") {
		t.Errorf("Sam is still signed in: %d", a.Code)
	}
	d.post("/settings/access", "idle", "60", "life", "12")
	if a := d.post("/account/factor/off", "old", "not this"); a.Code != http.StatusUnprocessableEntity {
		t.Errorf("with a wrong password: %d", a.Code)
	}
	if a := d.post("/account/factor/off", "old", password); a.Code != http.StatusSeeOther {
		t.Errorf("with the right one: %d", a.Code)
	}
	trail := d.page("/trail").Text()
	for _, want := range []string{"set second factor", "remove second factor", "setting access"} {
		if !strings.Contains(trail, want) {
			t.Errorf("the trail does not tell of %q", want)
		}
	}
}

// A browser nobody uses is signed out; that the page itself looks for others' changes is
// no use. The owner sets how long, within limits.
func TestAnIdleSessionEnds(t *testing.T) {
	d := newDesk(t)
	sam := d.colleague("Sam", register.Sales)
	in := func() bool { return sam.get("/enquiries").Code == http.StatusOK }
	poll := sam.page(demo).Find(".others").AttrOr("hx-get", "")
	for range 3 {
		sam.later(50 * time.Minute)
		if !in() {
			t.Fatal("signed out while in use")
		}
	}
	sam.later(40 * time.Minute)
	if a := sam.get(poll); a.Code != http.StatusOK {
		t.Fatal(a.Code)
	}
	sam.later(40 * time.Minute)
	if in() {
		t.Error("the page looking for others kept it alive")
	}
	sam.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
	for range 15 {
		sam.later(50 * time.Minute)
		in()
	}
	if in() {
		t.Error("it lives on after twelve hours")
	}
	d.post("/sign-in", "email", "tamsin@marlowetarn.example", "password", password)
	for _, bad := range [][2]string{{"4", "12"}, {"60", "25"}, {"soon", "12"}, {"60", ""}} {
		if a := d.post("/settings/access", "idle", bad[0], "life", bad[1]); a.Code != http.StatusUnprocessableEntity || a.doc(t).Find("#access ~ form [aria-invalid]").Length() != 1 {
			t.Errorf("%v: %d", bad, a.Code)
		}
	}
	d.post("/settings/access", "idle", "5", "life", "1")
	sam.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
	sam.later(6 * time.Minute)
	if in() {
		t.Error("five minutes are set, after six it is open")
	}
}

func TestAPersonSeesAndEndsTheirSessions(t *testing.T) {
	d := newDesk(t)
	here := d.colleague("Sam", register.Sales)
	var others []*desk
	for range 3 {
		b := d.browser()
		b.post("/sign-in", "email", "sam@marlowetarn.example", "password", password)
		others = append(others, b)
	}
	rows := here.page("/account").Find("#sessions ~ .scroll tbody tr")
	if rows.Length() != 4 || rows.Find("button").Length() != 3 {
		t.Fatalf("%d sessions, %d to end", rows.Length(), rows.Find("button").Length())
	}
	in := func() (n int) {
		for _, b := range others {
			if b.get("/enquiries").Code == http.StatusOK {
				n++
			}
		}
		return n
	}
	key := rows.Find("button").First().AttrOr("value", "")
	if a := d.post("/account/sessions", "key", key); a.Code != http.StatusSeeOther || in() != 3 {
		t.Errorf("somebody else ends it: %d, %d left", a.Code, in())
	}
	here.post("/account/sessions", "key", key)
	if in() != 2 {
		t.Errorf("one ended, %d left", in())
	}
	here.post("/account/sessions")
	if in() != 0 || here.get("/enquiries").Code != http.StatusOK {
		t.Errorf("all others ended, %d left", in())
	}
}
