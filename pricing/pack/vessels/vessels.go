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
	"tunwright/pricing/pack/structure/trade"
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
	last := trade.Blocks(papersTable(p), trade.Open(r, configurator.Pressure, "pressure-open"), byWhom())
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
		{Title: "Relief and vacuum protection", Wide: true, Blocks: trade.Blocks(protectionTable(p), reliefTable(p), vacuumTable(p))},
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
	words := fmt.Sprintf("%s: %d need a written scheme of examination, %d verdicts rest on lines to be confirmed", counted(len(p.Register), "chamber"), scheme, doubt)
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
	n := func(key, title, symbol string, width paper.Share) paper.Column {
		return paper.Column{Key: key, Title: title, Unit: symbol, Kind: paper.Number, Width: width}
	}
	x := func(key, title string, width paper.Share) paper.Column {
		return paper.Column{Key: key, Title: title, Width: width}
	}
	t := paper.Table{
		Name: "pressure-register", Title: "Chambers",
		Columns: []paper.Column{
			x("tag", "Tag", 26), x("chamber", "Chamber", 13), x("holds", "Holds", 34), n("group", "Group", "", 10), n("v", "V", "L", 11), n("ps", "PS", "bar(g)", 10), n("pv", "PS·V", "bar·L", 12), n("low", "TS from", "°C", 12), n("high", "TS to", "°C", 12),
			x("category", "Category", 18), x("why", "Why", 52), x("caution", "To confirm", 50), x("scheme", "Written scheme", 14),
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
		scheme := "no"
		if row.InUse.Scheme {
			scheme = "yes"
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
		Columns: []paper.Column{{Title: "Category", Width: 14}, {Title: "Chambers", Width: 40}, {Title: "Modules", Width: 26}, {Title: "Body", Width: 9}, {Title: "Mark", Width: 22}, {Title: "Papers of the maker", Width: 34}},
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
		Name: "pressure-in-use", Title: "Written scheme and examinations",
		Columns: []paper.Column{{Title: "Chambers", Width: 40}, {Title: "Written scheme", Width: 13}, {Title: "Why", Width: 52}, {Title: "Interval", Width: 22}, {Title: "Source", Width: 26}},
	}
	for _, s := range together(p, func(r pressure.Row) string { return r.InUse.Words + r.InUse.Interval }) {
		u := s.first.InUse
		t.Rows = append(t.Rows, say.Row(paper.W(strings.Join(s.tags, ", ")), paper.W(say.YesNo(u.Scheme)), paper.W(u.Words), paper.W(u.Interval), paper.W(say.Cite(u.Source))))
	}
	return trade.Dense(t)
}

// protectionTable is what each vessel has and needs against too much and too little
// pressure.
func protectionTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "pressure-protection", Title: "What each vessel asks for and has",
		Columns: []paper.Column{{Title: "Vessels", Width: 44}, {Title: "Highest category", Width: 18}, {Title: "Relief: flow area asked for, and what is fitted", Width: 62}, {Title: "Vacuum relief", Width: 46}, {Title: "Beer at rest", Unit: "bar(g)", Kind: paper.Number, Width: 14}},
	}
	b := bunch{table: &t}
	for _, v := range p.Vessels {
		if len(v.Register) == 0 || v.Overall == pressure.Out && len(v.Cases) == 0 && !v.Needs {
			continue
		}
		row := p.Register[v.Register[0]]
		equal := paper.Cell{}
		if v.Equal != nil {
			equal = say.Number(*v.Equal, "bar_g", 2)
			t.Notes = []string{"Beer at rest: equilibrium pressure of the carbonated beer at the highest temperature it is kept at; the tank's PS must lie above it."}
		}
		b.add(v.Tag, strings.Join([]string{string(v.Overall), row.Relief, row.VacuumWords, equal.Figure}, "|"), paper.Cell{}, paper.W(string(v.Overall)), paper.W(row.Relief), paper.W(row.VacuumWords), equal)
	}
	return trade.Dense(t)
}

// bunch fills a table in which things alike stand in one row with all their tags.
type bunch struct {
	table  *paper.Table
	column int // in which the tags stand
	keys   []string
	tags   [][]string
}

func (b *bunch) add(tag, key string, cells ...paper.Cell) {
	at := slices.Index(b.keys, key)
	if at < 0 {
		at, b.keys, b.tags = len(b.keys), append(b.keys, key), append(b.tags, nil)
		b.table.Rows = append(b.table.Rows, say.Row(cells...))
	}
	b.tags[at] = append(b.tags[at], tag)
	b.table.Rows[at].Cells[b.column] = paper.W(strings.Join(b.tags[at], ", "))
}

// reliefTable is the cases that a relief valve is sized for.
func reliefTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "relief-cases", Title: "Cases of relief",
		Columns: []paper.Column{{Title: "Vessels", Width: 40}, {Title: "Case", Width: 36}, {Title: "Flow", Width: 18, Align: paper.Right}, {Title: "Flow area", Unit: "mm²", Kind: paper.Number, Width: 14}, {Title: "Remark", Width: 52}, {Title: "Source", Width: 34}},
		Notes:   []string{"The largest known area governs. A case without an area is not sized yet and may govern: its flow must be found first."},
	}
	b := bunch{table: &t}
	for _, v := range p.Vessels {
		for _, c := range v.Cases {
			area := paper.W("not sized")
			if c.Known {
				area = say.Number(c.Area, "mm2", 1)
			}
			flow := say.Quantity(c.Flow)
			b.add(v.Tag, strings.Join([]string{c.Name, flow, area.Figure, c.Words}, "|"), paper.Cell{}, paper.W(c.Name), paper.W(flow), area, paper.W(c.Words), paper.W(say.Cite(c.Source)))
		}
	}
	return trade.Dense(t)
}

// vacuumTable is the cases in which a tank can be sucked in.
func vacuumTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "vacuum-cases", Title: "Cases of vacuum",
		Columns: []paper.Column{{Title: "Vessels", Width: 40}, {Title: "Case", Width: 40}, {Title: "Inside if no air follows", Unit: "bar(a)", Kind: paper.Number, Width: 20}, {Title: "Valve's area", Unit: "mm²", Kind: paper.Number, Width: 16}, {Title: "Remark", Width: 80}},
	}
	b := bunch{table: &t}
	for _, v := range p.Vessels {
		for _, c := range v.Vacuum {
			area, inside := paper.Cell{}, paper.Cell{}
			if c.Area > 0 {
				area = say.Number(c.Area, "mm2", 0)
			}
			if c.Inside > 0 {
				inside = say.Number(c.Inside, "bar_a", 2)
			}
			b.add(v.Tag, strings.Join([]string{c.Name, inside.Figure, area.Figure, c.Words}, "|"), paper.Cell{}, paper.W(c.Name), inside, area, paper.W(c.Words))
		}
	}
	return trade.Dense(t)
}

// papersTable is what the buyer must receive.
func papersTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "pressure-papers", Title: "Papers the buyer must receive",
		Columns: []paper.Column{{Title: "Paper", Width: 50}, {Title: "For", Width: 46}, {Title: "From", Width: 28}, {Title: "Before", Width: 16}, {Title: "Why", Width: 36}, {Title: "Received", Width: 17}},
		Notes:   []string{"Received: date and initials. Without its papers a vessel is not put under pressure."},
	}
	b := bunch{table: &t, column: 1}
	for _, x := range p.Papers {
		b.add(x.Tag, x.Paper+"|"+x.From+"|"+x.Before, paper.W(x.Paper), paper.Cell{}, paper.W(x.From), paper.W(x.Before), paper.W(reason(x.Why)), paper.W("……"))
	}
	return t
}

// reason leaves out the category of the first vessel, which the register has for each.
func reason(why string) string {
	if strings.HasPrefix(why, "vessel: ") || strings.HasPrefix(why, "jacket: ") {
		return "category in the register"
	}
	return why
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
