package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// The client's door: one revision, read by a link. What the house alone knows has no
// field in any of these types, so that it cannot come onto the page.

func (s *Server) clientRoutes(r *gin.Engine) {
	g := r.Group("/q/:token", s.clientHeaders)
	g.GET("", s.handle(s.showClient))
	g.GET("/papers/:file", s.handle(s.sendClient))
	g.POST("/comment", s.handle(s.clientComment))
	g.POST("/wish", s.handle(s.clientWish))
	g.POST("/accept", s.handle(s.clientAccept))
}

// clientHeaders keep the link's secret out of other servers' logs and slow down
// whoever tries links.
func (s *Server) clientHeaders(c *gin.Context) {
	c.Header("Referrer-Policy", "no-referrer")
	c.Header("X-Robots-Tag", "noindex, nofollow")
	from, now := s.address(c), s.Clock()
	if !s.turns.take(from, now) || !s.misses.allows(from, now) {
		c.Header("Retry-After", "60")
		s.showTrouble(c, errTooOften)
		c.Abort()
	}
}

// opening is a link with what it opens.
type opening struct {
	Token   string
	Link    register.Link
	Stored  register.Stored
	Rev     quotation.Revision
	Job     offer.Job
	Opened  opened
	Changed []Edit
	Words   []string
}

func (s *Server) openLink(c *gin.Context) (opening, error) {
	o := opening{Token: c.Param("token")}
	var err error
	o.Link, err = s.Desk.OpenLink(c.Request.Context(), o.Token, s.Clock())
	switch {
	case errors.Is(err, register.ErrExpired):
		return o, &trouble{http.StatusGone, "This link has expired", "Ask the person who sent it for a new one. Nothing of what you wrote is lost."}
	case errors.Is(err, register.ErrRevoked):
		return o, &trouble{http.StatusGone, "This link has been withdrawn", "Ask the person who sent it for the one that holds now."}
	case errors.Is(err, register.ErrNotFound):
		s.misses.take(s.address(c), s.Clock())
		return o, &trouble{http.StatusNotFound, "This link opens nothing", "It may have been cut off in the e-mail: copy the whole of it into the address line."}
	case err != nil:
		return o, err
	}
	if o.Stored, err = s.Desk.Quotation(c.Request.Context(), o.Link.QuotationID); err != nil {
		return o, err
	}
	var ok bool
	if o.Rev, ok = o.Stored.Quote.Revision(o.Link.Letter); !ok || !o.Stored.ErasedAt.IsZero() {
		return o, &trouble{http.StatusGone, "This quotation is not kept any more", "Ask the firm for a new one."}
	}
	if err := json.Unmarshal(o.Link.Opened, &o.Opened); err != nil {
		return o, err
	}
	o.Job, err = jobOf(o.Rev)
	return o, err
}

// clientPage is all that a client sees.
type clientPage struct {
	frame
	Base                              string // the link's own address
	Number, Letter, Job, Site, Client string
	Date, Valid, Author, Phone, Email string
	State                             string // a sentence where the revision is not on offer
	OnOffer                           bool
	Live                              clientOffer
	Choices                           []clientChoice
	Volumes                           []clientVolume
	Terms                             []string
	Papers                            []fileLink
	Comments                          []clientNote
	Problem                           string
	Said                              string
	Typed                             clientTyped
	Digest                            string // of what is accepted
	Issued                            string // price of the revision without tax
	Changes                           bool   // something is changed and can be sent as a wish
	Chosen                            []option
}

// clientOffer is price and fit of what the client has chosen.
type clientOffer struct {
	Net, Tax, Gross string
	Was, Difference string // of the revision, where something was changed
	Changed         []string
	Moved           string // why no live price can be given
	Fits, FitKind   string
	Gaps            []gapView
	InTheWay        []clientReason
	Worth           []clientReason
	ToConfirm       []string
	Lines           []clientLine
	Stages          []stageRow
}

type clientReason struct {
	Kind, Title, Words string
	Ways               []string
}

type clientLine struct{ Description, Quantity, Net, Note string }

type clientChoice struct {
	Name, Label string
	Options     []option
}

type clientVolume struct {
	Name, Label, Value, Limits, Error string
}

type clientNote struct{ At, Text, State string }

type clientTyped struct{ Name, Text, Role, Order string }

var clientSaid = map[string]string{
	"comment": "Thank you. Your words are with us.", "wish": "Thank you. Your wish is with us; we come back to you with a new revision.", "accepted": "Thank you. The quotation is accepted; we have entered your name and the time.",
}

func (s *Server) showClient(c *gin.Context) error {
	o, err := s.openLink(c)
	if err != nil {
		return err
	}
	return s.showClientPage(c, o, clientPage{Said: clientSaid[c.Query("said")]}, c.Query)
}

func (s *Server) showClientPage(c *gin.Context, o opening, p clientPage, typed func(string) string) error {
	l := localeOf(o.Job)
	firm := s.firm()
	p.frame = frame{Title: "Quotation " + o.Stored.Quote.Number, Firm: firm.Name}
	p.Base, p.Digest = "/q/"+o.Token, o.Rev.Digest
	p.Number, p.Letter, p.Job, p.Site, p.Client = o.Stored.Quote.Number, o.Rev.Letter, o.Job.Title, o.Job.Site.Name, o.Job.Client.Name
	p.Date, p.Valid, p.Author, p.Phone, p.Email = o.Rev.Date.Long(l), o.Rev.ValidUntil.Long(l), o.Job.Author, firm.Phone, firm.Email
	p.State, p.OnOffer = s.standing(o)
	p.choices(s, &o, typed)
	var terms termsRecord
	if err := json.Unmarshal(o.Rev.Snapshot.Terms, &terms); err != nil {
		return err
	}
	p.Terms = terms.Terms
	for _, f := range []struct{ file, label string }{{"quotation.pdf", "The quotation, PDF"}, {"findings.pdf", "What was checked, PDF"}, {"pack.pdf", "Everything in one, PDF"}} {
		if _, ok := o.Rev.Snapshot.Paper(f.file); ok {
			p.Papers = append(p.Papers, fileLink{f.label, p.Base + "/papers/" + f.file})
		}
	}
	comments, err := s.Desk.Comments(c.Request.Context(), o.Link.QuotationID)
	if err != nil {
		return err
	}
	for _, one := range comments {
		if one.LinkID == o.Link.ID {
			p.Comments = append(p.Comments, clientNote{stampWords(one.At), one.Text, map[string]string{"adopted": "taken up", "refused": "not taken up"}[one.State]})
		}
	}
	if p.Live, err = s.clientOffer(o); err != nil {
		return err
	}
	p.Issued, p.Changes, p.Chosen = o.Rev.Total.Net.Format(l), len(o.Changed) > 0, p.chosen()
	if live(c) {
		return s.write(c, "client", "client-live", p)
	}
	return s.show(c, "client", p)
}

// standing tells whether the revision can be accepted now, and in words why not.
func (s *Server) standing(o opening) (words string, onOffer bool) {
	switch o.Rev.State {
	case quotation.Accepted:
		return "This revision was accepted by " + o.Rev.Acceptance.Name + " on " + stampWords(o.Rev.Acceptance.At) + ".", false
	case quotation.Superseded:
		return "A newer revision has taken the place of this one. Ask for its link.", false
	case quotation.Declined, quotation.Lapsed:
		return "This revision is not on offer any more. Ask for a new one.", false
	}
	if o.Rev.ValidUntil.Before(pricing.DateOf(s.Clock())) {
		return "This revision was valid until " + o.Rev.ValidUntil.Long(localeOf(o.Job)) + ". Ask for a new one.", false
	}
	return "", true
}

// choices are the inputs of what was opened, with what is chosen. What is not allowed
// is said at its input and left out.
func (p *clientPage) choices(s *Server, o *opening, typed func(string) string) {
	for _, it := range o.Opened.Items {
		p.Choices = append(p.Choices, s.choiceOf(it, o, typed("i-"+it.Tag)))
	}
	for i, v := range o.Opened.Volumes {
		name := "v-" + strconv.Itoa(i+1)
		p.Volumes = append(p.Volumes, volumeOf(v, name, o, typed(name)))
	}
}

func (s *Server) choiceOf(it openedItem, o *opening, asked string) clientChoice {
	now := ""
	for _, item := range o.Job.Chosen.Items {
		if item.Tag == it.Tag {
			now = item.Product
		}
	}
	chosen := now
	for _, code := range it.Codes {
		if code == asked {
			chosen = code
		}
	}
	ch := clientChoice{Name: "i-" + it.Tag}
	for _, code := range it.Codes {
		p, ok := s.House.Catalogue.Find(code)
		if !ok {
			continue
		}
		label := p.Name
		if code == now {
			ch.Label = p.Name
			label += " (as quoted)"
		}
		ch.Options = append(ch.Options, option{code, label, code == chosen})
		if code == chosen && chosen != now {
			o.Words = append(o.Words, it.Tag+": "+p.Name)
		}
	}
	if chosen != now {
		o.Changed = append(o.Changed, Edit{Op: strict.Set, Path: "equipment.items[" + it.Tag + "].product", Text: strconv.Quote(chosen)})
	}
	ch.Label = it.Tag + " · " + ch.Label
	return ch
}

func volumeOf(v openedVolume, name string, o *opening, asked string) clientVolume {
	cv := clientVolume{Name: name, Label: v.Beer, Limits: figure(v.Min) + " to " + figure(v.Max) + " hL a year"}
	now := 0.0
	for _, b := range o.Job.Brief.Beers {
		if b.Name == v.Beer {
			now = b.Volume.Value.HL()
		}
	}
	cv.Value = figure(now)
	if strings.TrimSpace(asked) == "" {
		return cv
	}
	cv.Value = asked
	x, ok := positive(asked)
	switch {
	case !ok:
		cv.Error = "write a number of hectolitres, such as 320"
	case x < v.Min || x > v.Max:
		cv.Error = "we can offer " + cv.Limits + " here; ask us for more"
	case x != now:
		cv.Value = figure(x)
		o.Changed = append(o.Changed, Edit{Op: strict.Set, Path: "brief.beers[" + v.Beer + "].yearly_hl", Text: `{told: ` + figure(x) + `, by: "the client, by link"}`})
		o.Words = append(o.Words, v.Beer+": "+figure(x)+" hL a year")
	}
	return cv
}

// chosen are the inputs as they stand, to travel with a wish.
func (p *clientPage) chosen() []option {
	var out []option
	for _, ch := range p.Choices {
		for _, o := range ch.Options {
			if o.Selected {
				out = append(out, option{Value: o.Value, Label: ch.Name})
			}
		}
	}
	for _, v := range p.Volumes {
		out = append(out, option{Value: v.Value, Label: v.Name})
	}
	return out
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// positive reads a number above zero with point or comma.
func positive(text string) (float64, bool) {
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	return x, err == nil && x > 0 && !math.IsInf(x, 0)
}

// clientOffer works out price and fit of what is chosen. Unchanged, it is the revision
// as it was issued.
func (s *Server) clientOffer(o opening) (clientOffer, error) {
	l := localeOf(o.Job)
	base, err := s.make(o.Job, configurator.Report{})
	if err != nil {
		return clientOffer{}, err
	}
	var issued pricing.Quotation
	if err := json.Unmarshal(o.Rev.Snapshot.Prices, &issued); err != nil {
		return clientOffer{}, err
	}
	if len(o.Changed) == 0 {
		return clientOfferOf(issued, base.Report, l), nil
	}
	v := clientOfferOf(issued, base.Report, l)
	v.Changed = o.Words
	if !base.Quotation.Totals.Net.Equal(issued.Totals.Net) {
		v.Moved = "Prices have changed since this revision was issued. Send us your wish, and we come back with a new one."
		return v, nil
	}
	job, err := offer.Apply(o.Job, o.Changed...)
	if err != nil {
		return clientOffer{}, err
	}
	changed, err := s.make(job, base.Report)
	if err != nil {
		return clientOffer{}, err
	}
	was := v.Net
	v = clientOfferOf(changed.Quotation, changed.Report, l)
	v.Changed, v.Was = o.Words, was
	diff, err := changed.Quotation.Totals.Net.Sub(issued.Totals.Net)
	if err != nil {
		return clientOffer{}, err
	}
	v.Difference = diff.Format(l)
	if diff.Sign() > 0 {
		v.Difference = "+" + v.Difference
	}
	return v, nil
}

func clientOfferOf(q pricing.Quotation, r configurator.Report, l money.Locale) clientOffer {
	v := clientOffer{Net: q.Totals.Net.Format(l), Tax: q.Totals.Tax.Format(l), Gross: q.Totals.Gross.Format(l)}
	for _, line := range q.Lines {
		row := clientLine{Description: line.Description, Quantity: line.Quantity.String(), Net: line.Net.Format(l)}
		if line.Provisional != nil {
			row.Note = "provisional sum: " + line.Provisional.What
		}
		v.Lines = append(v.Lines, row)
	}
	for _, st := range q.Stages {
		v.Stages = append(v.Stages, stageRow{st.Name, st.Event, money.FormatPercent(st.Percent, l), st.Gross.Format(l)})
	}
	v.fit(r)
	return v
}

// fit says in a client's words whether it fits: what stands in the way and what would
// make it possible, and what somebody still has to look at.
func (v *clientOffer) fit(r configurator.Report) {
	n := r.Count()
	switch {
	case len(r.Gaps) > 0:
		v.FitKind, v.Fits = "unknown", clientNotYet(r)
	case n.Stops > 0:
		v.FitKind, v.Fits = "stop", "Not possible as chosen"
	case notYet(r) != "":
		v.FitKind, v.Fits = "unknown", clientNotYet(r)
	case n.Unknown > 0:
		v.FitKind, v.Fits = "unknown", "Fits as far as anybody knows"
	default:
		v.FitKind, v.Fits = "clear", "Fits"
	}
	for _, g := range r.Gaps {
		v.Gaps = append(v.Gaps, gapView{disciplineWords[g.Discipline], g.Words})
	}
	for _, f := range r.Open() {
		if f.Outcome != rule.Fail || f.Rule.Severity == rule.Notice {
			continue
		}
		kind, _ := kindOf(f.Finding)
		reason := clientReason{Kind: kind, Title: strings.TrimSpace(f.Rule.Title + " " + f.Subject), Words: sentenceCase(f.Words)}
		for _, m := range f.Remedies {
			reason.Ways = append(reason.Ways, m.Words)
		}
		if kind == "stop" {
			v.InTheWay = append(v.InTheWay, reason)
		} else {
			v.Worth = append(v.Worth, reason)
		}
	}
	for _, line := range enquiry.Survey(r.Project) {
		if line.Basis == enquiry.Unknown {
			v.ToConfirm = append(v.ToConfirm, strings.TrimPrefix(line.Where+": "+line.What, ": ")+" ("+line.Ask+")")
		}
	}
}

// clientNotYet says in a client's words why the answer waits.
func clientNotYet(r configurator.Report) string {
	switch n := openDecisions(r); {
	case len(r.Gaps) > 0:
		return "Cannot be said yet: a part of the job could not be worked out"
	case n == 1:
		return "Cannot be said yet: one point that decides it is still open"
	default:
		return fmt.Sprintf("Cannot be said yet: %d points that decide it are still open", n)
	}
}

// sendClient sends a paper of the revision that is for the client.
func (s *Server) sendClient(c *gin.Context) error {
	o, err := s.openLink(c)
	if err != nil {
		return err
	}
	switch c.Param("file") {
	case "quotation.pdf", "findings.pdf", "pack.pdf":
	default:
		return errNoPage
	}
	p, ok := o.Rev.Snapshot.Paper(c.Param("file"))
	if !ok {
		return errNoPage
	}
	return download(c, p.MediaType, issuedName(o.Stored.Quote, o.Rev, p.Name), p.Bytes)
}
