package pressure

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
)

// Size draws up the register and the protection. An error means that the input
// cannot be, never that a vessel is unsafe.
func Size(in Input) (Result, error) {
	var r Result
	switch in.Country {
	case "", GB, IE, DE, US:
	default:
		return r, fmt.Errorf("pressure: country %q is not known: use GB, IE, DE or US", in.Country)
	}
	rows := len(in.Vessels)
	for i := range in.Vessels {
		if in.Vessels[i].Jacket != nil {
			rows++
		}
	}
	r.Register, r.Trace = make([]Row, 0, rows), make(trace.Trace, 0, rows)
	r.Vessels, r.Papers = make([]VesselResult, 0, len(in.Vessels)), make([]PaperRow, 0, usualPapers*len(in.Vessels))
	for _, v := range in.Vessels {
		if err := r.vessel(in.Country, v); err != nil {
			return Result{}, fmt.Errorf("vessel %s: %w", v.Tag, err)
		}
	}
	return r, nil
}

// usualPapers is how many papers come with a vessel, for room in the list.
const usualPapers = 10

func (r *Result) vessel(country Country, v Vessel) error {
	out := VesselResult{Tag: v.Tag, Governs: -1, Overall: Out}
	row, err := mainRow(country, v)
	if err != nil {
		return err
	}
	at := len(r.Register)
	r.Register = append(r.Register, row)
	if j := v.Jacket; j != nil {
		jr, err := jacketRow(country, v, *j)
		if err != nil {
			return fmt.Errorf("jacket: %w", err)
		}
		r.Register = append(r.Register, jr)
	}
	rows := r.Register[at:]
	if out.Cases, err = reliefCases(v); err != nil {
		return err
	}
	for i, c := range out.Cases {
		if c.Known && (out.Governs < 0 || c.Area > out.Needed) {
			out.Governs, out.Needed = i, c.Area
		}
	}
	if out.Vacuum, err = vacuumCases(v); err != nil {
		return err
	}
	out.Needs = len(out.Vacuum) > 0
	if v.Carbonation != nil {
		if err := out.equal(*v.Carbonation, v.BeerTemp); err != nil {
			return err
		}
	}
	rows[0].Relief, rows[0].VacuumWords = reliefWords(v, out), vacuumWords(v, out)
	out.Register = make([]int, len(rows))
	for i := range rows {
		if c := rows[i].Verdict.Category; c.rank() > out.Overall.rank() {
			out.Overall = c
		}
		out.Register[i] = at + i
		r.step(&rows[i])
	}
	r.Vessels = append(r.Vessels, out)
	r.Papers = papersFor(r.Papers, country, v, rows)
	return nil
}

// equal is the pressure that carbonated beer stands at. Beer warmer or livelier than the
// table stands at that of its edge or more, colder or flatter beer at that or less.
func (out *VesselResult) equal(c unit.Carbonation, t unit.Temperature) error {
	if err := unit.Within("beer temperature", t, unit.Celsius(-5), unit.Celsius(40)); err != nil {
		return err
	}
	if err := unit.Within("carbonation", c, 0, unit.CO2GramsPerLitre(20)); err != nil {
		return err
	}
	inC, inT := min(max(c, leastCO2), mostCO2), min(max(t, coldest), warmest)
	p, err := EquilibriumPressure(inC, inT)
	if err != nil {
		return err
	}
	more, less := c > inC || t > inT, c < inC || t < inT
	if more && less {
		return nil // the two pull apart: nothing can be said
	}
	out.Equal = &p
	switch {
	case more:
		out.Bound = 1
	case less:
		out.Bound = -1
	}
	return nil
}

func mainRow(country Country, v Vessel) (Row, error) {
	row := Row{Tag: v.Tag, Description: v.Description, Chamber: "vessel", TSLow: v.TSLow, TSHigh: v.TSHigh, Fluid: fluid(v.Contents), Group: group(v.Contents)}
	contents := v.Contents
	if v.Vented {
		contents = Atmosphere
	}
	var ok bool
	row.Volume, row.Assumed, ok = v.total()
	if v.Kind == Pipe && v.DN != nil {
		row.Volume, ok = unit.Litres(1), true // pipes go by DN
	}
	if v.PS == nil && contents != Atmosphere {
		row.Unknown = "PS is not known: ask the maker"
		return row, nil
	}
	if v.PS != nil {
		row.PS = *v.PS
	}
	if !ok && contents != Atmosphere {
		row.Unknown = "the volume is not known: ask the maker for the total inside volume"
		return row, nil
	}
	kind := v.Kind
	if kind == Receiver && v.Stainless {
		kind = Tank
	}
	return row, row.judge(country, kind, contents, v.DN, v.Machine)
}

func jacketRow(country Country, v Vessel, j Jacket) (Row, error) {
	row := Row{Tag: v.Tag, Description: v.Description, Chamber: "jacket", Fluid: fluid(j.Contents), Group: group(j.Contents)}
	if j.PS == nil || j.Volume == nil {
		row.Unknown = "PS or volume of the jacket is not known: ask the maker"
		return row, nil
	}
	row.PS, row.Volume = *j.PS, *j.Volume
	return row, row.judge(country, Tank, j.Contents, nil, v.Machine)
}

// judge fills verdict, consequence and duties in use.
func (row *Row) judge(country Country, kind Kind, contents Contents, dn *unit.Length, machine bool) error {
	row.PV = unit.BarLitres(row.PS.BarG() * row.Volume.L())
	var err error
	if country == US {
		row.Verdict = usVerdict(kind, contents, row.PS)
	} else if row.Verdict, err = Classify(kind, contents, row.PS, row.Volume, dn); err != nil {
		return err
	}
	if machine && row.Verdict.Category == I {
		row.Verdict = Verdict{Category: Out, Words: "category I at most and built into a machine: covered by the machinery legislation", Source: decree.At("Art. 1(2)")}
	}
	row.Consequence = consequenceOf(row.Verdict.Category, country)
	row.InUse = inUse(country, kind, contents, row.PS, row.Volume)
	return nil
}

func (r *Result) step(row *Row) {
	if row.Unknown != "" || row.PV == 0 {
		return
	}
	r.Trace.Add(trace.Step{
		Title: "Category of " + row.Tag + ", " + row.Chamber, Symbol: "PS·V", Formula: "PS · V",
		Values: []trace.Value{trace.V("PS", row.PS), trace.V("V", row.Volume)}, Result: row.PV, Source: row.Verdict.Source, Note: row.Verdict.Text(),
	})
}

func fluid(c Contents) string {
	switch c {
	case BeerCO2:
		return "beer under carbon dioxide"
	case CO2:
		return "carbon dioxide"
	case Air:
		return "compressed air"
	case Nitrogen:
		return "nitrogen"
	case Steam:
		return "steam"
	case Water:
		return "water up to 110 °C"
	case Superheat:
		return "water above 110 °C"
	case Coolant:
		return "glycol and water"
	case Caustic:
		return "cleaning liquid"
	case Flammable:
		return "fluid of group 1"
	}
	return "open to the air"
}

func group(c Contents) int {
	if c == Flammable {
		return 1
	}
	return 2
}

func reliefWords(v Vessel, out VesselResult) string {
	if len(out.Cases) == 0 {
		return "none needed"
	}
	words := "area not yet sized"
	if out.Governs >= 0 {
		words = unit.In(out.Needed, "mm2", 1) + " by " + out.Cases[out.Governs].Name
	}
	switch {
	case v.Relief == nil:
		return words + "; what is fitted is not known"
	case !v.Relief.Fitted:
		return words + "; none fitted"
	}
	return words + "; valve set at " + v.Relief.Set.String()
}

func vacuumWords(v Vessel, out VesselResult) string {
	switch {
	case !out.Needs && (v.HotClean == nil || v.CausticCO2 == nil) && underPressure(v) && v.Kind == Tank && !liquid(v.Contents):
		return "depends on how it is cleaned: not known"
	case !out.Needs:
		return "none needed as used"
	case v.Vacuum == nil:
		return "needed; what is fitted is not known"
	case !v.Vacuum.Fitted:
		return "needed; none fitted"
	}
	return "needed and fitted"
}
