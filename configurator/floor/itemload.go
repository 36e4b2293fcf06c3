package floor

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// patchPoints is how many points a side a base without feet is divided in.
const patchPoints = 4

// mass fills in the empty, working and brim-full mass of a piece.
func (it *Item) mass(row *ItemLoad) error {
	rho := it.Density.KgM3()
	if rho == 0 {
		rho = 1050 // wort of 12 °P: 998.2 · 1.0484, rounded up
	}
	row.Estimated, row.Tolerance = it.Estimated || it.Empty == nil, it.Tolerance
	brim := it.Brim
	shellCentre, centre := it.Height*0.45, it.Height*0.5
	if it.Vessel != nil {
		v := *it.Vessel
		e, err := EstimateVessel(v)
		if err != nil {
			return err
		}
		row.Empty, shellCentre = e.Empty, e.ShellCentre
		if v.Under == 0 && it.Height > e.Height { // what is not vessel is legs
			v.Under = it.Height - e.Height
			shellCentre += v.Under
		}
		if brim == 0 {
			brim = e.Total
		}
		if it.Liquid > 0 {
			liquid := min(it.Liquid, e.Total)
			if _, centre, err = LiquidCentre(v, liquid); err != nil {
				return err
			}
		}
	}
	switch {
	case it.Empty != nil:
		row.Empty = *it.Empty
	case it.Vessel == nil:
		row.MassUnknown = true
	}
	if row.Tolerance == 0 && row.Estimated {
		row.Tolerance = unit.Percent(15) // common practice, no source
	}
	brim = max(brim, it.Liquid)
	liquid := unit.Kilograms(it.Liquid.M3() * rho)
	row.Operating = row.Empty + liquid + it.Coolant
	row.Test = row.Empty + it.Coolant + unit.Kilograms(brim.M3()*1000)
	if brim == it.Liquid { // an open trough or a stock that cannot be overfilled
		row.Test = row.Operating
	}
	more := row.Empty * unit.Mass(row.Tolerance)
	row.EmptyUpper, row.OperatingUpper, row.TestUpper = row.Empty+more, row.Operating+more, row.Test+more
	row.CentreEmpty = shellCentre
	row.CentreOperating = shellCentre
	if row.Operating > 0 {
		row.CentreOperating = unit.Metres(((row.Operating-liquid).Kg()*shellCentre.M() + liquid.Kg()*centre.M()) / row.Operating.Kg())
	}
	row.Footprint = unit.AreaLoad(float64(Weight(row.Operating)) / it.Footprint().M2())
	row.FootprintTest = unit.AreaLoad(float64(Weight(row.Test)) / it.Footprint().M2())
	round := (it.Length.M() + 0.6) * (it.Footprint().M2()/it.Length.M() + 0.6)
	row.Tributary = unit.AreaLoad(float64(Weight(row.Operating)) / round)
	return nil
}

// bearings appends where a piece bears on the floor, and with what share of its weight.
func (it *Item) bearings(i int, out []bearing) []bearing {
	if it.Place == nil || it.Wall || it.Outside {
		return out
	}
	sin, cos := math.Sincos(it.Place.Turn.Rad())
	put := func(x, y, f float64) {
		p := plan.P(it.Place.At.X.M()+x*cos-y*sin, it.Place.At.Y.M()+x*sin+y*cos)
		out = append(out, bearing{item: int32(i), p: p, f: f})
	}
	ex, ey := it.OffCentre.X.M(), it.OffCentre.Y.M()
	if it.Feet != nil {
		pts := it.Feet.points()
		sx, sy := 0.0, 0.0
		for _, p := range pts {
			sx += square(p.X.M())
			sy += square(p.Y.M())
		}
		for _, p := range pts {
			put(p.X.M(), p.Y.M(), 1/float64(len(pts))+ex*p.X.M()/sx+ey*p.Y.M()/sy)
		}
		return out
	}
	l := it.Length.M()
	wide := it.Footprint().M2() / l
	if it.Round { // the square of the same area as the circle
		l *= math.Sqrt(math.Pi) / 2
		wide = l
	}
	rows := patchPoints
	if it.Runners > 1 {
		rows = it.Runners
	}
	for a := range patchPoints {
		for b := range rows {
			x := l * ((float64(a)+0.5)/patchPoints - 0.5)
			y := wide * ((float64(b)+0.5)/float64(rows) - 0.5)
			if it.Runners > 1 {
				y = wide * (float64(b)/float64(rows-1) - 0.5)
			}
			put(x+ex, y+ey, 1/float64(patchPoints*rows))
		}
	}
	return out
}

func square(x float64) float64 { return x * x }
