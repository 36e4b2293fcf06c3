package quotation

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/pricing"
)

// Accept closes a quotation with the client's acceptance of the current revision.
// The day is that of the acceptance on the seller's calendar. A revision can be
// accepted while a further draft is being written: an offer stands until it is
// superseded, declined or has lapsed.
func (q Quote) Accept(a Acceptance, on pricing.Date, by By) (Quote, error) {
	if err := q.allow(ActionAccept); err != nil {
		return Quote{}, err
	}
	current, _ := q.Current()
	switch {
	case a.Letter != current.Letter:
		return Quote{}, q.refuse(ActionAccept, "revision %s is not the one on offer; that is %s", a.Letter, current.Letter)
	case a.Digest != current.Digest:
		return Quote{}, q.refuse(ActionAccept, "what was accepted is not what was sent: the digests differ")
	case strings.TrimSpace(a.Name) == "" || strings.TrimSpace(a.From) == "":
		return Quote{}, q.refuse(ActionAccept, "name of the person and where the acceptance came from are missing")
	case current.ValidUntil.Before(on):
		return Quote{}, q.refuse(ActionAccept, "it was valid until %s; issue it again", current.ValidUntil)
	}
	a.At = by.at()
	a.Options = slices.Clone(a.Options)
	return q.close(Accepted, by, ActionAccept, func(r *Revision) string {
		r.Acceptance = &a
		return fmt.Sprintf("revision %s by %s from %s", a.Letter, a.Name, a.From)
	})
}

// Decline closes a quotation, or an enquiry that is not followed up.
func (q Quote) Decline(why string, by By) (Quote, error) {
	if err := q.allow(ActionDecline); err != nil {
		return Quote{}, err
	}
	if strings.TrimSpace(why) == "" {
		return Quote{}, q.refuse(ActionDecline, "say why: it is what the next quotation learns from")
	}
	return q.close(Declined, by, ActionDecline, func(r *Revision) string {
		if r != nil {
			r.Closing = why
		}
		return why
	})
}

// Lapse closes a quotation whose validity has run out. The last day counts.
func (q Quote) Lapse(today pricing.Date, by By) (Quote, error) {
	if err := q.allow(ActionLapse); err != nil {
		return Quote{}, err
	}
	current, _ := q.Current()
	if !current.ValidUntil.Before(today) {
		return Quote{}, q.refuse(ActionLapse, "it is valid until %s, and today is %s", current.ValidUntil, today)
	}
	return q.close(Lapsed, by, ActionLapse, func(*Revision) string {
		return fmt.Sprintf("revision %s, valid until %s", current.Letter, current.ValidUntil)
	})
}

// close puts the quotation and its current revision, if it has one, into an end
// state. Acceptance drops what was being written; otherwise it is kept, to be taken
// up again.
func (q Quote) close(state State, by By, did Action, note func(*Revision) string) (Quote, error) {
	q.Revisions = slices.Clone(q.Revisions)
	var current *Revision
	for i := range q.Revisions {
		if q.Revisions[i].State == Issued {
			current = &q.Revisions[i]
			current.State = state
		}
	}
	q.State = state
	if state == Accepted {
		q.Draft = nil
	}
	return q.after(by, did, note(current))
}

// Verify recomputes every digest and the chain of the trail, and says what does not
// fit. It is the check before a reprint and after an import.
func (q Quote) Verify() error {
	for i, r := range q.Revisions {
		digest, err := r.Snapshot.Digest()
		if err != nil {
			return fmt.Errorf("%s revision %s: %w", q.Number, r.Letter, err)
		}
		if digest != r.Digest {
			return fmt.Errorf("%s revision %s has been changed since it was issued: its digest is %s, it was %s", q.Number, r.Letter, digest, r.Digest)
		}
		if r.Letter != Letter(i+1) {
			return fmt.Errorf("%s: revision %d is called %s, not %s", q.Number, i+1, r.Letter, Letter(i+1))
		}
	}
	if err := VerifyLog(q.Log); err != nil {
		return fmt.Errorf("%s: %w", q.Number, err)
	}
	return nil
}

// Reprint returns a paper of a revision, byte for byte as it was sent, after making
// sure that nothing of the revision has changed since.
func (q Quote) Reprint(letter, paper string) (Paper, error) {
	r, ok := q.Revision(letter)
	if !ok {
		return Paper{}, fmt.Errorf("%s has no revision %s", q.Number, letter)
	}
	digest, err := r.Snapshot.Digest()
	if err != nil {
		return Paper{}, fmt.Errorf("%s revision %s: %w", q.Number, letter, err)
	}
	if digest != r.Digest {
		return Paper{}, fmt.Errorf("%s revision %s has been changed since it was issued; it is not reprinted", q.Number, letter)
	}
	p, ok := r.Snapshot.Paper(paper)
	if !ok {
		return Paper{}, fmt.Errorf("%s revision %s has no paper %s", q.Number, letter, paper)
	}
	return p, nil
}

// Changes is the difference between two revisions.
func (q Quote) Changes(from, to string) (Difference, error) {
	a, okA := q.Revision(from)
	b, okB := q.Revision(to)
	if !okA || !okB {
		return Difference{}, fmt.Errorf("%s: there are no revisions %s and %s to compare", q.Number, from, to)
	}
	return Between(a.Snapshot.Sections, b.Snapshot.Sections)
}
