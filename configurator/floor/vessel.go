package floor

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// End is the form of a vessel's bottom or top.
type End string

const (
	Open      End = "open"
	Flat      End = "flat"
	Dished    End = "dished"     // Kloepper, DIN 28011: R = D, r = 0.1 D
	Korbbogen End = "korbbogen"  // DIN 28013: R = 0.8 D, r = 0.154 D
	Elliptic  End = "elliptical" // 2:1
	ASME      End = "asme"       // torispherical R = D, r = 0.06 D
	Conical   End = "cone"
)

// Vessel is the geometry of a cylindrical vessel standing upright; inside measures.
type Vessel struct {
	Diameter, Cylinder unit.Length
	Bottom, Top        End
	Cone               unit.Angle   // included angle; 0 means 60°
	Outlet             unit.Length  // small end of a conical bottom
	Shell              unit.Length  // wall; 0 takes the trade's usual one
	Steel              unit.Density // 0 means 7900 kg/m³ (1.4301)
	Jacket             unit.Area    // jacketed area
	JacketShare        unit.Ratio   // or its share of cylinder and bottom
	JacketShell        unit.Length  // 0 means 1.5 mm
	Insulation         unit.Length
	Cladding           unit.Length // 0 means 1.5 mm where insulated
	Legs               int
	LegLength          unit.Length
	LegMass            unit.MassPerLength // 0 means 7 kg/m
	Fittings           unit.Ratio         // manway, welds, arms: share of the rest; 0 means 10 %
	Under              unit.Length        // floor to lowest inside point
	Over               unit.Length        // fittings above the top head
}

// Estimate is what follows from a vessel's geometry.
type Estimate struct {
	Shell, Jacket, Cladding, Insulation, Legs, Empty unit.Mass
	Total, BottomVolume, CylinderVolume, TopVolume   unit.Volume
	InnerArea                                        unit.Area
	Outside                                          unit.Length // over cladding
	Height                                           unit.Length // floor to the top of the fittings
	ShellCentre                                      unit.Length // above the floor
}

const insulationFoam = 45 // kg/m³, PU foam 40–50 (common practice, no source)

// EstimateVessel works out a vessel's empty mass from its geometry:
//
//	m = (ρ·t·ΣA + jacket + cladding + insulation + legs) · (1 + f)
//
// It is good to ±15 % (common practice, no source) until the maker's mass is known.
// Head areas and volumes: see Head. Valid for D 0.2–5 m and L 0.05–12 m.
func EstimateVessel(v Vessel) (Estimate, error) {
	if err := unit.Within("vessel diameter", v.Diameter, unit.Metres(0.2), unit.Metres(5)); err != nil {
		return Estimate{}, err
	}
	if err := unit.Within("cylinder height", v.Cylinder, unit.Metres(0.05), unit.Metres(12)); err != nil {
		return Estimate{}, err
	}
	v = v.usual()
	d := v.Diameter.M()
	bottom, err := v.end(v.Bottom)
	if err != nil {
		return Estimate{}, fmt.Errorf("vessel bottom: %w", err)
	}
	top, err := v.end(v.Top)
	if err != nil {
		return Estimate{}, fmt.Errorf("vessel top: %w", err)
	}
	cyl := math.Pi * d * v.Cylinder.M()
	area := cyl + bottom.area + top.area
	steel := v.Steel.KgM3()
	jacket := v.Jacket.M2()
	if jacket == 0 {
		jacket = v.JacketShare.Value() * (cyl + bottom.area)
	}
	do := d + 2*(v.Shell+v.Insulation+v.Cladding).M()
	e := Estimate{
		Shell:          unit.Kilograms(steel * v.Shell.M() * area),
		Jacket:         unit.Kilograms(steel * v.JacketShell.M() * jacket),
		Legs:           unit.Kilograms(float64(v.Legs) * (v.LegLength.M()*v.LegMass.KgM() + 2)),
		BottomVolume:   unit.CubicMetres(bottom.volume),
		CylinderVolume: unit.CubicMetres(math.Pi / 4 * d * d * v.Cylinder.M()),
		TopVolume:      unit.CubicMetres(top.volume),
		InnerArea:      unit.SquareMetres(area),
		Outside:        unit.Metres(do),
		Height:         v.Under + unit.Metres(bottom.height+top.height) + v.Cylinder + v.Over,
	}
	if v.Insulation > 0 {
		e.Cladding = unit.Kilograms(area * do / d * v.Cladding.M() * steel)
		e.Insulation = unit.Kilograms(area * (d + do) / 2 / d * v.Insulation.M() * insulationFoam)
	}
	e.Total = e.BottomVolume + e.CylinderVolume + e.TopVolume
	e.Empty = unit.Mass((e.Shell + e.Jacket + e.Cladding + e.Insulation + e.Legs).Kg() * (1 + v.Fittings.Value()))
	e.ShellCentre = v.Under + unit.Metres((bottom.area*bottom.areaCentre+cyl*(bottom.height+v.Cylinder.M()/2)+
		top.area*(bottom.height+v.Cylinder.M()+top.height-top.areaCentre))/area)
	return e, nil
}

// usual fills in the trade's usual measures (common practice, no source).
func (v Vessel) usual() Vessel {
	set := func(q *unit.Length, mm float64) {
		if *q == 0 {
			*q = unit.Millimetres(mm)
		}
	}
	switch {
	case v.Diameter <= unit.Metres(1.3):
		set(&v.Shell, 3)
	case v.Diameter <= unit.Metres(1.8):
		set(&v.Shell, 4)
	default:
		set(&v.Shell, 5)
	}
	set(&v.JacketShell, 1.5)
	if v.Insulation > 0 {
		set(&v.Cladding, 1.5)
	}
	if v.Steel == 0 {
		v.Steel = 7900 // 1.4301: EN 10088-1
	}
	if v.LegMass == 0 {
		v.LegMass = unit.KgPerM(7)
	}
	if v.Fittings == 0 {
		v.Fittings = unit.Percent(10)
	}
	if v.Cone == 0 {
		v.Cone = unit.Degrees(60)
	}
	return v
}

// part is one end of a vessel: areaCentre is the height of its wall's centroid over
// the outermost point.
type part struct {
	height, volume, area, areaCentre float64
	head                             *head
	cone                             bool
	small                            float64 // radius at the outermost point
}

func (v Vessel) end(e End) (part, error) {
	d := v.Diameter.M()
	switch e {
	case Open:
		return part{}, nil
	case Flat, "":
		return part{area: math.Pi / 4 * d * d}, nil
	case Conical:
		small := v.Outlet.M()
		if small >= d || v.Cone.Deg() < 10 || v.Cone.Deg() > 170 {
			return part{}, fmt.Errorf("a cone from %.0f to %.0f mm at %.0f° has no height: its outlet must be smaller and its angle 10 to 170°", d*1000, small*1000, v.Cone.Deg())
		}
		half := v.Cone.Rad() / 2
		h := (d - small) / 2 / math.Tan(half)
		s := (d - small) / 2 / math.Sin(half)
		return part{
			height: h, volume: math.Pi * h / 12 * (d*d + d*small + small*small), area: math.Pi * (d + small) / 2 * s,
			areaCentre: h / 3 * (small + 2*d) / (small + d), cone: true, small: small / 2,
		}, nil
	case Dished, Korbbogen, ASME, Elliptic:
		h := headOf(e, d)
		return part{height: h.h, volume: h.volume(h.h), area: h.area, areaCentre: h.areaCentre(), head: &h}, nil
	}
	return part{}, fmt.Errorf("%q is not a form of end: use open, flat, dished, korbbogen, elliptical, asme or cone", e)
}
