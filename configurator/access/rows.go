package access

import (
	"slices"
	"strings"

	"tunwright/catalog/unit"
)

// Row is one piece at one step, ready to print.
type Row struct {
	Route, Piece, Step string
	Verdict            Verdict
	How                string // upright, lying, tilted 57°, sideways
	Off                string
	Governing          string
	Need, Have, Clear  unit.Length
	Words              string
}

// Rows lists every piece at every step of a route, standing up last.
func (r *Result) Rows(route int) []Row {
	if route < 0 || route >= len(r.Routes) {
		return nil
	}
	var out []Row
	rt := &r.Routes[route]
	for i := range rt.Pieces {
		p := &rt.Pieces[i]
		add := func(s *StepResult) {
			row := Row{Route: rt.Name, Piece: p.Name(), Step: s.Step, Verdict: s.Verdict, Off: strings.Join(s.Off, ", "), Governing: s.Governing, Need: s.Need, Have: s.Have, Clear: s.Clear, Words: s.Words()}
			if s.Verdict != Unknown {
				row.How = s.how()
			}
			out = append(out, row)
		}
		for k := range p.Steps {
			add(&p.Steps[k])
		}
		if p.Stands != nil {
			add(p.Stands)
		}
	}
	return out
}

// WheelRow is the heaviest piece at one step, for the engineer.
type WheelRow struct {
	Route, Step, Piece string
	Moved, Load        unit.Mass // the piece; with carrier and people
	Wheel              unit.Force
	Given              *unit.Force
	By                 string
	Ground             bool
}

// WheelRows gives the wheel loads of a route step by step.
func WheelRows(in Input, r Result, route int) []WheelRow {
	if route < 0 || route >= len(r.Routes) {
		return nil
	}
	var out []WheelRow
	for k := range in.Routes[route].Steps {
		step := &in.Routes[route].Steps[k]
		row := WheelRow{Route: in.Routes[route].Name, Step: step.Name, Ground: step.Ground}
		if step.Floor != nil {
			row.Given, row.By = step.Floor.Point, step.Floor.By
		}
		for i := range r.Routes[route].Pieces {
			p := &r.Routes[route].Pieces[i]
			if s := &p.Steps[k]; s.Wheel > row.Wheel {
				row.Piece, row.Moved, row.Load, row.Wheel = p.Name(), s.Moved, s.Load, s.Wheel
			}
		}
		if row.Wheel > 0 {
			out = append(out, row)
		}
	}
	return out
}

// PalletTruckWheel is the load of one roller of a hand pallet truck: 80 % of the load
// and its own 80 kg on two rollers, with the rolling factor (common practice: 60–80 %).
func PalletTruckWheel(m unit.Mass, dynamic unit.Ratio) unit.Force {
	return unit.Newtons(dynamic.Value() * 0.8 * (m.Kg() + 80) * g / 2)
}

// PartRow is one part that comes off for the way in.
type PartRow struct {
	Piece, Part   string
	Mass          unit.Mass
	Height, Width unit.Length
	Refit         unit.Duration
}

// PartRows lists what comes off on a route, for the works to ship loose and for the
// fitters to put back.
func PartRows(in Input, r Result, route int) []PartRow {
	if route < 0 || route >= len(r.Routes) {
		return nil
	}
	var out []PartRow
	k := 0
	for i := range in.Items {
		for j := range in.Items[i].Pieces {
			res := &r.Routes[route].Pieces[k]
			k++
			for _, part := range in.Items[i].Pieces[j].Parts {
				if slices.Contains(res.Off, part.Name) {
					out = append(out, PartRow{Piece: res.Name(), Part: part.Name, Mass: part.Mass, Height: part.Height, Width: part.Width, Refit: part.Refit})
				}
			}
		}
	}
	return out
}
