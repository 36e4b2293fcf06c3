package cooling

import "tunwright/catalog/unit"

const (
	gravity      = 9.81
	atmosphere   = 101325.0 // Pa
	vapour       = 1000.0   // Pa, more than cold glycol has below 7 °C
	flooded      = 0.5      // m of glycol above the pump, common practice
	fillPressure = 0.5e5    // Pa at the highest point of a closed circuit, common practice
	evaporator   = 40e3     // Pa, common practice
	dropMargin   = 0.15     // on the pressure drop only: uncertainty of viscosity
	motorEta     = 0.85     // common practice
)

// pump sums the index run and gives the pump's duty.
func (d *design) pump(c *Circuit) {
	c.ChillerDrop = unit.Pascals(evaporator)
	if d.in.Chiller.Drop != nil {
		c.ChillerDrop = *d.in.Chiller.Drop
	}
	rho := d.cold.Density.KgM3()
	c.Rise = d.in.Route.Rise
	rise := 0.0
	if c.Rise != nil {
		rise = c.Rise.M()
	}
	if !d.in.Sealed {
		c.Lift = unit.Pascals(rho * gravity * max(-rise, 0))
	}
	c.Total = c.PipeDrop + c.Fittings + c.ValveDrop + c.JacketDrop + c.ChillerDrop + c.Lift
	c.Need = unit.Pascals((c.Total-c.Lift).Pa()*(1+dropMargin)) + c.Lift
	c.Head = unit.Metres(c.Need.Pa() / (rho * gravity))
	c.Hydraulic = unit.Watts(c.Flow.M3S() * c.Need.Pa())
	eta := pumpEta(c.Hydraulic)
	c.Shaft = unit.Watts(c.Hydraulic.W() / eta)
	c.Electrical = unit.Watts(c.Shaft.W() / motorEta)
	c.NPSH = unit.Metres((atmosphere-vapour)/(rho*gravity) + flooded)
	c.Static = unit.Pascals(rho * gravity * max(rise, 0))
	switch {
	case d.in.Pump != nil:
		c.ShutOff = &d.in.Pump.ShutOff
	case d.in.Chiller.ShutOff != nil:
		c.ShutOff = d.in.Chiller.ShutOff
	}
	for i := range c.Sections {
		c.Sections[i].Static = c.Static
	}
	if c.ShutOff == nil || c.Rise == nil {
		return
	}
	at := c.Static + *c.ShutOff
	if d.in.Sealed {
		at += unit.Pascals(fillPressure)
	}
	c.AtJackets = &at
}

// pumpEta is the efficiency of a small centrifugal pump; common practice.
func pumpEta(hydraulic unit.Power) float64 {
	if hydraulic.KW() > 1 {
		return 0.60
	}
	return 0.45
}
