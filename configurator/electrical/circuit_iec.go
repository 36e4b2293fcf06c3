package electrical

import "tunwright/catalog/unit"

// curveOf is the breaker curve: as the maker asks, else by what the load does at the
// moment of switching.
func curveOf(l *Load) Curve {
	switch {
	case l.Curve != "":
		return l.Curve
	case l.Kind == Element:
		return CurveB
	case l.Kind == Motor && (l.Starter == Direct || l.Starter == NoStarter || l.Starter == "" || l.Starter == StarDelta):
		return CurveD
	}
	return CurveC
}

// outlet is the rating of a socket: given, or the next of IEC 60309.
func outlet(l *Load, ib float64) float64 {
	if l.Outlet != nil {
		return l.Outlet.A()
	}
	a, ok := next(outletSizes, ib)
	if !ok {
		return ib
	}
	return a
}

// sizeIEC finds device and conductor by IEC 60364 with the figures of BS 7671: the
// device by Ib and starting, then the smallest conductor that meets its capacity,
// the voltage drop, the earth fault loop and the fault's heat.
func (st *study) sizeIEC(c *Circuit, m *machine, y laying, board boardFigures) {
	flow := m.ib
	if m.load.Kind == Socket || m.load.Movable {
		flow = outlet(m.load, m.ib)
	}
	asked := flow
	if d := m.load.Device; d != nil {
		asked = max(flow, d.A())
	}
	if !c.Device.choose(asked, c.StartCurrent.A(), curveOf(m.load), st.in) {
		c.Problem = "no device of the tables carries " + unit.Fixed(c.Ib, 1)
		return
	}
	c.Device.Loading = unit.Fraction(m.ib / c.Device.Rating.A())
	c.Device.Derated = m.load.Kind == Element && !st.in.Install.Spaced && c.Device.Loading.Value() > st.derating()
	ca, cg, ok := c.factors(y)
	if !ok {
		return
	}
	c.Cable.Need = unit.Amperes(c.Device.Rating.A() / (ca * cg))
	z := sizing{st: st, c: c, m: m, y: y, board: board, flow: flow, col: capacities(y, m.poles)}
	row, ok := firstAtLeast(z.col, c.Cable.Need.A())
	if !ok {
		c.Problem = "no single cable of the tables carries " + unit.Fixed(c.Cable.Need, 0) + " as laid: the designer divides the circuit or lays cables in parallel"
		return
	}
	z.settle(row)
}

// capacities is the column of the tables for a laying: three loaded conductors on
// three phases, else two.
func capacities(y laying, poles int) []float64 {
	return ampacities[ampacityKey{y.cable, y.method, max(2, min(poles, 3))}]
}

// firstAtLeast gives the first row of a rising column that is not below x.
func firstAtLeast(col []float64, x float64) (int, bool) {
	for row, v := range col {
		if v >= x-1e-9 {
			return row, true
		}
	}
	return 0, false
}

// sizing is the search for the conductor of one circuit.
type sizing struct {
	st    *study
	c     *Circuit
	m     *machine
	y     laying
	board boardFigures
	flow  float64   // current the drop is reckoned with, A
	col   []float64 // tabulated capacities by size
}

// insulation gives the full conductor temperature, whether it is 90 °C, and k of the
// adiabatic equation. Source: BS 7671:2018 Table 54.3.
func (y laying) insulation() (tp float64, hot bool, k float64) {
	if y.cable == Thermosetting {
		return 90, true, 143
	}
	return 70, false, 115
}

// settle raises the size found by capacity until drop and heat are met, and up to
// three sizes further where that brings the loop within its limit. What even the
// largest size does not meet is left for the rules to say.
func (z *sizing) settle(row int) {
	c := z.c
	c.Governed = "Iz"
	if plain, ok := next(breakerMCCB, z.flow); ok && z.m.load.Device == nil && c.Device.Rating.A() > plain && c.StartCurrent > c.Ib {
		c.Governed = "start"
	}
	c.DropLimit = z.st.dropLimit(z.m.load)
	c.ZsMax = z.st.loopLimit(c, z.m)
	row = z.byDropAndHeat(row)
	if !c.loopFails() {
		return
	}
	for larger := row + 1; larger <= row+3 && larger < len(z.col); larger++ {
		z.figures(larger)
		if !c.loopFails() {
			c.Governed = "Zs"
			return
		}
	}
	z.figures(row)
}

func (z *sizing) byDropAndHeat(row int) int {
	_, _, k := z.y.insulation()
	allowed := z.c.DropLimit.Value() - z.board.dropShare
	for at := row; at < len(z.col); at++ {
		z.figures(at)
		switch {
		case z.c.DropShare.Value() > allowed:
			z.c.Governed = "Vd"
		case adiabaticFails(z.c, z.st.sys.u0, k):
			z.c.Governed = "adiabatic"
		default:
			return at
		}
	}
	z.c.Governed = "Iz"
	z.figures(row)
	return row
}

// dropLimit is the greatest drop from the origin: 3 % for lighting and 5 % for the
// rest, 6 and 8 % on a private supply.
//
// Source: BS 7671:2018 Appendix 4, Table 4Ab.
func (st *study) dropLimit(l *Load) unit.Ratio {
	limit := 5.0
	if l.Kind == Lighting {
		limit = 3
	}
	if st.in.Supply.Private {
		limit += 3
	}
	return unit.Percent(limit)
}

// figures works out everything that follows from one size.
func (z *sizing) figures(row int) {
	c, m := z.c, z.m
	phases := 1
	if m.poles == 3 {
		phases = 3
	}
	tp, hot, _ := z.y.insulation()
	w := conductorAt(row, phases, hot)
	cpc := ProtectiveConductor(unit.ConductorMM2(w.size))
	ca, cg, it := c.Cable.Ca.Value(), c.Cable.Cg.Value(), z.col[row]
	c.Cable.Type, c.Cable.Section, c.Cable.CPC = string(z.y.cable), unit.ConductorMM2(w.size), cpc
	c.Cable.It, c.Cable.Iz = unit.Amperes(it), unit.Amperes(it*ca*cg)
	c.Drop = VoltageDrop(w.z(), unit.Amperes(z.flow), z.y.length)
	pf := m.pf
	if m.load.Kind == Socket {
		pf = 1
	}
	// r and x are printed rounded: the refined figure never passes the safe one.
	c.DropRefined = min(unit.Volts(refinedDrop(w, tp, ca, cg, z.flow, it, pf, z.y.length.M())), c.Drop)
	c.DropShare = unit.Fraction(c.Drop.V() / m.volts)
	c.DropTotal = unit.Fraction(c.DropRefined.V()/m.volts + z.board.dropShare)
	c.R1R2 = LoopResistance(unit.MilliohmsPerMetre(w.r20), r20Of(cpc.MM2()), hot, z.y.length)
	c.Zs = nil
	if z.board.ze != nil {
		zs := unit.Ohms(z.board.ze.Ohm() + c.R1R2.Ohm())
		c.Zs = &zs
	}
}

// airOrGround is Ca by where the cable lies.
func airOrGround(m Method, ambient, tp unit.Temperature) (unit.Ratio, error) {
	if m == MethodD1 {
		return GroundFactor(ambient)
	}
	return AmbientFactor(ambient, tp)
}

// factors reads the rating factors of the laying.
func (c *Circuit) factors(y laying) (ca, cg float64, ok bool) {
	tp, _, _ := y.insulation()
	a, err := airOrGround(y.method, y.ambient, unit.Celsius(tp))
	if err == nil {
		c.Cable.Ca = a
		c.Cable.Cg, err = GroupFactor(y.grouped, y.method)
	}
	if err != nil {
		c.Problem = err.Error()
		return 0, 0, false
	}
	return c.Cable.Ca.Value(), c.Cable.Cg.Value(), true
}

// choose finds the next device that carries ib and lets the starting current pass.
func (d *Device) choose(ib, start float64, curve Curve, in *Input) bool {
	d.Standard, d.Curve = "IEC 60898", curve
	need := ib
	if start > ib {
		need = max(ib, start/holdMultiple(curve))
	}
	rating, ok := next(breakerMCB, need)
	if !ok {
		// A moulded-case breaker's magnetic trip is taken as set to ten times.
		d.Standard, d.Curve = "IEC 60947-2", CurveC
		if rating, ok = next(breakerMCCB, max(ib, start/10)); !ok {
			return false
		}
	}
	d.Rating = unit.Amperes(rating)
	if in.Supply.Fault != nil {
		d.Breaking = unit.Amperes(breaking(in.Supply.Fault.A()))
		if d.Breaking.A() > 10000 && d.Standard == "IEC 60898" {
			d.Standard = "IEC 60947-2"
		}
	}
	return true
}

// breaking is the next usual breaking capacity; zero where none suffices.
func breaking(fault float64) float64 {
	for _, icn := range [...]float64{6000, 10000, 16000, 25000, 36000, 50000} {
		if icn >= fault {
			return icn
		}
	}
	return 0
}

func (st *study) derating() float64 {
	if st.in.Install.Derating != nil {
		return st.in.Install.Derating.Value()
	}
	return 0.8
}

// loopLimit is the greatest loop impedance of a circuit: by the breaker, or by the
// residual current device on a TT earth.
func (st *study) loopLimit(c *Circuit, m *machine) unit.Impedance {
	in := c.Device.Rating.A()
	five := in > 32 && (m.load.Kind != Socket || in > 63)
	if st.in.Supply.earthing() == "TT" || m.load.ResidualTrip {
		return unit.Ohms(50 / residualFor(c, m.load))
	}
	return MaxLoop(unit.Volts(st.sys.u0), c.Device.Curve, c.Device.Rating, five)
}

func (c *Circuit) loopFails() bool {
	return c.Zs != nil && !loopHolds(c)
}

// adiabaticFails checks the protective conductor against the heat of a fault at the
// far end. A breaker in its instantaneous range is reckoned at the current where that
// range begins, for a tenth of a second: above it the breaker opens faster and limits
// the energy, which is checked with its maker's figures. A residual current device is
// reckoned at the fault current, for 0.4 s.
func adiabaticFails(c *Circuit, u0, k float64) bool {
	if c.Zs == nil {
		return false
	}
	begins := curveMultiple(c.Device.Curve) * c.Device.Rating.A()
	fault, time := u0/c.Zs.Ohm(), 0.4
	if fault >= begins {
		fault, time = begins, 0.1
	}
	s, err := Adiabatic(unit.Amperes(fault), unit.Seconds(time), unit.PureNumber(k))
	return err == nil && s.MM2() > c.Cable.CPC.MM2()
}
