package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

const (
	hotDensity = 0.9584 // kg/L of water at 100 °C, IAPWS R7-97
	evapHeat   = 2256.5 // kJ/kg at 100 °C, IAPWS R7-97
	waterHeat  = 4.19   // kJ/(kg·K), IAPWS R7-97 at 15 °C
	steelHeat  = 0.50   // kJ/(kg·K) of stainless steel, from memory
	boilTemp   = 100.0  // °C
)

// HeatUpTime gives the time to heat a body with losses to its surroundings.
//
//	t = (C/UA) · ln((P − UA·(T1 − Ta)) / (P − UA·(T2 − Ta)))
//
// C is the heat capacity of contents and vessel, P the heat into them, UA the loss to
// surroundings at Ta. With no loss t = C·ΔT/P; a body that is warm enough takes no time.
// Valid for a stirred or boiling body of one temperature. Error where the losses at T2
// reach the power: it never gets there. Source: heat balance, integrated over time.
func HeatUpTime(c unit.HeatCapacity, p unit.Power, ua unit.Conductance, from, to, ambient unit.Temperature) (unit.Duration, error) {
	dT := to.C() - from.C()
	if dT <= 0 {
		return 0, nil
	}
	end := p.KW() - ua.KWK()*(to.C()-ambient.C())
	if end <= 0 {
		return 0, fmt.Errorf("heat-up: %s only covers the losses at %s, so it never gets there: use more power or lag the vessel", p, to)
	}
	if ua.KWK() < 1e-9 {
		return unit.Seconds(c.KJK() * dT / p.KW()), nil
	}
	start := p.KW() - ua.KWK()*(from.C()-ambient.C())
	return unit.Seconds(c.KJK() / ua.KWK() * math.Log(start/end)), nil
}

// BoilPower gives the power that evaporates a mass flow at 100 °C.
//
//	P = M / h · 2256.5 / 3600 / η    kW, with M in kg/h
//
// η is 0.95 for an immersed electric element, 0.90 for a steam jacket, 0.6 to 0.7
// for direct gas (common practice). Source: heat of evaporation IAPWS R7-97.
func BoilPower(evaporation unit.MassFlow, efficiency unit.Ratio) (unit.Power, error) {
	if err := unit.InRange("efficiency of the heat source", efficiency.Value(), 0.3, 1); err != nil {
		return 0, fmt.Errorf("boil power: %w", err)
	}
	return unit.Kilowatts(evaporation.KgH() * evapHeat / 3600 / efficiency.Value()), nil
}

// EvaporationRate gives the share of the cast volume that a heat source evaporates
// in an hour, after the losses of the vessel.
//
//	e = (P − UA·(100 − Ta)) · 3600 / 2256.5 / (0.9584·V_hot)
//
// p is the heat that reaches the wort. The result is below 0 where it only simmers.
func EvaporationRate(p unit.Power, ua unit.Conductance, ambient unit.Temperature, hot unit.Volume) (unit.Ratio, error) {
	if err := unit.Positive("hot volume", hot); err != nil {
		return 0, fmt.Errorf("evaporation: %w", err)
	}
	net := p.KW() - ua.KWK()*(boilTemp-ambient.C())
	return unit.Fraction(net * 3600 / evapHeat / (hotDensity * hot.L())), nil
}

// HeatKind is what heats a vessel.
type HeatKind string

// The heat sources of the house.
const (
	Electric HeatKind = "electric"
	Steam    HeatKind = "steam"
	Gas      HeatKind = "gas"
)

// HeatSource is what heats the kettle.
type HeatSource struct {
	Kind HeatKind
	// Power is the rating: elements, heat given by the steam jacket, or burner input.
	Power unit.Power
	// Efficiency of the source into the wort; 0 takes 0.95 electric, 0.90 steam,
	// 0.65 gas where the vessel's loss is not known, and 1.00, 1.00, 0.70 where it is.
	Efficiency unit.Ratio
	// Loss is the vessel's UA to the room; nil is unknown, and the efficiency covers it.
	Loss *unit.Conductance
}

// delivered is the heat into vessel and wort in kW, before the loss UA.
func (h HeatSource) delivered() float64 { return h.Power.KW() * h.efficiency() }

func (h HeatSource) efficiency() float64 {
	if h.Efficiency > 0 {
		return h.Efficiency.Value()
	}
	if h.Loss != nil {
		if h.Kind == Gas {
			return 0.70
		}
		return 1
	}
	switch h.Kind {
	case Steam:
		return 0.90
	case Gas:
		return 0.65
	}
	return 0.95
}

func (h HeatSource) ua() float64 {
	if h.Loss == nil {
		return 0
	}
	return h.Loss.KWK()
}
