package cooling

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/jacket-u.csv
	jacketText string

	jacketTable = source.MustTable("jacket-u", jacketText)
	jacketTemp  = mustColumn(jacketTable, "beer_c")
	jacketU     = mustColumn(jacketTable, "u_w_m2k")
)

// JacketU returns the heat transfer coefficient of a welded jacket on still beer.
// Below 4 °C the lowest row holds; above 25 °C the highest, which is on the safe side.
//
// Source: natural convection by Churchill and Chu, within Perry's Table 11-7 halved.
func JacketU(beer unit.Temperature) unit.HeatTransfer {
	return unit.WattsPerM2K(jacketUAt(beer.C()))
}

func jacketUAt(t float64) float64 {
	u, _ := between(jacketTemp, jacketU, min(max(t, jacketTemp[0]), jacketTemp[len(jacketTemp)-1]))
	return u
}

// EffectiveUA returns what a jacket with a limited flow of glycol takes for each kelvin
// between beer and entering glycol.
//
//	UA_eff = ṁ c (1 - exp(-UA/(ṁ c)))
//
// Source: Kern, Process Heat Transfer, batch cooling with a non-isothermal medium.
func EffectiveUA(ua, flow unit.Conductance) (unit.Conductance, error) {
	if err := unit.Positive("heat capacity flow", flow); err != nil {
		return 0, err
	}
	return unit.WattsPerK(effective(ua.WK(), flow.WK())), nil
}

func effective(ua, mc float64) float64 { return mc * -math.Expm1(-ua/mc) }

// BatchCooling returns the time in which a body of capacity c cools, through a constant
// UA_eff against entering glycol, while heat leaks in through uaGain from the room.
//
//	k = UA_eff + UA_a;  T∞ = (UA_eff t_g + UA_a T_a)/k;  t = (C/k) ln[(T1 - T∞)/(T2 - T∞)]
//
// A target at or below T∞ is never reached: an error, not a number.
//
// Source: Kern, Process Heat Transfer, batch cooling; the gain by superposition.
func BatchCooling(c unit.HeatCapacity, ua, uaGain unit.Conductance, from, to, glycol, room unit.Temperature) (unit.Duration, error) {
	if err := unit.Positive("UA of the jacket", ua); err != nil {
		return 0, err
	}
	k := ua.WK() + uaGain.WK()
	end := (ua.WK()*glycol.C() + uaGain.WK()*room.C()) / k
	if to >= from || to.C() <= end {
		return 0, fmt.Errorf("target is %s: it must lie between %s, where gain and jacket balance, and %s", to, unit.Celsius(end), from)
	}
	return unit.Seconds(c.JK() / k * math.Log((from.C()-end)/(to.C()-end))), nil
}

// jacket is a tank as its jacket cools it.
type jacket struct {
	capacity float64 // J/K
	area     float64 // m²
	flow     float64 // heat capacity flow of the glycol, W/K
	gain     float64 // W/K through the skin
	glycol   float64 // °C entering
	room     float64 // °C
}

// takes is the heat the open jacket takes at a beer temperature, in W.
func (j jacket) takes(t float64) float64 {
	return effective(jacketUAt(t)*j.area, j.flow) * (t - j.glycol)
}

func (j jacket) leaks(t float64) float64 { return j.gain * max(j.room-t, 0) }

// Steps of the integration over beer temperature.
const jacketSteps = 40

// time integrates dt = C dT/(takes - leaks) from one temperature down to another by
// the midpoint rule; ok is false where the jacket cannot get there.
func (j jacket) time(from, to float64) (hours float64, ok bool) {
	dT := (from - to) / jacketSteps
	for i := range jacketSteps {
		t := from - (float64(i)+0.5)*dT
		net := j.takes(t) - j.leaks(t)
		if net <= 0 {
			return 0, false
		}
		hours += j.capacity * dT / net / 3600
	}
	return hours, j.takes(to) > j.leaks(to)
}

// LMTD returns the logarithmic mean of two temperature differences.
//
//	LMTD = (Δ1 - Δ2)/ln(Δ1/Δ2), and Δ where both are equal
//
// Both must be above zero: temperatures that cross are an error.
//
// Source: integration along the surface, Incropera, Fundamentals of Heat and Mass
// Transfer, from memory.
func LMTD(a, b unit.TempDiff) (unit.TempDiff, error) {
	if a <= 0 || b <= 0 {
		return 0, fmt.Errorf("temperature differences are %s and %s: both must be above 0 K, or the streams cross", a, b)
	}
	if math.Abs(a.K()-b.K()) < 1e-9*a.K() {
		return a, nil
	}
	return unit.Kelvins((a.K() - b.K()) / math.Log(a.K()/b.K())), nil
}
