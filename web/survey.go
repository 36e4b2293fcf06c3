package web

import (
	"strings"

	"tunwright/configurator/enquiry"
	"tunwright/pricing/offer"
	"tunwright/web/form"
)

// surveyRow is one fact to find out, with the input to answer it in.
type surveyRow struct {
	What, Ask, Now string
	Field          fieldView
}

// survey lists what is unknown or assumed, the unknown first, each ready to be
// answered while the client is on the phone.
func (s *Server) survey(d draft, o offer.Offer, back *returned) ([]surveyRow, error) {
	taken := takenFacts(o)
	var unknown, assumed []surveyRow
	for _, l := range enquiry.Survey(o.Report.Project) {
		f, err := form.One(d.Job, l.Path)
		if err != nil {
			return nil, err
		}
		groups := []form.Group{{Fields: []form.Field{f}}}
		back.restore(groups)
		row := surveyRow{What: sentenceCase(strings.TrimPrefix(l.Where+": "+l.What, ": ")), Ask: l.Ask, Field: viewField(d.Project.ID, groups[0].Fields[0], "", taken)}
		row.Field.Hint = ""
		if l.Basis == enquiry.Unknown {
			unknown = append(unknown, row)
			continue
		}
		row.Now = l.Value + ": " + l.Why
		if f.Basis == enquiry.Assumed {
			row.Now = "assumed"
		}
		row.Field.Taken = ""
		assumed = append(assumed, row)
	}
	return append(unknown, assumed...), nil
}

// surveyFields are all facts of the enquiry, each by itself.
func surveyFields(job offer.Job) ([]form.Group, error) {
	var g form.Group
	for _, l := range enquiry.Facts(job.Project) {
		f, err := form.One(job, l.Path)
		if err != nil {
			return nil, err
		}
		g.Fields = append(g.Fields, f)
	}
	return []form.Group{g}, nil
}
