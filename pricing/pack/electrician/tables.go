package electrician

import (
	"slices"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// table turns rows ready to print into a table of the paper.
func table(name string, from electrical.Table) paper.Table {
	t := paper.Table{Name: name, Title: from.Title}
	for _, c := range from.Columns {
		col := paper.Column{Key: c.Name, Title: c.Name, Unit: c.Unit}
		for _, other := range t.Columns {
			if other.Key == col.Key {
				col.Key = c.Name + " " + c.Unit
			}
		}
		if c.Number {
			col.Kind = paper.Number
		}
		t.Columns = append(t.Columns, col)
	}
	for _, cells := range from.Rows {
		row := paper.Row{}
		for i, s := range cells {
			row.Cells = append(row.Cells, cell(s, from.Columns[i].Number))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func cell(s string, number bool) paper.Cell {
	if number {
		if _, err := strconv.ParseFloat(s, 64); err == nil {
			return paper.Decimal(s)
		}
	}
	return paper.W(held(s))
}

// held keeps a figure and its unit on one line.
func held(s string) string {
	const most = 9 // as 2.5 mm²
	if s == "" || s[0] < '0' || s[0] > '9' || len([]rune(s)) > most {
		return s
	}
	return strings.ReplaceAll(s, " ", "\u00a0")
}

// ScheduleTable is the circuit schedule with every column, for a spreadsheet; the
// paper prints the same columns in three parts.
func ScheduleTable(r configurator.Report) paper.Table {
	return table("circuit-schedule", Facts(r).Schedule())
}

// printedSchedule is the circuit schedule as the paper shows it.
func printedSchedule(f electrical.Facts) []paper.Block {
	whole := table("circuit-schedule", f.Schedule())
	loads := trade.Pick(whole, "circuits-loads", "Circuit schedule, part 1: loads", "Ref", "Lines", "Description", "Input", "cos φ", "η", "Ib", "Start", "Starter", "Duty", "States", "Interlock", "Status")
	loads.Notes = []string{"Input: electrical input at full load. Ib: design current. Start: at switching on. States: " + stateKey(f) + ". Status tells rating plate from estimate; estimates are replaced before the design."}
	cables := trade.Pick(whole, "circuits-cables", "Circuit schedule, part 2: protection and cable", "Ref", "Description", "Device", "Breaking", "RCD", "Leakage", "Cable", "Method", "Length", "Ca", "Cg", "Live", "Protective conductor", "Grounding conductor", "Iz", "Governed by")
	cables.Notes = []string{"Method: reference method of installation by IEC 60364-5-52. Length: one way along the route, with drops. Ca, Cg: factors for ambient and grouping. Governed by: the check that decided the conductor: Iz its capacity as laid, Vd the voltage drop, Zs the fault loop, adiabatic the heat of a fault; start: the starting current raised the device and with it the conductor."}
	checks := trade.Pick(whole, "circuits-checks", "Circuit schedule, part 3: voltage drop, fault loop, isolation", "Ref", "Description", "Drop", "Drop %", "From origin", "R1+R2", "Zs", "Zs max", "Isolator", "Connection", "IP", "Item")
	checks.Notes = []string{"Drop: of the circuit; from origin: with the feeder. Zs max: for the device suggested. No measured test result is filled in: testing is the installer's."}
	return []paper.Block{trade.Fit(trade.Plain(trade.Dense(loads)), trade.Sideways), trade.Fit(trade.Plain(trade.Dense(cables)), trade.Sideways), trade.Fit(trade.Plain(trade.Dense(checks)), trade.Sideways)}
}

// stateKey names the states by the words that the schedule uses for them.
func stateKey(f electrical.Facts) string {
	var out []string
	for i := range f.Result.States {
		s := &f.Result.States[i]
		out = append(out, s.Key+" = "+strings.ToLower(s.Title))
	}
	return strings.Join(out, "; ")
}

// lines are labelled figures with how each is known.
func lines(columns int, list []electrical.Line) paper.Facts {
	out := paper.Facts{Columns: columns}
	for _, l := range list {
		if l.Basis == l.Value {
			l.Basis = ""
		}
		out.Facts = append(out.Facts, paper.Fact{Name: l.Label, Value: paper.W(l.Value), Note: l.Basis})
	}
	return out
}

// without leaves out the lines of one label, which another section prints in full.
func without(list []electrical.Line, label string) []electrical.Line {
	return slices.DeleteFunc(list, func(l electrical.Line) bool { return l.Label == label })
}

// stateTable is the demand of each state; the one that decides is set bold.
func stateTable(f electrical.Facts) paper.Table {
	t := table("demand-by-state", f.StateTable())
	for i := range t.Rows {
		if i == f.Result.Binding.State {
			for k := range t.Rows[i].Cells {
				t.Rows[i].Cells[k].Strong = true
			}
		}
	}
	t.Notes = []string{"Line currents are sums at any moment, on the safe side of the sum of phasors. Margin: what is left on the worst line of fuse less existing load. Bold: the state that decides. Uneven: greatest departure of a line from the mean. ×: share of the rated current."}
	return t
}

// stopTable gathers what an emergency stop drops and what it leaves on.
func stopTable(f electrical.Facts) paper.Table {
	t := paper.Table{
		Name: "emergency-stop", Title: "Emergency stop (ISO 13850; stop category 0 or 1 by IEC 60204-1)",
		Columns: []paper.Column{{Title: "At a stop", Width: 38}, {Title: "Loads", Width: 62}},
		Notes:   []string{"To be settled with the risk assessment of the machines: where the buttons are, what each drops. An emergency stop is not isolation."},
	}
	var order []string
	tags := map[string][]string{}
	for _, s := range f.Stops() {
		if tags[s.Why] == nil {
			order = append(order, s.Why)
		}
		tags[s.Why] = append(tags[s.Why], s.Tag)
	}
	for _, why := range order {
		t.Rows = append(t.Rows, say.Row(paper.W(why), paper.W(strings.Join(tags[why], ", "))))
	}
	return t
}

// zoneTable is the protection asked for in each kind of place.
func zoneTable(f electrical.Facts) paper.Table {
	t := paper.Table{
		Name: "ip-zones", Title: "Zones of ingress protection",
		Columns: []paper.Column{{Title: "Zone", Width: 34}, {Title: "At least", Width: 16}, {Title: "Connections", Width: 50}},
	}
	var order []string
	tags := map[string][]string{}
	for _, p := range f.Points() {
		k := p.Zone + "\x00" + p.IP
		if tags[k] == nil {
			order = append(order, k)
		}
		tags[k] = append(tags[k], p.Tag)
	}
	for _, k := range order {
		zone, ip, _ := strings.Cut(k, "\x00")
		t.Rows = append(t.Rows, say.Row(paper.W(zone), paper.W(ip), paper.W(strings.Join(tags[k], ", "))))
	}
	return t
}

// residualTable is the residual current devices with why each is there, and the
// leakage of the circuits behind them against what a device bears.
func residualTable(f electrical.Facts) paper.Table {
	n, w := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "residual-devices", Title: "Residual current devices, one to each circuit",
		Columns: []paper.Column{w("rcd", "Device"), w("circuits", "Circuits"), w("why", "Why"), n("leakage", "Most leakage", "mA"), n("allowed", "Bears", "mA")},
		Notes:   []string{"Bears: 30 % of the residual current, so that standing leakage does not trip the device. Circuits put behind one device add their leakage up."},
	}
	type group struct {
		rcd  electrical.RCD
		tags []string
		most unit.Current
	}
	var groups []group
	for i := range f.Result.Circuits {
		c := &f.Result.Circuits[i]
		if c.RCD.Residual == 0 {
			continue
		}
		k := slices.IndexFunc(groups, func(g group) bool {
			return g.rcd.Text() == c.RCD.Text() && g.rcd.Reasoning == c.RCD.Reasoning
		})
		if k < 0 {
			groups = append(groups, group{rcd: c.RCD})
			k = len(groups) - 1
		}
		groups[k].tags, groups[k].most = append(groups[k].tags, c.Tag), max(groups[k].most, c.RCD.Leakage)
	}
	for _, g := range groups {
		t.Rows = append(t.Rows, say.Row(paper.W(g.rcd.Text()), paper.W(strings.Join(g.tags, ", ")), paper.W(g.rcd.Reasoning), say.Number(g.most, "ma", 1), say.Number(g.rcd.Allowed, "ma", 0)))
	}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}
