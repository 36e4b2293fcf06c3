package electrical

import (
	"math"

	"tunwright/catalog/unit"
)

// necSize is one row of the ampacity table with its impedance.
type necSize struct {
	name          string
	c60, c75, c90 float64
	r, x          float64 // Ω per 1000 ft, PVC conduit
	mm2           float64
}

var necSizes = func() []necSize {
	var list []necSize
	for r := range necAmpacity.Len() {
		s := necSize{name: necAmpacity.Text(r, "size")}
		s.c60, _ = necAmpacity.Number(r, "Cu60")
		s.c75, _ = necAmpacity.Number(r, "Cu75")
		s.c90, _ = necAmpacity.Number(r, "Cu90")
		if k, ok := necImpedance.Find("size", s.name); ok {
			s.r, _ = necImpedance.Number(k, "R_pvc")
			s.x, _ = necImpedance.Number(k, "X_pvc")
		}
		if k, ok := awgTable.Find("size", s.name); ok {
			s.mm2, _ = awgTable.Number(k, "mm2")
		}
		list = append(list, s)
	}
	return list
}()

func (s necSize) label() string {
	if s.mm2 > 110 {
		return s.name + " kcmil"
	}
	return s.name + " AWG"
}

// small is the greatest device on the small sizes. Source: NFPA 70 240.4(D).
func (s necSize) small() float64 {
	switch s.name {
	case "14":
		return 15
	case "12":
		return 20
	case "10":
		return 30
	}
	return math.Inf(1)
}

// NECCorrection is the factor on the 90 °C ampacity for ambient and for the number
// of current-carrying conductors in one raceway.
//
// Source: NFPA 70 (2023) Tables 310.15(B)(1) and 310.15(C)(1).
func NECCorrection(ambient unit.Temperature, conductors int) (unit.Ratio, unit.Ratio, error) {
	row, err := necAmbient.AtLeast("up_to_c", ambient.C())
	if err != nil {
		return 0, 0, err
	}
	a, _ := necAmbient.Number(row, "t90")
	if row, err = necBundle.AtLeast("up_to_n", float64(conductors)); err != nil {
		return 0, 0, err
	}
	b, _ := necBundle.Number(row, "factor")
	return unit.Fraction(a), unit.Fraction(b), nil
}

// necDrop is the voltage drop of a circuit: Ze = R·pf + X·sin φ per 1000 ft to
// neutral; √3·Ze·I·L on three phases, 2·Ze·I·L on one.
//
// Source: NFPA 70 chapter 9 Table 9, note 2.
func necDrop(s necSize, phases int, pf, amps, feet float64) float64 {
	k := 2.0
	if phases == 3 {
		k = math.Sqrt(3)
	}
	ze := s.r*pf + s.x*math.Sqrt(max(0, 1-pf*pf))
	return k * ze * amps * feet / 1000
}

// sizeNEC finds device and conductor by the NEC: 125 % of continuous and heating
// loads (210.19, 210.20, 422.13), motors 125 % in the conductor and at most 250 % in
// the breaker (430.22, 430.52), the terminal column (110.14(C)), the small sizes
// (240.4(D)) and the next device up (240.4(B)).
func (st *study) sizeNEC(c *Circuit, m *machine, y laying, board boardFigures) {
	motor := m.load.Kind == Motor
	basis := m.ib
	if c.Continuous || m.load.Kind == Element || motor {
		basis = 1.25 * m.ib
	}
	rating, ok := next(breakerNEC, basis)
	if motor && m.load.Starter != VariableSpeed {
		rating, ok = next(breakerNEC, 2.5*m.ib)
	}
	if m.load.Kind == Socket || m.load.Movable {
		rating, ok = next(breakerNEC, max(rating, outletNEC(m.load, basis)))
	}
	if d := m.load.Device; d != nil && ok {
		rating, ok = next(breakerNEC, max(d.A(), basis))
	}
	if !ok || rating > 800 {
		c.Problem = "no standard device of 240.6(A) up to 800 A carries " + unit.Fixed(c.Ib, 1)
		return
	}
	c.Device = Device{Standard: "inverse-time breaker", Rating: unit.Amperes(rating), Loading: unit.Fraction(m.ib / rating)}
	if st.in.Supply.Fault != nil {
		c.Device.Breaking = unit.Amperes(breakingNEC(st.in.Supply.Fault.A()))
	}
	ca, cg, err := NECCorrection(y.ambient, y.grouped*max(m.poles, 2))
	if err != nil {
		c.Problem = err.Error()
		return
	}
	c.Cable.Ca, c.Cable.Cg, c.Cable.Need = ca, cg, unit.Amperes(basis)
	c.Cable.Type, c.DropLimit, c.Governed = "THWN-2 copper in conduit", unit.Percent(5), "ampacity"
	st.settleNEC(c, m, y, board, basis, motor)
}

// settleNEC picks the first size that carries the load, is protected by the device,
// and keeps the drop to the three per cent that the informational note aims at.
func (st *study) settleNEC(c *Circuit, m *machine, y laying, board boardFigures, basis float64, motor bool) {
	phases := 1
	if m.poles == 3 {
		phases = 3
	}
	rating := c.Device.Rating.A()
	feet := y.length.Ft()
	for k, s := range necSizes {
		terminal := s.c60
		if st.in.Install.Terminals75 || rating > 100 {
			terminal = s.c75
		}
		laid := min(s.c90*c.Cable.Ca.Value()*c.Cable.Cg.Value(), terminal)
		protected := rating <= s.small() && nextIs(laid, rating)
		if terminal < basis || laid < m.ib || !(motor || protected) {
			continue
		}
		drop := necDrop(s, phases, m.pf, m.ib, feet)
		if drop/m.volts > 0.03 && k+1 < len(necSizes) {
			c.Governed = "Vd"
			continue
		}
		c.Cable.Section, c.Cable.Label = unit.ConductorMM2(s.mm2), s.label()
		c.Cable.It, c.Cable.Iz = unit.Amperes(terminal), unit.Amperes(laid)
		c.Drop, c.DropRefined = unit.Volts(drop), unit.Volts(drop)
		c.DropShare = unit.Fraction(drop / m.volts)
		c.DropTotal = unit.Fraction(drop/m.volts + board.dropShare)
		c.ground(rating, s, st.sizeByAmpacity(basis, m.ib, rating, c, motor))
		return
	}
	c.Problem = "no single conductor of the table carries " + unit.Fixed(c.Ib, 1) + " as laid: the designer lays conductors in parallel"
}

// sizeByAmpacity is the size had the voltage drop not been looked at; the grounding
// conductor grows in proportion to it (250.122(B)).
func (st *study) sizeByAmpacity(basis, ib, rating float64, c *Circuit, motor bool) float64 {
	for _, s := range necSizes {
		terminal := s.c60
		if st.in.Install.Terminals75 || rating > 100 {
			terminal = s.c75
		}
		laid := min(s.c90*c.Cable.Ca.Value()*c.Cable.Cg.Value(), terminal)
		if terminal >= basis && laid >= ib && (motor || rating <= s.small() && nextIs(laid, rating)) {
			return s.mm2
		}
	}
	return 0
}

// nextIs tells whether a device protects a conductor: its rating is not above the
// next standard one from the ampacity (240.4(B), up to 800 A).
func nextIs(ampacity, rating float64) bool {
	up, ok := next(breakerNEC, ampacity)
	return ok && rating <= up
}

// ground sizes the equipment grounding conductor by the device, and in proportion
// where the line conductors were enlarged. Source: NFPA 70 250.122.
func (c *Circuit) ground(rating float64, s necSize, byAmpacity float64) {
	row, err := necGround.AtLeast("device_a", rating)
	if err != nil {
		c.Problem = err.Error()
		return
	}
	name := necGround.Text(row, "size")
	at := 0
	for k, t := range necSizes {
		if t.name == name {
			at = k
		}
	}
	want := necSizes[at].mm2
	if byAmpacity > 0 && s.mm2 > byAmpacity {
		want *= s.mm2 / byAmpacity
	}
	for at+1 < len(necSizes) && necSizes[at].mm2 < want-1e-9 {
		at++
	}
	if necSizes[at].mm2 > s.mm2 { // never larger than the line conductors
		for k, t := range necSizes {
			if t.name == s.name {
				at = k
			}
		}
	}
	c.Cable.CPC, c.Cable.CPCText = unit.ConductorMM2(necSizes[at].mm2), necSizes[at].label()
}

// outletNEC is the rating of a receptacle: given, or the next of the usual ones.
func outletNEC(l *Load, amps float64) float64 {
	if l.Outlet != nil {
		return l.Outlet.A()
	}
	a, ok := next([]float64{20, 30, 50, 60, 100}, amps)
	if !ok {
		return amps
	}
	return a
}

// breakingNEC is the next usual interrupting rating; zero where none suffices.
func breakingNEC(fault float64) float64 {
	for _, k := range [...]float64{10000, 14000, 22000, 25000, 42000, 65000} {
		if k >= fault {
			return k
		}
	}
	return 0
}
