package water

import (
	_ "embed"
	"fmt"
	"math"
	"strings"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/discharge_units.csv
var dischargeCSV string

//go:embed tables/drain_bores.csv
var drainBoresCSV string

//go:embed tables/load_classes.csv
var loadClassesCSV string

var (
	dischargeUnits = source.MustTable("discharge_units", dischargeCSV)
	drainBores     = source.MustTable("drain_bores", drainBoresCSV)
	loadClasses    = source.MustTable("load_classes", loadClassesCSV)
	en12056        = source.Doc{ID: "EN 12056-2", Title: "Gravity drainage systems inside buildings: sanitary pipework", Edition: "2000"}
	en1253         = source.Doc{ID: "EN 1253-1", Title: "Gullies for buildings", Edition: "2015"}
)

const (
	drainRough = 1.0e-3 // m, EN 12056-2 annex B
	outflowCd  = 0.6    // sharp opening, hydraulics handbooks
	leastSeal  = 50.0   // mm, EN 1253-1
)

// DischargeUnits gives the discharge unit of an appliance in one of the systems I to IV.
//
// Source: EN 12056-2:2000 Table 2.
func DischargeUnits(appliance, system string) (unit.VolumeFlow, error) {
	row, ok := dischargeUnits.Find("appliance", appliance)
	if !ok {
		return 0, fmt.Errorf("appliance %q is not in EN 12056-2 Table 2: use one of %s", appliance, strings.Join(texts(dischargeUnits, "appliance"), ", "))
	}
	x, ok := dischargeUnits.Number(row, "du_"+strings.ToLower(system))
	if !ok {
		return 0, fmt.Errorf("appliance %q has no discharge unit in system %q: use I, II, III or IV where the table has a value", appliance, system)
	}
	return unit.LitresPerSecond(x), nil
}

// WasteFlow returns the expected flow of sanitary appliances.
//
//	Qww = K · √ΣDU, not below the largest single unit
//
// K is 0.5 in dwellings and offices, 0.7 in restaurants and hotels, 1.0 in public
// toilets, 1.2 in laboratories. Process dumps are added at their real flow.
//
// Source: EN 12056-2:2000, 6.3 and Table 3.
func WasteFlow(sum, largest unit.VolumeFlow, k unit.Ratio) (unit.VolumeFlow, error) {
	if err := unit.InRange("frequency factor K", k.Value(), 0.5, 1.2); err != nil {
		return 0, fmt.Errorf("waste flow: %w", err)
	}
	if sum < 0 || largest > sum+1e-12 {
		return 0, fmt.Errorf("waste flow: the largest unit %v is more than their sum %v", largest, sum)
	}
	return max(unit.LitresPerSecond(k.Value()*math.Sqrt(sum.LS())), largest), nil
}

// VesselOutflow returns the flow out of an opening below a head of liquid.
//
//	Q = 0.6 · A · √(2·g·h)
//
// Left out: hose and pipe behind the opening, which slow it.
//
// Source: Torricelli with a coefficient of discharge of 0.6.
func VesselOutflow(opening, head unit.Length) (unit.VolumeFlow, error) {
	if err := unit.Positive("opening", opening); err != nil {
		return 0, fmt.Errorf("outflow: %w", err)
	}
	if err := unit.NotNegative("head", head); err != nil {
		return 0, fmt.Errorf("outflow: %w", err)
	}
	a := math.Pi * opening.M() * opening.M() / 4
	return unit.M3PerSecond(outflowCd * a * math.Sqrt(2*9.80665*head.M())), nil
}

// DrainCapacity returns the flow of a part-full pipe and its velocity.
//
//	v = -2·√(8·g·R·S) · log10(k/(14.8·R) + 1.255·ν/(R·√(32·g·R·S)))
//
// R is the hydraulic radius at the filling, S the gradient, k 1.0 mm, ν 1.31·10⁻⁶ m²/s.
// Valid for bores of 30…600 mm, gradients of 0.2…20 %, fillings of 10…100 %.
//
// Source: EN 12056-2:2000 annex B, Colebrook-White in the form of Prandtl.
func DrainCapacity(bore unit.Length, gradient, filling unit.Ratio) (unit.VolumeFlow, unit.Velocity, error) {
	if err := unit.Within("bore of the drain", bore, unit.Millimetres(30), unit.Millimetres(600)); err != nil {
		return 0, 0, fmt.Errorf("drain capacity: %w", err)
	}
	if err := unit.Within("gradient", gradient, unit.Percent(0.2), unit.Percent(20)); err != nil {
		return 0, 0, fmt.Errorf("drain capacity: %w", err)
	}
	if err := unit.Within("filling", filling, unit.Percent(10), unit.Percent(100)); err != nil {
		return 0, 0, fmt.Errorf("drain capacity: %w", err)
	}
	d := bore.M()
	theta := 2 * math.Acos(1-2*filling.Value())
	area, wet := d*d/8*(theta-math.Sin(theta)), d*theta/2
	r := area / wet
	s := 9.80665 * r * gradient.Value()
	v := -2 * math.Sqrt(8*s) * math.Log10(drainRough/(14.8*r)+1.255*viscosity/(r*math.Sqrt(32*s)))
	return unit.M3PerSecond(v * area), unit.MetresPerSecond(v), nil
}

// GullyRow is one floor drain on the paper.
type GullyRow struct {
	Name     string
	Size     string
	Capacity unit.VolumeFlow
	From     string // "maker" or "EN 12056-2 discharge unit"
	Inflow   unit.VolumeFlow
	Names    []string // what runs into it at its worst
	Class    string
	Needs    string // load class for the traffic
	Seal     *unit.Length
	Known    bool // inflow known: every stream into it has a flow
}

// DrainRow is one pipe on the paper.
type DrainRow struct {
	Name     string
	Size     string
	Bore     unit.Length
	Gradient unit.Ratio
	Filling  unit.Ratio
	Capacity unit.VolumeFlow
	Velocity unit.Velocity
	Inflow   unit.VolumeFlow
	Proposed string // smallest size that carries the inflow at the same gradient
	Known    bool
}

func sizeGullies(in Input, w Waste) ([]GullyRow, error) {
	rows := make([]GullyRow, 0, len(in.Gullies))
	for _, g := range in.Gullies {
		r := GullyRow{Name: g.Name, Size: g.Size, Class: g.Class, Seal: g.Seal, Known: true}
		if g.Flow != nil {
			r.Capacity, r.From = *g.Flow, "maker"
		} else {
			du, err := DischargeUnits("floor gully "+g.Size, "I")
			if err != nil {
				return nil, fmt.Errorf("gully %s: %w", g.Name, err)
			}
			r.Capacity, r.From = du, "EN 12056-2 discharge unit, system I"
		}
		r.Inflow, r.Names, r.Known = worstTwo(w, func(s StreamRow) bool { return s.Gully == g.Name })
		if g.Traffic != "" {
			at, ok := loadClasses.Find("traffic", g.Traffic)
			if !ok {
				return nil, fmt.Errorf("gully %s: traffic %q is not known: use %s", g.Name, g.Traffic, strings.Join(texts(loadClasses, "traffic"), ", "))
			}
			r.Needs = loadClasses.Text(at, "class")
		}
		rows = append(rows, r)
	}
	return rows, nil
}

// worstTwo sums the two fastest of the streams that pass the filter; of one source
// only the fastest counts, for its streams follow one another.
func worstTwo(w Waste, into func(StreamRow) bool) (unit.VolumeFlow, []string, bool) {
	var a, b StreamRow
	known := true
	for _, s := range w.Streams {
		if s.Side || s.Held || s.Day == 0 || !into(s) {
			continue
		}
		known = known && s.Flow > 0
		same := s.Source != "" && s.Source == a.Source
		switch {
		case s.Flow > a.Flow && same:
			a = s
		case s.Flow > a.Flow:
			a, b = s, a
		case s.Flow > b.Flow && !same:
			b = s
		}
	}
	var names []string
	for _, s := range []StreamRow{a, b} {
		if s.Flow > 0 {
			names = append(names, s.Name)
		}
	}
	return a.Flow + b.Flow, names, known
}

func sizeDrains(in Input, w Waste) ([]DrainRow, error) {
	rows := make([]DrainRow, 0, len(in.Drains))
	for _, d := range in.Drains {
		r := DrainRow{Name: d.Name, Size: d.Size, Bore: d.Bore, Gradient: d.Gradient, Filling: d.Filling}
		if r.Gradient == 0 {
			r.Gradient = unit.Percent(1)
		}
		if r.Filling == 0 {
			r.Filling = unit.Percent(50)
		}
		if r.Bore == 0 {
			at, ok := drainBores.Find("size", d.Size)
			if !ok {
				return nil, fmt.Errorf("drain %s: size %q is not known: use %s, or give the bore", d.Name, d.Size, strings.Join(texts(drainBores, "size"), ", "))
			}
			mm, _ := drainBores.Number(at, "bore_mm")
			r.Bore = unit.Millimetres(mm)
		}
		var err error
		if r.Capacity, r.Velocity, err = DrainCapacity(r.Bore, r.Gradient, r.Filling); err != nil {
			return nil, fmt.Errorf("drain %s: %w", d.Name, err)
		}
		process, _, known := worstTwo(w, func(s StreamRow) bool { return s.Drain == d.Name || drainOf(in, s.Gully) == d.Name })
		sanitary := unit.VolumeFlow(0)
		if d.Sanitary > 0 {
			if sanitary, err = WasteFlow(d.Sanitary, 0, unit.Fraction(0.5)); err != nil {
				return nil, fmt.Errorf("drain %s: %w", d.Name, err)
			}
		}
		r.Inflow, r.Known = process+sanitary, known
		if r.Proposed, err = drainFor(r.Inflow, r.Gradient, r.Filling); err != nil {
			return nil, fmt.Errorf("drain %s: %w", d.Name, err)
		}
		rows = append(rows, r)
	}
	return rows, nil
}

func drainOf(in Input, gully string) string {
	for _, g := range in.Gullies {
		if g.Name == gully && gully != "" {
			return g.Drain
		}
	}
	return ""
}

// drainFor finds the smallest size that carries a flow; empty where none does.
func drainFor(q unit.VolumeFlow, gradient, filling unit.Ratio) (string, error) {
	for i := range drainBores.Len() {
		mm, _ := drainBores.Number(i, "bore_mm")
		c, _, err := DrainCapacity(unit.Millimetres(mm), gradient, filling)
		if err != nil {
			return "", err
		}
		if c >= q {
			return drainBores.Text(i, "size"), nil
		}
	}
	return "", nil
}
