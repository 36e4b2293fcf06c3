package electrical

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// DesignCurrent is the current Ib of a load.
//
//	three-phase: Ib = P / (√3 · U · cos φ · η)    single-phase: Ib = P / (U · cos φ · η)
//
// p is the rated power, u the voltage across the load (between lines for three
// phases), pf the power factor and eta shaft over input power, 1 where p is the
// electrical input. Valid for balanced loads; harmonics are left out.
//
// Source: arithmetic of alternating current.
func DesignCurrent(p unit.Power, phases int, u unit.Voltage, pf, eta unit.Ratio) (unit.Current, error) {
	if err := unit.Positive("power", p); err != nil {
		return 0, err
	}
	if err := unit.Positive("voltage", u); err != nil {
		return 0, err
	}
	if err := unit.InRange("power factor", pf.Value(), 0.01, 1); err != nil {
		return 0, err
	}
	if err := unit.InRange("efficiency", eta.Value(), 0.05, 1); err != nil {
		return 0, err
	}
	switch phases {
	case 1:
		return unit.Amperes(p.W() / (u.V() * pf.Value() * eta.Value())), nil
	case 3:
		return unit.Amperes(p.W() / (math.Sqrt(3) * u.V() * pf.Value() * eta.Value())), nil
	}
	return 0, fmt.Errorf("phases is %d: it must be 1 or 3", phases)
}

// ElementAt gives power and current of a heating element on another voltage than it
// was rated at: P = Pr · (U/Ur)², I = Ir · (U/Ur).
//
// Source: Ohm's law; the resistance is taken as constant.
func ElementAt(rated unit.Power, current unit.Current, ratedAt, u unit.Voltage) (unit.Power, unit.Current, error) {
	if err := unit.Positive("rated voltage", ratedAt); err != nil {
		return 0, 0, err
	}
	if err := unit.Positive("voltage", u); err != nil {
		return 0, 0, err
	}
	k := u.V() / ratedAt.V()
	return unit.Watts(rated.W() * k * k), unit.Amperes(current.A() * k), nil
}

// Neutral is the neutral current of single-phase loads on the three lines, as the
// sum of phasors a·e^(−jφa), b·e^(j(−120°−φb)), c·e^(j(120°−φc)). With equal power
// factors it is √(a²+b²+c²−ab−bc−ca).
//
// Source: sum of phasors; third harmonics are left out.
func Neutral(line [3]unit.Current, pf [3]unit.Ratio) unit.Current {
	re, im := 0.0, 0.0
	for i, turn := range [3]float64{0, -2 * math.Pi / 3, 2 * math.Pi / 3} {
		a := turn
		if pf[i] > 0 && pf[i] < 1 {
			a -= math.Acos(pf[i].Value())
		}
		re += line[i].A() * math.Cos(a)
		im += line[i].A() * math.Sin(a)
	}
	n := math.Hypot(re, im)
	if n < 1e-9*(line[0].A()+line[1].A()+line[2].A()) {
		n = 0 // even lines leave a residue of rounding
	}
	return unit.Amperes(n)
}

// NeutralSplit is the neutral current of a US 120/240 V split-phase supply.
//
//	N = |A − B|
//
// A and B are the currents of the two legs in A, each to neutral; loads between the legs
// leave the neutral alone and are not counted. Exact where both legs have the same power
// factor; third harmonics, which add up in the neutral, are left out. There is no error.
//
// Source: the two legs are in antiphase; arithmetic.
func NeutralSplit(a, b unit.Current) unit.Current { return unit.Amperes(math.Abs(a.A() - b.A())) }

// DeltaLineCurrents are the line currents of unity power factor loads connected
// between lines: Ia = √(Iab² + Ica² + Iab·Ica) and so on round.
//
// Source: sum of phasors 120° apart.
func DeltaLineCurrents(ab, bc, ca unit.Current) [3]unit.Current {
	f := func(x, y float64) unit.Current { return unit.Amperes(math.Sqrt(x*x + y*y + x*y)) }
	return [3]unit.Current{f(ab.A(), ca.A()), f(bc.A(), ab.A()), f(ca.A(), bc.A())}
}

// SupplyPower is the apparent power of a supply.
//
//	S = √3·U·I on three phases, U·I on one and on a split phase
//
// U is the voltage between lines in V, of one phase that to neutral, I the current of the
// fuse in A. All lines evenly loaded; any number of phases but 3 counts as one. There is
// no error.
//
// Source: definition of apparent power.
func SupplyPower(phases int, u unit.Voltage, i unit.Current) unit.ApparentPower {
	k := 1.0
	if phases == 3 {
		k = math.Sqrt(3)
	}
	return unit.VoltAmperes(k * u.V() * i.A())
}

// motorEfficiency is the IE3 efficiency of a motor by shaft power. Below the table
// 0.5 is taken (common practice, no source); above it the largest row, since larger
// motors are better. Both mark the load as an estimate.
func motorEfficiency(p unit.Power) float64 {
	kw := p.KW()
	if eta, err := motorIE3.Between("kw", "efficiency", kw); err == nil {
		return eta
	}
	if kw < 1 {
		return 0.5
	}
	eta, _ := motorIE3.Number(motorIE3.Len()-1, "efficiency")
	return eta
}

// usualFactor is the power factor taken by kind where the plate gives none.
func (l *Load) usualFactor() float64 {
	switch {
	case l.PowerFactor != nil:
		return l.PowerFactor.Value()
	case l.Kind == Element:
		return 1
	case l.Kind == Motor && l.Starter == VariableSpeed && l.Phases == 1:
		return 0.65 // no correction of the input current: from memory
	case l.Kind == Motor && l.Starter == VariableSpeed:
		return 0.9 // with choke: from memory
	case l.Kind == Motor:
		return 0.8
	}
	return 0.95
}
