package vessels

import (
	"slices"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/pressure"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// protectionTable is what each vessel has and needs against too much and too little
// pressure.
func protectionTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "pressure-protection", Title: "What each vessel asks for and has",
		Columns: []paper.Column{{Title: "Vessels"}, {Title: "Highest category"}, {Title: "Relief: flow area asked for, and what is fitted"}, {Title: "Vacuum relief"}, {Title: "Beer at rest", Unit: "bar(g)", Kind: paper.Number}},
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

// fittedTable is what the maker fits and declares, and how the vessel is used, as the
// register took it. What nobody said stands as unknown.
func fittedTable(r configurator.Report) paper.Table {
	n, x := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "pressure-fitted", Title: "What is fitted and declared, and how it is used",
		Columns: []paper.Column{
			x("tags", "Vessels"), x("relief", "Relief valve"), n("set", "Set at", "bar(g)"), n("area", "Its flow area", "mm²"), x("vacuum", "Vacuum valve"), n("varea", "Its area", "mm²"),
			x("hot", "Cleaned hot"), n("gas", "Gas supply at most", "bar(g)"), x("declared", "Declaration"), x("body", "Body's certificate"),
		},
		Notes: []string{"Gas supply at most: the pressure behind a regulator that fails open."},
	}
	b := bunch{table: &t}
	for _, v := range r.Inputs.Pressure.Vessels {
		if v.PS == nil || *v.PS == 0 {
			continue
		}
		cells := append([]paper.Cell{{}}, fitted(v)...)
		key := ""
		for _, c := range cells {
			key += c.Text + c.Figure + "|"
		}
		b.add(v.Tag, key, cells...)
	}
	return t
}

func fitted(v pressure.Vessel) []paper.Cell {
	unknown := paper.W("unknown")
	relief, set, area := unknown, paper.Cell{}, paper.Cell{}
	if v.Relief != nil {
		relief = paper.W(say.YesNo(v.Relief.Fitted))
		if v.Relief.Fitted {
			set, area = say.Number(v.Relief.Set, "bar_g", 1), known(v.Relief.Area)
		}
	}
	vacuum, opening := unknown, paper.Cell{}
	if v.Vacuum != nil {
		vacuum = paper.W(say.YesNo(v.Vacuum.Fitted))
		if v.Vacuum.Fitted {
			opening = known(v.Vacuum.Area)
		}
	}
	gas := say.Maybe(v.GasMax, "bar_g", 1)
	if v.GasMax != nil && *v.GasMax == 0 {
		gas = paper.W("none")
	}
	return []paper.Cell{relief, set, area, vacuum, opening, answer(v.HotClean), gas, answer(v.Papers.Conformity), answer(v.Papers.Body)}
}

// known is an area, of which nought means that the maker does not state it.
func known(a unit.Area) paper.Cell {
	if a == 0 {
		return paper.W("unknown")
	}
	return say.Number(a, "mm2", 0)
}

func answer(b *bool) paper.Cell {
	if b == nil {
		return paper.W("unknown")
	}
	return paper.W(say.YesNo(*b))
}

// reliefTable is the cases that a relief valve is sized for.
func reliefTable(p *pressure.Result) paper.Table {
	t := paper.Table{
		Name: "relief-cases", Title: "Cases of relief",
		Columns: []paper.Column{{Title: "Vessels"}, {Title: "Case"}, {Title: "Flow", Align: paper.Right}, {Title: "Flow area", Unit: "mm²", Kind: paper.Number}, {Title: "Remark"}, {Title: "Source"}},
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
		Columns: []paper.Column{{Title: "Vessels"}, {Title: "Case"}, {Title: "Inside if no air follows", Unit: "bar(a)", Kind: paper.Number}, {Title: "Valve's area", Unit: "mm²", Kind: paper.Number}, {Title: "Remark"}},
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
		Columns: []paper.Column{{Title: "Paper"}, {Title: "For"}, {Title: "From"}, {Title: "Before"}, {Title: "Why"}, {Title: "Received"}},
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
