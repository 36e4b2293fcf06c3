package cooling

import (
	_ "embed"
	"errors"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

var (
	//go:embed tables/glycol-factor.csv
	factorText string
	//go:embed tables/altitude.csv
	altitudeText string

	factorTable    = source.MustTable("glycol-factor", factorText)
	factorVolume   = mustColumn(factorTable, "volume")
	factorOutput   = mustColumn(factorTable, "output")
	altitudeTable  = source.MustTable("altitude", altitudeText)
	altitudeMetres = mustColumn(altitudeTable, "metres")
	altitudeOutput = mustColumn(altitudeTable, "output")
)

// ErrNotRated says that the maker's table does not reach the conditions asked for.
var ErrNotRated = errors.New("the maker's rating table does not cover these conditions")

// Output is what a chiller gives at its real conditions.
type Output struct {
	Capacity unit.Power
	Input    unit.Power // electrical
	Factor   unit.Ratio // for glycol and height, already in Capacity
}

// Rated interpolates a maker's table in leaving and ambient temperature.
//
//	Q = Σ w_i Q_i, P = Σ w_i P_i, bilinear over the four rated points around (t_leaving, t_ambient)
//
// Q is the cooling and P the electrical input of one unit. Valid as far as the table
// goes, which must hold the four corner points around the conditions; beyond it, or in
// a gap, the answer is ErrNotRated: nothing is extrapolated.
//
// Source: the maker's table, as the caller gives it; bilinear interpolation.
func Rated(table []Rating, leaving, ambient unit.Temperature) (Output, error) {
	lo, hi, okL := bracket(table, leaving, func(r Rating) unit.Temperature { return r.Leaving })
	cool, hot, okA := bracket(table, ambient, func(r Rating) unit.Temperature { return r.Ambient })
	if !okL || !okA {
		return Output{}, fmt.Errorf("%s leaving at %s ambient: %w", leaving, ambient, ErrNotRated)
	}
	var corner [4]Rating
	for i, at := range [4][2]unit.Temperature{{lo, cool}, {lo, hot}, {hi, cool}, {hi, hot}} {
		r, ok := ratingAt(table, at[0], at[1])
		if !ok {
			return Output{}, fmt.Errorf("%s leaving at %s ambient is missing: %w", at[0], at[1], ErrNotRated)
		}
		corner[i] = r
	}
	u, v := share(leaving, lo, hi), share(ambient, cool, hot)
	mix := func(of func(Rating) unit.Power) unit.Power {
		low := (1-v)*of(corner[0]).W() + v*of(corner[1]).W()
		high := (1-v)*of(corner[2]).W() + v*of(corner[3]).W()
		return unit.Watts((1-u)*low + u*high)
	}
	return Output{
		Capacity: mix(func(r Rating) unit.Power { return r.Capacity }),
		Input:    mix(func(r Rating) unit.Power { return r.Input }), Factor: 1,
	}, nil
}

// bracket finds the nearest rated temperatures around t.
func bracket(table []Rating, t unit.Temperature, of func(Rating) unit.Temperature) (lo, hi unit.Temperature, ok bool) {
	below, above := math.Inf(-1), math.Inf(1)
	for _, r := range table {
		x := of(r).C()
		if x <= t.C() {
			below = max(below, x)
		}
		if x >= t.C() {
			above = min(above, x)
		}
	}
	return unit.Celsius(below), unit.Celsius(above), !math.IsInf(below, 0) && !math.IsInf(above, 0)
}

func ratingAt(table []Rating, leaving, ambient unit.Temperature) (Rating, bool) {
	for _, r := range table {
		if r.Leaving == leaving && r.Ambient == ambient {
			return r, true
		}
	}
	return Rating{}, false
}

func share(x, lo, hi unit.Temperature) float64 {
	if lo == hi {
		return 0
	}
	return (x.C() - lo.C()) / (hi.C() - lo.C())
}

// GlycolFactor returns the output on glycol over the output on water: for ratings
// given for water only, and once.
//
// volume is the glycol by volume, 0 to 40 %, linear between the rows of
// tables/glycol-factor.csv; outside: *unit.RangeError.
//
// Source: Chiller Technical Manual 7525355 V1.1.0 (03/2013), page 39.
func GlycolFactor(volume unit.Ratio) (unit.Ratio, error) {
	f, ok := between(factorVolume, factorOutput, volume.Pct())
	if !ok {
		return 0, fmt.Errorf("output on glycol: %w", unit.Within("glycol by volume", volume, 0, unit.Percent(40)))
	}
	return unit.Fraction(f), nil
}

// AltitudeFactor returns the output of an air-cooled chiller at a height above the sea
// over that at sea level.
//
// height is 0 to 2400 m, linear between the rows of tables/altitude.csv; below the sea
// counts as at the sea, above 2400 m: *unit.RangeError.
//
// Source: manual of the air-cooled chillers YLCC-h, page 18.
func AltitudeFactor(height unit.Length) (unit.Ratio, error) {
	f, ok := between(altitudeMetres, altitudeOutput, max(height.M(), 0))
	if !ok {
		return 0, fmt.Errorf("output at height: %w", unit.Within("height above the sea", height, 0, unit.Metres(2400)))
	}
	return unit.Fraction(f), nil
}

// output is what one unit gives on the glycol and at the height of the design.
func (c Chiller) output(leaving, ambient unit.Temperature, byVolume unit.Ratio, height unit.Length) (Output, error) {
	o, err := Rated(c.Ratings, leaving, ambient)
	if err != nil {
		return Output{}, err
	}
	factor, err := AltitudeFactor(height)
	if err != nil {
		return Output{}, err
	}
	if c.Glycol == 0 {
		water, err := GlycolFactor(byVolume)
		if err != nil {
			return Output{}, err
		}
		factor = unit.Fraction(factor.Value() * water.Value())
	}
	o.Factor = factor
	o.Capacity = unit.Watts(o.Capacity.W() * factor.Value())
	return o, nil
}

// NominalCapacity returns the catalogue capacity that gives a duty at a derating factor.
//
//	Q_nominal = Q/F
//
// F is the output at the real conditions over the catalogue output, above 0; anything
// else is an error. Source: definition of the factor.
func NominalCapacity(duty unit.Power, factor unit.Ratio) (unit.Power, error) {
	if err := unit.Positive("derating factor", factor); err != nil {
		return 0, err
	}
	return unit.Watts(duty.W() / factor.Value()), nil
}
