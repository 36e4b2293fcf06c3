package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Issuing: an enquiry as it stands becomes a revision of a quotation. The quotation
// has the id of its enquiry.

func (s *Server) issueRoutes(r *gin.RouterGroup) {
	r.GET("/enquiries/:id/issue", s.handle(s.showIssue))
	r.POST("/enquiries/:id/issue", s.handle(s.issue))
}

func (s *Server) approvalRoutes(r *gin.RouterGroup) {
	r.POST("/quotations/:id/approve", s.handle(s.approve))
}

type issuePage struct {
	frame
	ID, Number, Letter, Job, Client string
	Price                           priceView
	Verdict                         verdict
	Passed                          int
	Changes                         []string
	First                           bool
	Approved                        string
	Waiting                         bool
	Problem                         string
}

func (s *Server) showIssue(c *gin.Context) error { return s.showIssuePage(c, "") }

func (s *Server) showIssuePage(c *gin.Context, problem string) error {
	ctx := c.Request.Context()
	o, err := s.today(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	p := issuePage{
		frame: s.frame(c, "Issue the quotation"), ID: c.Param("id"), Job: o.Job.Title, Client: o.Job.Client.Name, Letter: "A", First: true,
		Price: priceOf(o), Verdict: verdictOf(o.Report), Passed: o.Report.Count().Passed, Problem: problem,
	}
	p.Price.put(putAway(c))
	p.Nav = "enquiries"
	stored, err := s.Desk.Quotation(ctx, p.ID)
	if errors.Is(err, register.ErrNotFound) {
		return s.show(c, "issue", p)
	}
	if err != nil {
		return err
	}
	if err := p.compare(s, stored.Quote, o); err != nil {
		return err
	}
	return s.show(c, "issue", p)
}

// compare says what this revision changes, and whether a second person has said yes
// to exactly this.
func (p *issuePage) compare(s *Server, q quotation.Quote, o offer.Offer) error {
	p.Number, p.Letter = q.Number, quotation.Letter(len(q.Revisions)+1)
	snap, err := s.snapshot(o)
	if err != nil {
		return err
	}
	if n := len(q.Revisions); n > 0 {
		p.First = false
		d, err := quotation.Between(q.Revisions[n-1].Snapshot.Sections, snap.Sections)
		if err != nil {
			return err
		}
		for _, change := range d.Changes {
			p.Changes = append(p.Changes, change.String())
		}
	}
	if q.Draft == nil || len(q.Draft.Needs) == 0 {
		return nil
	}
	same, err := sameDigest(q.Draft.Snapshot, snap)
	if err != nil {
		return err
	}
	p.Waiting = same
	for _, a := range q.Draft.Approvals {
		if same {
			p.Approved = a.Who
		}
	}
	return nil
}

func sameDigest(a, b quotation.Snapshot) (bool, error) {
	digestA, err := a.Digest()
	if err != nil {
		return false, err
	}
	digestB, err := b.Digest()
	return digestA == digestB, err
}

// today is the offer as it would leave the house today.
func (s *Server) today(ctx context.Context, id string) (offer.Offer, error) {
	d, err := s.open(ctx, id)
	if err != nil {
		return offer.Offer{}, err
	}
	d.Job.Date = enquiry.DateOf(s.Clock())
	o, err := s.make(d.Job, s.kept.before(d.Project.ID))
	if err != nil {
		return offer.Offer{}, &trouble{http.StatusConflict, "This cannot be priced yet", sentenceCase(err.Error()) + "."}
	}
	return o, nil
}

func (s *Server) issue(c *gin.Context) error {
	ctx, id, by := c.Request.Context(), c.Param("id"), s.by(c)
	o, err := s.today(ctx, id)
	if err != nil {
		return err
	}
	if n := o.Report.Count().Stops; n > 0 && c.PostForm("despite") != "yes" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showIssuePage(c, fmt.Sprintf("%d open points stop this job. Mend them first, or tick that you send it despite them: the quotation says so on its first page.", n))
	}
	stored, err := s.draftQuotation(ctx, id, o, by)
	if err != nil {
		return err
	}
	issued, err := s.Desk.Issue(ctx, register.Issuing{
		ID: id, Version: stored.Version, Date: o.Quotation.Date, ValidUntil: o.Quotation.ValidUntil,
		Total:  quotation.Total{Net: o.Quotation.Totals.Net, Tax: o.Quotation.Totals.Tax, Gross: o.Quotation.Totals.Gross},
		Papers: func(number, letter string) ([]quotation.Paper, error) { return s.papers(o, number, letter) },
	}, by)
	if step, ok := errors.AsType[*quotation.StepError](err); ok {
		c.Status(http.StatusConflict)
		return s.showIssuePage(c, sentenceCase(step.Why)+". The draft is kept; whoever may approve finds it among the quotations.")
	}
	if err != nil {
		return err
	}
	return seeOther(c, "/quotations/"+issued.Quote.ID+"?said=issued")
}

// draftQuotation puts today's offer into the register as the draft of the quotation. A
// draft that says the same stays, with the approval it may have.
func (s *Server) draftQuotation(ctx context.Context, id string, o offer.Offer, by register.By) (register.Stored, error) {
	snap, err := s.snapshot(o)
	if err != nil {
		return register.Stored{}, err
	}
	stored, err := s.Desk.Quotation(ctx, id)
	fresh := errors.Is(err, register.ErrNotFound)
	if fresh {
		stored.ProjectID = id
		stored.Quote, err = quotation.Open(id, o.Job.Title, o.Job.Client.Name, by)
	}
	if err != nil {
		return register.Stored{}, err
	}
	if d := stored.Quote.Draft; d != nil {
		if same, err := sameDigest(d.Snapshot, snap); err != nil || same {
			return stored, err
		}
	}
	stored.Quote.Title, stored.Quote.Client = o.Job.Title, o.Job.Client.Name
	if stored.Quote, err = stored.Quote.SaveDraft(snap, o.Costs.Needs, by, "draft from the desk"); err != nil {
		return register.Stored{}, err
	}
	if fresh {
		stored.Version, err = s.Desk.Add(ctx, stored, by)
		return stored, err
	}
	stored.Version, err = s.Desk.Save(ctx, stored.Quote, stored.Version, by)
	return stored, err
}

// approve is a second person's yes to the draft as it stands.
func (s *Server) approve(c *gin.Context) error {
	ctx, by := c.Request.Context(), s.by(c)
	stored, err := s.Desk.Quotation(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	q, err := stored.Quote.Approve(by, c.PostForm("reason"))
	if err != nil {
		return err
	}
	if _, err := s.Desk.Save(ctx, q, stored.Version, by); err != nil {
		return err
	}
	return seeOther(c, "/quotations/"+q.ID+"?said=approved")
}

// snapshot is everything a revision is made of, without its papers.
func (s *Server) snapshot(o offer.Offer) (quotation.Snapshot, error) {
	job, err := strict.JSON(o.Job)
	if err != nil {
		return quotation.Snapshot{}, fmt.Errorf("snapshot: %w", err)
	}
	snap := quotation.Snapshot{
		Project: job, Catalogue: o.Report.Catalogue, Program: s.Version,
		Sections: append(quotation.PriceSections(o.Quotation, localeOf(o.Job)), reportSections(o.Report)...),
	}
	for _, part := range []struct {
		to   *json.RawMessage
		from any
	}{
		{&snap.Report, recordOf(o.Report)},
		{&snap.Prices, o.Quotation},
		{&snap.Terms, termsRecord{s.firm().Terms, o.Delivery}},
		{&snap.House, o.Costs},
	} {
		if *part.to, err = json.Marshal(part.from); err != nil {
			return quotation.Snapshot{}, fmt.Errorf("snapshot: %w", err)
		}
	}
	return snap, nil
}

// termsRecord is what is agreed besides the price.
type termsRecord struct {
	Terms    []string         `json:"terms"`
	Delivery pricing.Delivery `json:"delivery"`
}

// findingRecord is a finding as it stood when the revision was issued.
type findingRecord struct {
	Rule    string `json:"rule"`
	Outcome string `json:"outcome"`
	Subject string `json:"subject,omitempty"`
	Need    string `json:"need,omitempty"`
	Have    string `json:"have,omitempty"`
	Words   string `json:"words"`
}

func recordOf(r configurator.Report) []findingRecord {
	out := make([]findingRecord, 0, len(r.Findings)+len(r.Gaps))
	for _, f := range r.Findings {
		out = append(out, findingRecord{f.Rule.ID, f.Outcome.String(), f.Subject, text(f.Need), text(f.Have), f.Words})
	}
	for _, g := range r.Gaps {
		out = append(out, findingRecord{Rule: string(g.Discipline), Outcome: "unknown", Words: g.Words})
	}
	return out
}

// reportSections are the engineering figures and open points, to be compared between
// revisions.
func reportSections(r configurator.Report) []quotation.Section {
	figures, open := quotation.Section{Name: "Figures"}, quotation.Section{Name: "Open points"}
	for _, g := range r.Gauges() {
		name, _, _ := strings.Cut(g.Name, " against ")
		figures.Entries = append(figures.Entries, quotation.Entry{Key: g.Rule, Label: name, Value: text(g.Need) + " of " + text(g.Have)})
	}
	seen := map[string]int{}
	for _, f := range r.Open() {
		_, word := kindOf(f.Finding)
		key := f.Rule.ID + " " + f.Subject
		seen[key]++
		if n := seen[key]; n > 1 {
			key = fmt.Sprintf("%s %d", key, n)
		}
		open.Entries = append(open.Entries, quotation.Entry{Key: key, Label: strings.TrimSpace(f.Rule.Title + " " + f.Subject), Value: word})
	}
	return []quotation.Section{figures, open}
}

// papers makes every paper of a revision in every form it has.
func (s *Server) papers(o offer.Offer, number, letter string) ([]quotation.Paper, error) {
	issue := pack.Issue{Number: number, Revision: letter, Logo: s.Logo, Program: s.Version}
	var out []quotation.Paper
	add := func(name string, doc paper.Doc, ext, table string) error {
		kind, text, err := s.draw(doc, ext, table)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		out = append(out, quotation.Paper{Name: name, MediaType: kind, Bytes: text})
		return nil
	}
	if err := add(packKey+".pdf", pack.Pack(o, s.firm(), issue), ".pdf", ""); err != nil {
		return nil, err
	}
	for _, p := range pack.Papers() {
		doc := p.Doc(o, s.firm(), issue)
		if err := add(p.Key+".pdf", doc, ".pdf", ""); err != nil {
			return nil, err
		}
		tables := sheet.Tables(doc)
		if len(tables) == 0 {
			continue
		}
		if err := add(p.Key+".xlsx", doc, ".xlsx", ""); err != nil {
			return nil, err
		}
		for _, name := range tableNames(tables) {
			if err := add(p.Key+"-"+name+".csv", doc, ".csv", name); err != nil {
				return nil, err
			}
		}
	}
	return out, nil
}
