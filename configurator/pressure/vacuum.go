package pressure

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const (
	naohPerCO2 = 1.82  // kg/kg, 2 NaOH + CO2 → Na2CO3 + H2O, molar masses 80.0 and 44.0
	airFlowCd  = 0.6   // opening
	airDensity = 1.2   // kg/m³
	openingDP  = 300.0 // Pa: thin tanks bear 2 to 5 mbar only, common practice, no source
)

// steamPressure is the saturation pressure over water in Pa, ASHRAE eq. 6.
func steamPressure(tC float64) float64 {
	T := tC + 273.15
	return math.Exp(-5.8002206e3/T + 1.3914993 + T*(-4.8640239e-2+T*(4.1764768e-5-1.4452093e-8*T)) + 6.5459673*math.Log(T))
}

// Collapse returns the pressure inside a sealed tank cooled from one temperature,
// saturated with water vapour, to another, and the air it would draw in as a share
// of its volume.
//
//	p2 = (p - pws(T1))·T2/T1 + pws(T2); share = 1 - ((p - pws(T1))·T2/T1)/(p - pws(T2))
//
// Valid for 1…99 °C.
//
// Source: ideal gas with the saturation pressure of ASHRAE Fundamentals 2017, ch. 1, eq. 6.
func Collapse(hot, cold unit.Temperature) (unit.AbsPressure, unit.Ratio, error) {
	if err := unit.Within("hot temperature", hot, unit.Celsius(1), unit.Celsius(99)); err != nil {
		return 0, 0, fmt.Errorf("vacuum by cooling: %w", err)
	}
	if err := unit.Within("cold temperature", cold, unit.Celsius(1), hot); err != nil {
		return 0, 0, fmt.Errorf("vacuum by cooling: %w", err)
	}
	air := (atmosphere - steamPressure(hot.C())) * (cold.C() + 273.15) / (hot.C() + 273.15)
	p2 := air + steamPressure(cold.C())
	return unit.PascalsAbs(p2), unit.Fraction(1 - air/(atmosphere-steamPressure(cold.C()))), nil
}

// VacuumArea returns the opening that lets air follow a liquid pumped out, or any
// volume that goes.
//
//	A = Q / (0.6·√(2·Δp/ρ))
//
// ρ is 1.2 kg/m³, Δp the vacuum the tank bears.
//
// Source: flow through an opening.
func VacuumArea(flow unit.VolumeFlow, dp unit.PressureDiff) (unit.Area, error) {
	if err := unit.Positive("vacuum borne", dp); err != nil {
		return 0, fmt.Errorf("vacuum relief: %w", err)
	}
	if err := unit.NotNegative("flow", flow); err != nil {
		return 0, fmt.Errorf("vacuum relief: %w", err)
	}
	return unit.SquareMetres(flow.M3S() / (airFlowCd * math.Sqrt(2*dp.Pa()/airDensity))), nil
}

// BoundByCaustic returns the carbon dioxide that caustic takes up: 1.82 kg of NaOH
// bind 1 kg.
//
// Source: stoichiometry of 2 NaOH + CO2.
func BoundByCaustic(naoh unit.Mass) unit.Mass { return unit.Kilograms(naoh.Kg() / naohPerCO2) }

// VacuumCase is one way in which a vessel can be sucked in.
type VacuumCase struct {
	Name   string
	Inside unit.AbsPressure // if nothing lets air in
	Share  unit.Ratio       // air drawn in, of the vessel's volume
	Flow   unit.VolumeFlow  // air that must follow; 0 where it cannot be said
	Area   unit.Area        // of the valve for that flow
	Words  string
}

// coolSeconds is the time in which a cold rinse cools the vapour in a hot tank;
// common practice, no source.
const coolSeconds = 10.0

func vacuumCases(v Vessel) ([]VacuumCase, error) {
	if v.Contents == Atmosphere || v.Vented {
		return nil, nil
	}
	dp := v.Bears
	if dp == 0 {
		dp = unit.Pascals(openingDP)
	}
	var cases []VacuumCase
	if yes(v.HotClean) {
		c, err := rinseCase(v, dp)
		if err != nil {
			return nil, err
		}
		cases = append(cases, c)
	}
	if yes(v.CausticCO2) {
		c, err := causticCase(v.Soda, dp)
		if err != nil {
			return nil, err
		}
		cases = append(cases, c)
	}
	if v.PumpOut > 0 {
		a, err := VacuumArea(v.PumpOut, dp)
		if err != nil {
			return nil, err
		}
		cases = append(cases, VacuumCase{Name: "pumped out with nothing following", Flow: v.PumpOut, Area: a, Share: unit.Fraction(1), Words: "air or gas must follow at the pump's flow"})
	}
	return cases, nil
}

// co2Volume is the volume of carbon dioxide at 15 °C and 1.013 bar, m³/kg; ideal gas.
const co2Volume = 0.537

// causticCase is caustic that binds the gas of the tank as fast as it comes in. Where
// nobody said how much comes in, no area is given.
//
//	Q = m_NaOH / 1.82 · 0.537 m³/kg
//
// Source: stoichiometry of 2 NaOH + CO2; that all of the caustic finds gas at once is
// the worst that can be.
func causticCase(soda unit.MassFlow, dp unit.PressureDiff) (VacuumCase, error) {
	c := VacuumCase{Name: "caustic with carbon dioxide inside", Share: unit.Fraction(1), Words: "1.82 kg of caustic soda bind 1 kg of carbon dioxide and leave a vacuum: vent and purge with air before caustic, or clean with acid"}
	if soda == 0 {
		return c, nil
	}
	if err := unit.NotNegative("caustic soda pumped in", soda); err != nil {
		return c, err
	}
	c.Flow = unit.M3PerSecond(soda.KgS() / naohPerCO2 * co2Volume)
	var err error
	c.Area, err = VacuumArea(c.Flow, dp)
	return c, err
}

// rinseCase is the rinse that draws in the most air among those that step a hot tank
// down to its last rinse by equal falls of temperature.
func rinseCase(v Vessel, dp unit.PressureDiff) (VacuumCase, error) {
	hot, cold, steps := orDefault(v.CleanTemp, 70), orDefault(v.RinseTemp, 15), max(v.RinseSteps, 1)
	c := VacuumCase{Name: "cold rinse after hot cleaning", Words: "within the first seconds of the rinse; rinse in steps, warm first"}
	fall := (hot.C() - cold.C()) / float64(steps)
	var from, to unit.Temperature
	for i := range steps {
		upper, lower := unit.Celsius(hot.C()-float64(i)*fall), unit.Celsius(hot.C()-float64(i+1)*fall)
		p, share, err := Collapse(upper, lower)
		if err != nil {
			return c, err
		}
		if share > c.Share {
			c.Inside, c.Share, from, to = p, share, upper, lower
		}
	}
	c.Words = "from " + from.String() + " to " + to.String() + ", " + c.Words
	total, _, ok := v.total()
	if !ok {
		return c, nil
	}
	c.Flow = unit.M3PerSecond(total.M3() * c.Share.Value() / coolSeconds)
	var err error
	c.Area, err = VacuumArea(c.Flow, dp)
	return c, err
}

func orDefault(t unit.Temperature, c float64) unit.Temperature {
	if t == 0 {
		return unit.Celsius(c)
	}
	return t
}

// totalOverNet is total over working volume of a cylindroconical tank, 1.2 to 1.3;
// common practice, no source.
const totalOverNet = 1.25

// total gives the inside volume, estimated from the working volume where it must be.
func (v Vessel) total() (volume unit.Volume, assumed, ok bool) {
	if v.Volume != nil {
		return *v.Volume, false, true
	}
	if v.Net > 0 {
		return unit.CubicMetres(v.Net.M3() * totalOverNet), true, true
	}
	return 0, false, false
}
