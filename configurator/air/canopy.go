package air

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var dw172 = source.Doc{ID: "DW/172", Title: "Specification for kitchen ventilation systems", Edition: "2005/2018"}

// dw172Quoted marks figures read on trade pages that quote the document.
var dw172Quoted = source.Ref{Doc: dw172, Place: "face velocity and duct velocity", Provenance: source.LookedUp, Note: "as quoted by three trade pages, not read in the document"}

//go:embed tables/ducts.csv
var ductsCSV string

//go:embed tables/convection.csv
var convectionCSV string

var (
	ducts      = source.MustTable("ducts", ductsCSV)
	convection = source.MustTable("convection", convectionCSV)
)

const (
	faceLight    = 0.25 // m/s over the canopy's plan for boiling pans and steamers, trade pages quoting DW/172
	ductLow      = 6.0  // m/s main extract, as above
	ductHigh     = 9.0
	outletLow    = 12.0 // m/s discharge
	outletHigh   = 15.0
	canopyEntry  = 30.0        // Pa into the canopy, common practice, no source
	cowlLoss     = 20.0        // Pa at an upward discharge cone, common practice, no source
	supplyShare  = 0.85        // mechanical make-up over extract at most, as above
	openingSpeed = 1.0         // m/s through make-up openings, common practice, no source
	rhoCpAir     = 1.2 * 1.006 // kJ/(m³·K), air at room state
)

// CaptureFlow returns the air a canopy must draw to catch what rises below it.
//
//	Q = v · L · B
//
// face is the speed over the canopy's plan area (0.25 m/s for boiling pans).
// Valid for 0.1…1 m/s. Left out: cross-draughts, which ask for more.
//
// Source: DW/172, provisional method by face velocity, as quoted by three trade pages.
func CaptureFlow(length, width unit.Length, face unit.Velocity) (unit.VolumeFlow, error) {
	if err := unit.Positive("canopy length", length); err != nil {
		return 0, fmt.Errorf("capture flow: %w", err)
	}
	if err := unit.Positive("canopy width", width); err != nil {
		return 0, fmt.Errorf("capture flow: %w", err)
	}
	if err := unit.Within("capture velocity", face, unit.MetresPerSecond(0.1), unit.MetresPerSecond(1)); err != nil {
		return 0, fmt.Errorf("capture flow: %w", err)
	}
	return unit.M3PerSecond(face.MS() * length.M() * width.M()), nil
}

// ConvectionFlow returns the warm air that rises from a boiling pan.
//
//	Q = A · c
//
// area is the plan area of the appliance; c in m³/(s·m²) by its heat.
//
// Source: DW/172, thermal convection method; coefficients of boiling pans from memory.
func ConvectionFlow(area unit.Area, heat string) (unit.VolumeFlow, error) {
	if err := unit.NotNegative("plan area", area); err != nil {
		return 0, fmt.Errorf("convection flow: %w", err)
	}
	row, ok := convection.Find("heat", heat)
	if !ok {
		return 0, fmt.Errorf("convection flow: heat %q is not known: use electric, steam or gas", heat)
	}
	c, _ := convection.Number(row, "coefficient_m3_s_m2")
	return unit.M3PerSecond(area.M2() * c), nil
}

// DuctVelocity returns the speed in a round duct, v = 4·Q/(π·D²).
//
// Source: continuity.
func DuctVelocity(flow unit.VolumeFlow, diameter unit.Length) (unit.Velocity, error) {
	if err := unit.Positive("duct diameter", diameter); err != nil {
		return 0, fmt.Errorf("duct velocity: %w", err)
	}
	return unit.MetresPerSecond(4 * flow.M3S() / (math.Pi * diameter.M() * diameter.M())), nil
}

// DuctFor returns the smallest standard round duct in which the speed does not
// pass the limit.
//
//	D ≥ √(4·Q/(π·v))
//
// Beyond the largest size: *unit.RangeError.
//
// Source: continuity; sizes of EN 1506 from memory.
func DuctFor(flow unit.VolumeFlow, most unit.Velocity) (unit.Length, error) {
	if err := unit.Positive("duct velocity", most); err != nil {
		return 0, fmt.Errorf("duct size: %w", err)
	}
	d := math.Sqrt(4 * flow.M3S() / (math.Pi * most.MS()))
	row, err := ducts.AtLeast("diameter_mm", d*1000)
	if err != nil {
		return 0, fmt.Errorf("duct size for %v: %w", flow, err)
	}
	mm, _ := ducts.Number(row, "diameter_mm")
	return unit.Millimetres(mm), nil
}

// Overhang returns how far the canopy must stand over a steaming appliance on a
// free side: 600 mm with its edge at up to 2.1 m, 100 mm more for each 100 mm above.
//
// Source: DW/172, as quoted by three trade pages.
func Overhang(underside unit.Length) unit.Length {
	return unit.Millimetres(600 + max(underside.MM()-2100, 0))
}

// MakeUpHeat returns the heat that warms the mechanical make-up air.
//
//	P = share · Q · ρ·cp · (to - from)
//
// ρ·cp is that of air at room state, 1.207 kJ/(m³·K).
//
// Source: heat balance; share of the supply at most 85 % by DW/172 as quoted by trade pages.
func MakeUpHeat(extract unit.VolumeFlow, share unit.Ratio, from, to unit.Temperature) (unit.Power, error) {
	if err := unit.Within("share of mechanical supply", share, unit.Percent(0), unit.Percent(100)); err != nil {
		return 0, fmt.Errorf("make-up heat: %w", err)
	}
	return unit.Kilowatts(share.Value() * extract.M3S() * rhoCpAir * max(to.C()-from.C(), 0)), nil
}

// SurfaceHeat returns the heat a hot surface gives the room, P = U·A·(Ts - Ti).
//
// Source: heat transfer; U of 1 W/m²K insulated and 10 to 12 bare steel are common practice, no source.
func SurfaceHeat(s HotSurface, room unit.Temperature) unit.Power {
	u := s.U.WM2K()
	if u == 0 {
		u = 10
	}
	return unit.Watts(u * s.Area.M2() * max(s.Temp.C()-room.C(), 0))
}

// DuctLoss returns the pressure a straight round duct and its bends take.
//
//	Δp = (f·L/D + Σζ) · ρ·v²/2, f = 0.11·(k/D + 68/Re)^0.25
//
// k is 0.15 mm for spiral duct with joints, ζ 0.3 for each bend and 1.0 for the
// outlet; ρ 1.2 kg/m³, ν 15·10⁻⁶ m²/s. Left out: the canopy's filter and the cowl.
//
// Source: Altshul's form of the Darcy friction factor, from memory; ζ common practice.
func DuctLoss(flow unit.VolumeFlow, d, length unit.Length, bends int) (unit.PressureDiff, error) {
	v, err := DuctVelocity(flow, d)
	if err != nil {
		return 0, fmt.Errorf("duct loss: %w", err)
	}
	if v <= 0 {
		return 0, nil
	}
	re := v.MS() * d.M() / 15e-6
	f := 0.11 * math.Pow(0.00015/d.M()+68/re, 0.25)
	return unit.Pascals((f*length.M()/d.M() + 0.3*float64(bends) + 1) * 1.2 * v.MS() * v.MS() / 2), nil
}
