package revisions

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/pack/client/phrase"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/quotation"
)

// Revision is one revision of a quotation, as its snapshot keeps it.
type Revision struct {
	Letter   string
	Date     pricing.Date
	Sections []quotation.Section
}

// Paper says what changed from the older revision to the newer: how much on the first
// page, then a table a subject with what was and what is. What did not change is not
// printed.
func Paper(older, newer Revision, l paper.Locale) ([]paper.Section, error) {
	d, err := quotation.Between(older.Sections, newer.Sections)
	if err != nil {
		return nil, fmt.Errorf("revision %s against %s: %w", newer.Letter, older.Letter, err)
	}
	w := writer{Voice: phrases.In(l), older: older, newer: newer}
	w.changes, w.quiet = w.telling(d.Changes)
	out := []paper.Section{{Title: w.Say("title.short"), Blocks: w.short()}}
	for _, name := range w.subjects() {
		out = append(out, paper.Section{Title: w.name(name), Blocks: []paper.Block{w.table(name)}})
	}
	return out, nil
}

type writer struct {
	phrase.Voice
	older, newer Revision
	changes      []quotation.Change
	quiet        int // checks in order that came or went
}

// telling leaves out the checks in order that came or went with a piece of equipment:
// nobody has to act on them. They are counted.
func (w writer) telling(all []quotation.Change) (told []quotation.Change, quiet int) {
	passed := w.Say("finding.passed")
	for _, c := range all {
		came := c.Was == nil && c.Now != nil && c.Now.Value == passed
		went := c.Now == nil && c.Was != nil && c.Was.Value == passed
		if c.Section == findings && (came || went) {
			quiet++
			continue
		}
		told = append(told, c)
	}
	return told, quiet
}

func (w writer) name(section string) string { return w.Known("section."+section, section) }

func (w writer) label(label string) string {
	if rate, ok := strings.CutPrefix(label, "Tax "); ok {
		return w.Say("label.tax", rate)
	}
	return w.Known("label."+label, label)
}

// subjects are the sections in which something changed, in the order of the newer
// revision, those that are gone last.
func (w writer) subjects() []string {
	var out []string
	for _, list := range [][]quotation.Section{w.newer.Sections, w.older.Sections} {
		for _, s := range list {
			changed := slices.ContainsFunc(w.changes, func(c quotation.Change) bool { return c.Section == s.Name })
			if changed && !slices.Contains(out, s.Name) {
				out = append(out, s.Name)
			}
		}
	}
	return out
}

func (w writer) short() []paper.Block {
	args := []any{w.newer.Letter, w.Date(w.newer.Date), w.older.Letter, w.Date(w.older.Date)}
	if len(w.changes) == 0 {
		return []paper.Block{paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(w.Say("short.none", args...))}}
	}
	lead := w.Say("short.one", args...)
	if len(w.changes) > 1 {
		lead = w.Say("short.lead", append(args, len(w.changes))...)
	}
	blocks := []paper.Block{paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(lead)}}
	if price := w.price(); len(price) > 0 {
		blocks = append(blocks, paper.Facts{Facts: price})
	} else {
		blocks = append(blocks, say.Para("%s", w.Say("short.same-price")))
	}
	blocks = append(blocks, w.counts())
	if w.quiet > 0 {
		blocks = append(blocks, paper.Note{Text: paper.Plain(w.Say("short.quiet", w.quiet))})
	}
	if w.German() {
		blocks = append(blocks, paper.Paragraph{Voice: paper.Small, Text: paper.Plain(w.Say("short.as-it-is"))})
	}
	return blocks
}

// price is what the totals were and are, where they changed.
func (w writer) price() []paper.Fact {
	var out []paper.Fact
	for _, c := range w.changes {
		if c.Section != "Price" || c.Was == nil || c.Now == nil || c.Now.Key != "net" && c.Now.Key != "gross" {
			continue
		}
		out = append(out, paper.Fact{Name: w.label(c.Now.Label), Value: paper.W(c.Was.Value + " → " + c.Now.Value)})
	}
	return out
}

// counts says how many figures of each subject changed, came and went.
func (w writer) counts() paper.Table {
	t := paper.Table{
		Name: "changes", Title: w.Say("short.title"),
		Columns: []paper.Column{
			{Title: w.Say("col.subject"), Width: 52},
			{Title: w.Say("col.changed"), Kind: paper.Number, Width: 16},
			{Title: w.Say("col.added"), Kind: paper.Number, Width: 16},
			{Title: w.Say("col.removed"), Kind: paper.Number, Width: 16},
		},
	}
	for _, name := range w.subjects() {
		changed, added, removed := 0, 0, 0
		for _, c := range w.changes {
			switch {
			case c.Section != name:
			case c.Was == nil:
				added++
			case c.Now == nil:
				removed++
			default:
				changed++
			}
		}
		t.Rows = append(t.Rows, say.Row(paper.W(w.name(name)), paper.I(changed), paper.I(added), paper.I(removed)))
	}
	return t
}

// table lists the changes of one subject.
func (w writer) table(section string) paper.Table {
	t := paper.Table{
		Name: "changes-" + strings.ToLower(section), Title: w.Say("table.title", w.name(section)),
		Columns: []paper.Column{
			{Title: w.Say("col.what"), Width: 42},
			{Title: w.Say("col.was"), Width: 29},
			{Title: w.Say("col.now"), Width: 29},
		},
	}
	for _, c := range w.changes {
		if c.Section == section {
			t.Rows = append(t.Rows, w.row(c))
		}
	}
	return t
}

func (w writer) row(c quotation.Change) paper.Row {
	switch {
	case c.Was == nil && c.Now == nil:
		return say.Row(paper.Cell{}, paper.Cell{}, paper.Cell{})
	case c.Was == nil:
		return say.Row(w.what(c.Section, c.Now), paper.W(w.Say("cell.not-there")), paper.W(c.Now.Value))
	case c.Now == nil:
		return say.Row(w.what(c.Section, c.Was), paper.W(c.Was.Value), paper.W(w.Say("cell.gone")))
	case c.Was.Value == c.Now.Value:
		return say.Row(w.what(c.Section, c.Was), paper.W(c.Was.Value), paper.W(w.Say("cell.renamed", c.Now.Label)))
	}
	return say.Row(w.what(c.Section, c.Now), paper.W(c.Was.Value), paper.W(c.Now.Value))
}

// what names a figure; the mark of a line or a product stands before its name.
func (w writer) what(section string, e *quotation.Entry) paper.Cell {
	if tag, ok := strings.CutPrefix(e.Key, "line "); ok {
		return paper.W(tag + " " + e.Label)
	}
	if section == "Products" {
		return paper.W(strings.TrimPrefix(e.Key, "by others ") + " " + e.Label)
	}
	return paper.W(w.label(e.Label))
}
