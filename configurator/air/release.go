package air

import (
	"fmt"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// oxygenNote has carbon dioxide at 0.552 m³/kg; the University of Nottingham's safety
// calculators have the same linear form for other gases.
var oxygenNote = source.Doc{ID: "Oxygen depletion calculator of Oxigraf", Title: "Technical support: oxygen depletion calculator for confined spaces"}

// HeadspaceGas returns the carbon dioxide in a headspace.
//
//	m = p·V/(R·T) · M
//
// The headspace is taken as pure carbon dioxide at p + 1.013 bar.
//
// Source: ideal gas.
func HeadspaceGas(v unit.Volume, p unit.GaugePressure, t unit.Temperature) unit.Mass {
	return unit.Grams((p.PaG() + seaLevel) * v.M3() / (gasMolar * (t.C() + zeroC)) * molarCO2)
}

// Released is the state of a space after a sudden loss, without ventilation.
type Released struct {
	Mass   unit.Mass
	Gas    unit.Volume
	Share  unit.VolumeFraction
	Oxygen unit.VolumeFraction
}

// Release mixes a loss of carbon dioxide into a volume of air.
//
//	Vg = m · 0.552; C = Vg/V; O2 = 20.95·(1 - C)
//
// The linear form is used, not the lower one of slow displacement; the 420 ppm of
// outdoor air are left out. The share
// cannot pass the whole of the space. Ventilation is left out.
//
// Source: Oxigraf, oxygen depletion calculator for confined spaces, with its 0.552 m³/kg.
func Release(m unit.Mass, into unit.Volume) (Released, error) {
	if err := unit.NotNegative("mass released", m); err != nil {
		return Released{}, fmt.Errorf("release: %w", err)
	}
	if err := unit.Positive("air volume", into); err != nil {
		return Released{}, fmt.Errorf("release: %w", err)
	}
	gas := m.Kg() * gasPerKg
	share := min(gas/into.M3(), 1)
	return Released{Mass: m, Gas: unit.CubicMetres(gas), Share: unit.FractionByVolume(share), Oxygen: unit.PercentByVolume(20.95 * (1 - share))}, nil
}

// RoomFor returns the air volume that takes a loss without passing a limit,
// V = m·0.552/C. The 420 ppm of outdoor air are left out, as the calculator does.
//
// Source: as Release.
func RoomFor(m unit.Mass, limit unit.VolumeFraction) (unit.Volume, error) {
	if limit <= 0 {
		return 0, fmt.Errorf("room for a release: the limit is %v: it must be above zero", limit)
	}
	return unit.CubicMetres(m.Kg() * gasPerKg / limit.Fraction()), nil
}

// ReleaseRow is one loss on the paper.
type ReleaseRow struct {
	Name     string // "cylinder 6.35 kg", "tank FV1: headspace and dissolved"
	Kind     string // "cylinder", "bulk", "tank", "purged tank"
	Outdoor  bool
	Released // into the zone that counts
	Zone     unit.Volume
	Whole    Released    // into the whole room
	RoomFor5 unit.Volume // volume that would hold it to the limit over a shift, 5000 ppm everywhere
	Words    string
}

// lowerZone is the part of a room in which a sudden loss of heavy gas stays: one
// metre above the floor (common practice, no source), unless stirring fans are
// interlocked with the detectors.
func lowerZone(g GasSpace) unit.Volume {
	whole := g.Room.Air()
	if g.Stirred || g.Room.Area <= 0 {
		return whole
	}
	return min(whole, unit.CubicMetres(g.Room.Area.M2()*1.0))
}

func releases(g GasSpace, limits []Limit) ([]ReleaseRow, error) {
	var rows []ReleaseRow
	zone, whole := lowerZone(g), g.Room.Air()
	add := func(name, kind string, m unit.Mass, outdoor bool) error {
		low, err := Release(m, zone)
		if err != nil {
			return err
		}
		all, err := Release(m, whole)
		if err != nil {
			return err
		}
		shift, err := RoomFor(m, role(limits, "long").Share)
		if err != nil {
			return err
		}
		rows = append(rows, ReleaseRow{Name: name, Kind: kind, Outdoor: outdoor, Released: low, Zone: zone, Whole: all, RoomFor5: shift, Words: judge(low.Share, limits, outdoor)})
		return nil
	}
	for _, s := range g.Stores {
		kind := "cylinder"
		if s.Content.Kg() > 60 {
			kind = "bulk"
		}
		if err := add(s.Name+" ("+s.Content.String()+")", kind, s.Content, s.Outdoor); err != nil {
			return nil, fmt.Errorf("store %s: %w", s.Name, err)
		}
	}
	for _, t := range g.Tanks {
		m, kind, name := tankGas(t)
		if err := add(name, kind, m, false); err != nil {
			return nil, fmt.Errorf("tank %s: %w", t.Name, err)
		}
	}
	return rows, nil
}

// tankGas is what a tank can give off when a door is opened or it is drained.
func tankGas(t GasTank) (m unit.Mass, kind, name string) {
	head := HeadspaceGas(t.Gross-min(t.Filled, t.Gross), t.Pressure, t.Temp)
	if t.Purged || t.Filled == 0 {
		return head, "purged tank", t.Name + ": emptied with its gas"
	}
	return head + unit.Grams(t.Dissolved.GL()*t.Filled.L()), "tank", t.Name + ": headspace and dissolved gas"
}

// judge names the highest limit that a share passes.
func judge(share unit.VolumeFraction, limits []Limit, outdoor bool) string {
	words, highest := "below every limit", unit.VolumeFraction(0)
	for _, l := range limits {
		if share > l.Share && l.Share > highest {
			words, highest = "above "+l.Code, l.Share
		}
	}
	if outdoor {
		return "stands outdoors; indoors it would be " + words
	}
	return words
}
