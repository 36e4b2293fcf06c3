package electrical

import (
	"strconv"
	"strings"

	"tunwright/catalog/unit"
)

// Header is the top of the electrician's papers: rules, system, supply, each figure
// with how it is known. Project, revision, date and author are the caller's.
func (f Facts) Header() []Line {
	s, r := &f.Input.Supply, &f.Result.Supply
	known := func(b bool) string {
		if b {
			return "given"
		}
		return "assumed"
	}
	lines := []Line{{"Rules", f.edition(), ""}, {"System", f.systemWords(), known(s.Phases != nil)}, {"Meter", orUnknown(s.Meter), basisOf(s.Meter != "", "told")}}
	lines = append(
		lines,
		Line{"Earthing", orUnknown(s.Earthing), basisOf(s.Earthing != "", "told")},
		Line{"Supply fuse", quantityOr(s.Fuse, 0), basisOf(s.Fuse != nil, string(s.FuseBasis))},
		Line{"Existing load, worst line", f.existingWords(), basisOf(r.Available != nil || s.Existing != nil || s.PerLine != nil, string(s.Basis))},
		Line{"Agreed capacity", quantityOr(s.Agreed, 0), basisOf(s.Agreed != nil, "told")},
	)
	if f.Input.Rules == IEC {
		lines = append(lines, Line{"External earth fault loop Ze", quantityOr(s.Ze, 2), basisOf(s.Ze != nil, "declared or measured")})
	}
	lines = append(lines, Line{"Prospective fault current", quantityOr(s.Fault, 0), basisOf(s.Fault != nil, "declared or measured")})
	ambient := unit.Celsius(35)
	if a := f.Input.Install.Ambient; a != nil {
		ambient = *a
	}
	return append(lines, Line{"Ambient of cables", unit.Fixed(ambient, 0), known(f.Input.Install.Ambient != nil)},
		Line{"Standing", "information for design, not a design", ""})
}

func basisOf(known bool, basis string) string {
	switch {
	case !known:
		return "unknown"
	case basis == "":
		return "told"
	}
	return basis
}

func orUnknown(s string) string {
	if s == "" {
		return "unknown"
	}
	return s
}

func quantityOr[Q unit.Quantity](q *Q, decimals int) string {
	if q == nil {
		return "unknown"
	}
	return unit.Fixed(*q, decimals)
}

func (f Facts) existingWords() string {
	e, known := f.Input.Supply.existing()
	if !known {
		return "unknown"
	}
	if f.Input.Supply.PerLine == nil {
		return unit.Fixed(unit.Amperes(e[0]), 0)
	}
	var parts []string
	for l := range f.Result.Supply.Lines {
		parts = append(parts, "L"+strconv.Itoa(l+1)+" "+unit.Fixed(unit.Amperes(e[l]), 0))
	}
	return strings.Join(parts, ", ")
}

func (f Facts) edition() string {
	if f.Input.Rules == NEC {
		return "NFPA 70 (NEC) 2023"
	}
	return "IEC 60364 / BS 7671:2018+A4:2026"
}

func (f Facts) systemWords() string {
	s := &f.Result.Supply
	hz := "50 Hz"
	if f.Input.Rules == NEC {
		hz = "60 Hz"
	}
	v := unit.Digits(s.PhaseVoltage.V(), 3) + " V single-phase"
	switch {
	case s.Split:
		v = unit.Digits(s.PhaseVoltage.V(), 3) + "/" + unit.Digits(s.Voltage.V(), 3) + " V split phase"
	case s.Phases == 3:
		v = unit.Digits(s.Voltage.V(), 3) + "/" + unit.Digits(s.PhaseVoltage.V(), 3) + " V three-phase and neutral"
	}
	return v + ", " + hz
}

// Footer is the foot of the schedule: demand, headroom, neutral, interlocks, the
// operator's business, leakage and the half-hour demand.
func (f Facts) Footer() []Line {
	r := &f.Result
	b := r.Binding
	d := &r.States[b.State]
	line := "L" + strconv.Itoa(b.Line)
	margin := "unknown"
	if b.Margin != nil {
		margin = unit.Fixed(*b.Margin, 1)
	}
	out := []Line{
		{"Connected load", unit.Fixed(r.Connected, 1), ""},
		{"Greatest demand", unit.Fixed(b.Demand, 1) + " on " + line + " in " + d.Title, "by state, each line"},
		{"Margin there", margin, ""},
		{"Demand / connected", unit.Digits(r.Factor.Value(), 2), ""},
		{"Greatest neutral current", unit.Fixed(r.Balance.Neutral, 1), "neutral of full size"},
		{"Assignment of lines", f.balanceWords(), ""},
		{"Half-hour demand", unit.Fixed(r.Energy.Peak, 1) + " / " + unit.Fixed(r.Energy.PeakKVA, 1) + " from " + clock(r.Energy.PeakStart), "the register, not the fuse"},
		{"Energy of a brew", unit.Fixed(r.Energy.Brew, 0), ""},
	}
	if r.Energy.PerVolume != nil {
		out = append(out, Line{"Energy for each hectolitre", unit.Fixed(*r.Energy.PerVolume, 1), ""})
	}
	out = append(out, f.interlockLines()...)
	for _, a := range r.Actions {
		out = append(out, Line{"Network operator", a.Words, ""})
	}
	if r.Feeder != nil && r.Feeder.Problem == "" {
		fe := r.Feeder
		out = append(out, Line{"Feeder", fe.Device.Text() + ", " + fe.Cable.Live() + " / " + fe.Cable.Protective() + ", " + unit.In(fe.Cable.Length, "m", 0) + ", drop " + unit.Fixed(fe.DropShare, 2), "selectivity with the supply fuse to be shown"})
	}
	return append(out, Line{"Leakage", unit.In(f.totalLeakage(), "ma", 1), "sum over all circuits; by device see the schedule"})
}

func (f Facts) totalLeakage() unit.Current {
	sum := unit.Current(0)
	for i := range f.Result.Circuits {
		sum += f.Result.Circuits[i].Leakage
	}
	return sum
}

func (f Facts) balanceWords() string {
	b := &f.Result.Balance
	w := "worst line " + unit.Fixed(b.Worst, 1)
	if b.Proven {
		w += ", proven the least to " + unit.Digits(b.Slack.A(), 2) + " A"
	} else {
		w += ", at most " + unit.Fixed(b.Worst-b.Bound, 1) + " above the least"
	}
	if b.Totals > b.Worst+b.Slack {
		w += "; balancing the totals instead gives " + unit.Fixed(b.Totals, 1)
	}
	return w
}

// interlockLines names each interlock and who supplies it.
func (f Facts) interlockLines() []Line {
	var out []Line
	var names []string
	members := map[string]string{}
	for i := range f.Input.Loads {
		if g := f.Input.Loads[i].Group; g != "" {
			if members[g] == "" {
				names = append(names, g)
			}
			members[g] = join(members[g], f.Input.Loads[i].Tag)
		}
	}
	for _, g := range names {
		supplier := "wired, by the supplier of the control panel"
		for _, k := range f.Input.Interlocks {
			switch {
			case k.Group != g:
			case k.Manual:
				supplier = "instruction only: not counted"
			case k.Supplier != "":
				supplier = "wired, by " + k.Supplier
			}
		}
		out = append(out, Line{"Interlock " + g, members[g] + " never together", supplier})
	}
	if l := f.Input.Limit; l != nil {
		out = append(out, Line{"Load-limiting control", "sheds elements above " + unit.Fixed(*l, 0) + " on any line", "certified; a condition of the verdict"})
	}
	return out
}

// Cautions are the sentences every one of the papers carries.
func (f Facts) Cautions() []string {
	local := "BS 7671, the national rules that implement IEC 60364 and building regulations"
	if f.Input.Rules == NEC {
		local = "the NEC and the authority having jurisdiction"
	}
	return []string{
		"This is information for design only. The installation is to be designed, installed, inspected and certified by a competent person to " + local + ".",
		"The capacity of the supply is unconfirmed until the network operator confirms it in writing. In a building with several tenants the landlord's capacity governs.",
		"Conductor sizes assume the method, ambient, grouping and lengths stated.",
		"Loads marked estimate must be replaced by figures of the rating plate.",
		"The control panel carries its own conformity (IEC 60204-1 and IEC 61439, or UL 508A with a short-circuit rating not below the available fault current).",
		"Interlocks and load-limiting controls are a condition of the verdict; an instruction to people is not one.",
		"Heating elements need an independent high limit with manual reset and a low-level interlock that act on a contactor, because solid-state relays fail closed.",
		"An emergency stop is not isolation. Work on vessels and drives only after isolation, locked off and proven dead.",
		"No design for hazardous areas, lightning, fire alarm or emergency lighting is included.",
	}
}

// Point is one connection point for the location plan.
type Point struct {
	Tag, Name, Item string
	X, Y, Height    *unit.Length // nil: not yet placed
	Zone            string       // in words
	IP              string       // asked for
	Connection      string
	Lines           string
	Device          string
	Cable           string
}

// Points are the connection points with place, height, zone and protection.
func (f Facts) Points() []Point {
	out := make([]Point, len(f.Result.Circuits))
	for i := range out {
		l, c := &f.Input.Loads[i], &f.Result.Circuits[i]
		out[i] = Point{
			Tag: l.Tag, Name: l.Name, Item: l.Item, X: l.X, Y: l.Y, Height: l.Height, Zone: ZoneWords(*l), IP: c.IP,
			Connection: c.Connection, Lines: c.Lines, Device: c.Device.Text(), Cable: c.Cable.Live(),
		}
	}
	return out
}

// PointTable is Points in print form.
func (f Facts) PointTable() Table {
	t := Table{Title: "Connection points", Columns: []Column{{Name: "Ref"}, {Name: "Description"}, {Name: "Item"}, {"x", "m", true}, {"y", "m", true}, {"Height", "m", true}, {Name: "Zone"}, {Name: "IP"}, {Name: "Connection"}, {Name: "Lines"}, {Name: "Device"}, {Name: "Live"}}}
	at := func(l *unit.Length) string {
		if l == nil {
			return "open"
		}
		return num(*l, "m", 2)
	}
	for _, p := range f.Points() {
		t.Rows = append(t.Rows, []string{p.Tag, p.Name, p.Item, at(p.X), at(p.Y), at(p.Height), p.Zone, p.IP, p.Connection, p.Lines, p.Device, p.Cable})
	}
	return t
}

// Stop is what one load does at an emergency stop.
type Stop struct {
	Tag, Name string
	Drops     bool
	Why       string
}

// Stops lists what an emergency stop drops and what it leaves on. It is to be settled
// with the machine's risk assessment.
func (f Facts) Stops() []Stop {
	out := make([]Stop, len(f.Input.Loads))
	for i := range out {
		l := &f.Input.Loads[i]
		s := Stop{Tag: l.Tag, Name: l.Name, Drops: !l.staysOn()}
		switch {
		case !s.Drops && l.Kind == Motor:
			s.Why = "stays on: stopping it is the greater danger or spoils beer"
		case !s.Drops:
			s.Why = "stays on: control and light are needed"
		case l.Kind == Element:
			s.Why = "drops: heat and boil-over"
		default:
			s.Why = "drops: moving parts and hot liquor"
		}
		out[i] = s
	}
	return out
}

// StopTable is Stops in print form.
func (f Facts) StopTable() Table {
	t := Table{Title: "Emergency stop (ISO 13850; stop category 0 or 1 by IEC 60204-1)", Columns: []Column{{Name: "Ref"}, {Name: "Description"}, {Name: "At a stop"}}}
	for _, s := range f.Stops() {
		t.Rows = append(t.Rows, []string{s.Tag, s.Name, s.Why})
	}
	return t
}

// BondTable lists the parts that may need bonding, with the conductor, to be tested
// rather than bonded by habit.
func (f Facts) BondTable() Table {
	t := Table{Title: "Bonding", Columns: []Column{{Name: "Part"}, {Name: "What"}, {Name: "Conductor"}}}
	parts := f.Input.Parts
	if parts == nil {
		parts = []Part{{"incoming water, metal"}, {"incoming gas, metal"}, {"carbon dioxide pipe from outside, metal"}, {"steel frame of the building"}}
	}
	main := f.mainBondText()
	for _, p := range parts {
		t.Rows = append(t.Rows, []string{p.Name, "main bonding where it is an extraneous part (to be tested)", main})
	}
	seen := map[string]bool{}
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.Kind != Element || seen[l.Item] || l.Item == "" {
			continue
		}
		seen[l.Item] = true
		t.Rows = append(t.Rows, []string{l.Item, "vessel with an electrical circuit: protective conductor to its frame", f.Result.Circuits[i].Cable.Protective()})
	}
	t.Rows = append(t.Rows, []string{"skid to skid", "supplementary, where cut-off in time is not met or the risk assessment asks: R ≤ 50 V / Ia", "not below the smaller protective conductor; 4 mm² where unprotected"})
	if f.Input.Supply.earthing() == "TN-C-S" {
		t.Rows = append(t.Rows, []string{"metal vessels outdoors", "on a combined earth the designer decides, also for an earth of their own", ""})
	}
	t.Rows = append(t.Rows, []string{"tanks that people enter", "restricted conducting place: hand lamps and tools on separated extra-low voltage", ""})
	return t
}

func (f Facts) mainBondText() string {
	if f.Input.Rules == NEC {
		return "by NFPA 70 250.104"
	}
	neutral := unit.ConductorMM2(25)
	if fe := f.Result.Feeder; fe != nil && fe.Problem == "" {
		neutral = fe.Cable.Section
	}
	switch f.Input.Supply.earthing() {
	case "":
		return "earthing unknown; " + unit.Text(mainBond(neutral, true)) + " if combined (PME)"
	case "TN-C-S":
		return unit.Text(mainBond(neutral, true))
	}
	return unit.Text(mainBond(neutral, false))
}
