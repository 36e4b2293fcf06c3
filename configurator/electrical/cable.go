package electrical

import (
	"math"

	"tunwright/catalog/unit"
)

// conductor is one size of the drop tables with what a circuit needs of it.
type conductor struct {
	row        int // in the drop tables
	size       float64
	r20        float64 // Ω/km
	dr, dx, dz float64 // mV/A/m
}

// conductorAt reads a size for a circuit. Below 25 mm² the tables print z alone,
// which is resistance but for the last digit.
func conductorAt(row int, phases int, hot bool) conductor {
	k := 0
	if hot {
		k = 1
	}
	p := 0
	if phases == 3 {
		p = 1
	}
	d := dropColumns[k][p]
	c := conductor{row: row, size: sizesIEC[row], r20: resistance20[row], dr: d.r[row], dx: d.x[row], dz: d.z[row]}
	if math.IsNaN(c.dr) {
		c.dr, c.dx = c.dz, 0
	}
	return c
}

// z is the tabulated drop per ampere and metre.
func (c conductor) z() unit.ImpedancePerLength { return unit.MilliohmsPerMetre(c.dz) }

// VoltageDrop is the drop along a cable by the tabulated mV/A/m, with the conductor
// at its full temperature and the power factor at its worst: the safe figure.
//
//	ΔU = z · Ib · L
//
// z is the tabulated drop per ampere and metre (1 mV/A/m is 1 mΩ/m). For three phases it is between lines. Source: BS 7671:2018 Appendix 4, 6.
func VoltageDrop(z unit.ImpedancePerLength, ib unit.Current, length unit.Length) unit.Voltage {
	return unit.Volts(z.OhmM() * ib.A() * length.M())
}

// TemperatureFactor is Ct, by which the resistive part of a drop falls when the
// conductor runs below its full temperature tp:
//
//	Ct = (230 + tp − (Ca²·Cg² − Ib²/It²)·(tp − 30)) / (230 + tp)
//
// Valid for ambient of 30 °C and above, Ca and Cg not above 1, and devices other
// than BS 3036. Source: BS 7671:2018 Appendix 4, 6.1.
func TemperatureFactor(tp unit.Temperature, ca, cg unit.Ratio, ib, it unit.Current) (unit.Ratio, error) {
	if err := unit.InRange("conductor temperature", tp.C(), 60, 90); err != nil {
		return 0, err
	}
	if err := unit.InRange("Ca", ca.Value(), 0.3, 1); err != nil {
		return 0, err
	}
	if err := unit.InRange("Cg", cg.Value(), 0.3, 1); err != nil {
		return 0, err
	}
	if err := unit.InRange("Ib over It", ib.A()/it.A(), 0, 1); err != nil {
		return 0, err
	}
	c2, load := ca.Value()*cg.Value(), ib.A()/it.A()
	ct := (230 + tp.C() - (c2*c2-load*load)*(tp.C()-30)) / (230 + tp.C())
	return unit.Fraction(min(ct, 1)), nil
}

// refinedDrop is the drop with the conductor's own temperature and the power factor.
func refinedDrop(c conductor, tp float64, ca, cg, ib, it, pf, length float64) float64 {
	ct := 1.0
	if f, err := TemperatureFactor(unit.Celsius(tp), unit.Fraction(ca), unit.Fraction(cg), unit.Amperes(ib), unit.Amperes(it)); err == nil {
		ct = f.Value()
	}
	sin := math.Sqrt(max(0, 1-pf*pf))
	return (ct*pf*c.dr + sin*c.dx) * ib * length / 1000
}

// ProtectiveConductor is the smallest protective conductor by the size of the line
// conductor: S up to 16 mm², 16 mm² up to 35 mm², then S/2 rounded up.
//
// Source: BS 7671:2018 Table 54.7; IEC 60364-5-54 Table 54.2.
func ProtectiveConductor(line unit.CrossSection) unit.CrossSection {
	s := line.MM2()
	switch {
	case s <= 16:
		return line
	case s <= 35:
		return unit.ConductorMM2(16)
	}
	half, _ := next(sizesIEC, s/2)
	return unit.ConductorMM2(half)
}

// Adiabatic is the smallest protective conductor that survives a fault.
//
//	S = I·√t / k
//
// S in mm², I the fault current in A, t until the circuit is off in s, and k in
// A·√s/mm², printed by the standard as a number: 115 for a 70 °C core of a cable and
// 143 for a 90 °C one. Valid for 0.1 to 5 s, within which no heat leaves the conductor,
// and k of 20 to 250; anything else is an error. Below 0.1 s the energy that the device
// lets through counts, by its maker.
//
// Source: BS 7671:2018 543.1.3, Tables 54.3 and 54.2, by transcriptions that agree; not
// read in the printed standard.
func Adiabatic(i unit.Current, t unit.Duration, k unit.Number) (unit.CrossSection, error) {
	if err := unit.InRange("time, s", t.S(), 0.1, 5); err != nil {
		return 0, err
	}
	if err := unit.InRange("k", k.N(), 20, 250); err != nil {
		return 0, err
	}
	return unit.ConductorMM2(i.A() * math.Sqrt(t.S()) / k.N()), nil
}

// resistanceRise is the rise of resistance from 20 °C to the working temperature:
// 1.20 at 70 °C, 1.28 at 90 °C.
//
// Source: BS 7671 On-Site Guide multipliers.
func resistanceRise(hot bool) float64 {
	if hot {
		return 1.28
	}
	return 1.20
}

// LoopResistance is the resistance of line and protective conductor at working
// temperature.
//
//	R1 + R2 = (r1 + r2) · m · L, m = 1.20 at 70 °C and 1.28 at 90 °C
//
// r1 and r2 are the conductors' Ω/m at 20 °C, L the route one way in m, hot tells 90 °C
// insulation. Copper whose protective conductor is a core of the cable or bunched with
// it; reactance is left out, which counts from about 35 mm². There is no error: the
// values are those of the tables.
//
// Source: definition; multipliers of the BS 7671 On-Site Guide, resistances by IEC 60228
// class 2.
func LoopResistance(line, cpc unit.ImpedancePerLength, hot bool, length unit.Length) unit.Impedance {
	return unit.Ohms((line.OhmM() + cpc.OhmM()) * resistanceRise(hot) * length.M())
}

// r20Of is the resistance of a standard size at 20 °C (1 Ω/km is 1 mΩ/m).
func r20Of(size float64) unit.ImpedancePerLength {
	for i, s := range sizesIEC {
		if s == size {
			return unit.MilliohmsPerMetre(resistance20[i])
		}
	}
	return unit.MilliohmsPerMetre(resistance20[0])
}

// MaxLoop is the greatest earth fault loop impedance at which a breaker disconnects
// at once: U0 · 0.95 / (m · In), with m 5 for curve B, 10 for C, 20 for D. Where
// five seconds are allowed a D breaker's thermal trip suffices at 10 times.
//
// Source: BS 7671:2018 411.4.4 and Table 41.3 (Cmin 0.95).
func MaxLoop(u0 unit.Voltage, c Curve, in unit.Current, fiveSeconds bool) unit.Impedance {
	m := curveMultiple(c)
	if c == CurveD && fiveSeconds {
		m = 10
	}
	return unit.Ohms(u0.V() * 0.95 / (m * in.A()))
}

// curveMultiple is the multiple of the rating at which a breaker trips at once for
// certain. Source: IEC 60898-1 Table 2.
func curveMultiple(c Curve) float64 {
	switch c {
	case CurveB:
		return 5
	case CurveD:
		return 20
	}
	return 10
}

// holdMultiple is the multiple of the rating that a breaker is sure to let pass for
// a moment. Source: IEC 60898-1 Table 2.
func holdMultiple(c Curve) float64 {
	switch c {
	case CurveB:
		return 3
	case CurveD:
		return 10
	}
	return 5
}
