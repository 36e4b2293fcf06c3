package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/offer"

	"github.com/gin-gonic/gin"
)

// Remedies that can be made with one key. Which of them mend the whole job is tried
// when somebody looks at the finding, since each try checks the job again.

type mendsPage struct {
	frame
	Case mendView
	Job  string
}

func (s *Server) showMends(c *gin.Context) error {
	d, err := s.open(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	v := mendView{ID: d.Project.ID, Rule: c.Query("rule"), Subject: c.Query("subject"), Tried: true}
	before, mends, err := s.mendsFor(d, v.Rule, v.Subject)
	if err != nil {
		return err
	}
	for _, m := range mends {
		v.Mends = append(v.Mends, mendOption{m.Words, s.effect(before, m)})
	}
	if live(c) {
		return s.write(c, "mends", "mends", v)
	}
	p := mendsPage{frame: s.frame(c, "Remedies for "+v.Rule), Case: v, Job: d.Job.Title}
	p.Nav = "enquiries"
	return s.show(c, "mends", p)
}

// mendOption is one remedy, with what it does to the job.
type mendOption struct{ Words, Effect string }

// effect tells what a remedy changes in price, electrical demand and time. Nothing is
// said where the job cannot be priced with it: the remedy then says so when made.
func (s *Server) effect(before offer.Offer, m Mend) string {
	job, err := offer.Apply(before.Job, m.Edits...)
	if err != nil {
		return ""
	}
	after, err := offer.Price(job, s.house(pricing.DateOf(job.Date.Time())), m.After)
	if err != nil {
		return ""
	}
	said := []string{priceEffect(before, after), demandEffect(before, after), timeEffect(before, after)}
	said = slices.DeleteFunc(said, func(words string) bool { return words == "" })
	return sentenceCase(strings.Join(said, "; "))
}

func priceEffect(before, after offer.Offer) string {
	diff, err := after.Quotation.Totals.Net.Sub(before.Quotation.Totals.Net)
	switch {
	case err != nil:
		return ""
	case diff.IsZero():
		return "the price stays"
	case diff.Sign() < 0:
		return diff.Abs().Format(localeOf(after.Job)) + " less without tax"
	}
	return diff.Format(localeOf(after.Job)) + " more without tax"
}

func demandEffect(before, after offer.Offer) string {
	if before.Report.Electrical == nil || after.Report.Electrical == nil {
		return ""
	}
	was, is := before.Report.Electrical.Binding.Demand.String(), after.Report.Electrical.Binding.Demand.String()
	if was == is {
		return "the highest line stays at " + is
	}
	return "the highest line takes " + is + " instead of " + was
}

func timeEffect(before, after offer.Offer) string {
	if before.Report.Programme == nil || after.Report.Programme == nil {
		return ""
	}
	was, is := before.Report.Programme.Earliest, after.Report.Programme.Earliest
	if was == is {
		return "the earliest opening stays"
	}
	return fmt.Sprintf("the earliest opening moves from %s to %s", was, is)
}

// mendsFor tries the remedies of one open point, and gives the offer as it is without
// them.
func (s *Server) mendsFor(d draft, rule, subject string) (offer.Offer, []Mend, error) {
	o, err := s.answerTo(d)
	switch {
	case err != nil && !checked(o):
		return o, nil, err
	case err != nil || s.Mends == nil: // a remedy is tried with its price
		return o, nil, nil
	}
	for _, f := range o.Report.Open() {
		if f.Rule.ID == rule && f.Subject == subject {
			return o, s.Mends(o.Job, o.Report, f), nil
		}
	}
	return o, nil, nil
}

// mend makes one of them.
func (s *Server) mend(c *gin.Context) error {
	rule, subject, words := c.PostForm("rule"), c.PostForm("subject"), c.PostForm("words")
	d, err := s.change(c.Request.Context(), c.Param("id"), s.who(c), func(d draft) (offer.Job, string, error) {
		_, mends, err := s.mendsFor(d, rule, subject)
		if err != nil {
			return offer.Job{}, "", err
		}
		for _, m := range mends {
			if m.Words == words {
				job, err := offer.Apply(d.Job, m.Edits...)
				return job, rule + ": " + words, err
			}
		}
		return offer.Job{}, "", &trouble{http.StatusConflict, "That remedy is no longer offered", "The enquiry has changed in the meantime. Look at the findings again."}
	})
	return s.afterChange(c, d, err)
}
