package cooling

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/heads.csv
	headsText string

	headsTable = source.MustTable("heads", headsText)
	dishedEnd  = endOf("dished")
	flatEnd    = endOf("flat")
)

// shape is an end of a vessel of diameter one.
type shape struct{ height, surface, volume float64 }

func endOf(name string) shape {
	r, _ := headsTable.Find("end", name)
	h, _ := headsTable.Number(r, "height")
	a, _ := headsTable.Number(r, "surface")
	v, _ := headsTable.Number(r, "volume")
	return shape{h, a, v}
}

// coneEnd is a full cone of diameter one.
//
//	h = D/(2 tan(α/2));  V = π D² h/12;  A = π D²/(4 sin(α/2))
func coneEnd(angle float64) shape {
	h := 1 / (2 * math.Tan(angle/2))
	return shape{h, math.Pi / (4 * math.Sin(angle/2)), math.Pi * h / 12}
}

// Body is the geometry of a tank.
type Body struct {
	Cylinder unit.Length // straight shell
	Bottom   unit.Length // height of the bottom
	Height   unit.Length // of the whole body
	Shell    unit.Area   // surface of the straight shell
	BottomA  unit.Area   // surface of the bottom
	TopA     unit.Area   // surface of the top
	Surface  unit.Area   // whole skin
	Held     unit.Volume // gross volume
}

// Geometry returns the surfaces of a vertical tank from its gross volume and inner
// diameter, or from its straight shell where that is given.
//
//	H = (V - V_bottom - V_top)/(π D²/4);  A = A_bottom + π D H + A_top
//
// angle is the full angle of a cone, 30° to 150°. A volume that its ends alone pass
// is an error: the diameter is too large.
//
// Source: solid geometry; torispherical ends by DIN 28011.
func Geometry(gross unit.Volume, d, cylinder unit.Length, bottom, top End, angle unit.Angle) (Body, error) {
	if err := unit.Positive("inside diameter", d); err != nil {
		return Body{}, err
	}
	below, err := endShape(bottom, angle)
	if err != nil {
		return Body{}, fmt.Errorf("bottom: %w", err)
	}
	above, err := endShape(top, angle)
	if err != nil {
		return Body{}, fmt.Errorf("top: %w", err)
	}
	dM := d.M()
	d2, d3 := dM*dM, dM*dM*dM
	ends := (below.volume + above.volume) * d3
	h := cylinder.M()
	if h <= 0 {
		h = (gross.M3() - ends) / (math.Pi * d2 / 4)
	}
	if h <= 0 {
		return Body{}, fmt.Errorf("inside diameter is %s: the ends alone hold more than %s; take a smaller diameter", d, gross)
	}
	b := Body{
		Cylinder: unit.Metres(h), Bottom: unit.Metres(below.height * dM), Height: unit.Metres(h + (below.height+above.height)*dM),
		Shell: unit.SquareMetres(math.Pi * dM * h), BottomA: unit.SquareMetres(below.surface * d2), TopA: unit.SquareMetres(above.surface * d2),
		Held: unit.CubicMetres(ends + math.Pi*d2/4*h),
	}
	b.Surface = b.Shell + b.BottomA + b.TopA
	return b, nil
}

func endShape(e End, angle unit.Angle) (shape, error) {
	switch e {
	case Cone:
		if err := unit.Within("cone angle", angle, unit.Degrees(30), unit.Degrees(150)); err != nil {
			return shape{}, err
		}
		return coneEnd(angle.Rad()), nil
	case Dished:
		return dishedEnd, nil
	case Flat:
		return flatEnd, nil
	}
	return shape{}, fmt.Errorf("%q is no end of a tank: it is cone, dished or flat", string(e))
}
