package air

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

const (
	latent100    = 2256.5 // kJ/kg at 100 °C, steam tables
	cpCondensate = 4.2    // kJ/(kg·K)
	cpCooling    = 4.19   // kJ/(kg·K)
	steamVolume  = 1.67   // m³/kg at 100 °C and 1.013 bar, steam tables
	sewerLimit   = 43.0   // °C to the sewer, Public Health Act 1936 s. 27 (110 °F), from memory
)

var (
	sewerDoc    = source.Doc{ID: "Public Health Act 1936", Title: "Public Health Act 1936"}
	steamTables = source.Doc{ID: "IAPWS-IF97", Title: "Properties of water and steam", Edition: "1997"}
)

// CondenserDuty returns the heat taken out of vapour at 100 °C to condense it and
// cool the condensate.
//
//	P = mv · (2256.5 + 4.2·(100 - tc)) / 3600
//
// Valid for condensate of 10…100 °C.
//
// Source: heat balance with the heat of evaporation of IAPWS-IF97 at 100 °C.
func CondenserDuty(vapour unit.MassFlow, condensate unit.Temperature) (unit.Power, error) {
	if err := unit.Within("condensate temperature", condensate, unit.Celsius(10), unit.Celsius(100)); err != nil {
		return 0, fmt.Errorf("condenser duty: %w", err)
	}
	return unit.Kilowatts(vapour.KgS() * (latent100 + cpCondensate*(100-condensate.C()))), nil
}

// CoolingWater returns the water that carries the duty away.
//
//	V = P·3600 / (4.19·(out - in)) L/h
//
// Source: heat balance; water taken as 1 kg/L.
func CoolingWater(duty unit.Power, in, out unit.Temperature) (unit.VolumeFlow, error) {
	if out.C()-in.C() < 1 {
		return 0, fmt.Errorf("cooling water: it enters at %v and leaves at %v: it must leave at least 1 K warmer", in, out)
	}
	return unit.LitresPerHour(duty.KW() * 3600 / (cpCooling * (out.C() - in.C()))), nil
}

// SprayWater returns the cold water sprayed into the vapour so that the mixture
// leaves at the given temperature, vapour included.
//
//	V = mv · (2256.5 + 4.2·(100 - out)) / (4.19·(out - in))
//
// Source: heat balance; vapour and water leave together.
func SprayWater(vapour unit.MassFlow, in, out unit.Temperature) (unit.VolumeFlow, error) {
	duty, err := CondenserDuty(vapour, out)
	if err != nil {
		return 0, fmt.Errorf("spray water: %w", err)
	}
	return CoolingWater(duty, in, out)
}

// StackFor returns the size of a stack that carries pure vapour from a sealed
// kettle at no more than 6 m/s, with its speed.
//
// Source: continuity at 1.67 m³/kg; 3 to 6 m/s is common practice, no source.
func StackFor(vapour unit.MassFlow) (unit.Length, unit.Velocity, error) {
	q := unit.M3PerSecond(vapour.KgS() * steamVolume)
	d, err := DuctFor(q, unit.MetresPerSecond(6))
	if err != nil {
		return 0, 0, fmt.Errorf("vapour stack: %w", err)
	}
	v, err := DuctVelocity(q, d)
	return d, v, err
}

// CondenserResult is the condenser path: what it takes and what it gives back.
type CondenserResult struct {
	Name     string
	Capacity unit.MassFlow   // vapour it takes; 0 where none is chosen
	Duty     unit.Power      // at the kettle's evaporation
	Water    unit.VolumeFlow // cooling water while boiling
	PerKg    unit.SpecificVolume
	WaterIn  unit.Temperature
	WaterOut unit.Temperature
	ToDrain  unit.VolumeFlow  // water and condensate to the drain while boiling
	DrainAt  unit.Temperature // temperature of what goes to the drain
	Spray    bool
	Sewer    unit.Temperature
	SprayFor unit.VolumeFlow // cold water a spray condenser needs for what the sewer takes
	Reusable unit.VolumeFlow // hot water that can go to the hot liquor tank
	Stack    unit.Length     // of a sealed kettle without condenser
	StackAt  unit.Velocity
}

func condense(s Steam) (*CondenserResult, error) {
	c := Condenser{WaterIn: unit.Celsius(12), WaterOut: unit.Celsius(80)}
	if s.Condenser != nil {
		c = *s.Condenser
	}
	if c.Out == 0 {
		c.Out = unit.Celsius(85)
	}
	if c.Spray {
		c.Out = c.WaterOut
	}
	r := &CondenserResult{Name: c.Name, Capacity: c.Vapour, WaterIn: c.WaterIn, WaterOut: c.WaterOut, Spray: c.Spray, Sewer: s.Sewer}
	var err error
	if r.Duty, err = CondenserDuty(s.Evaporation, c.Out); err != nil {
		return nil, err
	}
	if r.Water, err = CoolingWater(r.Duty, c.WaterIn, c.WaterOut); err != nil {
		return nil, err
	}
	if c.Water > r.Water { // the chosen unit draws what it draws
		r.Water = c.Water
	}
	if r.SprayFor, err = SprayWater(s.Evaporation, c.WaterIn, s.Sewer); err != nil {
		return nil, fmt.Errorf("cooling water at %v cannot bring the vapour to %v: %w", c.WaterIn, s.Sewer, err)
	}
	if s.Evaporation > 0 {
		r.PerKg = unit.M3PerKg(r.Water.M3S() / s.Evaporation.KgS())
	}
	vapourWater := unit.M3PerSecond(s.Evaporation.KgS() / 1000)
	if c.Spray {
		r.ToDrain, r.DrainAt = r.Water+vapourWater, c.WaterOut
	} else {
		r.ToDrain, r.DrainAt, r.Reusable = vapourWater, c.Out, r.Water
	}
	r.Stack, r.StackAt, err = StackFor(s.Evaporation)
	return r, err
}
