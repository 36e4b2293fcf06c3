// Package vessels says what the competent person, the maker and the buyer need to know
// of the pressure equipment: a register of every chamber with its category, exceptions
// and doubts, relief and vacuum protection, when a written scheme of examination is
// due, and the papers the buyer must receive.
//
// It prints figures of the pressure result and decides none. Begin with Sections.
package vessels

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/pressure"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// Title is the paper's own.
const Title = "Pressure equipment schedule"

// Sections is what the competent person is sent.
func Sections(r configurator.Report) []paper.Section {
	if r.Pressure == nil {
		return trade.Gap(r, configurator.Pressure, Title)
	}
	p := r.Pressure
	if len(p.Register) == 0 {
		return []paper.Section{{Title: Title, NewPage: true, Blocks: []paper.Block{say.Note("No vessel is chosen in this project."), caution()}}}
	}
	last := trade.Blocks(papersTable(p), trade.Facts(r, "pressure-facts", "site.co2_line_bar_g", "site.co2_regulator_kg_h", "site.cleaning", "site.written_scheme_planned"), trade.Open(r, configurator.Pressure, "pressure-open"), byWhom())
	if src := sources(r); len(src.Items) > 0 {
		last = append(last, say.Heading("Rules and sources"), src)
	}
	return []paper.Section{
		{Title: Title, NewPage: true, Blocks: trade.Blocks(
			paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(lead(p))},
			say.Para("PS is the highest allowed pressure by the maker, V the total inside volume, heads and cone included. A verdict holds for these two figures alone: another plate, another verdict."),
			caution(), categoryTable(p), schemeTable(p),
		)},
		{Title: "Register of chambers", NewPage: true, Wide: true, Blocks: trade.Blocks(registerTable(p))},
		{Title: "Relief and vacuum protection", Wide: true, Blocks: trade.Blocks(protectionTable(p), fittedTable(r), reliefTable(p), vacuumTable(p))},
		{Title: "Papers, open questions and who does what", NewPage: true, Blocks: last},
	}
}

func caution() paper.Caution {
	return paper.Caution{Title: "Pressure", Lines: say.Texts(pressure.Cautions())}
}

// lead counts what there is.
func lead(p *pressure.Result) string {
	scheme, open, doubt := 0, 0, 0
	for _, row := range p.Register {
		if row.Unknown != "" {
			open++
			continue
		}
		if row.InUse.Scheme {
			scheme++
		}
		if row.Verdict.Caution != "" || row.Verdict.Alternative != "" {
			doubt++
		}
	}
	words := fmt.Sprintf("%s: %d need a written scheme of examination or an inspection before first use, %d verdicts rest on lines to be confirmed", counted(len(p.Register), "chamber"), scheme, doubt)
	if open > 0 {
		words += fmt.Sprintf(", %d cannot be given yet", open)
	}
	return words + "."
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// registerTable is every chamber, in the order of the equipment.
func registerTable(p *pressure.Result) paper.Table {
	n, x := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "pressure-register", Title: "Chambers",
		Columns: []paper.Column{
			x("tag", "Tag"), x("chamber", "Chamber"), x("holds", "Holds"), n("group", "Group", ""), n("v", "V", "L"), n("ps", "PS", "bar(g)"), n("pv", "PS·V", "bar·L"), n("low", "TS from", "°C"), n("high", "TS to", "°C"),
			x("category", "Category"), x("why", "Why"), x("caution", "To confirm"), x("scheme", "Due before first use"),
		},
		Notes: []string{"Group: of the fluid, 2 is not dangerous in itself. V with a star is estimated from the working volume: the maker's figure replaces it. SEP: sound engineering practice, Art. 4(3); no CE or UKCA mark for pressure. Table numbers are those of Annex II to Directive 2014/68/EU."},
	}
	for _, row := range p.Register {
		if row.Unknown != "" {
			t.Rows = append(t.Rows, say.Row(
				paper.W(row.Tag), paper.W(row.Chamber), paper.W(row.Fluid), paper.I(row.Group), paper.W("?"), paper.W("?"), paper.Cell{}, paper.Cell{}, paper.Cell{},
				paper.W("open"), paper.W(row.Unknown), paper.Cell{}, paper.W("open")))
			continue
		}
		scheme := "—"
		if row.InUse.Scheme {
			scheme = "scheme or inspection"
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(row.Tag), paper.W(row.Chamber), paper.W(row.Fluid), paper.I(row.Group), volume(row), say.Number(row.PS, "bar_g", 1), say.Number(row.PV, "bar_l", 0),
			temperature(row.TSLow), temperature(row.TSHigh), category(row.Verdict), paper.W(why(row.Verdict)), paper.W(doubt(row.Verdict)), paper.W(scheme)))
	}
	return trade.Dense(t)
}

func volume(row pressure.Row) paper.Cell {
	cell := say.Number(row.Volume, "l", 0)
	if row.Assumed {
		return paper.W(cell.Figure + " *")
	}
	return cell
}

func temperature(t *unit.Temperature) paper.Cell {
	if t == nil {
		return paper.Cell{}
	}
	return say.Number(*t, "c", 0)
}

func category(v pressure.Verdict) paper.Cell {
	words := string(v.Category)
	if v.Alternative != "" {
		words += " or " + string(v.Alternative)
	}
	cell := paper.W(words)
	if v.Category != pressure.Out && v.Category != pressure.SEP {
		cell = cell.Bold()
	}
	return cell
}

func why(v pressure.Verdict) string {
	if v.Table > 0 {
		return fmt.Sprintf("table %d: %s", v.Table, v.Words)
	}
	return v.Words
}

// doubt is what must be confirmed before anybody relies on a verdict.
func doubt(v pressure.Verdict) string {
	words := v.Caution
	if v.Alternative != "" {
		words = say.Join(fmt.Sprintf("%s if the line at PS 4 bar does not hold", v.Alternative), words)
	}
	return words
}

// same is chambers to which the same words apply.
type same struct {
	first pressure.Row
	tags  []string
}

// together puts the chambers of one key into one entry, in the order of their first.
func together(p *pressure.Result, key func(pressure.Row) string) []same {
	var out []same
	var keys []string
	for _, row := range p.Register {
		k := key(row)
		if row.Unknown != "" || k == "" {
			continue
		}
		at := slices.Index(keys, k)
		if at < 0 {
			at, keys, out = len(out), append(keys, k), append(out, same{first: row})
		}
		if name := chamber(row); !slices.Contains(out[at].tags, name) {
			out[at].tags = append(out[at].tags, name)
		}
	}
	return out
}

func chamber(row pressure.Row) string {
	if row.Chamber == "jacket" {
		return row.Tag + " jacket"
	}
	return row.Tag
}

// categoryTable is what follows from each category for maker and buyer.
func categoryTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "pressure-categories", Title: "Categories and what follows from them",
		Columns: []paper.Column{{Title: "Category"}, {Title: "Chambers"}, {Title: "Modules"}, {Title: "Body"}, {Title: "Mark"}, {Title: "Papers of the maker"}},
	}
	list := together(p, func(r pressure.Row) string {
		return strings.Join([]string{string(r.Verdict.Category), string(r.Verdict.Alternative), r.Consequence.Papers, r.Consequence.Marking}, "|")
	})
	for _, s := range list {
		c := s.first.Consequence
		t.Rows = append(t.Rows, say.Row(category(s.first.Verdict), paper.W(strings.Join(s.tags, ", ")), paper.W(c.Modules), paper.W(string(c.Body)), paper.W(c.Marking), paper.W(c.Papers)))
	}
	return t
}

// schemeTable is the duty of the user while the equipment is in use.
func schemeTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "pressure-in-use", Title: "Examinations while in use",
		Columns: []paper.Column{{Title: "Chambers"}, {Title: "Before first use"}, {Title: "What is due"}, {Title: "Interval"}, {Title: "Source"}},
	}
	for _, s := range together(p, func(r pressure.Row) string { return say.YesNo(r.InUse.Scheme) + r.InUse.Words + r.InUse.Interval }) {
		u := s.first.InUse
		t.Rows = append(t.Rows, say.Row(paper.W(strings.Join(s.tags, ", ")), paper.W(due(u)), paper.W(u.Words), paper.W(u.Interval), paper.W(say.Cite(u.Source))))
	}
	return trade.Dense(t)
}

// due says whether something must be done before first use.
func due(u pressure.InUse) string {
	if u.Scheme {
		return "scheme or inspection"
	}
	return "—"
}

// sources are those of the rules and of the verdicts.
func sources(r configurator.Report) paper.Sources {
	out := trade.Sources(r, configurator.Pressure)
	for _, row := range r.Pressure.Register {
		for _, s := range []string{say.Cite(row.Verdict.Source), say.Cite(row.Consequence.Source), say.Cite(row.InUse.Source)} {
			if s != "" && !slices.Contains(out.Items, s) {
				out.Items = append(out.Items, s)
			}
		}
	}
	return out
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"pressure-by-whom",
		trade.Task{What: "Category, design, test, mark and papers of each vessel", Who: "maker, with a notified or approved body where the category asks for one"},
		trade.Task{What: "Relief and vacuum devices fitted, set and sealed before first pressure", Who: "maker or our fitters, as the register says"},
		trade.Task{What: "Written scheme of examination, first examination before use, then at its intervals", Who: "competent person appointed by the client"},
		trade.Task{What: "Regulator and relief valve of the gas supply, set below the lowest PS behind it", Who: "gas supplier and fitter"},
		trade.Task{What: "Safe operating limits posted, training, records kept", Who: "client as user"},
		trade.Task{What: "Gathering the papers at delivery and handing them over", Who: "us"},
	)
}

// Workings show how each figure came about.
func Workings(r configurator.Report) []paper.Section {
	if r.Pressure == nil || len(r.Pressure.Trace) == 0 {
		return nil
	}
	return []paper.Section{{Title: "Workings: pressure equipment", NewPage: true, Blocks: []paper.Block{say.Working("", r.Pressure.Trace)}}}
}
