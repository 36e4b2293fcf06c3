package electrical

import (
	"math"
	"strings"

	"tunwright/catalog/unit"
)

// laying is how a circuit's cable runs, with what was assumed.
type laying struct {
	cable   CableType
	method  Method
	ambient unit.Temperature
	grouped int
	length  unit.Length
	assumed bool
}

// layingOf takes what the load says, then what the installation says, then what is
// usual: armoured cable on perforated tray, 35 °C, six side by side, 25 m.
func (st *study) layingOf(l *Load) laying {
	in := &st.in.Install
	y := laying{cable: in.Cable, method: l.Method, grouped: l.Grouped}
	if st.sys.rules == NEC {
		y.method = MethodConduit
	}
	if y.cable == "" {
		y.cable = Armoured
	}
	if y.method == "" {
		y.method = in.Method
	}
	if y.method == MethodConduit && st.sys.rules == IEC {
		y.method = MethodB2
	}
	if y.method == "" {
		y.method, y.assumed = MethodE, true
	}
	switch y.method {
	case MethodA1, MethodA2, MethodB1, MethodB2:
		if y.cable == Armoured {
			y.cable = Thermoplastic // armoured cable is not drawn into conduit
		}
	case MethodD1:
		y.cable = Armoured // the only one tabulated in the ground
	}
	if y.grouped == 0 {
		y.grouped = in.Grouped
	}
	if y.grouped == 0 {
		y.grouped, y.assumed = 6, true
		if st.sys.rules == NEC {
			y.grouped = 1 // a conduit of its own
		}
	}
	if y.method == MethodD1 {
		y.ambient = either(l.Ambient, nil, unit.Celsius(20), &y.assumed) // soil
	} else {
		y.ambient = either(l.Ambient, in.Ambient, unit.Celsius(35), &y.assumed)
	}
	y.length = either(l.Length, in.Length, unit.Metres(25), &y.assumed)
	if l.Length == nil {
		y.assumed = true
	}
	return y
}

func either[T any](a, b *T, usual T, assumed *bool) T {
	switch {
	case a != nil:
		return *a
	case b != nil:
		return *b
	}
	*assumed = true
	return usual
}

// circuit sizes one circuit.
func (st *study) circuit(i int, board boardFigures) Circuit {
	m := &st.loads[i]
	l := m.load
	y := st.layingOf(l)
	c := Circuit{
		Load: i, Tag: l.Tag, Name: l.Name, Item: l.Item, Lines: st.linesText(i), Phases: l.Phases,
		Power: unit.Watts(m.watts), PF: unit.Fraction(m.pf), Eta: unit.Fraction(m.eta), Ib: unit.Amperes(m.ib),
		StartCurrent: unit.Amperes(m.ib * st.startMultiple(l)), Starter: l.Starter, Group: l.Group,
		Continuous: st.continuous(i), IP: enclosure(l, st.sys.rules), Estimate: m.estimate, Assumed: y.assumed,
	}
	c.Leakage, c.LeakageGiven = leakage(l)
	c.Cable.Method, c.Cable.Length, c.Cable.Ambient, c.Cable.Grouped = y.method, y.length, y.ambient, y.grouped
	switch {
	case m.short:
		c.Problem = "needs three phases"
		return c
	case st.sys.rules == NEC:
		st.sizeNEC(&c, m, y, board)
	default:
		st.sizeIEC(&c, m, y, board)
	}
	c.RCD = st.rcd(&c, m)
	st.finish(&c, m, y)
	return c
}

// finish fills in what follows from device and conductor.
func (st *study) finish(c *Circuit, m *machine, y laying) {
	poles := 2
	switch {
	case m.poles == 3 && st.in.Supply.earthing() == "TT":
		poles = 4
	case m.poles == 3:
		poles = 3
	case m.poles == 1 && st.sys.rules == NEC:
		poles = 1
	}
	rating, _ := next(breakerMCCB, max(c.Device.Rating.A(), 20))
	c.Isolator = Isolator{Rating: unit.Amperes(rating), Poles: poles, IP: c.IP, Lockable: true}
	c.Connection = connection(m.load, st.sys, c.Device.Rating.A())
	c.StartDip = unit.Fraction(st.startDip(c, m, y))
}

// linesText names the lines of a load, such as L1L2L3.
func (st *study) linesText(i int) string {
	switch {
	case st.loads[i].poles == 3:
		return "L1L2L3"
	case st.sys.lines == 1:
		return "L1"
	case st.loads[i].poles == 1:
		return [...]string{"L1", "L1", "L2", "L3"}[st.lineOf[i]]
	case st.sys.lines == 2:
		return "L1L2"
	}
	return [...]string{"L1L2", "L2L3", "L1L3", "L1L2"}[st.lineOf[i]]
}

// startMultiple is the starting over full-load current; by starter the larger end
// of the published range.
func (st *study) startMultiple(l *Load) float64 {
	if l.StartMultiple != nil {
		return l.StartMultiple.Value()
	}
	if l.Kind != Motor {
		return 1
	}
	switch l.Starter {
	case SoftStart:
		return usualStart.soft
	case VariableSpeed:
		return usualStart.drive
	case StarDelta:
		return usualStart.star
	}
	return usualStart.direct
}

// usualStart holds the larger end of each range of the starting table.
var usualStart = func() (u struct{ direct, star, soft, drive float64 }) {
	at := func(method string) float64 {
		row, _ := startTable.Find("method", method)
		x, _ := startTable.Number(row, "high")
		return x
	}
	u.direct, u.star, u.soft, u.drive = at("direct"), at("star-delta"), at("soft-start"), at("variable-speed")
	return u
}()

// continuous tells whether a load runs for three hours or more on end.
func (st *study) continuous(i int) bool {
	run := 0.0
	for s := range st.day {
		if st.share[s][i].peak <= 0 {
			run = 0
			continue
		}
		run += st.day[s].Hours.H()
		if run >= 3 {
			return true
		}
	}
	return false
}

// startDip is how far the voltage at the terminals falls at the moment of starting,
// as a share: along the cable and the supply's own loop, at the power factor of a
// standing motor.
//
// Source: cos φ 0.35 by the Electrical Installation Guide; the loop impedance Ze is
// taken for the source, which is on the safe side.
func (st *study) startDip(c *Circuit, m *machine, y laying) float64 {
	if m.load.Kind != Motor || c.Problem != "" || st.sys.rules == NEC {
		return 0
	}
	const cos, sin = 0.35, 0.937
	phases, x := 1, 0.17
	if m.poles == 3 {
		phases, x = 3, 0.145
	}
	row := 0
	for i, s := range sizesIEC {
		if s == c.Cable.Section.MM2() {
			row = i
		}
	}
	w := conductorAt(row, phases, y.cable == Thermosetting)
	start := c.StartCurrent.A()
	dip := start * y.length.M() / 1000 * (w.dr*cos + x*sin) / m.volts
	if st.in.Supply.Ze != nil {
		// The loop is two conductors; on three phases one of them counts, √3 between lines.
		k := 1.0
		if phases == 3 {
			k = math.Sqrt(3) / 2
		}
		dip += k * start * st.in.Supply.Ze.Ohm() / m.volts * cos
	}
	return dip
}

// connection words the way a load is connected.
func connection(l *Load, s system, rating float64) string {
	if l.Kind != Socket && !l.Movable {
		return "hard-wired"
	}
	size := unit.Digits(rating, 4) + " A"
	if s.rules == NEC {
		return "receptacle " + size + ", wet location"
	}
	var b strings.Builder
	b.WriteString("IEC 60309 ")
	b.WriteString(size)
	if l.Phases == 3 {
		b.WriteString(" red 3P+N+E 6 h")
	} else {
		b.WriteString(" blue 2P+E 6 h")
	}
	if l.Zone == Wet || l.Zone == "" {
		b.WriteString(", switched and interlocked, IP67")
	}
	return b.String()
}
