package access

import (
	_ "embed"
	"fmt"
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed tables/slings.csv
var slingsCSV string

//go:embed tables/lift-area.csv
var liftAreaCSV string

var (
	slings   = source.MustTable("slings", slingsCSV)
	liftArea = source.MustTable("lift-area", liftAreaCSV)
)

// windDoc tells by how much the wind limit of a chart falls for a large, light load;
// the manual reads it from a table, which the root follows.
var windDoc = source.Doc{ID: "Grove RT765E-2 operator manual", Title: "Rough terrain crane: simplified method to determine maximum permissible wind speed"}

var massRule = source.Ref{Doc: windDoc, Place: "figure 2-1", Provenance: source.LookedUp, Note: "charts allow 1.2 m² of drag area for a tonne; beyond it the wind falls with the root, for its force grows with the square"}

// Lifting is what is known of the crane and its gear.
type Lifting struct {
	// From which mass a piece is listed; 0 means 100 kg.
	From    unit.Mass
	Legs    int        // of the sling; 0 means 2
	Beta    unit.Angle // of a leg from the vertical; 0 means 45°
	Rigging unit.Mass  // slings, shackles, spreader; 0 means 50 kg
	Hook    unit.Mass  // hook block and ropes below the tip; 0 means 150 kg
	// Radius and TipHeight of the set; nil is unknown.
	Radius, TipHeight *unit.Length
	// Chart is the crane firm's capacity at that radius; nil is unknown.
	Chart *unit.Mass
	// MostUse of the chart that the client allows; 0 means 80 %.
	MostUse unit.Ratio
	// Wind is the chart's limit; 0 means 9.8 m/s mean, usual in charts (from memory).
	Wind unit.Velocity
	// Crane says whether a crane can stand by the building; nil is unknown.
	Crane *bool
	// Road says whether it stands on a road that must be closed; nil is unknown.
	Road *bool
}

func (l Lifting) usual() Lifting {
	if l.From == 0 {
		l.From = unit.Kilograms(100)
	}
	if l.Legs == 0 {
		l.Legs = 2
	}
	if l.Beta == 0 {
		l.Beta = unit.Degrees(45)
	}
	if l.Rigging == 0 {
		l.Rigging = unit.Kilograms(50)
	}
	if l.Hook == 0 {
		l.Hook = unit.Kilograms(150)
	}
	if l.MostUse == 0 {
		l.MostUse = unit.Percent(80)
	}
	if l.Wind == 0 {
		l.Wind = unit.MetresPerSecond(9.8)
	}
	return l
}

// LiftRow is the crane duty of one piece, as data for the crane firm.
type LiftRow struct {
	Tag, Piece            string
	Mass                  unit.Mass // packed, with tolerance where estimated
	Estimated             bool
	Length, Width, Height unit.Length
	Rigging, Hook, Gross  unit.Mass
	Legs                  int
	Beta                  unit.Angle
	Tension               unit.Force // in each leg, two carrying where four are rigged
	LegWLL                unit.Mass  // single-leg working load needed, by the mode factor
	Radius, TipHeight     *unit.Length
	Chart                 *unit.Mass
	Use                   unit.Ratio // gross over chart; 0 where the chart is unknown
	SailArea              unit.Area
	Drag                  unit.Ratio
	WindForce             unit.Force    // at the chart's limit
	WindLimit             unit.Velocity // by the mass rule
	Points                int
	Outside, Roof         bool // stands in the yard, or on the roof
}

func (in *Input) lifts(ps []piece) ([]LiftRow, error) {
	l := in.Lifting.usual()
	factor, err := SlingFactor(l.Legs, l.Beta)
	if err != nil {
		return nil, fmt.Errorf("sling: %w", err)
	}
	var out []LiftRow
	for i := range ps {
		p := &ps[i]
		if p.upper < l.From {
			continue
		}
		row := LiftRow{
			Tag: p.tag, Piece: p.p.Name, Mass: p.upper, Estimated: p.p.Estimated,
			Length: p.p.Length, Width: p.p.Width, Height: p.p.Height,
			Rigging: l.Rigging, Hook: l.Hook, Gross: p.upper + l.Rigging + l.Hook,
			Legs: l.Legs, Beta: l.Beta, Radius: l.Radius, TipHeight: l.TipHeight, Chart: l.Chart, Points: p.p.Points, Outside: p.outside, Roof: p.roof,
		}
		carrying := min(l.Legs, 2) // a rigid load on four legs hangs on two
		if row.Tension, err = SlingTension(p.upper, carrying, l.Beta); err != nil {
			return nil, fmt.Errorf("sling of %s: %w", p.tag, err)
		}
		row.LegWLL = unit.Mass(p.upper.Kg() / factor.Value())
		row.SailArea = unit.SquareMetres(max(p.p.Length.M(), p.p.Width.M()) * p.p.Height.M())
		row.Drag = unit.Fraction(boxDrag)
		if p.p.Round {
			row.Drag = unit.Fraction(roundDrag)
		}
		row.WindForce = WindForce(l.Wind, row.SailArea, row.Drag)
		if row.WindLimit, err = WindLimit(l.Wind, p.upper, row.SailArea, row.Drag); err != nil {
			return nil, fmt.Errorf("wind on %s: %w", p.tag, err)
		}
		if l.Chart != nil && *l.Chart > 0 {
			row.Use = unit.Fraction(float64(row.Gross) / float64(*l.Chart))
		}
		out = append(out, row)
	}
	return out, nil
}

// SlingTension is the force in each of n legs that carry equally: T = m·g/(n·cosβ).
// beta is the angle from the vertical, at most 60°.
//
// Source: statics.
func SlingTension(m unit.Mass, n int, beta unit.Angle) (unit.Force, error) {
	if n < 1 {
		return 0, fmt.Errorf("%d legs carry nothing: at least 1 is needed", n)
	}
	if err := unit.Within("angle of the legs from the vertical", beta, 0, unit.Degrees(60)); err != nil {
		return 0, err
	}
	return unit.Newtons(m.Kg() * g / (float64(n) * math.Cos(beta.Rad()))), nil
}

// SlingFactor is the working load of a sling as a multiple of one straight leg.
//
// Source: EN 818-4 and EN 13414-1.
func SlingFactor(legs int, beta unit.Angle) (unit.Ratio, error) {
	if err := unit.Within("angle of the legs from the vertical", beta, 0, unit.Degrees(60)); err != nil {
		return 0, err
	}
	column := "to_45"
	if beta.Deg() > 45+1e-9 {
		column = "to_60"
	}
	for row := range slings.Len() {
		if n, _ := slings.Number(row, "legs"); int(n) == legs && slings.Text(row, "arrangement") != "single choke" {
			if x, ok := slings.Number(row, column); ok {
				return unit.Fraction(x), nil
			}
			return 0, fmt.Errorf("a %s hangs straight: its angle must be at most 45°", slings.Text(row, "arrangement"))
		}
	}
	return 0, fmt.Errorf("a sling has 1 to 4 legs, not %d", legs)
}

// Drag coefficients of what hangs on a hook: the loader crane manual Effer 265, p. 23,
// has 2 for boxes and 1 for cylinders; a short cylinder is taken at 1.2, from memory.
const (
	boxDrag   = 2.0
	roundDrag = 1.2
)

// WindForce on a hanging load: F = ½·ρ·v²·c_w·A with ρ = 1.25 kg/m³, so that the
// dynamic pressure is v²/1.6 N/m².
//
// Source: dynamic pressure of air; its density as EN 1991-1-4, 4.5 recommends, from memory.
func WindForce(v unit.Velocity, area unit.Area, drag unit.Ratio) unit.Force {
	return unit.Newtons(0.5 * 1.25 * v.MS() * v.MS() * drag.Value() * area.M2())
}

// sailPerTonne is the area c_w·A for each tonne that crane charts assume.
const sailPerTonne = 1.2 // m²/t, windDoc, figure 2-1; 1.0 on a lift sheet of an older crawler crane

// WindLimit is the wind up to which a chart holds for a large, light load:
//
//	v = v_chart · √(1.2·m_t / (c_w·A)), never above v_chart
//
// c_w is the drag coefficient, 0.1…3, A the area in the wind in m², m_t the mass in
// tonnes. Crane firms may judge by capacity at radius instead; the appointed person
// chooses.
//
// Source: 1.2 m² for a tonne of the operator manual Grove RT765E-2, figure 2-1; the
// root follows from WindForce.
func WindLimit(chart unit.Velocity, m unit.Mass, area unit.Area, drag unit.Ratio) (unit.Velocity, error) {
	if err := unit.Positive("sail area", area); err != nil {
		return 0, err
	}
	if err := unit.InRange("drag coefficient", drag.Value(), 0.1, 3); err != nil {
		return 0, err
	}
	return min(chart, unit.MetresPerSecond(chart.MS()*math.Sqrt(sailPerTonne*m.T()/(drag.Value()*area.M2())))), nil
}

// LiftCarArea is the largest car area a passenger lift of a rated load may have,
// interpolated between the rows of the table.
//
// Source: EN 81-20:2014, Table 6. A larger car needs a higher load; a smaller car
// says nothing of the load: read the plate.
func LiftCarArea(rated unit.Mass) (unit.Area, error) {
	kg := rated.Kg()
	if kg > 2500 && kg <= 10000 {
		return unit.SquareMetres(5.00 + 0.16*(kg-2500)/100), nil
	}
	a, err := liftArea.Between("kg", "m2", kg)
	return unit.SquareMetres(a), err
}

// PlanLine is one line of the lift plan that others must fill, with its lead time.
type PlanLine struct {
	Subject, What, Who string
	Weeks              int // 0: none
}

// LiftPlan lists what a lift plan has to settle, and the lead times that a road
// closure brings (common practice; confirm with the council).
func LiftPlan(road bool) []PlanLine {
	lines := []PlanLine{
		{"Load", "mass with packing, centre of gravity, rated lifting points, size", "works", 0},
		{"Gear", "slings by angle and mode factor, spreader for two eyes, no lifting by legs, manway or cladding", "rigger", 0},
		{"Crane", "capacity at the largest radius by chart, no interpolation upwards: the next longer radius counts", "crane firm", 0},
		{"Ground", "outrigger pads: about 0.75 to 0.8 of crane and load on one; vaults, drains and services below", "crane firm and engineer", 0},
		{"Obstacles", "overhead lines, tail swing, jib over neighbours (oversail consent)", "appointed person", 0},
		{"Wind", "limit by area and mass, tag lines, a spare day in the programme", "appointed person", 0},
		{"People", "appointed person, supervisor, slinger; exclusion zone; communications; rescue", "crane firm", 0},
		{"Contract", "contract lift: the crane firm plans and insures; hired crane: you plan and answer", "buyer of the lift", 0},
		{"Building", "opening cut or window out only by the engineer; weathering and edge protection while open", "engineer", 0},
	}
	if road {
		lines = append(lines,
			PlanLine{"Road", "closure order (6 to 12 weeks by council), crane licence, parking suspensions, noise consent", "council", 12},
			PlanLine{"Traffic", "police and bus operator told, diversion signed, Sunday working", "council and traffic firm", 4})
	}
	return lines
}
