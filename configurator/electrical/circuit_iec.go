package electrical

import (
	"tunwright/catalog/unit"
)

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
	c.Device.Derated = m.load.Kind == Element && c.Device.Loading.Value() > st.derating()
	ca, cg, ok := c.factors(y)
	if !ok {
		return
	}
	in := c.Device.Rating.A()
	need := in / (ca * cg)
	c.Cable.Need = unit.Amperes(need)
	loaded := 2
	if m.poles == 3 {
		loaded = 3
	}
	col := ampacities[ampacityKey{y.cable, y.method, loaded}]
	row := -1
	for i, it := range col {
		if it >= need-1e-9 {
			row = i
			break
		}
	}
	if row < 0 {
		c.Problem = "no single cable of the tables carries " + unit.Fixed(c.Cable.Need, 0) + " as laid: the designer divides the circuit or lays cables in parallel"
		return
	}
	st.settleSize(c, m, y, board, flow, row, col)
}

// settleSize raises the size found by capacity until drop, loop and heat are met.
func (st *study) settleSize(c *Circuit, m *machine, y laying, board boardFigures, flow float64, row int, col []float64) {
	hot := y.cable == Thermosetting
	k := 115.0
	if hot {
		k = 143
	}
	c.Governed = "Iz"
	if plain, ok := next(breakerMCCB, flow); ok && m.load.Device == nil && c.Device.Rating.A() > plain && c.StartCurrent > c.Ib {
		c.Governed = "start"
	}
	c.DropLimit = st.dropLimit(m.load)
	allowed := c.DropLimit.Value() - board.dropShare
	c.ZsMax = st.loopLimit(c, m)
	byIz := row
	for ; row < len(col); row++ {
		st.conductorFigures(c, m, y, board, flow, row, col[row], hot)
		switch {
		case c.DropShare.Value() > allowed:
			c.Governed = "Vd"
		case st.loopFails(c, board) && row < byIz+3 && row+1 < len(col):
			c.Governed = "Zs"
		case adiabaticFails(c, st.sys.u0, k):
			c.Governed = "adiabatic"
		default:
			return
		}
	}
	// Even the largest size falls short: show the one by capacity and let the rules say so.
	st.conductorFigures(c, m, y, board, flow, byIz, col[byIz], hot)
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

// conductorFigures works out everything that follows from one size.
func (st *study) conductorFigures(c *Circuit, m *machine, y laying, board boardFigures, flow float64, row int, it float64, hot bool) {
	phases := 1
	if m.poles == 3 {
		phases = 3
	}
	w := conductorAt(row, phases, hot)
	cpc := ProtectiveConductor(unit.ConductorMM2(w.size))
	ca, cg := c.Cable.Ca.Value(), c.Cable.Cg.Value()
	c.Cable.Type, c.Cable.Section, c.Cable.CPC = string(y.cable), unit.ConductorMM2(w.size), cpc
	c.Cable.It, c.Cable.Iz = unit.Amperes(it), unit.Amperes(it*ca*cg)
	c.Drop = VoltageDrop(w.dz, unit.Amperes(flow), y.length)
	tp := 70.0
	if hot {
		tp = 90
	}
	pf := m.pf
	if m.load.Kind == Socket {
		pf = 1
	}
	// r and x are printed rounded: the refined figure never passes the safe one.
	c.DropRefined = min(unit.Volts(refinedDrop(w, tp, ca, cg, flow, it, pf, y.length.M())), c.Drop)
	c.DropShare = unit.Fraction(c.Drop.V() / m.volts)
	c.DropTotal = unit.Fraction(c.DropRefined.V()/m.volts + board.dropShare)
	c.R1R2 = LoopResistance(w.r20, r20Of(cpc.MM2()), hot, y.length)
	c.Zs = nil
	if board.ze != nil {
		zs := unit.Ohms(board.ze.Ohm() + c.R1R2.Ohm())
		c.Zs = &zs
	}
}

// factors reads the rating factors of the laying.
func (c *Circuit) factors(y laying) (ca, cg float64, ok bool) {
	tp := unit.Celsius(70)
	if y.cable == Thermosetting {
		tp = unit.Celsius(90)
	}
	a, err := AmbientFactor(y.ambient, tp)
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
	if st.in.Supply.Earthing == "TT" || m.load.ResidualTrip {
		return unit.Ohms(50 / residualFor(c, m.load))
	}
	return MaxLoop(unit.Volts(st.sys.u0), c.Device.Curve, c.Device.Rating, five)
}

func (st *study) loopFails(c *Circuit, _ boardFigures) bool {
	return c.Zs != nil && c.Zs.Ohm() > c.ZsMax.Ohm()
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
	s, err := Adiabatic(unit.Amperes(fault), unit.Seconds(time), k)
	return err == nil && s.MM2() > c.Cable.CPC.MM2()
}
