package catalog

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Kloepper heads: crown radius R = D, knuckle radius r = 0.1 D (DIN 28011). The
// coefficients follow from the geometry of a torispherical head with these radii;
// the trade rounds them to 0.1 D³, 0.99 D² and 0.1935 D.
const (
	headVolume = 0.09897 // m³ per m³ of D³
	headArea   = 0.98999 // m² per m² of D²
	headHeight = 0.19377 // m per m of D
)

// topCone is the slope of a cone-shaped top from the level. Brewhouse vessels have
// 12 to 18°, chosen by the maker; the volume under it is 3 to 4 % of the vessel.
// Source: common practice, no source.
const topCone = 15 * math.Pi / 180

// GeometrySource names where the head figures come from.
func GeometrySource() source.Ref {
	return source.Doc{ID: "DIN 28011", Title: "Dished heads, torispherical (Kloepper) type", Edition: "1993"}.
		Recalled("R = D, r = 0.1 D")
}

// GeometricVolume is what the vessel holds to the brim by its inside dimensions.
//
//	V = π D² H / 4 + V_bottom + V_top
//	cone to a point, included angle α: V = π D³ / (24 tan(α/2))
//	dished (Kloepper): V = 0.099 D³; flat, sloped and open ends: 0
//
// Source: plane geometry; heads by GeometrySource.
func (v Vessel) GeometricVolume() unit.Volume {
	d, h := v.Diameter.M(), v.Cylinder.M()
	total := math.Pi * d * d * h / 4
	switch v.Bottom {
	case "cone":
		total += coneVolume(d, v.Cone.SI()/2)
	case "dished":
		total += headVolume * d * d * d
	}
	switch v.Top {
	case "cone":
		total += coneVolume(d, math.Pi/2-topCone)
	case "dished":
		total += headVolume * d * d * d
	}
	return unit.CubicMetres(total)
}

// SkinArea is the inside surface of shell, bottom and closed top: the surface heat
// comes in through.
//
//	cylinder π D H; cone π D² / (4 sin(α/2)); dished 0.99 D²; flat π D² / 4
//
// Source: plane geometry; heads by GeometrySource.
func (v Vessel) SkinArea() unit.Area {
	d := v.Diameter.M()
	total := math.Pi * d * v.Cylinder.M()
	total += endArea(v.Bottom, d, v.Cone.SI()/2)
	total += endArea(v.Top, d, math.Pi/2-topCone)
	return unit.SquareMetres(total)
}

// WettedHeight is the height of the vessel's inside from the lowest point to the
// top of its top end: cone or head, cylinder, head.
func (v Vessel) WettedHeight() unit.Length {
	d := v.Diameter.M()
	h := v.Cylinder.M() + endHeight(v.Bottom, d, v.Cone.SI()/2) + endHeight(v.Top, d, math.Pi/2-topCone)
	return unit.Metres(h)
}

// coneVolume is the volume of a cone of base diameter d to a point; half is the
// angle between its axis and its side.
func coneVolume(d, half float64) float64 {
	return math.Pi * d * d * d / (24 * math.Tan(half))
}

func endArea(end string, d, half float64) float64 {
	switch end {
	case "cone":
		return math.Pi * d * d / (4 * math.Sin(half))
	case "dished":
		return headArea * d * d
	case "open":
		return 0
	}
	return math.Pi * d * d / 4
}

func endHeight(end string, d, half float64) float64 {
	switch end {
	case "cone":
		return d / (2 * math.Tan(half))
	case "dished":
		return headHeight * d
	}
	return 0
}
