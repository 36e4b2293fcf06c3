package programme

import (
	"fmt"
	"strings"

	"tunwright/configurator/programme"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// permitTable is each permit with its instrument and lead time.
func permitTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "permits", Title: "Permits, consents and notices",
		Columns: []paper.Column{
			{Title: "Permit"},
			{Title: "By"},
			{Title: "Instrument"},
			{Title: "Lead", Kind: paper.Number},
			{Title: "Counted in"},
			{Title: "Basis"},
			{Title: "Earliest start"},
			{Title: "Latest start"},
			{Title: "Decision by"},
			{Title: "State"},
		},
		Notes: []string{"Latest start and decision by: for the opening wished for; where none was said, for the earliest opening. Lead times are usual values: ask each authority for its present one."},
	}
	for _, s := range p.Steps {
		if s.Group != "permit" {
			continue
		}
		start, end := latest(p, s)
		t.Rows = append(t.Rows, say.Row(
			paper.W(s.Name), paper.W(s.Who), paper.W(s.Instrument), paper.I(s.Days), paper.W(calendar(s)), paper.W(string(s.Basis)),
			paper.W(s.Start.String()), paper.W(start.String()), paper.W(end.String()), paper.W(state(s))))
	}
	return t
}

// latest is the latest start and end for the opening wished for, or of the network
// itself where none was said.
func latest(p *programme.Result, s programme.Step) (start, end programme.Date) {
	if p.Opening > 0 {
		return s.Needed, s.NeededEnd
	}
	return s.LateStart, s.LateEnd
}

// state is where a task stands.
func state(s programme.Step) string {
	switch {
	case s.Over:
		return "done"
	case s.Open && s.Critical:
		return "critical, open"
	case s.Open:
		return "open"
	case s.Critical:
		return "critical"
	}
	return ""
}

// taskTable is every task with its dates, group by group; how a supply is made and
// shipped stands in one row where shipping takes no days of its own.
func taskTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "tasks", Title: "Every task with its dates",
		Columns: []paper.Column{
			{Title: "Task"},
			{Title: "By"},
			{Title: "Days", Kind: paper.Number},
			{Title: "Counted in"},
			{Title: "Earliest start"},
			{Title: "Last day"},
			{Title: "Latest start"},
			{Title: "Float", Unit: "days", Kind: paper.Number},
			{Title: "Spare", Unit: "days", Kind: paper.Number},
			{Title: "State"},
			{Title: "Waits on"},
		},
		Notes: []string{"Float: days until the earliest opening moves. Spare: days until the opening wished for is missed; below zero it is missed already. Latest start: for the opening wished for; where none was said, for the earliest opening."},
	}
	group := ""
	for _, s := range p.Steps {
		if s.Days == 0 && strings.HasPrefix(s.ID, "SHIP-") {
			continue
		}
		if s.Group != group {
			group = s.Group
			t.Rows = append(t.Rows, say.Group(groupName(group)))
		}
		start, _ := latest(p, s)
		spare := paper.Cell{}
		if p.Opening > 0 {
			spare = paper.I(s.Spare)
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(s.Name), paper.W(s.Who), paper.I(s.Days), paper.W(calendar(s)), paper.W(s.Start.String()), paper.W(s.LastDay.String()), paper.W(start.String()),
			paper.I(s.Float), spare, paper.W(state(s)), paper.W(waits(s.Needs))))
	}
	return trade.Dense(t)
}

// groupName is a group of tasks in words.
func groupName(group string) string {
	switch group {
	case "site":
		return "Survey and design"
	case "permit":
		return "Permits"
	case "supply":
		return "Order and supply"
	case "works":
		return "Works on site by others"
	case "delivery":
		return "Delivery and installation"
	case "start-up":
		return "Start-up"
	}
	return group
}

// waits keeps what a task waits on to what a cell holds.
func waits(needs string) string {
	const most = 90
	if len([]rune(needs)) <= most {
		return needs
	}
	cut := string([]rune(needs)[:most])
	if i := strings.LastIndex(cut, "; "); i > 0 {
		cut = cut[:i]
	}
	return cut + fmt.Sprintf(" and %d more", strings.Count(needs[len(cut):], "; "))
}
