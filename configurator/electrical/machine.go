package electrical

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// system is the supply as reckoned with: what is not known is taken as usual, and
// the rules on unknown facts see to it that nothing passes on it.
type system struct {
	rules RuleSet
	lines int     // current-carrying lines
	u, u0 float64 // between lines, line to neutral
	split bool    // US 120/240 V
}

// systemOf takes what is known and the usual rest: three phases where a load needs
// them, 400/230 V, or 208Y/120 and 120/240 V in the US.
func systemOf(in *Input) system {
	s := system{rules: in.Rules, lines: 1}
	phases := 0
	if in.Supply.Phases != nil {
		phases = *in.Supply.Phases
	} else {
		phases = 1
		for i := range in.Loads {
			phases = max(phases, in.Loads[i].Phases)
		}
	}
	s.lines = phases
	us := in.Rules == NEC
	switch {
	case phases == 3 && us:
		s.u = 208
	case phases == 3:
		s.u = 400
	case us:
		s.u, s.lines, s.split = 240, 2, true
	default:
		s.u = 230
	}
	if in.Supply.Voltage != nil {
		s.u = in.Supply.Voltage.V()
	}
	s.u0 = s.neutralVoltage(in.Supply.PhaseVoltage)
	return s
}

// neutralVoltage is the nominal voltage to neutral; nominal pairs are rounded by
// convention (400/230, 208/120, 480/277), others follow from √3.
func (s system) neutralVoltage(given *unit.Voltage) float64 {
	switch {
	case given != nil:
		return given.V()
	case s.split:
		return s.u / 2
	case s.lines < 3:
		return s.u
	case s.u == 400:
		return 230
	case s.u == 415:
		return 240
	case s.u == 380:
		return 220
	case s.u == 208 || s.u == 240:
		return 120
	case s.u == 480:
		return 277
	}
	return s.u / math.Sqrt(3)
}

// machine is a load with the electrical figures it has on this site.
type machine struct {
	load     *Load
	poles    int     // lines it takes: 1 to neutral, 2 between lines, 3
	volts    float64 // across it
	ib       float64 // design current of each of its lines, A
	watts    float64 // electrical input
	vars     float64
	pf, eta  float64
	estimate bool    // a figure was taken by kind
	off      float64 // site voltage over rated voltage
	short    bool    // three-phase load without three phases
}

// machineOf works out a load on a system.
func machineOf(l *Load, s system, converter *unit.Ratio) (machine, error) {
	m := machine{load: l, pf: l.usualFactor(), eta: 1, poles: 1, volts: s.u0, off: 1, estimate: !l.Nameplate}
	if l.Efficiency != nil {
		m.eta = l.Efficiency.Value()
	} else if l.Shaft {
		m.eta = motorEfficiency(l.Power)
	}
	m.connect(s)
	if m.short && converter != nil {
		m.short, m.eta = false, m.eta*converter.Value()
	}
	power := l.Power
	phases := 1
	if m.poles == 3 {
		phases = 3
	}
	at := unit.Volts(m.volts)
	if l.Voltage != nil {
		m.off = m.volts / l.Voltage.V()
		if l.Kind == Element {
			power = unit.Watts(l.Power.W() * m.off * m.off)
		}
	}
	i, err := DesignCurrent(power, phases, at, unit.Fraction(m.pf), unit.Fraction(m.eta))
	if err != nil {
		return m, fmt.Errorf("load %s: %w", l.Tag, err)
	}
	m.ib = i.A()
	m.watts = power.W() / m.eta
	m.vars = m.watts * math.Tan(math.Acos(min(m.pf, 1)))
	if s.rules == NEC && l.Kind == Motor && l.Shaft && !m.short {
		m.necCurrent(l)
	}
	return m, nil
}

// connect decides how many lines a load takes and what voltage lies across it.
func (m *machine) connect(s system) {
	l := m.load
	switch {
	case l.Phases == 3 && s.lines == 3:
		m.poles, m.volts = 3, s.u
	case l.Phases == 3:
		// Reckoned as the same power on one phase, so that the size of the want shows.
		m.short, m.volts = true, s.u
		m.poles = min(s.lines, 2)
	case s.lines > 1 && l.Voltage != nil && math.Abs(l.Voltage.V()-s.u) < math.Abs(l.Voltage.V()-s.u0):
		m.poles, m.volts = 2, s.u
	}
}

// necCurrent replaces the design current of a motor by the table's, which the NEC
// asks for in place of the rating plate (430.6(A)(1)).
func (m *machine) necCurrent(l *Load) {
	hp := l.Power.W() / 745.7
	t, column := motorNEC3, necColumn3(m.volts)
	if m.poles < 3 {
		t, column = motorNEC1, necColumn1(m.volts)
	}
	row, err := t.AtLeast("hp", hp*0.999)
	if err != nil || column == "" {
		return
	}
	if amps, ok := t.Number(row, column); ok {
		m.ib = amps
	}
}

func necColumn3(v float64) string {
	switch {
	case v >= 200 && v <= 210:
		return "208V"
	case v >= 220 && v <= 240:
		return "230V"
	case v >= 440 && v <= 480:
		return "460V"
	}
	return ""
}

func necColumn1(v float64) string {
	switch {
	case v >= 110 && v <= 120:
		return "115V"
	case v >= 200 && v <= 210:
		return "208V"
	case v >= 220 && v <= 240:
		return "230V"
	}
	return ""
}
