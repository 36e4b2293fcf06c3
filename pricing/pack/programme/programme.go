// Package programme says when the brewery can open and what must begin when: the bars
// from survey to opening with the critical path, float and latest starts, the permits
// with their instruments and lead times, who does what, what is open, and the public
// holidays counted.
//
// It prints the programme's result and decides none. Begin with Sections and Bars.
package programme

import (
	"fmt"
	"strings"

	"tunwright/configurator"
	"tunwright/configurator/programme"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/structure/trade"
	"tunwright/pricing/paper"
)

// Title is the paper's own.
const Title = "Permits and programme"

// Sections is the programme for client, office and trades.
func Sections(r configurator.Report) []paper.Section {
	if r.Programme == nil {
		return trade.Gap(r, configurator.Programme, Title)
	}
	p := r.Programme
	out := []paper.Section{{Title: Title, NewPage: true, Blocks: trade.Blocks(
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(lead(p))},
		paper.Caution{Title: "Programme", Lines: say.Texts(programme.Cautions())},
		facts(p), criticalTable(p), lateTable(p), dutyTable(p), openTable(p), holidayTable(p),
	)}}
	out = append(out, paper.Section{Title: "Bars", NewPage: true, Wide: true, Blocks: barBlocks(p)})
	out = append(out,
		paper.Section{Title: "Permits", NewPage: true, Wide: true, Blocks: trade.Blocks(permitTable(p))},
		paper.Section{Title: "All tasks", Wide: true, Blocks: trade.Blocks(taskTable(p))},
	)
	last := trade.Blocks(trade.Open(r, configurator.Programme, "programme-open"))
	if src := sources(r); len(src.Items) > 0 {
		last = append(last, say.Heading("Rules and sources"), src)
	}
	if len(last) == 0 {
		return out
	}
	return append(out, paper.Section{Title: "Checks and sources", Blocks: last})
}

// lead is the sentence that matters most.
func lead(p *programme.Result) string {
	words := "The earliest honest opening is " + p.Earliest.Words()
	if p.Opening == 0 {
		return words + "; no opening date was said."
	}
	spare := int(p.Spare.N())
	switch {
	case spare < 0:
		words += fmt.Sprintf(", %d working days after the opening wished for, %s", -spare, p.Opening.Words())
	case spare == 0:
		words += ", the very day wished for"
	default:
		words += fmt.Sprintf(", %d working days before the opening wished for, %s", spare, p.Opening.Words())
	}
	if p.OrderBy > 0 {
		words += "; for that day the order must be given by " + p.OrderBy.Words()
	}
	return words + "."
}

func facts(p *programme.Result) paper.Facts {
	fact := func(name, value, note string) paper.Fact {
		return paper.Fact{Name: name, Value: paper.W(value), Note: note}
	}
	open := 0
	for _, s := range p.Steps {
		if s.Open {
			open++
		}
	}
	return paper.Facts{Columns: 2, Facts: []paper.Fact{
		fact("Counted from", p.From.Words(), ""),
		fact("Opening wished for", p.Opening.Words(), ""),
		fact("Earliest opening", p.Earliest.Words(), "every task at its usual length"),
		fact("Order at the latest", p.OrderBy.Words(), "for the opening wished for"),
		fact("Tasks", fmt.Sprintf("%d", len(p.Steps)), fmt.Sprintf("%d critical, %d may fall away", len(p.Critical), open)),
		fact("Public holidays", fmt.Sprintf("%d", len(p.Holidays)), "within the span, on working days"),
	}}
}

// criticalTable is the chain that sets the date.
func criticalTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "critical-path", Title: "Critical path: a day lost here is a day lost at the opening",
		Columns: []paper.Column{{Title: "Task", Width: 56}, {Title: "By", Width: 12}, {Title: "Days", Kind: paper.Number, Width: 9}, {Title: "Counted in", Width: 16}, {Title: "Earliest start", Width: 17}, {Title: "Last day", Width: 17}},
	}
	for _, i := range p.Critical {
		s := p.Steps[i]
		t.Rows = append(t.Rows, say.Row(paper.W(s.Name), paper.W(s.Who), paper.I(s.Days), paper.W(calendar(s)), paper.W(s.Start.String()), paper.W(s.LastDay.String())))
	}
	return t
}

func calendar(s programme.Step) string {
	if s.EveryDay {
		return "calendar days"
	}
	return "working days"
}

// lateTable is what should have begun already for the opening wished for.
func lateTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "late-tasks", Title: "Should have begun already for the opening wished for",
		Columns: []paper.Column{{Title: "Task", Width: 60}, {Title: "By", Width: 14}, {Title: "Latest start", Width: 20}, {Title: "Earliest start now", Width: 20}},
	}
	for _, i := range p.Late {
		s := p.Steps[i]
		t.Rows = append(t.Rows, say.Row(paper.W(s.Name), paper.W(s.Who), paper.W(s.Needed.String()), paper.W(s.Start.String())))
	}
	return t
}

// dutyTable is who does how much and what comes first.
func dutyTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "duties", Title: "Who does how much",
		Columns: []paper.Column{{Title: "Party", Width: 14}, {Title: "Tasks", Kind: paper.Number, Width: 9}, {Title: "First due", Width: 17}, {Title: "What is due first", Width: 90}},
	}
	for _, d := range p.ByWho {
		first := ""
		for _, i := range d.Steps {
			if s := p.Steps[i]; s.Needed == d.Next || p.Opening == 0 && s.Start == d.Next {
				first = say.Join(first, s.Name)
			}
		}
		t.Rows = append(t.Rows, say.Row(paper.W(d.Who), paper.I(len(d.Steps)), paper.W(d.Next.String()), paper.W(first)))
	}
	return t
}

// openTable is the facts whose answer adds or takes away a task.
func openTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "open-facts", Title: "Not known yet: an answer may take these tasks away",
		Columns: []paper.Column{{Title: "Question", Width: 52}, {Title: "Task counted", Width: 44}, {Title: "By", Width: 12}, {Title: "Float", Unit: "days", Kind: paper.Number, Width: 10}},
		Notes:   []string{"While nobody knows, the task is counted, so that the date is honest. Float in days of the task's own calendar; 0 is critical."},
	}
	for _, s := range p.Steps {
		if s.Open && !s.Over {
			t.Rows = append(t.Rows, say.Row(paper.W(question(s.Decides)), paper.W(s.Name), paper.W(s.Who), paper.I(s.Float)))
		}
	}
	return t
}

// question is an unknown fact as it is asked.
func question(fact string) string {
	switch fact {
	case "new-use":
		return "Do the premises change their use?"
	case "build-work":
		return "Do the works need approval under building regulations?"
	case "listed":
		return "Is the building listed, or is there a party wall or a landlord's licence?"
	case "network":
		return "Must the network operator strengthen the supply?"
	case "water-supply":
		return "Is a new water connection needed?"
	case "effluent":
		return "Does trade effluent go to the sewer?"
	case "structural":
		return "Must an engineer confirm the floor?"
	case "crane":
		return "Is a crane needed?"
	case "road-closure":
		return "Must a road or a footway be closed?"
	case "taproom":
		return "Are drinks sold to the public on the premises?"
	case "trade":
		return "Is beer sold to traders?"
	case "noise":
		return "Does the authority ask for a noise report?"
	case "scheme":
		return "Does the pressure equipment need a written scheme?"
	case "grain-feed":
		return "Does spent grain go to feed?"
	case "large-works":
		return "Do the works exceed 30 days with more than 20 workers, or 500 person-days?"
	}
	return fact
}

func holidayTable(p *programme.Result) paper.Table {
	t := paper.Table{Name: "holidays", Title: "Public holidays counted", Columns: []paper.Column{{Title: "Day", Width: 20}, {Title: "Weekday", Width: 60}}}
	for _, h := range p.Holidays {
		t.Rows = append(t.Rows, say.Row(paper.W(h.String()), paper.W(weekdays[h.Weekday()])))
	}
	return t
}

var weekdays = [...]string{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}

// permitTable is each permit with its instrument and lead time.
func permitTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "permits", Title: "Permits, consents and notices",
		Columns: []paper.Column{
			{Title: "Permit", Width: 46},
			{Title: "By", Width: 12},
			{Title: "Instrument", Width: 48},
			{Title: "Lead", Kind: paper.Number, Width: 9},
			{Title: "Counted in", Width: 20},
			{Title: "Basis", Width: 18},
			{Title: "Earliest start", Width: 17},
			{Title: "Latest start", Width: 17},
			{Title: "Decision by", Width: 17},
			{Title: "State", Width: 16},
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
			{Title: "Task", Width: 52},
			{Title: "By", Width: 12},
			{Title: "Days", Kind: paper.Number, Width: 9},
			{Title: "Counted in", Width: 20},
			{Title: "Earliest start", Width: 17},
			{Title: "Last day", Width: 17},
			{Title: "Latest start", Width: 17},
			{Title: "Float", Unit: "days", Kind: paper.Number, Width: 10},
			{Title: "Spare", Unit: "days", Kind: paper.Number, Width: 10},
			{Title: "State", Width: 16},
			{Title: "Waits on", Width: 56},
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

// sources are those of the rules and the instruments of the permits.
func sources(r configurator.Report) paper.Sources {
	out := trade.Sources(r, configurator.Programme)
	for _, s := range r.Programme.Trace {
		if c := say.Cite(s.Source); c != "" && !contains(out.Items, c) {
			out.Items = append(out.Items, c)
		}
	}
	return out
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// Workings lay the critical path down step by step.
func Workings(r configurator.Report) []paper.Section {
	if r.Programme == nil || len(r.Programme.Trace) == 0 {
		return nil
	}
	return []paper.Section{{Title: "Workings: programme", NewPage: true, Blocks: []paper.Block{say.Working("", r.Programme.Trace)}}}
}
