package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/pack"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// The office's door: the register of quotations, and each with its papers.

func (s *Server) quotationRoutes(r *gin.RouterGroup) {
	r.GET("/quotations", s.handle(s.showRegister))
	r.GET("/quotations/:id", s.handle(s.showQuotation))
	r.GET("/quotations/:id/:letter/papers/:file", s.handle(s.sendIssued))
	r.GET("/quotations/:id/:letter/papers.zip", s.handle(s.sendAll))
	r.POST("/quotations/:id/transmittals", s.handle(s.transmit))
}

type registerPage struct {
	frame
	Words  string
	States []option
	Rows   []quotationRow
	Asked  bool
}

type quotationRow struct {
	ID, Number, Letter, Title, Client, State, Date, Valid, Gross string
}

var states = []quotation.State{quotation.Draft, quotation.Issued, quotation.Accepted, quotation.Declined, quotation.Lapsed}

func (s *Server) showRegister(c *gin.Context) error {
	ctx := c.Request.Context()
	today := pricing.DateOf(s.Clock())
	if _, err := s.Desk.Lapse(ctx, today, register.By{Who: "the program", At: s.Clock()}); err != nil {
		return err
	}
	q := register.Query{Words: strings.TrimSpace(c.Query("words")), Limit: listedAtMost}
	p := registerPage{frame: s.frame(c, "Quotations"), Words: q.Words, States: []option{{"", "every state", c.Query("state") == ""}}}
	p.Nav = "quotations"
	for _, st := range states {
		chosen := c.Query("state") == string(st)
		p.States = append(p.States, option{string(st), string(st), chosen})
		if chosen {
			q.States = []quotation.State{st}
		}
	}
	p.Asked = q.Words != "" || len(q.States) > 0
	found, err := s.Desk.Search(ctx, q)
	if err != nil {
		return err
	}
	for _, f := range found {
		row := quotationRow{ID: f.ID, Number: f.Number, Letter: f.Letter, Title: f.Title, Client: f.Client, State: string(f.State)}
		if f.Letter != "" {
			row.Date, row.Valid, row.Gross = f.Date.String(), f.ValidUntil.String(), f.Gross.Format(0)
		}
		p.Rows = append(p.Rows, row)
	}
	return s.show(c, "register", p)
}

type quotationPage struct {
	frame
	ID, Number, Job, Client, State string
	Said                           string
	Sales, MayApprove              bool
	Needs                          []string
	DraftBy                        string
	Approvals                      []string
	Revisions                      []revisionView
	Current                        string
	Receivers                      []receiverView
	Sent                           []sentRow
	Links                          []linkRow
	NewLink                        string
	Wishes                         []wishRow
	Log                            []logRow
	Form                           transmitForm
	OpenForm                       *openForm
}

type revisionView struct {
	Letter, State, Date, Valid, By, Digest, Gross string
	Accepted                                      string
	Old                                           bool
	Changes                                       []string
}

// receiverView is who gets which papers of the current revision.
type receiverView struct {
	For, Title string
	Files      []fileLink
	Tables     []fileLink // each as CSV
}

type sentRow struct{ At, Letter, Paper, To, By, Means string }

type logRow struct{ At, Who, Did, Detail string }

var quotationSaid = map[string]string{
	"issued": "Issued. The papers below are kept as they are, for ever.", "approved": "Approved. It can be issued now.",
	"sent": "Entered in the record of what was sent.", "withdrawn": "The link is withdrawn; it opens nothing any more.",
	"adopted": "Adopted: the wish stands in the enquiry now.", "refused": "Refused: the enquiry stays as it is.",
}

func (s *Server) showQuotation(c *gin.Context) error {
	return s.showQuotationPage(c, quotationPage{Said: quotationSaid[c.Query("said")]})
}

func (s *Server) showQuotationPage(c *gin.Context, p quotationPage) error {
	ctx, id := c.Request.Context(), c.Param("id")
	stored, err := s.Desk.Quotation(ctx, id)
	if err != nil {
		return err
	}
	if !stored.ErasedAt.IsZero() {
		return register.ErrErased
	}
	q := stored.Quote
	p.frame = s.frame(c, strings.TrimSpace(q.Number+" "+q.Title))
	p.Nav = "quotations"
	p.ID, p.Number, p.Job, p.Client, p.State = q.ID, q.Number, q.Title, q.Client, string(q.State)
	role := person(c).Role
	p.Sales, p.MayApprove = role != register.Office, role == register.Approver || role == register.Owner
	p.draft(q, person(c).Name)
	if err := p.revisions(q); err != nil {
		return err
	}
	sent, err := s.Desk.Transmittals(ctx, id)
	if err != nil {
		return err
	}
	for _, t := range sent {
		p.Sent = append(p.Sent, sentRow{stampWords(t.At), t.Letter, t.Paper, t.Recipient, t.SentBy, t.Means})
	}
	for _, e := range q.Log {
		p.Log = append(p.Log, logRow{stampWords(e.At), e.Who, string(e.Did), e.Detail})
	}
	if p.Sales {
		if err := s.clientSide(c, &p, q); err != nil {
			return err
		}
	}
	return s.show(c, "quotation", p)
}

func (p *quotationPage) draft(q quotation.Quote, viewer string) {
	if q.Draft == nil {
		return
	}
	p.DraftBy = q.Draft.Author
	for _, n := range q.Draft.Needs {
		p.Needs = append(p.Needs, n.Says)
	}
	if p.Ours == oursHidden {
		p.Needs = generally(p.Needs)
	}
	for _, a := range q.Draft.Approvals {
		p.Approvals = append(p.Approvals, a.Who+": "+a.Reason)
	}
	p.MayApprove = p.MayApprove && len(p.Needs) > 0 && viewer != q.Draft.Author
}

func (p *quotationPage) revisions(q quotation.Quote) error {
	for i := len(q.Revisions) - 1; i >= 0; i-- {
		r := q.Revisions[i]
		v := revisionView{
			Letter: r.Letter, State: string(r.State), Date: r.Date.String(), Valid: r.ValidUntil.String(), By: r.IssuedBy, Digest: r.Digest[:12],
			Gross: r.Total.Gross.Format(0), Old: i < len(q.Revisions)-1,
		}
		if a := r.Acceptance; a != nil {
			v.Accepted = fmt.Sprintf("accepted by %s on %s", a.Name, stampWords(a.At))
		}
		if i > 0 {
			d, err := q.Changes(q.Revisions[i-1].Letter, r.Letter)
			if err != nil {
				return err
			}
			for _, change := range d.Changes {
				v.Changes = append(v.Changes, change.String())
			}
		}
		p.Revisions = append(p.Revisions, v)
	}
	if n := len(q.Revisions); n > 0 {
		p.Current = q.Revisions[n-1].Letter
		p.Receivers = receivers(q.ID, q.Revisions[n-1])
		for _, paper := range q.Revisions[n-1].Snapshot.Papers {
			p.Form.Papers = append(p.Form.Papers, option{Value: paper.Name, Label: paper.Name, Selected: paper.Name == p.Form.Paper})
		}
	}
	return nil
}

// inOfficeOrder are the papers as an office sends them out: the electrician first,
// whose lead time is the longest, the other trades, then what is for the client.
func inOfficeOrder() []pack.Paper {
	rank := func(p pack.Paper) int {
		switch p.Key {
		case "electrical":
			return 0
		case "quotation", "findings":
			return 2
		}
		return 1
	}
	papers := pack.Papers()
	slices.SortStableFunc(papers, func(a, b pack.Paper) int { return rank(a) - rank(b) })
	return papers
}

func receivers(id string, r quotation.Revision) []receiverView {
	var out []receiverView
	for _, p := range inOfficeOrder() {
		v := receiverView{For: sentenceCase(p.For), Title: p.Title}
		for _, f := range r.Snapshot.Papers {
			link := fileLink{fileLabel(p.Key, f.Name), issuedURL(id, r.Letter, f.Name)}
			switch {
			case !of(p, f.Name):
			case strings.HasSuffix(f.Name, ".csv"):
				v.Tables = append(v.Tables, link)
			default:
				v.Files = append(v.Files, link)
			}
		}
		if len(v.Files) > 0 {
			out = append(out, v)
		}
	}
	return append(out, receiverView{For: "Everybody", Title: "Everything in one", Files: []fileLink{{"PDF", issuedURL(id, r.Letter, packKey+".pdf")}}})
}

// of tells whether a file is one of a paper's forms.
func of(p pack.Paper, name string) bool {
	return strings.HasPrefix(name, p.Key+".") || strings.HasPrefix(name, p.Key+"-")
}

func issuedURL(id, letter, name string) string {
	return "/quotations/" + id + "/" + letter + "/papers/" + name
}

// fileLabel is what a link to a file says: its form, and the table where it is one of
// several.
func fileLabel(key, name string) string {
	stem, ext, _ := strings.Cut(name, ".")
	label := strings.ToUpper(ext)
	if table := strings.TrimPrefix(strings.TrimPrefix(stem, key), "-"); table != "" {
		label += " " + table
	}
	return label
}

func (s *Server) revision(c *gin.Context) (quotation.Quote, quotation.Revision, error) {
	stored, err := s.Desk.Quotation(c.Request.Context(), c.Param("id"))
	if err != nil {
		return quotation.Quote{}, quotation.Revision{}, err
	}
	r, ok := stored.Quote.Revision(c.Param("letter"))
	if !ok {
		return quotation.Quote{}, r, errNoPage
	}
	return stored.Quote, r, nil
}

// sendIssued sends a paper as it was issued. The bytes never change; that it is no
// longer in force stands in its name.
func (s *Server) sendIssued(c *gin.Context) error {
	q, r, err := s.revision(c)
	if err != nil {
		return err
	}
	p, ok := r.Snapshot.Paper(c.Param("file"))
	if !ok {
		return errNoPage
	}
	return download(c, p.MediaType, issuedName(q, r, p.Name), p.Bytes)
}

func issuedName(q quotation.Quote, r quotation.Revision, name string) string {
	out := q.Number + "-" + r.Letter + "-" + name
	if r.State == quotation.Superseded {
		return "SUPERSEDED-" + out
	}
	return out
}

func (s *Server) sendAll(c *gin.Context) error {
	q, r, err := s.revision(c)
	if err != nil {
		return err
	}
	text, err := zipped(q, r)
	if err != nil {
		return err
	}
	return download(c, "application/zip", issuedName(q, r, "papers.zip"), text)
}

// transmitForm is what was typed of something sent.
type transmitForm struct {
	Paper, To, Means string
	Papers           []option
	Error            string
}

func (s *Server) transmit(c *gin.Context) error {
	f := transmitForm{Paper: c.PostForm("paper"), To: strings.TrimSpace(c.PostForm("to")), Means: strings.TrimSpace(c.PostForm("means"))}
	if f.To == "" || f.Means == "" {
		f.Error = "name who got it and by what means, such as e-mail"
		c.Status(http.StatusUnprocessableEntity)
		return s.showQuotationPage(c, quotationPage{Form: f})
	}
	_, err := s.Desk.Transmit(c.Request.Context(), register.Transmittal{
		QuotationID: c.Param("id"), Letter: c.PostForm("letter"), Paper: f.Paper, Recipient: f.To, Means: f.Means,
	}, s.by(c))
	if err != nil {
		return err
	}
	return seeOther(c, "/quotations/"+c.Param("id")+"?said=sent")
}

func stampWords(t time.Time) string { return t.Local().Format("2 Jan 2006, 15:04") }
