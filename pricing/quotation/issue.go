package quotation

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

// Letter names the n-th revision, from 1: A, B, C … without I, O and Q, which read
// as figures; AA follows Z.
func Letter(n int) string {
	const letters = "ABCDEFGHJKLMNPRSTUVWXYZ"
	out := ""
	for ; n > 0; n = (n - 1) / len(letters) {
		out = string(letters[(n-1)%len(letters)]) + out
	}
	return out
}

// Issuing is what a draft gets when it leaves the house.
type Issuing struct {
	Number     string // the register's
	Date       pricing.Date
	ValidUntil pricing.Date // last day on which it can be accepted
	Total      Total
	// Papers are the documents as they go out, number and revision printed on them;
	// the draft's when nil.
	Papers []Paper
}

// Total is the sum of a revision, kept for the accounts when everything else of it
// has been erased.
type Total struct {
	Net   money.Amount `json:"net"`
	Tax   money.Amount `json:"tax"`
	Gross money.Amount `json:"gross"`
}

func (t Total) check() error {
	gross, err := t.Net.Add(t.Tax)
	if err != nil {
		return err
	}
	if !t.Net.Currency().Valid() || !gross.Equal(t.Gross) {
		return fmt.Errorf("total %s is not net %s plus tax %s", t.Gross, t.Net, t.Tax)
	}
	return nil
}

// Issue makes a revision of the draft. A quotation keeps the number it was first
// issued under. Revisions before it are superseded, with all their terms.
func (q Quote) Issue(is Issuing, by By) (Quote, error) {
	if err := q.allow(ActionIssue); err != nil {
		return Quote{}, err
	}
	snapshot := q.Draft.Snapshot.clone()
	if is.Papers != nil {
		snapshot.Papers = is.Papers
		snapshot = snapshot.clone()
	}
	if err := q.readyToIssue(is, snapshot); err != nil {
		return Quote{}, err
	}
	digest, err := snapshot.Digest()
	if err != nil {
		return Quote{}, err
	}
	r := Revision{
		Letter: Letter(len(q.Revisions) + 1), State: Issued, Date: is.Date, ValidUntil: is.ValidUntil, IssuedBy: by.Who,
		IssuedAt: by.at(), Total: is.Total, Digest: digest, Snapshot: snapshot, Approvals: slices.Clone(q.Draft.Approvals),
	}
	q.Revisions = slices.Clone(q.Revisions)
	for i := range q.Revisions {
		if q.Revisions[i].State == Issued {
			q.Revisions[i].State = Superseded
		}
	}
	q.Revisions = append(q.Revisions, r)
	q.Number, q.State, q.Draft = is.Number, Issued, nil
	return q.after(by, ActionIssue, fmt.Sprintf("%s revision %s, valid until %s, digest %s", is.Number, r.Letter, is.ValidUntil, digest))
}

func (q Quote) readyToIssue(is Issuing, snapshot Snapshot) error {
	switch {
	case strings.TrimSpace(is.Number) == "":
		return q.refuse(ActionIssue, "it has no number")
	case q.Number != "" && q.Number != is.Number:
		return q.refuse(ActionIssue, "its number is %s, not %s", q.Number, is.Number)
	case is.Date.IsZero() || is.ValidUntil.IsZero() || is.ValidUntil.Before(is.Date):
		return q.refuse(ActionIssue, "date %q and last day of validity %q do not fit", is.Date, is.ValidUntil)
	case len(snapshot.Papers) == 0:
		return q.refuse(ActionIssue, "there is no paper to send")
	}
	if err := snapshot.check(); err != nil {
		return q.refuse(ActionIssue, "%v", err)
	}
	if err := is.Total.check(); err != nil {
		return q.refuse(ActionIssue, "%v", err)
	}
	content, err := q.Draft.Snapshot.contentDigest()
	if err != nil {
		return err
	}
	if len(q.Draft.Needs) > 0 && !slices.ContainsFunc(q.Draft.Approvals, func(a Approval) bool { return a.Digest == content }) {
		return q.refuse(ActionIssue, "a second person has to approve first: %s", q.Draft.Needs[0].Says)
	}
	return nil
}
