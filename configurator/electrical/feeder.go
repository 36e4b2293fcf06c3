package electrical

import "tunwright/catalog/unit"

// cables sizes the feeder, then each circuit on what the feeder leaves.
func (st *study) cables(r *Result) {
	board := boardFigures{ze: st.in.Supply.Ze}
	if st.in.Supply.Distance != nil {
		f := st.feeder(r)
		r.Feeder = &f
		if f.Problem == "" {
			board.dropShare = f.DropShare.Value()
			if board.ze != nil {
				ze := unit.Ohms(board.ze.Ohm() + f.R1R2.Ohm())
				board.ze = &ze
				r.Supply.BoardZe = &ze
			}
		}
	}
	r.Circuits = make([]Circuit, len(st.loads))
	for i := range st.loads {
		r.Circuits[i] = st.circuit(i, board)
	}
}

// feeder sizes the cable from the origin to the brewery's board for the binding
// demand: a breaker of the next rating and a cable by itself, with a drop of at most
// 2 % so that the circuits keep the rest (common practice, no source).
func (st *study) feeder(r *Result) Feeder {
	m := machine{load: &Load{Tag: "feeder", Kind: Electronics, Curve: CurveC}, poles: st.sys.lines, volts: st.sys.u, pf: 1, eta: 1}
	for s := range r.States {
		m.ib = max(m.ib, r.States[s].Max.A())
	}
	c := Circuit{Ib: unit.Amperes(m.ib), Continuous: true}
	y := st.layingOf(m.load)
	y.grouped, y.length = 1, *st.in.Supply.Distance
	c.Cable.Method, c.Cable.Length, c.Cable.Ambient, c.Cable.Grouped = y.method, y.length, y.ambient, 1
	if st.sys.rules == NEC {
		st.sizeNEC(&c, &m, y, boardFigures{})
	} else {
		st.feederIEC(&c, &m, y)
	}
	return Feeder{Device: c.Device, Cable: c.Cable, Drop: c.Drop, DropShare: c.DropShare, R1R2: c.R1R2, Problem: c.Problem}
}

func (st *study) feederIEC(c *Circuit, m *machine, y laying) {
	rating, ok := next(breakerMCCB, m.ib)
	if !ok {
		c.Problem = "no device of the tables carries " + unit.Fixed(c.Ib, 0)
		return
	}
	c.Device = Device{Standard: "IEC 60947-2", Rating: unit.Amperes(rating), Loading: unit.Fraction(m.ib / rating)}
	if st.in.Supply.Fault != nil {
		c.Device.Breaking = unit.Amperes(breaking(st.in.Supply.Fault.A()))
	}
	ca, cg, ok := c.factors(y)
	if !ok {
		return
	}
	c.Cable.Need = unit.Amperes(rating / (ca * cg))
	z := sizing{st: st, c: c, m: m, y: y, flow: m.ib, col: capacities(y, m.poles)}
	for row, it := range z.col {
		if it < c.Cable.Need.A()-1e-9 {
			continue
		}
		z.figures(row)
		if c.DropShare.Value() <= 0.02 || row+1 == len(z.col) {
			return
		}
	}
	c.Problem = "no single cable of the tables carries " + unit.Fixed(c.Cable.Need, 0)
}
