package register

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestPeopleAndSessions(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	id, err := r.AddPerson(ctx, Person{Email: "ann@example.com", Name: "Ann", Role: Sales, PasswordHash: "h"}, by("setup", 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.AddPerson(ctx, Person{Email: "ANN@example.com", Name: "Ann", Role: Sales}, by("setup", 0)); !errors.Is(err, ErrExists) {
		t.Errorf("twice: %v", err)
	}
	if _, err := r.AddPerson(ctx, Person{Email: "eve@example.com", Name: "Eve", Role: "king"}, by("setup", 0)); err == nil {
		t.Error("a role that does not exist")
	}
	if p, err := r.PersonByEmail(ctx, " Ann@Example.com "); err != nil || p.ID != id {
		t.Errorf("%+v, %v", p, err)
	}
	token, err := r.StartSession(ctx, id, "a browser", start, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	who := func(token string, at time.Time) error {
		_, _, err := r.SessionPerson(ctx, token, at, 2*time.Hour)
		return err
	}
	if err := who(token, start.Add(59*time.Minute)); err != nil {
		t.Error(err)
	}
	if err := who(token, start.Add(time.Hour)); !errors.Is(err, ErrNotFound) {
		t.Errorf("expired: %v", err)
	}
	if err := who(token+"x", start); !errors.Is(err, ErrNotFound) {
		t.Errorf("wrong token: %v", err)
	}
	if err := r.EndSession(ctx, token); err != nil {
		t.Fatal(err)
	}
	if err := who(token, start); !errors.Is(err, ErrNotFound) {
		t.Errorf("ended: %v", err)
	}
	second, _ := r.StartSession(ctx, id, "a browser", start, time.Hour)
	if err := r.SetPassword(ctx, id, "new", by("Ann", 1)); err != nil {
		t.Fatal(err)
	}
	if err := who(second, start); !errors.Is(err, ErrNotFound) {
		t.Errorf("after a new password: %v", err)
	}
	if err := r.ErasePerson(ctx, id, by("owner", 2)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.PersonByEmail(ctx, "ann@example.com"); !errors.Is(err, ErrNotFound) {
		t.Errorf("erased: %v", err)
	}
}

// A session that nobody uses ends before its time; each is listed, and ended by its key
// by nobody but its person.
func TestIdleAndOtherSessions(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	person := func(email string) int64 {
		id, err := r.AddPerson(ctx, Person{Email: email, Name: "Ann", Role: Sales}, by("setup", 0))
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	ann, bob := person("ann@example.com"), person("bob@example.com")
	session := func(id int64, browser string, at time.Time) string {
		token, err := r.StartSession(ctx, id, browser, at, 12*time.Hour)
		if err != nil {
			t.Fatal(err)
		}
		return token
	}
	const idle = time.Hour
	desk, phone := session(ann, "Desk", start), session(ann, "Phone", start.Add(time.Minute))
	if _, _, err := r.SessionPerson(ctx, desk, start.Add(idle), idle); !errors.Is(err, ErrNotFound) {
		t.Errorf("after the idle time: %v", err)
	}
	if err := r.SeeSession(ctx, desk, start.Add(idle/2)); err != nil {
		t.Fatal(err)
	}
	p, s, err := r.SessionPerson(ctx, desk, start.Add(idle), idle)
	if err != nil || p.ID != ann || s.Browser != "Desk" || !s.Seen.Equal(start.Add(idle/2)) || !s.Expires.Equal(start.Add(12*time.Hour)) {
		t.Errorf("%+v, %+v, %v", p, s, err)
	}
	list, err := r.Sessions(ctx, ann, start.Add(2*time.Minute), idle)
	if err != nil || len(list) != 2 || list[0].Browser != "Desk" || list[0].Key == list[1].Key {
		t.Fatalf("%+v, %v", list, err)
	}
	if err := r.EndSessionOf(ctx, bob, list[1].Key, by("Bob", 3)); !errors.Is(err, ErrNotFound) {
		t.Errorf("another's session: %v", err)
	}
	if err := r.EndSessionOf(ctx, ann, list[1].Key, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := r.SessionPerson(ctx, phone, start.Add(2*time.Minute), idle); !errors.Is(err, ErrNotFound) {
		t.Errorf("ended by its key: %v", err)
	}
	others := session(bob, "Bob's", start)
	session(ann, "Tablet", start)
	if err := r.EndOtherSessions(ctx, ann, desk, by("Ann", 4)); err != nil {
		t.Fatal(err)
	}
	if list, err := r.Sessions(ctx, ann, start.Add(2*time.Minute), idle); err != nil || len(list) != 1 || list[0].Browser != "Desk" {
		t.Errorf("left are %+v, %v", list, err)
	}
	if _, _, err := r.SessionPerson(ctx, others, start, idle); err != nil {
		t.Errorf("another's session went too: %v", err)
	}
}

func TestSecondFactor(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	id, err := r.AddPerson(ctx, Person{Email: "ann@example.com", Name: "Ann", Role: Sales}, by("setup", 0))
	if err != nil {
		t.Fatal(err)
	}
	here, _ := r.StartSession(ctx, id, "here", start, time.Hour)
	there, _ := r.StartSession(ctx, id, "there", start, time.Hour)
	if err := r.SetFactor(ctx, id, "SECRET", 7, []string{"aaaa-bbbb", "cccc-dddd"}, here, by("Ann", 1)); err != nil {
		t.Fatal(err)
	}
	if p, _, err := r.SessionPerson(ctx, here, start, time.Hour); err != nil || p.Factor != "SECRET" {
		t.Errorf("%+v, %v", p, err)
	}
	if _, _, err := r.SessionPerson(ctx, there, start, time.Hour); !errors.Is(err, ErrNotFound) {
		t.Errorf("the other session: %v", err)
	}
	for _, step := range []struct {
		at   int64
		want error
	}{{7, ErrConflict}, {6, ErrConflict}, {8, nil}, {8, ErrConflict}} {
		if err := r.UseStep(ctx, id, step.at); !errors.Is(err, step.want) {
			t.Errorf("step %d: %v", step.at, err)
		}
	}
	if left, err := r.UseRecovery(ctx, id, "aaaa-bbbb", by("Ann", 2)); err != nil || left != 1 {
		t.Errorf("%d left, %v", left, err)
	}
	if _, err := r.UseRecovery(ctx, id, "aaaa-bbbb", by("Ann", 2)); !errors.Is(err, ErrNotFound) {
		t.Errorf("used twice: %v", err)
	}
	for _, name := range []string{r.Path(), r.Path() + "-wal"} {
		if data, err := os.ReadFile(name); err == nil && strings.Contains(string(data), "cccc-dddd") {
			t.Errorf("%s holds a recovery code", filepath.Base(name))
		}
	}
	if err := r.SetFactor(ctx, id, "", 0, nil, here, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.UseRecovery(ctx, id, "cccc-dddd", by("Ann", 3)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a code outlives its factor: %v", err)
	}
	sound(t, r)
}

func TestLinks(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	link := Link{QuotationID: "q1", Letter: "A", ExpiresAt: start.Add(24 * time.Hour)}
	token, err := r.AddLink(ctx, link, by("Ann", 3))
	if err != nil {
		t.Fatal(err)
	}
	if len(token) != 43 { // 256 bits in base64url
		t.Errorf("token of %d characters", len(token))
	}
	l, err := r.OpenLink(ctx, token, start.Add(time.Hour))
	if err != nil || l.Letter != "A" || l.Views != 1 {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := r.OpenLink(ctx, token, start.Add(24*time.Hour)); !errors.Is(err, ErrExpired) {
		t.Errorf("expired: %v", err)
	}
	if _, err := r.OpenLink(ctx, "guess", start); !errors.Is(err, ErrNotFound) {
		t.Errorf("guessed: %v", err)
	}
	if err := r.Revoke(ctx, l.ID, by("Ann", 4)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.OpenLink(ctx, token, start.Add(time.Hour)); !errors.Is(err, ErrRevoked) {
		t.Errorf("withdrawn: %v", err)
	}
	link.Letter = "B"
	if _, err := r.AddLink(ctx, link, by("Ann", 5)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a revision that is not there: %v", err)
	}
	data, err := os.ReadFile(r.Path())
	if err != nil || strings.Contains(string(data), token) {
		t.Error("the token is in the file")
	}
}

func TestCommentsAndTransmittals(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	id, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: "B. Owner", At: start, Text: "smaller chiller?", Proposal: json.RawMessage(`{"chiller":"CH-10"}`)})
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(ctx, id, true, by("Ann", 5)); err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(ctx, id, false, by("Bob", 6)); !errors.Is(err, ErrConflict) {
		t.Errorf("settled twice: %v", err)
	}
	comments, err := r.Comments(ctx, "q1")
	if err != nil || len(comments) != 1 || comments[0].State != "adopted" || comments[0].SettledBy != "Ann" {
		t.Errorf("%+v, %v", comments, err)
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: "B", At: start, Text: " "}); err == nil {
		t.Error("an empty comment")
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "none", Letter: "A", Author: "B", At: start, Text: "x"}); err == nil {
		t.Error("a comment on nothing")
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "quotation.pdf", Recipient: "B. Owner", Means: "e-mail"}, by("Ann", 6)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "other.pdf"}, by("Ann", 6)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a paper that is not there: %v", err)
	}
	sent, err := r.Transmittals(ctx, "q1")
	if err != nil || len(sent) != 1 || len(sent[0].SHA256) != 64 {
		t.Errorf("%+v, %v", sent, err)
	}
}

func TestErasedClientIsGoneFromTheFileAndTheAccountsAreLeft(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	const secret = "Zebedee Quillfeather"
	client, err := r.SaveClient(ctx, Client{Name: secret, Email: "zq@example.com", Address: secret}, by("Ann", 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.SaveProject(ctx, Project{ID: "p1", Title: secret, ClientID: client, Document: secret}, by("Ann", 0)); err != nil {
		t.Fatal(err)
	}
	issue(t, r, addDraft(t, r, "q1", secret, client))
	issue(t, r, addDraft(t, r, "q2", "somebody else", 0))
	if _, err := r.AddLink(ctx, Link{QuotationID: "q1", Letter: "A", ExpiresAt: start.Add(time.Hour)}, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: secret, At: start, Text: secret}); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "quotation.pdf", Recipient: secret}, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if err := r.EraseClient(ctx, client, " ", by("Ann", 9)); err == nil {
		t.Error("erased without a reason")
	}
	if err := r.EraseClient(ctx, client, "asked for it by letter", by("Ann", 9)); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{r.Path(), r.Path() + "-wal"} {
		data, err := os.ReadFile(name)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		for _, word := range []string{secret, "Quillfeather", "quillfeather", "zq@example.com", "%PDF Q-2026-0001A"} {
			if strings.Contains(string(data), word) {
				t.Errorf("%s still holds %q", filepath.Base(name), word)
			}
		}
	}
	s, err := r.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	rev := s.Quote.Revisions[0]
	if s.Quote.Number != "Q-2026-0001" || rev.Total.Gross.Fixed() != "120.00" || len(rev.Digest) != 64 || s.ErasedAt.IsZero() {
		t.Errorf("the accounts: %+v", rev)
	}
	if _, err := r.Export(ctx, "q1"); !errors.Is(err, ErrErased) {
		t.Errorf("export: %v", err)
	}
	if _, err := r.Save(ctx, s.Quote, s.Version, by("Ann", 10)); !errors.Is(err, ErrErased) {
		t.Errorf("save: %v", err)
	}
	if found, _ := r.Search(ctx, Query{Words: "somebody"}); len(found) != 1 {
		t.Error("the other quotation is gone too")
	}
	sound(t, r)
}
