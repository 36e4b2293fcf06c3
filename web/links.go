package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/offer"
	"tunwright/pricing/quotation"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// The salesperson's side of a client's link: what it opens, for how long, and what
// came back by it.

func (s *Server) linkRoutes(r *gin.RouterGroup) {
	r.POST("/quotations/:id/links", s.handle(s.addLink))
	r.POST("/quotations/:id/links/:link/withdraw", s.handle(s.withdrawLink))
	r.POST("/quotations/:id/wishes/:wish", s.handle(s.settleWish))
}

// opened is what a client may change through a link, and within which limits.
type opened struct {
	Items   []openedItem   `json:"items,omitempty"`
	Volumes []openedVolume `json:"volumes,omitempty"`
}

type openedItem struct {
	Tag   string   `json:"tag"`
	Codes []string `json:"codes"`
}

// openedVolume is the yearly volume of a beer. The limits are hectolitres as typed.
type openedVolume struct {
	Beer string  `json:"beer"`
	Min  float64 `json:"min_hl"`
	Max  float64 `json:"max_hl"`
}

// openForm asks which parts to open.
type openForm struct {
	Letter  string
	Days    string
	Items   []openItem
	Volumes []openVolume
	Error   string
}

type openItem struct {
	Tag, Name string
	Ways      []option
}

type openVolume struct {
	Name           string // of the inputs
	Beer, Now      string
	Min, Max, Fail string
}

type linkRow struct {
	ID                                int64
	Letter, Made, Until, State, Opens string
	Views                             int
	Live                              bool
}

// usualDays is how long a link lives if nobody says otherwise.
const (
	usualDays   = "30"
	longestDays = 365
)

// jobOf reads the job back from a revision.
func jobOf(r quotation.Revision) (offer.Job, error) {
	return offer.Read("revision "+r.Letter, r.Snapshot.Project)
}

// clientSide fills what concerns the client: links, wishes and the form for a new
// link.
func (s *Server) clientSide(c *gin.Context, p *quotationPage, q quotation.Quote) error {
	ctx := c.Request.Context()
	links, err := s.Desk.Links(ctx, q.ID)
	if err != nil {
		return err
	}
	for _, l := range links {
		p.Links = append(p.Links, s.linkRow(l))
	}
	comments, err := s.Desk.Comments(ctx, q.ID)
	if err != nil {
		return err
	}
	for _, one := range comments {
		row := wishRow{ID: one.ID, Author: one.Author, At: stampWords(one.At), Letter: one.Letter, Text: one.Text, State: one.State, SettledBy: one.SettledBy, Open: one.State == "open", Proposal: len(one.Proposal) > 0}
		w, err := readWish(one.Proposal)
		if err != nil {
			return err
		}
		row.Changes = w.Words
		p.Wishes = append(p.Wishes, row)
	}
	r, current := q.Current()
	if !current || p.OpenForm != nil {
		return nil
	}
	p.OpenForm, err = s.openFormOf(r)
	return err
}

func (s *Server) linkRow(l register.Link) linkRow {
	row := linkRow{ID: l.ID, Letter: l.Letter, Made: stampWords(l.CreatedAt) + " by " + l.CreatedBy, Until: stampWords(l.ExpiresAt), Views: l.Views}
	switch {
	case !l.RevokedAt.IsZero():
		row.State = "withdrawn " + stampWords(l.RevokedAt)
	case !s.Clock().Before(l.ExpiresAt):
		row.State = "expired"
	default:
		row.State, row.Live = "open", true
	}
	var o opened
	if json.Unmarshal(l.Opened, &o) == nil {
		row.Opens = o.words()
	}
	return row
}

func (o opened) words() string {
	var parts []string
	for _, i := range o.Items {
		parts = append(parts, i.Tag)
	}
	for _, v := range o.Volumes {
		parts = append(parts, v.Beer)
	}
	if len(parts) == 0 {
		return "to read and accept"
	}
	return strings.Join(parts, ", ")
}

func (s *Server) openFormOf(r quotation.Revision) (*openForm, error) {
	job, err := jobOf(r)
	if err != nil {
		return nil, err
	}
	f := &openForm{Letter: r.Letter, Days: usualDays}
	for _, item := range job.Chosen.Items {
		p, ok := s.House.Catalogue.Find(item.Product)
		if !ok || p.Class == catalog.ClassService || p.Class == catalog.ClassFitting || len(s.House.Catalogue.ByClass(p.Class)) < 2 {
			continue
		}
		f.Items = append(f.Items, openItem{Tag: item.Tag, Name: p.Name, Ways: []option{{"", "stays as it is", true}, {"near", "one size up or down", false}, {"any", "any of its kind", false}}})
	}
	for i, b := range job.Brief.Beers {
		f.Volumes = append(f.Volumes, openVolume{Name: strconv.Itoa(i + 1), Beer: b.Name, Now: hectolitres(b.Volume)})
	}
	return f, nil
}

func hectolitres(v enquiry.Fact[unit.Volume]) string {
	if !v.Known() {
		return "not known"
	}
	return strconv.FormatFloat(v.Value.HL(), 'f', -1, 64) + " hL"
}

// read takes what was typed into the form and gives what it opens.
func (f *openForm) read(c *gin.Context, s *Server, job offer.Job) opened {
	var o opened
	for i := range f.Items {
		way := c.PostForm("open-" + f.Items[i].Tag)
		for j := range f.Items[i].Ways {
			f.Items[i].Ways[j].Selected = f.Items[i].Ways[j].Value == way
		}
		if codes := s.codesFor(job, f.Items[i].Tag, way); len(codes) > 1 {
			o.Items = append(o.Items, openedItem{f.Items[i].Tag, codes})
		}
	}
	for i := range f.Volumes {
		v := &f.Volumes[i]
		v.Min, v.Max = strings.TrimSpace(c.PostForm("min-"+v.Name)), strings.TrimSpace(c.PostForm("max-"+v.Name))
		if v.Min == "" && v.Max == "" {
			continue
		}
		lo, okLo := positive(v.Min)
		hi, okHi := positive(v.Max)
		if !okLo || !okHi || lo > hi {
			v.Fail = "write both limits as numbers of hectolitres, the smaller first"
			f.Error = v.Beer + ": " + v.Fail
			continue
		}
		o.Volumes = append(o.Volumes, openedVolume{v.Beer, lo, hi})
	}
	return o
}

// codesFor are the products that a way of opening allows for an item.
func (s *Server) codesFor(job offer.Job, tag, way string) []string {
	for _, item := range job.Chosen.Items {
		p, ok := s.House.Catalogue.Find(item.Product)
		if item.Tag != tag || !ok || way != "near" && way != "any" {
			continue
		}
		var all, family []string
		for _, other := range s.House.Catalogue.ByClass(p.Class) {
			all = append(all, other.Code)
			if familyOf(other.Code) == familyOf(p.Code) {
				family = append(family, other.Code)
			}
		}
		if way == "any" {
			return all
		}
		at := slices.Index(family, p.Code)
		return family[max(0, at-1):min(len(family), at+2)]
	}
	return nil
}

// familyOf is what the codes of one build have in common in all sizes: FV-10-LOW and
// FV-7.5-LOW, but not FV-10.
func familyOf(code string) string {
	digit := func(r rune) bool { return r >= '0' && r <= '9' }
	from := strings.IndexFunc(code, digit)
	if from < 0 {
		return code
	}
	rest := strings.TrimLeftFunc(code[from:], func(r rune) bool { return digit(r) || r == '.' })
	return code[:from] + "#" + rest
}

func (s *Server) addLink(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	stored, err := s.Desk.Quotation(ctx, id)
	if err != nil {
		return err
	}
	r, ok := stored.Quote.Current()
	if !ok {
		return &trouble{http.StatusConflict, "There is nothing to send", "No revision of this quotation is on offer. Issue one first."}
	}
	f, err := s.openFormOf(r)
	if err != nil {
		return err
	}
	job, err := jobOf(r)
	if err != nil {
		return err
	}
	o := f.read(c, s, job)
	f.Days = strings.TrimSpace(c.PostForm("days"))
	days, err := strconv.Atoi(f.Days)
	if err != nil || days < 1 || days > longestDays {
		f.Error = "a link lives 1 to 365 days"
	}
	if f.Error != "" {
		c.Status(http.StatusUnprocessableEntity)
		return s.showQuotationPage(c, quotationPage{OpenForm: f})
	}
	text, err := json.Marshal(o)
	if err != nil {
		return fmt.Errorf("link: %w", err)
	}
	token, err := s.Desk.AddLink(ctx, register.Link{QuotationID: id, Letter: r.Letter, Opened: text, ExpiresAt: s.Clock().Add(time.Duration(days) * 24 * time.Hour)}, s.by(c))
	if err != nil {
		return err
	}
	// The token is shown here once and stands nowhere in the register.
	return s.showQuotationPage(c, quotationPage{NewLink: s.outside(c) + "/q/" + token})
}

// outside is how this server is called from outside.
func (s *Server) outside(c *gin.Context) string {
	scheme := "http"
	if s.Secure {
		scheme = "https"
	}
	return scheme + "://" + c.Request.Host
}

func (s *Server) withdrawLink(c *gin.Context) error {
	link, err := strconv.ParseInt(c.Param("link"), 10, 64)
	if err != nil {
		return errNoPage
	}
	if err := s.Desk.Revoke(c.Request.Context(), link, s.by(c)); err != nil {
		return err
	}
	return seeOther(c, "/quotations/"+c.Param("id")+"?said=withdrawn")
}
