package quotation

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

var start = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)

func by(who string, minutes int) By {
	return By{Who: who, At: start.Add(time.Duration(minutes) * time.Minute)}
}

func day(t testing.TB, s string) pricing.Date {
	t.Helper()
	d, err := pricing.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func snapshot(net string) Snapshot {
	return Snapshot{
		Project: json.RawMessage(`{"site": "Mill Loft", "floor_mm": 4200}`), Report: json.RawMessage(`{"findings": []}`),
		Prices: json.RawMessage(`{"net": "` + net + `"}`), Terms: json.RawMessage(`{"days": 14}`),
		Catalogue: "2026-05", Program: "1.0.0", House: json.RawMessage(`{"cost": "61.00"}`),
		Sections: []Section{{Name: "Price", Entries: []Entry{{"net", "Total without tax", net}}}},
		Papers:   []Paper{{"quotation.pdf", "application/pdf", []byte("%PDF-1.7 " + net)}},
	}
}

func must(t testing.TB, q Quote, err error) Quote {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func issuing(t testing.TB, number string, date, until pricing.Date) Issuing {
	t.Helper()
	amount := func(s string) money.Amount {
		a, err := money.New(s, money.GBP)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	return Issuing{Number: number, Date: date, ValidUntil: until, Total: Total{amount("100.00"), amount("20.00"), amount("120.00")}}
}

// issued is a quotation with revision A out.
func issued(t testing.TB) Quote {
	t.Helper()
	q, err := Open("q1", "Mill Loft brewery", "Mill Loft", by("Ann", 0))
	q = must(t, q, err)
	q, err = q.SaveDraft(snapshot("100.00"), nil, by("Ann", 1), "first figures")
	q = must(t, q, err)
	q, err = q.Issue(issuing(t, "Q-2026-0001", day(t, "2026-05-04"), day(t, "2026-06-05")), by("Ann", 2))
	return must(t, q, err)
}

func acceptance(q Quote) Acceptance {
	r, _ := q.Current()
	return Acceptance{Letter: r.Letter, Digest: r.Digest, Name: "B. Owner", Role: "director", From: "192.0.2.7"}
}

func TestLifeFromEnquiryToAcceptance(t *testing.T) {
	q := issued(t)
	first, _ := q.Revision("A")
	q, err := q.SaveDraft(snapshot("90.00"), nil, by("Ann", 3), "smaller chiller")
	q = must(t, q, err)
	if q.State != Draft {
		t.Errorf("state %s", q.State)
	}
	q, err = q.Issue(issuing(t, "Q-2026-0001", day(t, "2026-05-11"), day(t, "2026-06-12")), by("Ann", 4))
	q = must(t, q, err)
	again, _ := q.Revision("A")
	if again.State != Superseded || again.Digest != first.Digest || !bytes.Equal(again.Snapshot.Papers[0].Bytes, first.Snapshot.Papers[0].Bytes) {
		t.Error("revision A changed when B was issued, or was not superseded")
	}
	q, err = q.Accept(acceptance(q), day(t, "2026-06-12"), by("B. Owner", 5))
	q = must(t, q, err)
	b, _ := q.Revision("B")
	if q.State != Accepted || b.State != Accepted || b.Acceptance.Name != "B. Owner" || b.Acceptance.At != start.Add(5*time.Minute) {
		t.Errorf("%s, %+v", q.State, b.Acceptance)
	}
	var did []string
	for _, e := range q.Log {
		did = append(did, string(e.Did))
	}
	if got := strings.Join(did, " "); got != "open draft issue draft issue accept" {
		t.Errorf("trail: %s", got)
	}
	if err := q.Verify(); err != nil {
		t.Error(err)
	}
}

func TestStepsThatAreNotPossibleSayWhichAre(t *testing.T) {
	open, _ := Open("q1", "t", "c", by("Ann", 0))
	out := issued(t)
	accepted, err := out.Accept(acceptance(out), day(t, "2026-05-05"), by("B. Owner", 3))
	accepted = must(t, accepted, err)
	d, d2 := day(t, "2026-05-04"), day(t, "2026-06-05")
	wrong := func(change func(*Acceptance)) Acceptance {
		a := acceptance(out)
		change(&a)
		return a
	}
	tests := []struct {
		name string
		do   func() (Quote, error)
		says string
	}{
		{"issue an enquiry", func() (Quote, error) { return open.Issue(issuing(t, "Q-1", d, d2), by("Ann", 9)) }, "possible: draft, decline"},
		{"accept an enquiry", func() (Quote, error) { return open.Accept(Acceptance{}, d, by("x", 9)) }, "possible: draft, decline"},
		{"approve an enquiry", func() (Quote, error) { return open.Approve(by("Bob", 9), "x") }, "possible: draft, decline"},
		{"lapse an enquiry", func() (Quote, error) { return open.Lapse(d, by("x", 9)) }, "possible: draft, decline"},
		{"issue twice", func() (Quote, error) { return out.Issue(issuing(t, "Q-2026-0001", d, d2), by("Ann", 9)) }, "possible: draft, accept, decline, lapse"},
		{"change what is accepted", func() (Quote, error) { return accepted.SaveDraft(snapshot("1"), nil, by("Ann", 9), "") }, "nothing more"},
		{"decline what is accepted", func() (Quote, error) { return accepted.Decline("x", by("Ann", 9)) }, "nothing more"},
		{"accept a revision that is not on offer", func() (Quote, error) {
			return out.Accept(wrong(func(a *Acceptance) { a.Letter = "B" }), d, by("x", 9))
		}, "that is A"},
		{"accept another content", func() (Quote, error) {
			return out.Accept(wrong(func(a *Acceptance) { a.Digest = "00" }), d, by("x", 9))
		}, "digests differ"},
		{"accept without a name", func() (Quote, error) {
			return out.Accept(wrong(func(a *Acceptance) { a.Name = " " }), d, by("x", 9))
		}, "name of the person"},
		{"accept too late", func() (Quote, error) { return out.Accept(acceptance(out), day(t, "2026-06-06"), by("x", 9)) }, "valid until 2026-06-05"},
		{"lapse too early", func() (Quote, error) { return out.Lapse(day(t, "2026-06-05"), by("x", 9)) }, "valid until 2026-06-05"},
		{"decline without a reason", func() (Quote, error) { return out.Decline(" ", by("x", 9)) }, "say why"},
	}
	for _, tt := range tests {
		_, err := tt.do()
		if _, ok := errors.AsType[*StepError](err); !ok {
			t.Errorf("%s: %v, want a step error", tt.name, err)
			continue
		}
		if !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v; want it to say %q", tt.name, err, tt.says)
		}
	}
}

func TestIssueRefuses(t *testing.T) {
	base, _ := Open("q1", "t", "c", by("Ann", 0))
	draft := func(change func(*Snapshot)) Quote {
		s := snapshot("1.00")
		change(&s)
		q, err := base.SaveDraft(s, nil, by("Ann", 1), "")
		return must(t, q, err)
	}
	keep := func(*Snapshot) {}
	d, d2 := day(t, "2026-05-04"), day(t, "2026-06-05")
	tests := []struct {
		name string
		do   func() (Quote, error)
	}{
		{"no number", func() (Quote, error) { return draft(keep).Issue(issuing(t, " ", d, d2), by("Ann", 2)) }},
		{"valid into the past", func() (Quote, error) { return draft(keep).Issue(issuing(t, "Q-1", d2, d), by("Ann", 2)) }},
		{"no validity", func() (Quote, error) { return draft(keep).Issue(issuing(t, "Q-1", d, pricing.Date{}), by("Ann", 2)) }},
		{"no paper", func() (Quote, error) {
			return draft(func(s *Snapshot) { s.Papers = nil }).Issue(issuing(t, "Q-1", d, d2), by("Ann", 2))
		}},
		{"nobody", func() (Quote, error) { return draft(keep).Issue(issuing(t, "Q-1", d, d2), By{At: start}) }},
		{"clock gone back", func() (Quote, error) { return draft(keep).Issue(issuing(t, "Q-1", d, d2), by("Ann", -5)) }},
	}
	for _, tt := range tests {
		if _, err := tt.do(); err == nil {
			t.Errorf("%s: issued", tt.name)
		}
	}
	wrong := issuing(t, "Q-1", d, d2)
	wrong.Total.Gross = wrong.Total.Net
	if _, err := draft(keep).Issue(wrong, by("Ann", 2)); err == nil {
		t.Error("issued with a total that does not add up")
	}
	changed := issued(t)
	changed, _ = changed.SaveDraft(snapshot("2"), nil, by("Ann", 5), "")
	if _, err := changed.Issue(issuing(t, "Q-2026-0002", d, d2), by("Ann", 6)); err == nil {
		t.Error("a quotation changed its number")
	}
}

func TestApprovalIsASecondPersonsAndBoundToTheContent(t *testing.T) {
	q, _ := Open("q1", "t", "c", by("Ann", 0))
	needs := []pricing.ApprovalNeed{{Rule: "margin", Says: "margin 12 %, floor 20 %"}}
	q, err := q.SaveDraft(snapshot("100.00"), needs, by("Ann", 1), "")
	q = must(t, q, err)
	issue := func(q Quote) error {
		_, err := q.Issue(issuing(t, "Q-1", day(t, "2026-05-04"), day(t, "2026-06-05")), by("Ann", 9))
		return err
	}
	if err := issue(q); err == nil || !strings.Contains(err.Error(), "margin 12 %") {
		t.Errorf("issued without approval: %v", err)
	}
	if _, err := q.Approve(by("Ann", 2), "fine"); err == nil {
		t.Error("the author approved")
	}
	if _, err := q.Approve(by("Bob", 2), ""); err == nil {
		t.Error("approved without a reason")
	}
	approved, err := q.Approve(by("Bob", 2), "first in the county")
	approved = must(t, approved, err)
	if err := issue(approved); err != nil {
		t.Errorf("approved, but %v", err)
	}
	out := issuing(t, "Q-1", day(t, "2026-05-04"), day(t, "2026-06-05"))
	out.Papers = []Paper{{"quotation.pdf", "application/pdf", []byte("Q-1 revision A")}}
	sent, err := approved.Issue(out, by("Ann", 9))
	if err != nil || string(sent.Revisions[0].Snapshot.Papers[0].Bytes) != "Q-1 revision A" {
		t.Errorf("the papers that carry the number were not sent: %v", err)
	}
	edited, err := approved.SaveDraft(snapshot("99.00"), needs, by("Ann", 3), "")
	edited = must(t, edited, err)
	if err := issue(edited); err == nil {
		t.Error("an edit kept the approval")
	}
}

func TestDeclineAndLapseCanBeTakenUpAgain(t *testing.T) {
	q := issued(t)
	declined, err := q.Decline("bought elsewhere", by("Ann", 3))
	declined = must(t, declined, err)
	lapsed, err := q.Lapse(day(t, "2026-06-06"), by("clock", 3))
	lapsed = must(t, lapsed, err)
	for _, q := range []Quote{declined, lapsed} {
		r, _ := q.Revision("A")
		if r.State != q.State {
			t.Errorf("revision %s, quotation %s", r.State, q.State)
		}
		next, err := q.SaveDraft(snapshot("80.00"), nil, by("Ann", 4), "again")
		next = must(t, next, err)
		next, err = next.Issue(issuing(t, "Q-2026-0001", day(t, "2026-07-01"), day(t, "2026-08-01")), by("Ann", 5))
		next = must(t, next, err)
		if r, _ := next.Current(); r.Letter != "B" {
			t.Errorf("current is %s", r.Letter)
		}
	}
}

func TestRevisionOnOfferCanBeAcceptedWhileTheNextIsDrafted(t *testing.T) {
	q := issued(t)
	q, err := q.SaveDraft(snapshot("90.00"), nil, by("Ann", 3), "")
	q = must(t, q, err)
	if !slices.Contains(q.Possible(), ActionAccept) {
		t.Errorf("possible: %v", q.Possible())
	}
	q, err = q.Accept(acceptance(q), day(t, "2026-05-20"), by("B. Owner", 4))
	q = must(t, q, err)
	if q.State != Accepted || q.Draft != nil {
		t.Errorf("%s, draft %v", q.State, q.Draft)
	}
}

func TestLetters(t *testing.T) {
	var got []string
	for _, n := range []int{1, 8, 9, 14, 15, 16, 23, 24, 25, 46, 47} {
		got = append(got, Letter(n))
	}
	if s := strings.Join(got, " "); s != "A H J P R S Z AA AB AZ BA" {
		t.Error(s)
	}
}
