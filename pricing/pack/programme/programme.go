// Package programme says when the brewery can open and what must begin when: the bars
// from survey to opening with the critical path, float and latest starts, the permits
// with their instruments and lead times, who does what, what is open, and the public
// holidays counted.
//
// It prints the programme's result and decides none. Begin with Sections and Bars.
package programme

import (
	"fmt"
	"slices"

	"tunwright/configurator"
	"tunwright/configurator/programme"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
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
	last := trade.Blocks(trade.Facts(r, "programme-facts", "site.listed_building", "site.crane_on_road", "site.drainage.effluent_consent", "site.supply.fuse_a"), trade.Open(r, configurator.Programme, "programme-open"))
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
		fact("Public holidays", fmt.Sprintf("%d", len(p.Holidays)), "within the span"),
	}}
}

// criticalTable is the chain that sets the date.
func criticalTable(p *programme.Result) paper.Table {
	t := paper.Table{
		Name: "critical-path", Title: "Critical path: a day lost here is a day lost at the opening",
		Columns: []paper.Column{{Title: "Task"}, {Title: "By"}, {Title: "Days", Kind: paper.Number}, {Title: "Counted in"}, {Title: "Earliest start"}, {Title: "Last day"}},
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
		Columns: []paper.Column{{Title: "Task"}, {Title: "By"}, {Title: "Latest start"}, {Title: "Earliest start now"}},
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
		Columns: []paper.Column{{Title: "Party"}, {Title: "Tasks", Kind: paper.Number}, {Title: "First due"}, {Title: "What is due first"}},
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
		Columns: []paper.Column{{Title: "Question"}, {Title: "Task counted"}, {Title: "By"}, {Title: "Float", Unit: "days", Kind: paper.Number}},
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
	t := paper.Table{Name: "holidays", Title: "Public holidays counted", Columns: []paper.Column{{Title: "Day"}, {Title: "Weekday"}}}
	for _, h := range p.Holidays {
		t.Rows = append(t.Rows, say.Row(paper.W(h.String()), paper.W(weekdays[h.Weekday()])))
	}
	return t
}

var weekdays = [...]string{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"}

// sources are those of the rules and the instruments of the permits.
func sources(r configurator.Report) paper.Sources {
	out := trade.Sources(r, configurator.Programme)
	for _, s := range r.Programme.Trace {
		if c := say.Cite(s.Source); c != "" && !slices.Contains(out.Items, c) {
			out.Items = append(out.Items, c)
		}
	}
	return out
}

// Workings lay the critical path down step by step.
func Workings(r configurator.Report) []paper.Section {
	if r.Programme == nil || len(r.Programme.Trace) == 0 {
		return nil
	}
	return []paper.Section{{Title: "Workings: programme", NewPage: true, Blocks: []paper.Block{say.Working("", r.Programme.Trace)}}}
}
