package web

import (
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
)

// linesView is the price line by line, with what the house alone sees.
type linesView struct {
	Rows   []lineRow
	Stages []stageRow
	Needs  []string
	Flags  []flagRow
	Ours   bool // with cost and margin
}

type lineRow struct {
	Ref, Code, Description, Quantity, Price, Net, Cost, Margin string
	Provisional                                                bool
	RestsOn                                                    []string
}

type stageRow struct{ Name, Event, Percent, Gross string }

type flagRow struct{ Title, Question, Source string }

func (s *Server) lines(o offer.Offer, away bool) *linesView {
	l := localeOf(o.Job)
	v := &linesView{Ours: !away}
	for i, line := range o.Quotation.Lines {
		row := lineRow{
			Ref: line.Ref, Code: line.Code, Description: line.Description, Quantity: line.Quantity.String(),
			Price: line.Price.Format(l), Net: line.Net.Format(l), Provisional: line.Provisional != nil,
		}
		if v.Ours && i < len(o.Costs.Lines) {
			row.Cost, row.Margin = o.Costs.Lines[i].Cost.Format(l), money.FormatPercent(o.Costs.Lines[i].Percent, l)
		}
		for _, a := range line.DependsOn {
			row.RestsOn = append(row.RestsOn, a.Says)
		}
		v.Rows = append(v.Rows, row)
	}
	for _, st := range o.Quotation.Stages {
		v.Stages = append(v.Stages, stageRow{st.Name, st.Event, money.FormatPercent(st.Percent, l), st.Gross.Format(l)})
	}
	for _, n := range o.Costs.Needs {
		v.Needs = append(v.Needs, n.Says)
	}
	for _, f := range o.Flags {
		v.Flags = append(v.Flags, flagRow{f.Title, f.Question, f.Source})
	}
	return v
}
