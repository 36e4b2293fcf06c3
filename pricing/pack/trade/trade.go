// Package trade holds what the paper of every trade has beside its own figures: why a
// discipline was not worked out, the facts it rests on and how each is known, what
// fails or is open, who does what, and the sources.
//
// Begin with Facts, Open and ByWhom. It decides no figure.
package trade

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/source"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// Gap is the one section of a paper whose discipline has no figures.
func Gap(r configurator.Report, d configurator.Discipline, title string) []paper.Section {
	words := "no reason was given"
	for _, g := range r.Gaps {
		if g.Discipline == d {
			words = g.Words
		}
	}
	return []paper.Section{{Title: title, Blocks: []paper.Block{say.Note("%s", say.Sentence("Not worked out: "+words))}}}
}

// What names the table of Facts, and the column in it that says how a fact is known.
const (
	FactsTitle = "Facts of the site this rests on"
	FactsBasis = 2
)

// Facts lists what the paper rests on: each fact of the enquiry under one of the
// paths, with how it is known. Facts nobody knows stand in it as such; what is the
// same in several places is one row.
func Facts(r configurator.Report, name string, paths ...string) paper.Table {
	t := paper.Table{
		Name: name, Title: FactsTitle,
		Columns: []paper.Column{{Title: "Fact", Width: 42}, {Title: "Value", Width: 18}, {Title: "Known how", Width: 14}, {Title: "By whom, or why assumed", Width: 35}, {Title: "Settled by", Width: 34}},
	}
	lines := slices.DeleteFunc(enquiry.Facts(r.Project), func(l enquiry.Line) bool { return !under(l.Path, paths) })
	for _, g := range Alike(lines) {
		l := g.Line
		settle := l.Ask
		if l.Basis == enquiry.Measured {
			settle = ""
		}
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(g.Words())), paper.W(say.Or(l.Value, "—")), paper.W(l.Basis.Word()), paper.W(l.Why), paper.W(settle)))
	}
	return t
}

// Fact is a line of the enquiry with the places that have it alike.
type Fact struct {
	enquiry.Line
	places []string
}

// Alike gathers the lines that say the same of several places, each where the first of
// them stood.
func Alike(lines []enquiry.Line) []Fact {
	var out []Fact
	for _, l := range lines {
		same := func(f Fact) bool {
			return f.What == l.What && f.Value == l.Value && f.Basis == l.Basis && f.Why == l.Why
		}
		i := slices.IndexFunc(out, same)
		if i < 0 {
			out = append(out, Fact{Line: l})
			i = len(out) - 1
		}
		if l.Where != "" && !slices.Contains(out[i].places, l.Where) {
			out[i].places = append(out[i].places, l.Where)
		}
	}
	return out
}

// Words name the fact behind the places it holds for.
func (f Fact) Words() string {
	const most = 3
	switch n := len(f.places); {
	case n == 0:
		return f.What
	case n <= most:
		return strings.Join(f.places, ", ") + ": " + f.What
	default:
		return fmt.Sprintf("%s to %s (%d): %s", f.places[0], f.places[n-1], n, f.What)
	}
}

// under tells whether a path is one of some, or below one of them; one that begins with
// a star stands for every path with that end.
func under(path string, paths []string) bool {
	return slices.ContainsFunc(paths, func(p string) bool {
		if end, ok := strings.CutPrefix(p, "*"); ok {
			return strings.HasSuffix(path, end)
		}
		return path == p || strings.HasPrefix(path, p+".") || strings.HasPrefix(path, p+"[")
	})
}

// Open lists what fails or cannot be answered in a discipline, one row a rule with
// every subject named, and the first remedy that was tried and passes.
func Open(r configurator.Report, d configurator.Discipline, name string) paper.Table {
	t := paper.Table{
		Name: name, Title: "What fails and what is open",
		Columns: []paper.Column{{Title: "Check", Width: 11}, {Title: "Weight", Width: 11}, {Title: "On", Width: 22}, {Title: "Found", Width: 66}, {Title: "Would mend it", Width: 42}},
	}
	for _, g := range r.OpenGroups() {
		if g.Discipline != d {
			continue
		}
		remedy := ""
		if all := g.Remedies(); len(all) > 0 {
			remedy = all[0].Words
		}
		t.Rows = append(t.Rows, say.Row(paper.W(g.Rule.ID), paper.W(weight(g.Finding)), paper.W(few(g.Subjects())), paper.W(found(g)), paper.W(remedy)))
	}
	return Dense(t)
}

func found(g configurator.Group) string {
	words := say.Sentence(g.Words)
	if n := len(g.Members); n > 1 && g.Subject != "" {
		return fmt.Sprintf("%s (worst of %d: %s)", words, n, g.Subject)
	}
	return words
}

func weight(f configurator.Finding) string {
	if f.Outcome == rule.Unknown {
		return "open"
	}
	return f.Rule.Severity.String()
}

// few keeps a list of subjects to what a cell holds.
func few(subjects string) string {
	const most = 4
	list := strings.Split(subjects, ", ")
	if len(list) <= most {
		return subjects
	}
	return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
}

// Task is one piece of work with who does it.
type Task struct{ What, Who string }

// ByWhom is who does what at the border between two trades.
func ByWhom(name string, tasks ...Task) paper.Table {
	t := paper.Table{Name: name, Title: "Who does what", Columns: []paper.Column{{Title: "Work", Width: 62}, {Title: "By", Width: 38}}}
	for _, x := range tasks {
		t.Rows = append(t.Rows, say.Row(paper.W(x.What), paper.W(x.Who)))
	}
	return t
}

// Sources lists the documents and practice that the discipline's rules go by, each
// once, in the order in which the checks were made. What follows from statics or
// arithmetic names no document and is left out.
func Sources(r configurator.Report, d configurator.Discipline) paper.Sources {
	var out paper.Sources
	for _, f := range r.Findings {
		if f.Discipline != d || f.Outcome == rule.NotApplicable || f.Rule.Source.Provenance == source.Derived {
			continue
		}
		if c := Cite(r, f.Rule.Source); c != "" && !slices.Contains(out.Items, c) {
			out.Items = append(out.Items, c)
		}
	}
	return out
}

// Cite is a citation without what it says of the United States, unless the site is
// there.
func Cite(r configurator.Report, s source.Ref) string {
	if r.Project.Site.Country != "US" && strings.HasPrefix(s.Note, "in the US ") {
		s.Note = ""
	}
	return say.Cite(s)
}

// Blocks leaves out tables without rows, which say nothing.
func Blocks(blocks ...paper.Block) []paper.Block {
	return slices.DeleteFunc(blocks, func(b paper.Block) bool {
		switch x := b.(type) {
		case paper.Table:
			return len(x.Rows) == 0
		case paper.Sources:
			return len(x.Items) == 0
		}
		return b == nil
	})
}

// Dense leaves out the columns in which no row has anything: a sheet with empty
// columns makes a reader look for what is missing.
func Dense(t paper.Table) paper.Table {
	if len(t.Rows) == 0 {
		return t
	}
	keep := make([]bool, len(t.Columns))
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			keep[i] = keep[i] || !c.Empty()
		}
	}
	out := t
	out.Columns, out.Rows = nil, nil
	for i, c := range t.Columns {
		if keep[i] {
			out.Columns = append(out.Columns, c)
		}
	}
	for _, r := range t.Rows {
		row := r
		if r.Kind != paper.Group {
			row.Cells = nil
			for i, c := range r.Cells {
				if keep[i] {
					row.Cells = append(row.Cells, c)
				}
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// Pick is the table with the columns of some keys, in that order, under a name and a
// title of its own.
func Pick(t paper.Table, name, title string, keys ...string) paper.Table {
	out := paper.Table{Name: name, Title: title}
	var at []int
	for _, k := range keys {
		if i := slices.IndexFunc(t.Columns, func(c paper.Column) bool { return c.Name() == k }); i >= 0 {
			at = append(at, i)
			out.Columns = append(out.Columns, t.Columns[i])
		}
	}
	for _, r := range t.Rows {
		row := paper.Row{Kind: r.Kind, Name: r.Name}
		for _, i := range at {
			row.Cells = append(row.Cells, r.Cells[i])
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// Join puts rows that differ in their first cell alone into one, where the first of them
// stood, and names them all in it.
func Join(t paper.Table) paper.Table {
	out := t
	out.Rows = nil
	from := 0 // of the group; rows of two groups are not joined
	for _, r := range t.Rows {
		if r.Kind != paper.Item {
			out.Rows = append(out.Rows, r)
			from = len(out.Rows)
			continue
		}
		same := func(o paper.Row) bool { return slices.Equal(o.Cells[1:], r.Cells[1:]) }
		if i := slices.IndexFunc(out.Rows[from:], same); i >= 0 {
			at := &out.Rows[from+i]
			at.Cells = slices.Clone(at.Cells)
			at.Cells[0].Text += ", " + r.Cells[0].Text
			continue
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// Quantity is the head of a column of numbers.
func Quantity(key, title, symbol string) paper.Column {
	return paper.Column{Key: key, Title: title, Unit: symbol, Kind: paper.Number}
}

// Text is the head of a column of words.
func Text(key, title string) paper.Column { return paper.Column{Key: key, Title: title} }

// Same takes out a column that says the same in every row and says it in a note.
func Same(t paper.Table, key string) paper.Table {
	i := slices.IndexFunc(t.Columns, func(c paper.Column) bool { return c.Name() == key })
	if i < 0 || len(t.Rows) < 2 || t.Rows[0].Kind != paper.Item {
		return t
	}
	words := t.Rows[0].Cells[i].Text
	for _, r := range t.Rows {
		switch {
		case r.Kind == paper.Group:
		case r.Kind != paper.Item && r.Cells[i].Empty():
		case r.Kind != paper.Item, r.Cells[i].Text != words:
			return t
		}
	}
	if words == "" {
		return t
	}
	out := t
	out.Notes = append([]string{t.Columns[i].Title + ", for all: " + words + "."}, t.Notes...)
	out.Columns = slices.Delete(slices.Clone(t.Columns), i, i+1)
	out.Rows = make([]paper.Row, len(t.Rows))
	for k, r := range t.Rows {
		out.Rows[k] = r
		if r.Kind != paper.Group {
			out.Rows[k].Cells = slices.Delete(slices.Clone(r.Cells), i, i+1)
		}
	}
	return out
}

// Plain says in a note what a column of words says alike in every row of a table of
// some length: such a column takes room and tells nothing row by row. The first column
// names the rows and stays.
func Plain(t paper.Table) paper.Table {
	const rows = 4 // from which on the note is shorter than the column
	if len(t.Rows) < rows {
		return t
	}
	whole := t
	for i, c := range whole.Columns[1:] {
		if c.Kind == paper.Words && !byHand(whole.Rows, i+1) {
			t = Same(t, c.Name())
		}
	}
	return t
}

// byHand tells whether a column is left to be filled in: it holds dots to write on.
func byHand(rows []paper.Row, column int) bool {
	return slices.ContainsFunc(rows, func(r paper.Row) bool {
		return r.Kind == paper.Item && strings.HasPrefix(r.Cells[column].Text, "…")
	})
}
