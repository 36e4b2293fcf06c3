package configurator

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/programme"
	"tunwright/configurator/rule"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/de"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/us"
)

// programmeYears is how many years of public holidays a programme may run over.
const programmeYears = 3

// programmeInput carries order, lead times, site facts and the other disciplines'
// verdicts to the programme.
func programmeInput(r *Report) programme.Input {
	p := r.Project
	in := programme.Input{
		Country: programme.Country(p.Site.Country), Today: programmeDate(p.Date), Holidays: holidays(p.Site.Country, p.Date), Site: r.programmeSite(),
	}
	if p.Opening != nil {
		in.Opening = programmeDate(*p.Opening)
	}
	for i := range r.Chosen {
		c := &r.Chosen[i]
		switch s := c.Product.Service; {
		case s == nil && c.Product.LeadTime > 0:
			in.Supplies = supplies(in.Supplies, c)
		case s != nil && s.Kind == "installation":
			in.Times.Install += unit.WorkDays(float64(c.Item.Quantity()))
		case s != nil && s.Kind == "commissioning":
			in.Times.Commission += unit.WorkDays(float64(c.Item.Quantity()))
		}
	}
	in.Times.FirstBatch = firstBatch(r)
	return in
}

// programmeDate carries a date over; a date outside the calendar's years is left
// unset, which the programme then says.
func programmeDate(d enquiry.Date) programme.Date {
	day, err := programme.On(d.Year, int(d.Month), d.Day)
	if err != nil {
		return 0
	}
	return day
}

// supplies keeps the slowest product of each class: the others come with it.
func supplies(list []programme.Supply, c *Chosen) []programme.Supply {
	name := string(c.Product.Class)
	for i := range list {
		if list[i].Name == name {
			if c.Product.LeadTime > list[i].Lead {
				list[i].Lead, list[i].Code = c.Product.LeadTime, c.Product.Code
			}
			return list
		}
	}
	return append(list, programme.Supply{Name: name, Code: c.Product.Code, Lead: c.Product.LeadTime})
}

// firstBatch is the time from the first brew to beer: the quickest beer's days in
// the fermenter and the bright tank.
func firstBatch(r *Report) unit.Duration {
	if r.Brewing == nil {
		return 0
	}
	least := math.Inf(1)
	for _, b := range r.Brewing.Beers {
		least = math.Min(least, float64(b.Days.Ferment+b.Days.Mature+b.Days.Cold+2))
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return unit.Days(least)
}

func (r *Report) programmeSite() programme.Site {
	s := r.Project.Site
	yes, no := true, false
	var suspended *bool
	if s.Floor.Kind != "unknown" {
		yes := s.Floor.Kind == "suspended"
		suspended = &yes
	}
	out := programme.Site{
		NewUse: &yes, BuildWork: &yes, Listed: s.Listed.Ptr(), Structural: suspended, Crane: r.ordered("crane"), RoadClosure: r.ordered("road-closure"),
		Trade: &yes, Effluent: &yes, Scheme: r.writtenScheme(), Network: r.networkWorks(),
	}
	if out.RoadClosure == nil && !s.City {
		out.RoadClosure = &no
	}
	return out
}

// ordered tells whether a service of a kind is in the selection; where it is not,
// nobody has decided that it is not needed.
func (r *Report) ordered(kind string) *bool {
	for _, c := range r.Chosen {
		if c.Product.Service != nil && c.Product.Service.Kind == kind {
			yes := true
			return &yes
		}
	}
	return nil
}

func (r *Report) writtenScheme() *bool {
	if r.Pressure == nil {
		return nil
	}
	for _, row := range r.Pressure.Register {
		if row.InUse.Scheme {
			yes := true
			return &yes
		}
	}
	no := false
	return &no
}

// networkWorks tells whether the supply must be strengthened: yes where it was taken
// for granted only by assumption or fails, no where it carries the load.
func (r *Report) networkWorks() *bool {
	fuse := r.Project.Site.Supply.Fuse
	if r.Electrical == nil || !fuse.Known() {
		return nil
	}
	needed := fuse.Basis == enquiry.Assumed
	for _, f := range r.Findings {
		if f.Discipline == Electrical && f.Outcome == rule.Fail && (f.Rule.ID == "EL-001" || f.Rule.ID == "EL-010") {
			needed = true
		}
	}
	return &needed
}

// holidays lists the public holidays of the years a programme can run over.
func holidays(country string, from enquiry.Date) []programme.Date {
	var list []*cal.Holiday
	switch country {
	case "IE":
		list = ie.Holidays
	case "DE":
		list = de.Holidays
	case "US":
		list = us.Holidays
	default:
		list = gb.Holidays
	}
	var out []programme.Date
	for year := from.Year; year < from.Year+programmeYears; year++ {
		for _, h := range list {
			if _, observed := h.Calc(year); !observed.IsZero() {
				out = append(out, programmeDate(enquiry.DateOf(observed)))
			}
		}
	}
	return out
}
