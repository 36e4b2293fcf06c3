package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// LMTD gives the logarithmic mean temperature difference of a counterflow exchanger.
//
//	LMTD = (ΔT1 − ΔT2) / ln(ΔT1/ΔT2),   ΔT1 = T_hot,in − T_cold,out,  ΔT2 = T_hot,out − T_cold,in
//
// Equal differences give that difference. Error where a difference is not positive:
// the heat would have to flow uphill. Source: Incropera, heat exchangers.
func LMTD(hotIn, hotOut, coldIn, coldOut unit.Temperature) (unit.TempDiff, error) {
	d1, d2 := hotIn.C()-coldOut.C(), hotOut.C()-coldIn.C()
	if d1 <= 0 || d2 <= 0 {
		return 0, fmt.Errorf("mean temperature difference: wort %s to %s against water %s to %s cannot be reached: keep the water colder than the wort at both ends", hotIn, hotOut, coldIn, coldOut)
	}
	if math.Abs(d1-d2) < 1e-6 {
		return unit.Kelvins(d1), nil
	}
	return unit.Kelvins((d1 - d2) / math.Log(d1/d2)), nil
}

// Effectiveness gives the effectiveness of a counterflow exchanger.
//
//	ε = (1 − e^(−NTU·(1−Cr))) / (1 − Cr·e^(−NTU·(1−Cr))),  NTU/(1+NTU) at Cr = 1
//
// Source: Incropera, heat exchangers, counterflow.
func Effectiveness(ntu unit.Number, cr unit.Ratio) (unit.Ratio, error) {
	if err := unit.InRange("NTU", ntu.N(), 0, 100); err != nil {
		return 0, fmt.Errorf("effectiveness: %w", err)
	}
	if err := unit.InRange("ratio of heat capacity rates", cr.Value(), 0, 1); err != nil {
		return 0, fmt.Errorf("effectiveness: %w", err)
	}
	n, c := ntu.N(), cr.Value()
	if math.Abs(1-c) < 1e-9 {
		return unit.Fraction(n / (1 + n)), nil
	}
	x := math.Exp(-n * (1 - c))
	return unit.Fraction((1 - x) / (1 - c*x)), nil
}

// CoolingTask is wort to be cooled on water in one pass of an exchanger.
type CoolingTask struct {
	Wort              unit.Mass
	Extract           unit.Plato
	From, To          unit.Temperature
	WaterIn, WaterOut unit.Temperature
	Time              unit.Duration
}

// CoolingDuty is what a pass of the wort cooler takes.
type CoolingDuty struct {
	Heat          unit.Energy
	Power         unit.Power
	Water         unit.Volume
	LMTD          unit.TempDiff
	UA            unit.Conductance
	NTU           unit.Number
	CapacityRatio unit.Ratio
	Effectiveness unit.Ratio
}

// CoolWort gives heat, water and exchanger of one pass.
//
//	Q = m·c·(T_from − T_to),  water = Q / (4.19·(T_wo − T_wi)),  UA = Q/t/LMTD
//
// Source: heat balance; Incropera, heat exchangers.
func CoolWort(t CoolingTask) (CoolingDuty, error) {
	if err := unit.Positive("cooling time", t.Time); err != nil {
		return CoolingDuty{}, fmt.Errorf("wort cooling: %w", err)
	}
	lmtd, err := LMTD(t.From, t.To, t.WaterIn, t.WaterOut)
	if err != nil {
		return CoolingDuty{}, fmt.Errorf("wort cooling: %w", err)
	}
	if t.WaterOut <= t.WaterIn || t.From <= t.To {
		return CoolingDuty{}, fmt.Errorf("wort cooling: wort %s to %s and water %s to %s: wort must fall and water must rise", t.From, t.To, t.WaterIn, t.WaterOut)
	}
	c := t.Wort.Kg() * wortHeat(t.Extract.P())
	q := c * (t.From.C() - t.To.C())
	water := q / (waterHeat * (t.WaterOut.C() - t.WaterIn.C()))
	ch, cc := c/t.Time.S(), water*waterHeat/t.Time.S()
	ua := q / t.Time.S() / lmtd.K()
	ntu, cr := ua/math.Min(ch, cc), math.Min(ch, cc)/math.Max(ch, cc)
	eff, err := Effectiveness(unit.PureNumber(ntu), unit.Fraction(cr))
	if err != nil {
		return CoolingDuty{}, fmt.Errorf("wort cooling: %w", err)
	}
	return CoolingDuty{
		Heat: unit.Kilojoules(q), Power: unit.Kilowatts(q / t.Time.S()), Water: unit.Litres(water), LMTD: lmtd,
		UA: unit.KilowattsPerK(ua), NTU: unit.PureNumber(ntu), CapacityRatio: unit.Fraction(cr), Effectiveness: eff,
	}, nil
}
