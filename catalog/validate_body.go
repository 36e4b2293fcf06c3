package catalog

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

const (
	// volumeTolerance is how far the stated brim volume may stand from the one by
	// dimensions: outlets, manways and made heads move it. Common practice, no source.
	volumeTolerance = 0.08
	// massSlack lets the pieces of a body add up to a little less than the body:
	// weights are rounded. Common practice, no source.
	massSlack = 0.02
	// sameLength is the difference below which two lengths are one.
	sameLength = unit.Length(0.001)
)

func (b *Body) check(fs *faults, at string) {
	if b.Round && math.Abs((b.Length-b.Width).SI()) > sameLength.SI() {
		fs.add(at+".width_mm", "a round body is as wide as it is long", fmt.Sprintf("write %s, or leave out round", unit.In(b.Length, "mm", 0)))
	}
	b.checkPacked(fs, at)
	b.checkParts(fs, at)
	if b.Feet != nil {
		b.checkFeet(fs, at+".feet")
	}
	if b.Vessel != nil {
		b.Vessel.check(fs, at+".vessel")
		b.checkVesselFits(fs, at)
	}
}

func (b *Body) checkPacked(fs *faults, at string) {
	if len(b.Packed) == 0 {
		fs.add(at+".packed", "no transport piece is given", "give each piece with name, size and mass")
		return
	}
	var mass unit.Mass
	for i, p := range b.Packed {
		mass += p.Mass
		if p.Crate >= p.Height {
			fs.add(fmt.Sprintf("%s.packed[%d].packing_height_mm", at, i+1), "the packing is as high as the piece on it", "height_mm includes packing_height_mm")
		}
	}
	if mass.Kg() < b.Empty.Kg()*(1-massSlack) {
		fs.add(at+".packed", fmt.Sprintf("the pieces weigh %s together, less than the body with %s", mass, b.Empty), "add the missing piece or correct a mass")
	}
}

func (b *Body) checkParts(fs *faults, at string) {
	var mass unit.Mass
	var height, width unit.Length
	for _, p := range b.Parts {
		mass += p.Mass
		height += p.Height
		width += p.Width
	}
	if mass >= b.Empty {
		fs.add(at+".demountable", fmt.Sprintf("the parts weigh %s, the whole body %s", mass, b.Empty), "the parts belong to the body and weigh less")
	}
	if height >= b.Height || width >= b.Width {
		fs.add(at+".demountable", "taking the parts off would leave nothing", "saves_height_mm and saves_width_mm are what each part adds to the body")
	}
}

func (b *Body) checkFeet(fs *faults, at string) {
	f := b.Feet
	circle, rectangle := f.Circle > 0, f.A > 0 || f.B > 0
	switch {
	case b.Wall:
		fs.add(at, "a wall-mounted body has no feet", "leave out feet or wall_mounted")
	case circle == rectangle:
		fs.add(at, "feet stand on a circle or on a rectangle", "give circle_mm, or a_mm and b_mm")
	case rectangle && (f.A == 0 || f.B == 0):
		fs.add(at, "one spacing of the feet is missing", "give both a_mm and b_mm")
	case rectangle && (f.Count < 4 || f.Count%2 != 0):
		fs.add(at+".count", fmt.Sprintf("%d feet do not make a rectangle", f.Count), "write an even number from 4")
	case circle && f.Circle+f.Pad > b.Length+unit.Millimetres(400):
		fs.add(at+".circle_mm", fmt.Sprintf("feet on %s stand clear of a body of %s", unit.In(f.Circle, "mm", 0), unit.In(b.Length, "mm", 0)), "it is the diameter of the circle through the feet")
	case rectangle && (f.A > b.Length || f.B > b.Width):
		fs.add(at, "the feet stand further apart than the body is long or wide", "a_mm goes along the length, b_mm along the width, from centre to centre")
	}
}

func (b *Body) checkVesselFits(fs *faults, at string) {
	v := b.Vessel
	outside := v.Diameter + 2*(v.Shell+v.Insulation)
	if outside > min(b.Length, b.Width)+sameLength {
		fs.add(at+".width_mm", fmt.Sprintf("the vessel is %s wide with shell and insulation, the body %s", unit.In(outside, "mm", 0), unit.In(min(b.Length, b.Width), "mm", 0)), "the body's size is over everything")
	}
	if v.WettedHeight() > b.Height {
		fs.add(at+".height_mm", fmt.Sprintf("the vessel's inside is %s high, the body %s", unit.In(v.WettedHeight(), "mm", 0), unit.In(b.Height, "mm", 0)), "the body's height is over feet and top fittings")
	}
}

func (v *Vessel) check(fs *faults, at string) {
	if v.Gross < v.Nominal {
		fs.add(at+".gross_l", fmt.Sprintf("the brim volume %s is less than the working volume %s", v.Gross, v.Nominal), "gross_l is the larger of the two")
	}
	if (v.Bottom == "cone") != (v.Cone > 0) {
		fs.add(at+".cone_included_deg", "a cone-shaped bottom has an angle, and only that has", "give the full angle of the cone, such as 60, or another bottom")
	} else {
		v.checkVolume(fs, at)
	}
	v.checkDuties(fs, at)
	v.checkJacket(fs, at)
	v.checkPressure(fs, at)
}

func (v *Vessel) checkVolume(fs *faults, at string) {
	want := v.GeometricVolume()
	if math.Abs(v.Gross.SI()/want.SI()-1) > volumeTolerance {
		fs.add(at+".gross_l", fmt.Sprintf("%s does not follow from the dimensions, which give %s", v.Gross, unit.In(want, "l", 0)),
			fmt.Sprintf("it must lie within %.0f %% of that, or a dimension is wrong", volumeTolerance*100))
	}
}

func (v *Vessel) checkDuties(fs *faults, at string) {
	if len(v.Duties) == 0 {
		fs.add(at+".duties", "the vessel has no duty", "write what it is used for, such as ferment")
	}
	for i, d := range v.Duties {
		if !slices.Contains(duties, d) {
			fs.add(fmt.Sprintf("%s.duties[%d]", at, i+1), fmt.Sprintf("%q is not a duty of a vessel", d), "write one of: mash, lauter, kettle, whirlpool, hot-liquor, cold-liquor, ferment, bright, serving, coolant, cleaning")
		}
	}
	lauters := slices.Contains(v.Duties, DutyLauter)
	if lauters != (v.LauterArea > 0) {
		fs.add(at+".lauter_area_m2", "a vessel that lauters has a false bottom, and no other has", "give lauter_area_m2 with the duty lauter")
	}
	floor := math.Pi * v.Diameter.M() * v.Diameter.M() / 4
	if v.LauterArea.M2() > floor*1.005 {
		fs.add(at+".lauter_area_m2", fmt.Sprintf("the false bottom is larger than the vessel's floor of %s m²", unit.Digits(floor, 3)), "it lies inside the diameter")
	}
}

func (v *Vessel) checkJacket(fs *faults, at string) {
	jacketed := v.JacketBody > 0 || v.JacketCone > 0
	described := v.JacketPS > 0 && v.JacketFlow > 0 && v.JacketDrop > 0 && v.JacketVol > 0
	if jacketed && !described {
		fs.add(at, "the jacket is not described", "give jacket_pressure_bar_g, jacket_flow_l_min, jacket_drop_kpa and jacket_l")
	}
	if v.JacketPS > 0 && v.JacketMedium == "" {
		fs.add(at+".jacket_medium", "what flows in the jacket is not said", "write coolant or steam: the law judges a steam jacket more strictly")
	}
	if !jacketed && (v.JacketPS > 0 || v.JacketFlow > 0 || v.JacketDrop > 0 || v.JacketVol > 0) {
		fs.add(at, "jacket figures are given without a jacket", "give jacket_body_m2 or jacket_cone_m2")
	}
	if v.JacketBody+v.JacketCone > v.SkinArea() {
		fs.add(at+".jacket_body_m2", fmt.Sprintf("the jacket is larger than the vessel's skin of %s", v.SkinArea()), "it covers a part of shell and cone")
	}
	if v.JacketCone > 0 && v.Bottom != "cone" {
		fs.add(at+".jacket_cone_m2", "the vessel has no cone", "count the jacket under jacket_body_m2")
	}
}

func (v *Vessel) checkPressure(fs *faults, at string) {
	if v.Pressure > 0 && !v.ReliefValve {
		fs.add(at+".rated_pressure_bar_g", "a vessel under pressure has no relief valve", "add relief_valve: true")
	}
	if v.Pressure > 0 && (v.Top == "open" || v.Top == "flat") {
		fs.add(at+".top", fmt.Sprintf("a %s top holds no pressure", v.Top), "write dished, or leave out rated_pressure_bar_g")
	}
}
