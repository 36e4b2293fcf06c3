// Package quotation is the life of a quotation, from enquiry to acceptance.
//
//	enquiry → draft → issued → accepted | declined | lapsed
//	            ↑        │
//	            └────────┘ a new draft; issuing it supersedes the revision before
//
// An issued revision never changes: it holds a snapshot of everything it was made
// of, the papers' very bytes and a digest over all of it, so that it reprints the
// same after catalogue, prices and program have moved on. Every step is an entry of
// an audit trail whose entries are chained by hash.
//
// The functions are pure: a step takes a Quote, who does it and when, and returns
// the Quote after it. A step that is not possible is a *StepError that says which
// are.
//
// Begin with Open; Between tells what changed from one revision to the next.
package quotation

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"tunwright/pricing"
)

// State is where a quotation stands.
type State string

// The states. Superseded is the state of a revision, never of the whole.
const (
	Enquiry    State = "enquiry"
	Draft      State = "draft"
	Issued     State = "issued"
	Superseded State = "superseded"
	Accepted   State = "accepted"
	Declined   State = "declined"
	Lapsed     State = "lapsed"
)

// Action is a step in a quotation's life.
type Action string

// The steps.
const (
	ActionOpen    Action = "open"
	ActionDraft   Action = "draft" // begin a draft, or save a change of it
	ActionApprove Action = "approve"
	ActionIssue   Action = "issue"
	ActionAccept  Action = "accept"
	ActionDecline Action = "decline"
	ActionLapse   Action = "lapse"
)

// possible are the steps from each state.
var possible = map[State][]Action{
	Enquiry:  {ActionDraft, ActionDecline},
	Draft:    {ActionDraft, ActionApprove, ActionIssue, ActionDecline},
	Issued:   {ActionDraft, ActionAccept, ActionDecline, ActionLapse},
	Accepted: {},
	Declined: {ActionDraft},
	Lapsed:   {ActionDraft},
}

// Possible returns the steps that the state allows.
func (s State) Possible() []Action { return slices.Clone(possible[s]) }

// StepError is a step that the state does not allow.
type StepError struct {
	Did      Action
	State    State
	Why      string // more than the state, where there is more to say
	Possible []Action
}

func (e *StepError) Error() string {
	names := make([]string, len(e.Possible))
	for i, a := range e.Possible {
		names[i] = string(a)
	}
	can := "nothing more can be done with it"
	if len(names) > 0 {
		can = "possible: " + strings.Join(names, ", ")
	}
	if e.Why != "" {
		return fmt.Sprintf("cannot %s: %s; %s", e.Did, e.Why, can)
	}
	return fmt.Sprintf("cannot %s a quotation that is %s; %s", e.Did, e.State, can)
}

// By is who does something and when.
type By struct {
	Who string
	At  time.Time
}

// at is the time as it is kept: UTC, to the millisecond.
func (b By) at() time.Time { return b.At.UTC().Truncate(time.Millisecond) }

// Quote is one quotation through all its revisions.
type Quote struct {
	ID        string     `json:"id"`     // the register's own
	Number    string     `json:"number"` // empty until the first revision is issued
	Title     string     `json:"title"`
	Client    string     `json:"client"`
	State     State      `json:"state"`
	Draft     *Working   `json:"draft,omitempty"`
	Revisions []Revision `json:"revisions,omitempty"`
	Log       []Event    `json:"log"`
}

// Working is a draft, with what it needs before it can be issued.
type Working struct {
	Snapshot  Snapshot               `json:"snapshot"`
	Author    string                 `json:"author"` // who changed it last
	Needs     []pricing.ApprovalNeed `json:"needs,omitempty"`
	Approvals []Approval             `json:"approvals,omitempty"`
}

// Approval is a second person's yes to exactly this content.
type Approval struct {
	Who    string    `json:"who"`
	At     time.Time `json:"at"`
	Digest string    `json:"digest"` // of the content, papers left out
	Reason string    `json:"reason"`
}

// Revision is an issued quotation.
type Revision struct {
	Letter     string       `json:"letter"`
	State      State        `json:"state"` // issued, superseded, accepted, declined, lapsed
	Date       pricing.Date `json:"date"`
	ValidUntil pricing.Date `json:"valid_until"` // last day on which it can be accepted
	IssuedBy   string       `json:"issued_by"`
	IssuedAt   time.Time    `json:"issued_at"`
	Total      Total        `json:"total"`
	Digest     string       `json:"digest"`
	Snapshot   Snapshot     `json:"snapshot"`
	Approvals  []Approval   `json:"approvals,omitempty"`
	Acceptance *Acceptance  `json:"acceptance,omitempty"`
	Closing    string       `json:"closing,omitempty"` // why it was declined
}

// Acceptance is who accepted which revision, when, and from where.
type Acceptance struct {
	Letter  string    `json:"letter"`
	Digest  string    `json:"digest"` // of the revision that was in front of the person
	Name    string    `json:"name"`
	Role    string    `json:"role,omitempty"`
	At      time.Time `json:"at"`
	From    string    `json:"from"`              // network address, or "by letter"
	Options []string  `json:"options,omitempty"` // the options taken
	Order   string    `json:"order,omitempty"`   // the buyer's order number
}

// Open begins a quotation with an enquiry.
func Open(id, title, client string, by By) (Quote, error) {
	if id == "" || strings.TrimSpace(title) == "" {
		return Quote{}, errors.New("open a quotation: it needs an id and a title")
	}
	q := Quote{ID: id, Title: title, Client: client, State: Enquiry}
	return q.after(by, ActionOpen, title)
}

// after returns the quotation with the step entered in its trail.
func (q Quote) after(by By, did Action, detail string) (Quote, error) {
	if strings.TrimSpace(by.Who) == "" || by.At.IsZero() {
		return Quote{}, fmt.Errorf("%s: who does it and when is missing", did)
	}
	log, err := appended(q.Log, by, did, detail)
	if err != nil {
		return Quote{}, err
	}
	q.Log = log
	return q, nil
}

// Possible returns the steps that can be taken now. While a new draft is written,
// the revision on offer can still be accepted.
func (q Quote) Possible() []Action {
	steps := q.State.Possible()
	if _, open := q.Current(); open && q.State == Draft {
		steps = append(steps, ActionAccept)
	}
	return steps
}

func (q Quote) allow(did Action) error {
	steps := q.Possible()
	if slices.Contains(steps, did) {
		return nil
	}
	return &StepError{Did: did, State: q.State, Possible: steps}
}

func (q Quote) refuse(did Action, format string, args ...any) error {
	can := slices.DeleteFunc(q.Possible(), func(a Action) bool { return a == did })
	return &StepError{Did: did, State: q.State, Why: fmt.Sprintf(format, args...), Possible: can}
}

// SaveDraft begins a draft or changes it. Any change voids the approvals. An issued
// revision stays as it is, and stays open for acceptance, until the next is issued.
func (q Quote) SaveDraft(s Snapshot, needs []pricing.ApprovalNeed, by By, note string) (Quote, error) {
	if err := q.allow(ActionDraft); err != nil {
		return Quote{}, err
	}
	if err := s.check(); err != nil {
		return Quote{}, fmt.Errorf("save draft: %w", err)
	}
	frozen, err := s.frozen()
	if err != nil {
		return Quote{}, fmt.Errorf("save draft: %w", err)
	}
	detail := note
	if was, ok := q.lastFigures(); ok {
		detail, err = withChanges(note, was, frozen.Sections)
		if err != nil {
			return Quote{}, fmt.Errorf("save draft: %w", err)
		}
	}
	q.Draft = &Working{Snapshot: frozen, Author: by.Who, Needs: slices.Clone(needs)}
	q.State = Draft
	return q.after(by, ActionDraft, detail)
}

// lastFigures are those of the draft, or of the newest revision where there is none.
func (q Quote) lastFigures() ([]Section, bool) {
	if q.Draft != nil {
		return q.Draft.Snapshot.Sections, true
	}
	if n := len(q.Revisions); n > 0 {
		return q.Revisions[n-1].Snapshot.Sections, true
	}
	return nil, false
}

// Approve enters a second person's yes to the draft as it stands now.
func (q Quote) Approve(by By, reason string) (Quote, error) {
	if err := q.allow(ActionApprove); err != nil {
		return Quote{}, err
	}
	if by.Who == q.Draft.Author {
		return Quote{}, q.refuse(ActionApprove, "%s wrote the draft; a second person approves it", by.Who)
	}
	if strings.TrimSpace(reason) == "" {
		return Quote{}, q.refuse(ActionApprove, "an approval states its reason")
	}
	digest, err := q.Draft.Snapshot.contentDigest()
	if err != nil {
		return Quote{}, err
	}
	draft := *q.Draft
	draft.Approvals = append(slices.Clone(draft.Approvals), Approval{Who: by.Who, At: by.at(), Digest: digest, Reason: reason})
	q.Draft = &draft
	return q.after(by, ActionApprove, reason)
}

// Current is the revision that can be accepted now.
func (q Quote) Current() (Revision, bool) {
	for i := len(q.Revisions) - 1; i >= 0; i-- {
		if q.Revisions[i].State == Issued {
			return q.Revisions[i], true
		}
	}
	return Revision{}, false
}

// Revision returns a revision by its letter.
func (q Quote) Revision(letter string) (Revision, bool) {
	for _, r := range q.Revisions {
		if r.Letter == letter {
			return r, true
		}
	}
	return Revision{}, false
}
