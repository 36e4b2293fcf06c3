package catalog_test

import (
	"math"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
)

// torispherical gives volume and height of a torispherical head of diameter d, crown
// radius crown and knuckle radius knuckle, by the closed formula
//
//	V = π/3 [2hR² − (2r² + c² + 2rR)(R − h) + 3r²c asin((R−h)/(R−r))], c = D/2 − r
//	h = R − √((R−r)² − c²)
//
// Source: vcalc.com, "Torispherical Head (volume and height)".
func torispherical(d, crown, knuckle float64) (volume, height float64) {
	c := d/2 - knuckle
	h := crown - math.Sqrt((crown-knuckle)*(crown-knuckle)-c*c)
	v := math.Pi / 3 * (2*h*crown*crown - (2*knuckle*knuckle+c*c+2*knuckle*crown)*(crown-h) +
		3*knuckle*knuckle*c*math.Asin((crown-h)/(crown-knuckle)))
	return v, h
}

// TestKloepperHeads compares heads with the closed formula of a torispherical head and
// with the rounded figures of the trade.
func TestKloepperHeads(t *testing.T) {
	for _, d := range []float64{0.7, 1.0, 1.25, 1.6, 2.0} {
		drum := catalog.Vessel{Diameter: unit.Metres(d), Cylinder: unit.Metres(1), Bottom: "dished", Top: "dished"}
		volume, height := torispherical(d, d, 0.1*d)
		head := (drum.GeometricVolume().M3() - math.Pi*d*d/4) / 2
		near(t, "volume of a head", head, volume, 0.0005, "closed formula of a torispherical head with R = D, r = 0.1 D (DIN 28011, radii from memory)")
		near(t, "volume of a head", head, 0.1*d*d*d, 0.015, "trade figure 0.1 D³ (from memory)")
		tall := (drum.WettedHeight().M() - 1) / 2
		near(t, "height of a head", tall, height, 0.0005, "closed formula of a torispherical head")
		near(t, "height of a head", tall, 0.1935*d, 0.003, "trade formula h₂ = 0.1935 Da − 0.455 s with s = 0 (read in two public scripts)")
		area := (drum.SkinArea().M2() - math.Pi*d) / 2
		near(t, "area of a head", area, 0.99*d*d, 0.001, "trade figure 0.99 D² (from memory)")
	}
}

// TestTradeHeightOfAHead is a point of the trade's formula with wall thickness: it is
// stated on the outside diameter.
func TestTradeHeightOfAHead(t *testing.T) {
	const outside, wall = 1.600, 0.004
	trade := 0.1935*outside - 0.455*wall
	drum := catalog.Vessel{Diameter: unit.Metres(outside - 2*wall), Cylinder: unit.Metres(1), Bottom: "flat", Top: "dished"}
	near(t, "height of a head of 1600 mm and 4 mm wall", drum.WettedHeight().M()-1, trade, 0.005,
		"h₂ = 0.1935 Da − 0.455 s = 307.8 mm (trade formula, read in two public scripts)")
}

func TestCones(t *testing.T) {
	cases := []struct {
		name           string
		d, cylinder    float64
		angle          float64
		volume, height float64
		tolerance      float64
		source         string
	}{
		{
			name: "large fermenter, cone 3.6 m high", d: 4.2, cylinder: 5.8, angle: 2 * math.Atan(2.1/3.6) * 180 / math.Pi,
			volume: 96.93, height: 9.4, tolerance: 0.001, // printed with π = 3.14
			source: "microbrewerysystem.com, How to calculate the volume of fermenter (2018): 80.31 + 16.62 = 96.93 m³",
		},
		{name: "60° cone of 1 m", d: 1, cylinder: 1, angle: 60, volume: math.Pi/4 + 0.22672, height: 1 + 0.86603, tolerance: 0.0001, source: "derived: 0.22672 D³, 0.86603 D"},
		{name: "90° cone of 2 m", d: 2, cylinder: 1, angle: 90, volume: math.Pi + math.Pi/3, height: 2, tolerance: 1e-9, source: "derived: a right cone of radius 1 and height 1"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			v := catalog.Vessel{Diameter: unit.Metres(c.d), Cylinder: unit.Metres(c.cylinder), Bottom: "cone", Cone: unit.Degrees(c.angle), Top: "open"}
			near(t, "volume", v.GeometricVolume().M3(), c.volume, c.tolerance, c.source)
			near(t, "height", v.WettedHeight().M(), c.height, c.tolerance, c.source)
		})
	}
}

// TestSkinOfAFermenter follows a tank of 1 m with a 60° cone, 1.177 m of shell and a
// dished top by pocket calculator: π/2 + 3.698 + 0.990 = 6.259 m².
func TestSkinOfAFermenter(t *testing.T) {
	v := catalog.Vessel{Diameter: unit.Metres(1), Cylinder: unit.Metres(1.177), Bottom: "cone", Cone: unit.Degrees(60), Top: "dished"}
	near(t, "skin", v.SkinArea().M2(), 1.5708+3.6977+0.9900, 0.0002, "own arithmetic")
	near(t, "volume", v.GeometricVolume().M3(), 0.22672+0.92441+0.09897, 0.0002, "own arithmetic")
}

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if math.Abs(got/want-1) > tolerance {
		t.Errorf("%s: got %.5f, want %.5f within %.3g %%; source: %s", what, got, want, tolerance*100, source)
	}
}
