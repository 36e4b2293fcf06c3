package web

import (
	"context"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"
)

// What the pages ask of the register, by subject; *register.Register answers all.

// Register is everything the pages keep.
type Register interface {
	Projects
	People
	Sessions
	Quotations
	Links
	Comments
	Transmittals
	Books
	Settings
	Trail
}

// Projects are the enquiries on the desk.
type Projects interface {
	SaveProject(ctx context.Context, p register.Project, by register.By) (revision int, err error)
	Project(ctx context.Context, id string) (register.Project, error)
	ProjectAt(ctx context.Context, id string, revision int) (document string, err error)
	Projects(ctx context.Context, limit int) ([]register.Project, error)
}

// People are who works here.
type People interface {
	AddPerson(ctx context.Context, p register.Person, by register.By) (id int64, err error)
	SetPassword(ctx context.Context, id int64, hash string, by register.By) error
	Disable(ctx context.Context, id int64, by register.By) error
	PersonByEmail(ctx context.Context, email string) (register.Person, error)
	People(ctx context.Context) ([]register.Person, error)
	SetFactor(ctx context.Context, id int64, secret string, step int64, recovery []string, token string, by register.By) error
	UseStep(ctx context.Context, id, step int64) error
	UseRecovery(ctx context.Context, id int64, code string, by register.By) (left int, err error)
}

// Sessions are who is signed in.
type Sessions interface {
	StartSession(ctx context.Context, person int64, browser string, now time.Time, life time.Duration) (token string, err error)
	SessionPerson(ctx context.Context, token string, now time.Time, idle time.Duration) (register.Person, register.Session, error)
	SeeSession(ctx context.Context, token string, now time.Time) error
	Sessions(ctx context.Context, person int64, now time.Time, idle time.Duration) ([]register.Session, error)
	EndSession(ctx context.Context, token string) error
	EndSessionOf(ctx context.Context, person int64, key string, by register.By) error
	EndOtherSessions(ctx context.Context, person int64, token string, by register.By) error
}

// Quotations are what is issued, and their drafts.
type Quotations interface {
	Add(ctx context.Context, s register.Stored, by register.By) (version int, err error)
	Save(ctx context.Context, q quotation.Quote, version int, by register.By) (int, error)
	Issue(ctx context.Context, is register.Issuing, by register.By) (register.Stored, error)
	Quotation(ctx context.Context, id string) (register.Stored, error)
	Search(ctx context.Context, q register.Query) ([]register.Found, error)
	Lapse(ctx context.Context, today pricing.Date, by register.By) ([]string, error)
}

// Links open a revision to a client.
type Links interface {
	AddLink(ctx context.Context, l register.Link, by register.By) (token string, err error)
	OpenLink(ctx context.Context, token string, now time.Time) (register.Link, error)
	Revoke(ctx context.Context, id int64, by register.By) error
	Links(ctx context.Context, quotationID string) ([]register.Link, error)
}

// Comments are what clients write back.
type Comments interface {
	AddComment(ctx context.Context, c register.Comment) (id int64, err error)
	Comments(ctx context.Context, quotationID string) ([]register.Comment, error)
	Settle(ctx context.Context, id int64, adopt bool, by register.By) error
}

// Transmittals are the record of what went to whom.
type Transmittals interface {
	Transmit(ctx context.Context, t register.Transmittal, by register.By) (id int64, err error)
	Transmittals(ctx context.Context, quotationID string) ([]register.Transmittal, error)
}

// Books are the versions of the price book.
type Books interface {
	AddBook(ctx context.Context, b *pricing.Book, sourceName string, source []byte, by register.By) error
	Books(ctx context.Context) (pricing.Shelf, error)
}

// Settings are what the firm has set.
type Settings interface {
	Setting(ctx context.Context, key string, to any) error
	Set(ctx context.Context, key string, value any, by register.By) error
}

// Trail is who changed what in the register itself.
type Trail interface {
	Audit(ctx context.Context, what string, limit int) ([]register.AuditEntry, error)
}
