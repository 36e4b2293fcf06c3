package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"tunwright/configurator"
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/pricing/register"

	"github.com/gin-gonic/gin"
)

// Two or three options side by side: an enquiry is copied, changed, and set against
// the one it came from.

func (s *Server) compareRoutes(r *gin.RouterGroup) {
	r.POST("/enquiries/:id/copy", s.handle(s.copyEnquiry))
	r.GET("/enquiries/:id/compare", s.handle(s.showCompare))
}

type comparePage struct {
	frame
	ID      string
	Columns []columnView
	Figures []compareRow
	Lines   []compareRow
	Others  []option
	Beside  []string // what each of the choices below stands on
	Problem string
}

type columnView struct{ ID, Title, Kind, Verdict string }

// compareRow is one figure in every column.
type compareRow struct {
	Name   string
	Cells  []string
	House  bool // for the house alone
	Differ bool
}

// mostColumns is as many as stand side by side on a sheet.
const mostColumns = 3

// copyEnquiry puts a copy on the desk to be changed as another option.
func (s *Server) copyEnquiry(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	d, err := s.open(ctx, id)
	if err != nil {
		return err
	}
	d.Job.Title += ", another option"
	next, err := s.keep(ctx, draft{Project: register.Project{ID: newID()}, Job: d.Job}, s.who(c))
	if err != nil {
		return err
	}
	return seeOther(c, "/enquiries/"+id+"/compare?with="+next.Project.ID)
}

func (s *Server) showCompare(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	ids := []string{id}
	for _, other := range c.QueryArray("with") {
		if other != "" && !slices.Contains(ids, other) && len(ids) < mostColumns {
			ids = append(ids, other)
		}
	}
	p := comparePage{frame: s.frame(c, "Options side by side"), ID: id}
	p.Nav = "enquiries"
	p.Beside = append(p.Beside, append(ids[1:], make([]string, mostColumns-len(ids))...)...)
	offers := make([]offer.Offer, 0, len(ids))
	for _, one := range ids {
		d, err := s.open(ctx, one)
		if err != nil {
			return err
		}
		o, err := s.answerTo(d)
		if err != nil {
			return &trouble{http.StatusConflict, "These cannot be compared yet", d.Job.Title + ": " + err.Error()}
		}
		v := verdictOf(o.Report)
		p.Columns = append(p.Columns, columnView{one, d.Job.Title, v.Kind, v.Words})
		offers = append(offers, o)
	}
	found, err := s.Desk.Projects(ctx, listedAtMost)
	if err != nil {
		return err
	}
	for _, f := range found {
		if f.ID != id {
			p.Others = append(p.Others, option{f.ID, f.Title, slices.Contains(ids, f.ID)})
		}
	}
	p.figures(offers)
	if len(offers) > 1 {
		if err := p.lines(offers); err != nil {
			p.Problem = sentenceCase(err.Error()) + "."
		}
	}
	return s.show(c, "compare", p)
}

func (p *comparePage) row(name string, house bool, offers []offer.Offer, cell func(offer.Offer) string) {
	if house && p.Ours != oursShown {
		return
	}
	r := compareRow{Name: name, House: house}
	for _, o := range offers {
		r.Cells = append(r.Cells, cell(o))
		r.Differ = r.Differ || r.Cells[0] != r.Cells[len(r.Cells)-1]
	}
	p.Figures = append(p.Figures, r)
}

func (p *comparePage) figures(offers []offer.Offer) {
	count := func(get func(configurator.Count) int) func(offer.Offer) string {
		return func(o offer.Offer) string { return fmt.Sprint(get(o.Report.Count())) }
	}
	price := func(get func(offer.Offer) money.Amount) func(offer.Offer) string {
		return func(o offer.Offer) string { return get(o).Format(localeOf(o.Job)) }
	}
	p.row("Price without tax", false, offers, price(func(o offer.Offer) money.Amount { return o.Quotation.Totals.Net }))
	p.row("Price with tax", false, offers, price(func(o offer.Offer) money.Amount { return o.Quotation.Totals.Gross }))
	p.row("Margin, ours alone", true, offers, func(o offer.Offer) string {
		return money.FormatPercent(o.Costs.Whole.Percent, localeOf(o.Job))
	})
	p.row("Points that stop", false, offers, count(func(n configurator.Count) int { return n.Stops }))
	p.row("Not known yet", false, offers, count(func(n configurator.Count) int { return n.Unknown }))
	p.row("Warnings", false, offers, count(func(n configurator.Count) int { return n.Warnings }))
	p.row("One brew", false, offers, func(o offer.Offer) string {
		if b := o.Report.Brewing; b != nil {
			return b.BrewLength.String()
		}
		return "not worked out"
	})
	p.row("Binds first", false, offers, func(o offer.Offer) string {
		if b := o.Report.Brewing; b != nil {
			return b.Bottleneck.Words
		}
		return "not worked out"
	})
	full := make([][]fullView, len(offers))
	var names []string
	for i, o := range offers {
		full[i] = fullness(o.Report)
		for _, f := range full[i] {
			if !slices.Contains(names, f.Title) {
				names = append(names, f.Title)
			}
		}
	}
	for _, name := range names {
		r := compareRow{Name: name + ", how full"}
		for i := range offers {
			cell := "not worked out"
			for _, f := range full[i] {
				if f.Title == name {
					cell = f.Worst.Bar.Percent
				}
			}
			r.Cells = append(r.Cells, cell)
			r.Differ = r.Differ || r.Cells[0] != cell
		}
		p.Figures = append(p.Figures, r)
	}
}

// lines are the lines of the quotation that differ.
func (p *comparePage) lines(offers []offer.Offer) error {
	named := make([]pricing.Named, len(offers))
	for i, o := range offers {
		named[i] = pricing.Named{Name: p.Columns[i].Title, Quotation: o.Quotation}
	}
	cmp, err := pricing.Compare(named...)
	if err != nil {
		return errors.Unwrap(err)
	}
	for _, row := range cmp.Rows {
		if !row.Differs {
			continue
		}
		r := compareRow{Name: row.Ref + " · " + row.Description, Differ: true}
		for i, cell := range row.Cells {
			text := "–"
			if cell != nil {
				text = cell.Format(localeOf(offers[i].Job))
			}
			r.Cells = append(r.Cells, text)
		}
		p.Lines = append(p.Lines, r)
	}
	return nil
}
