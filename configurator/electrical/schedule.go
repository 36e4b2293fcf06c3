package electrical

import (
	"math"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
)

// Table is rows ready to be printed or written to a file.
type Table struct {
	Title   string
	Columns []Column
	Rows    [][]string
}

// Column is one column with its unit.
type Column struct {
	Name, Unit string
	Number     bool // set to the right
}

// Line is one labelled figure of a header or footer, with how it is known.
type Line struct{ Label, Value, Basis string }

// num prints the number of a quantity in one of its units, without the symbol, so
// that a column carries the unit once.
func num(q unit.Quantity, key string, decimals int) string {
	u, ok := q.Kind().ByKey(key)
	if !ok {
		u = q.Kind().Shown()
	}
	return strconv.FormatFloat(u.From(q.SI()), 'f', decimals, 64)
}

// Schedule is the circuit schedule, a row for each circuit, in the columns that the
// schedule of circuit details of BS 7671 Appendix 6 asks for as far as they belong to
// design. No column for measured results is filled in.
func (f Facts) Schedule() Table {
	nec := f.Input.Rules == NEC
	t := Table{Title: "Circuit schedule", Columns: scheduleColumns(nec)}
	for i := range f.Result.Circuits {
		t.Rows = append(t.Rows, f.scheduleRow(i, nec))
	}
	return t
}

func scheduleColumns(nec bool) []Column {
	n := func(name, u string) Column { return Column{name, u, true} }
	w := func(name string) Column { return Column{Name: name} }
	cpc, loop := "Protective conductor", "Zs max"
	if nec {
		cpc, loop = "Grounding conductor", ""
	}
	cols := []Column{
		w("Ref"), w("Lines"), w("Description"), w("Item"), n("Input", "kW"), n("cos φ", ""), n("η", ""), n("Ib", "A"),
		n("Start", "A"), w("Starter"), w("Duty"), w("States"), w("Interlock"), w("Device"), n("Breaking", "kA"), w("RCD"),
		n("Leakage", "mA"), w("Cable"), w("Method"), n("Length", "m"), n("Ca", ""), n("Cg", ""), w("Live"), w(cpc),
		n("Iz", "A"), n("Drop", "V"), n("Drop", "%"), n("From origin", "%"),
	}
	if loop != "" {
		cols = append(cols, n("R1+R2", "Ω"), n("Zs", "Ω"), n(loop, "Ω"))
	}
	return append(cols, w("Isolator"), w("Connection"), w("IP"), w("Governed by"), w("Status"))
}

func (f Facts) scheduleRow(i int, nec bool) []string {
	c := &f.Result.Circuits[i]
	start := ""
	if c.StartCurrent > c.Ib {
		start = num(c.StartCurrent, "a", 0)
	}
	row := []string{
		c.Tag, c.Lines, c.Name, c.Item, num(c.Power, "kw", 2), num(c.PF, "ratio", 2), num(c.Eta, "ratio", 2), c.designText(),
		start, f.starterWords(i), c.dutyWords(), f.stateKeys(i), c.Group,
	}
	if c.Problem != "" {
		row = append(row, "—", "", "", "", c.Problem)
		for len(row) < len(scheduleColumns(nec))-1 {
			row = append(row, "")
		}
		return append(row, c.status())
	}
	row = append(
		row, c.Device.Text(), c.Device.breakingText(), c.RCD.Text(), num(c.Leakage, "ma", 1),
		c.Cable.Type, string(c.Cable.Method), num(c.Cable.Length, "m", 0), num(c.Cable.Ca, "ratio", 2), num(c.Cable.Cg, "ratio", 2),
		c.Cable.Live(), c.Cable.Protective(), num(c.Cable.Iz, "a", 1), num(c.Drop, "v", 1), num(c.DropShare, "pct", 2), num(c.DropTotal, "pct", 2),
	)
	if !nec {
		zs := "unknown"
		if c.Zs != nil {
			zs = num(*c.Zs, "ohm", 3)
		}
		row = append(row, num(c.R1R2, "ohm", 3), zs, num(c.ZsMax, "ohm", 3))
	}
	return append(row, c.Isolator.Text(), c.Connection, c.IP, c.Governed, c.status())
}

func (f Facts) starterWords(i int) string {
	l := &f.Input.Loads[i]
	switch {
	case l.Kind == Element && l.Control == Staged && l.Stages > 1:
		return strconv.Itoa(l.Stages) + " stages"
	case l.Kind == Element && l.Control == SolidState:
		return "solid-state"
	case l.Kind == Element:
		return "contactor"
	case l.Kind == Motor && (l.Starter == "" || l.Starter == NoStarter):
		return string(Direct)
	case l.Starter == NoStarter:
		return ""
	}
	return string(l.Starter)
}

// designText prints Ib to a tenth of an ampere, upwards where rounding down would
// make it seem to fit a smaller device.
func (c *Circuit) designText() string {
	ib := c.Ib.A()
	shown := math.Round(ib*10) / 10
	if step, ok := next(breakerMCCB, shown); ok && step < ib-1e-9 {
		shown = math.Ceil(ib*10) / 10
	}
	return strconv.FormatFloat(shown, 'f', 1, 64)
}

func (c *Circuit) dutyWords() string {
	if c.Continuous {
		return "continuous"
	}
	return "intermittent"
}

// stateKeys lists the states a load runs in.
func (f Facts) stateKeys(i int) string {
	var keys []string
	for s := range f.Result.States {
		for _, run := range f.Result.States[s].Runs {
			if run.Load == i {
				keys = append(keys, f.Result.States[s].Key)
			}
		}
	}
	if len(keys) == len(f.Result.States) {
		return "all"
	}
	return strings.Join(keys, " ")
}

func (c *Circuit) status() string {
	s := "nameplate"
	if c.Estimate {
		s = "estimate"
	}
	if c.Assumed {
		s += ", route assumed"
	}
	return s
}

// Live names the line conductors.
func (c Cable) Live() string {
	if c.Label != "" {
		return c.Label
	}
	return unit.Text(c.Section)
}

// Protective names the protective conductor.
func (c Cable) Protective() string {
	if c.CPCText != "" {
		return c.CPCText
	}
	return unit.Text(c.CPC)
}

func (d Device) breakingText() string {
	if d.Breaking == 0 {
		return "unknown"
	}
	return unit.Digits(d.Breaking.A()/1000, 3)
}

// Text is a residual current device in short, such as 30 mA type A.
func (r RCD) Text() string {
	switch {
	case r.Residual == 0:
		return "—"
	case r.Type == "GFCI":
		return "GFCI"
	}
	s := unit.In(r.Residual, "ma", 0) + " type " + r.Type
	if !r.Needed {
		s += " (advised)"
	}
	return s
}

// Text is an isolator in short.
func (o Isolator) Text() string {
	s := unit.Digits(o.Rating.A(), 4) + " A " + strconv.Itoa(o.Poles) + "P " + o.IP
	if o.Lockable {
		s += " lockable"
	}
	return s
}

// StateTable is the demand of each state: what each line carries, in print form.
func (f Facts) StateTable() Table {
	lines := f.Result.Supply.Lines
	t := Table{Title: "Demand by state of the brew day", Columns: []Column{{Name: "State"}, {Name: "From"}, {"Lasts", "h", true}}}
	for l := range lines {
		t.Columns = append(t.Columns, Column{"L" + strconv.Itoa(l+1), "A", true})
	}
	t.Columns = append(t.Columns, Column{"Neutral", "A", true}, Column{"Margin", "A", true}, Column{"Peak", "kW", true}, Column{"Peak", "kVA", true}, Column{"Mean", "kW", true}, Column{"Uneven", "%", true}, Column{Name: "Runs"})
	for s := range f.Result.States {
		d := &f.Result.States[s]
		row := []string{d.Title, clock(d.Start), num(d.Hours, "h", 2)}
		for l := range lines {
			row = append(row, num(d.Line[l], "a", 1))
		}
		margin := "unknown"
		if d.Margin != nil {
			margin = num(*d.Margin, "a", 1)
		}
		row = append(row, num(d.Neutral, "a", 1), margin, num(d.Power, "kw", 1), num(d.Apparent, "kva", 1), num(d.Mean, "kw", 1), num(d.Imbalance, "pct", 1), d.runWords())
		t.Rows = append(t.Rows, row)
	}
	return t
}

// runWords lists what runs, with shares below the whole.
func (d *StateDemand) runWords() string {
	var b strings.Builder
	for i, run := range d.Runs {
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(run.Tag)
		if p := run.Peak.Value(); p < 0.9995 {
			b.WriteString("×" + unit.Digits(p, 2))
		}
	}
	return b.String()
}

// clock prints a time of day.
func clock(t unit.Duration) string {
	m := int(t.Min()+0.5) % 1440
	return pad(m/60) + ":" + pad(m%60)
}

func pad(n int) string {
	if n < 10 {
		return "0" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// CaseTable is the verdict under other assumptions.
func (f Facts) CaseTable() Table {
	t := Table{Title: "What if", Columns: []Column{{Name: "Assumption"}, {"Needs", "A", true}, {"Gives", "A", true}, {"Margin", "A", true}, {Name: "Verdict"}}}
	for _, c := range f.Result.Cases {
		row := []string{c.Name, num(c.Demand, "a", 1), "unknown", "unknown", "unknown"}
		if c.Margin != nil {
			row[2], row[3], row[4] = num(*c.Available, "a", 1), num(*c.Margin, "a", 1), "does not fit"
			if c.Passes {
				row[4] = "fits"
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// LoadTable is the connected load by circuit with the energy of a brew day.
func (f Facts) LoadTable() Table {
	t := Table{Title: "Loads", Columns: []Column{{Name: "Ref"}, {Name: "Description"}, {Name: "Product"}, {"Phases", "", true}, {"Rated", "kW", true}, {"Input", "kW", true}, {"Brew day", "kWh", true}, {Name: "Interlock"}}}
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		t.Rows = append(t.Rows, []string{
			l.Tag, l.Name, l.Product, strconv.Itoa(l.Phases), num(l.Power, "kw", 2), num(f.Result.Circuits[i].Power, "kw", 2), num(f.Result.Energy.Loads[i], "kwh", 1), l.Group,
		})
	}
	return t
}

// EnergyTable is the energy of a brew day by state, and the sums.
func (f Facts) EnergyTable() Table {
	t := Table{Title: "Energy of a brew day", Columns: []Column{{Name: "State"}, {"Lasts", "h", true}, {"Mean", "kW", true}, {"Energy", "kWh", true}}}
	e := &f.Result.Energy
	for s := range f.Result.States {
		d := &f.Result.States[s]
		t.Rows = append(t.Rows, []string{d.Title, num(d.Hours, "h", 2), num(d.Mean, "kw", 1), num(e.States[s], "kwh", 1)})
	}
	t.Rows = append(t.Rows, []string{"Brew day", "", "", num(e.Day, "kwh", 1)})
	if max(f.Input.Brews, 1) > 1 {
		t.Rows = append(t.Rows, []string{"One brew", "", "", num(e.Brew, "kwh", 1)})
	}
	if e.PerVolume != nil {
		t.Rows = append(t.Rows, []string{"For each hectolitre", "", "", num(*e.PerVolume, "kwh_hl", 1)})
	}
	for _, b := range e.Bands {
		t.Rows = append(t.Rows, []string{"of it in band " + b.Name, "", "", num(b.Energy, "kwh", 1)})
	}
	return t
}
