package haccp

import (
	"strings"

	"tunwright/catalog/unit"
)

// codexSteps lays the plan out along the twelve steps of Codex CXC 1-1969.
//
// Source: Codex CXC 1-1969, application of the HACCP system, from memory.
func codexSteps(in Input, r Result) []CodexStep {
	n := func(x int) string { return unit.Digits(float64(x), 4) }
	return []CodexStep{
		{1, "Assemble the team and define the scope", "Scope: from receipt of materials to " + last(r) + ".", "Name the team: brewer, packaging, whoever cleans, an adviser for food safety; give one person the duty."},
		{2, "Describe the product", n(len(r.Products)) + " beers described.", "Confirm alcohol, pH, shelf life and storage of each from measurements."},
		{3, "Identify the intended use", "Drunk as it is by adults.", "Add unusual buyers: export, mixed drinks, caterers."},
		{4, "Construct the flow diagram", n(len(r.Flow)) + " steps drafted from the equipment chosen.", "Add rework, blending, yeast recovery and every return line."},
		{5, "Confirm the flow diagram on site", "", "Walk the lines with the diagram during a brew and a packaging day; sign and date it."},
		{6, "List hazards and analyse them (principle 1)", n(len(r.Hazards)) + " hazards, each with severity and chance from 1 to 3; 6 of 9 counts as significant.", "Judge severity and chance for this brewery; add what is missing."},
		{7, "Determine the critical control points (principle 2)", n(len(r.CCPs)) + " proposed: " + names(r) + ".", "Answer the decision questions for each and write the answer down."},
		{8, "Set validated critical limits (principle 3)", "Proposals stand in the table.", "Validate each limit by a study, a supplier's statement or literature before use."},
		{9, "Set up monitoring (principle 4)", "What, how and how often is proposed.", "Name who does it and the stand-in."},
		{10, "Set out corrective actions (principle 5)", "Proposed for each critical point.", "Say who may release held beer."},
		{11, "Validate and verify (principle 6)", "Verification is proposed for each hazard.", "Plan an internal audit each year and after each change of plant or recipe."},
		{12, "Keep documents and records (principle 7)", n(len(r.Records)) + " records listed.", "Set how long they are kept: at least the shelf life and one year, common practice."},
	}
}

func last(r Result) string {
	if len(r.Flow) == 0 {
		return "delivery"
	}
	return strings.ToLower(r.Flow[len(r.Flow)-1].Name)
}

func names(r Result) string {
	if len(r.CCPs) == 0 {
		return "none; most controls of a brewery are prerequisite programmes"
	}
	list := make([]string, len(r.CCPs))
	for i, at := range r.CCPs {
		list[i] = strings.ToLower(r.Hazards[at].Step) + " (" + r.Hazards[at].Hazard + ")"
	}
	return strings.Join(list, "; ")
}

// Markdown writes the plan as a text that the food business can edit.
func Markdown(r Result) string {
	var b strings.Builder
	line := func(parts ...string) {
		for _, p := range parts {
			b.WriteString(p)
		}
		b.WriteByte('\n')
	}
	line("# ", r.Title)
	line()
	line("> ", r.Notice)
	line()
	line("## The twelve steps")
	line()
	table(&b, []string{"No", "Step", "Drafted", "Left to do"}, len(r.Steps), func(i int) []string {
		s := r.Steps[i]
		return []string{unit.Digits(float64(s.No), 2), s.Title, s.Drafted, s.ToDo}
	})
	line("## Products and intended use")
	line()
	table(&b, []string{"Beer", "Alcohol", "pH", "Packs", "Kept", "Intended use", "Allergens", "Note"}, len(r.Products), func(i int) []string {
		p := r.Products[i]
		return []string{p.Beer, p.ABV, p.PH, p.Packs, p.Kept, p.Use, p.Allergens, p.Note}
	})
	line("## Flow diagram")
	line()
	table(&b, []string{"No", "Step", "In", "Out"}, len(r.Flow), func(i int) []string {
		s := r.Flow[i]
		return []string{unit.Digits(float64(s.No), 3), s.Name, s.In, s.Out}
	})
	line("## Hazard analysis")
	line()
	table(&b, []string{"Step", "Kind", "Hazard", "Cause", "Severity", "Chance", "Control", "Verdict"}, len(r.Hazards), func(i int) []string {
		h := r.Hazards[i]
		return []string{h.Step, h.Kind, h.Hazard, h.Cause, unit.Digits(float64(h.Severity), 1), unit.Digits(float64(h.Chance), 1), h.Control, string(h.Verdict)}
	})
	line("## Limits, monitoring and correction")
	line()
	table(&b, []string{"Step", "Hazard", "Verdict", "Limit (proposal)", "Monitoring", "Correction", "Verification", "Record"}, len(r.Hazards), func(i int) []string {
		h := r.Hazards[i]
		return []string{h.Step, h.Hazard, string(h.Verdict), h.Limit, h.Monitor, h.Correct, h.Verify, h.Record}
	})
	line("## Allergens")
	line()
	table(&b, []string{"Beer", "Allergen", "From", "Label"}, len(r.Allergens), func(i int) []string {
		a := r.Allergens[i]
		return []string{a.Beer, a.Allergen, a.From, a.Declare}
	})
	list(&b, "Prerequisite programmes", r.PRPs)
	list(&b, "Records", r.Records)
	list(&b, "Law", r.Law)
	return b.String()
}

func list(b *strings.Builder, title string, items []string) {
	b.WriteString("## " + title + "\n\n")
	for _, s := range items {
		b.WriteString("- " + s + "\n")
	}
	b.WriteByte('\n')
}

func table(b *strings.Builder, head []string, n int, row func(int) []string) {
	cells := func(cs []string) {
		for _, c := range cs {
			b.WriteString("| ")
			b.WriteString(strings.ReplaceAll(strings.ReplaceAll(c, "|", "\\|"), "\n", " "))
			b.WriteByte(' ')
		}
		b.WriteString("|\n")
	}
	cells(head)
	b.WriteString(strings.Repeat("|---", len(head)) + "|\n")
	for i := range n {
		cells(row(i))
	}
	b.WriteByte('\n')
}
