package quotation

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestAnIssuedRevisionIsIndependentOfItsMaker(t *testing.T) {
	s := snapshot("100.00")
	q, _ := Open("q1", "t", "c", by("Ann", 0))
	q, err := q.SaveDraft(s, nil, by("Ann", 1), "")
	q = must(t, q, err)
	q, err = q.Issue(issuing(t, "Q-1", day(t, "2026-05-04"), day(t, "2026-06-05")), by("Ann", 2))
	q = must(t, q, err)
	s.Papers[0].Bytes[0], s.Project[2], s.Sections[0].Entries[0].Value = 'X', 'X', "X"
	if err := q.Verify(); err != nil {
		t.Error(err)
	}
}

func TestVerifyNamesWhatWasChanged(t *testing.T) {
	tests := []struct {
		name   string
		tamper func(*Quote)
		says   string
	}{
		{"a price", func(q *Quote) { q.Revisions[0].Snapshot.Prices = json.RawMessage(`{"net": "1.00"}`) }, "revision A has been changed"},
		{"a paper", func(q *Quote) {
			q.Revisions[0].Snapshot.Papers = []Paper{{"quotation.pdf", "application/pdf", []byte("other")}}
		}, "revision A has been changed"},
		{"the cost", func(q *Quote) { q.Revisions[0].Snapshot.House = json.RawMessage(`{"cost": "1"}`) }, "revision A has been changed"},
		{"an entry of the trail", func(q *Quote) { q.Log[1].Who = "Eve" }, "entry 2"},
		{"an entry taken out", func(q *Quote) { q.Log = slices.Delete(q.Log, 1, 2) }, "entry 2"},
	}
	for _, tt := range tests {
		q := issued(t)
		q.Revisions, q.Log = slices.Clone(q.Revisions), slices.Clone(q.Log)
		tt.tamper(&q)
		if err := q.Verify(); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

func TestReprintGivesTheBytesThatWereSent(t *testing.T) {
	q := issued(t)
	sent := slices.Clone(q.Revisions[0].Snapshot.Papers[0].Bytes)
	q, err := q.SaveDraft(snapshot("1.00"), nil, by("Ann", 3), "catalogue and prices have moved on")
	q = must(t, q, err)
	q, err = q.Issue(issuing(t, q.Number, day(t, "2027-01-04"), day(t, "2027-02-01")), by("Ann", 4))
	q = must(t, q, err)
	p, err := q.Reprint("A", "quotation.pdf")
	if err != nil || !bytes.Equal(p.Bytes, sent) {
		t.Errorf("%q, %v", p.Bytes, err)
	}
	for _, bad := range [][2]string{{"C", "quotation.pdf"}, {"A", "other.pdf"}} {
		if _, err := q.Reprint(bad[0], bad[1]); err == nil {
			t.Errorf("%v was reprinted", bad)
		}
	}
	q.Revisions[0].Snapshot.Papers[0].Bytes[0] ^= 1
	if _, err := q.Reprint("A", "quotation.pdf"); err == nil {
		t.Error("a changed paper was reprinted")
	}
}

func TestTrailSaysWhoChangedWhat(t *testing.T) {
	q := issued(t)
	q, err := q.SaveDraft(snapshot("90.00"), nil, by("Ann", 3), "smaller chiller")
	q = must(t, q, err)
	last := q.Log[len(q.Log)-1]
	if last.Who != "Ann" || last.Detail != "smaller chiller; Price: Total without tax 90.00, was 100.00" {
		t.Errorf("%s: %s", last.Who, last.Detail)
	}
	many := snapshot("90.00")
	for i := range 9 {
		many.Sections[0].Entries = append(many.Sections[0].Entries, Entry{fmt.Sprint(i), fmt.Sprint(i), "x"})
	}
	q, err = q.SaveDraft(many, nil, by("Bob", 4), "")
	q = must(t, q, err)
	if last := q.Log[len(q.Log)-1]; !strings.HasSuffix(last.Detail, "and 3 more") {
		t.Error(last.Detail)
	}
}

func TestClientCopyVerifiesAndHoldsNoCost(t *testing.T) {
	r, _ := issued(t).Revision("A")
	client := r.Snapshot.ForClient()
	digest, err := client.Digest()
	if err != nil || digest != r.Digest {
		t.Errorf("digest %s, %v; want %s", digest, err, r.Digest)
	}
	text, _ := json.Marshal(client)
	if bytes.Contains(text, []byte("61.00")) || bytes.Contains(text, []byte("cost")) {
		t.Errorf("cost in the client's copy: %s", text)
	}
}

func TestDigestDependsOnContentNotOnLayout(t *testing.T) {
	a, b := snapshot("100.00"), snapshot("100.00")
	b.Project = json.RawMessage(`{"floor_mm":4200.0,"site":"Mill Loft"}`)
	one, _ := a.Digest()
	two, _ := b.Digest()
	if one != two {
		t.Error("white space or order of members changed the digest")
	}
	b.Program = "1.0.1"
	if three, _ := b.Digest(); three == one {
		t.Error("the program version is not in the digest")
	}
}
