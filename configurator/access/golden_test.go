package access

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func m(x float64) *unit.Length { q := unit.Metres(x); return &q }

// workedInput is an invented route that was also worked through in another language
// by scanning tilts degree by degree.
func workedInput() Input {
	rated := unit.Kilograms(1600)
	tank := func(tag string, d, h, under, mass float64) Item {
		return Item{Tag: tag, Pieces: []Piece{{
			Length: unit.Metres(d), Width: unit.Metres(d), Height: unit.Metres(h), Round: true, Mass: unit.Kilograms(mass),
			Parts: []Part{{Name: "top fittings", Height: unit.Metres(.15)}, {Name: "legs", Height: unit.Metres(under)}},
		}}}
	}
	return Input{
		Items:     []Item{tank("FV1", 1.169, 2.873, .40, 394), tank("FV3", 1.419, 3.538, .40, 617), tank("BBT", 1.169, 2.188, .45, 328), tank("HLT", 1.469, 2.554, .45, 451), tank("MLT", 1.571, 2.121, .70, 555)},
		RoomClear: m(3.9),
		Routes: []Route{{Name: "loading door", Steps: []Step{
			{Name: "1 loading door", Kind: Opening, Width: m(1.80), Height: m(2.10), Ground: true},
			{Name: "2 corridor corner", Kind: Corner, Width: m(1.60), WidthOut: m(1.40), Height: m(2.60)},
			{Name: "3 hall door", Kind: Opening, Width: m(1.30), Height: m(2.05)},
			{Name: "lift", Kind: Lift, Width: m(1.40), Depth: m(2.40), Height: m(2.20), DoorWidth: m(1.30), DoorHeight: m(2.10), Rated: &rated},
			{Name: "stand upright", Kind: Upending, Height: m(3.90)},
		}}},
	}
}

func TestWorkedRoute(t *testing.T) {
	r, err := Size(workedInput())
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][5]struct {
		v   Verdict
		off int
	}{
		"FV1": {{Passes, 0}, {Passes, 2}, {Passes, 0}, {Tight, 2}, {Passes, 0}},
		"FV3": {{Passes, 0}, {Fails, 2}, {Fails, 2}, {Fails, 2}, {Passes, 1}},
		"BBT": {{Passes, 0}, {Passes, 0}, {Passes, 0}, {Passes, 0}, {Passes, 0}},
		"HLT": {{Passes, 0}, {Fails, 2}, {Fails, 2}, {Fails, 2}, {Passes, 0}},
		"MLT": {{Passes, 0}, {Tight, 2}, {Fails, 2}, {Fails, 2}, {Passes, 0}},
	}
	for _, p := range r.Routes[0].Pieces {
		for i, s := range p.Steps {
			w := want[p.Tag][i]
			if s.Verdict != w.v || len(s.Off) != w.off {
				t.Errorf("%s at %s: %s with %v off, want %s with %d parts off", p.Tag, s.Step, s.Verdict, s.Off, w.v, w.off)
			}
		}
	}
	lift := r.Routes[0].Pieces[0].Steps[3]
	if math.Abs(lift.Clear.MM()-77) > 0.6 || lift.Governing != "car depth" {
		t.Errorf("FV1 in the lift: %.1f mm clear in %s, want 77 mm in the car's depth", lift.Clear.MM(), lift.Governing)
	}
	corner := r.Routes[0].Pieces[0].Steps[1]
	if corner.Attitude != Upright {
		t.Errorf("FV1 round the corner %s, want upright", corner.Attitude)
	}
	if got := CornerLength(unit.Metres(1.60), unit.Metres(1.40), unit.Metres(1.169)); math.Abs(got.M()-1.893) > 0.0006 {
		t.Errorf("longest for FV1 round the corner %.4f m, want 1.893", got.M())
	}
	if got := UpendHeight(unit.Metres(2.873), unit.Metres(1.169)); math.Abs(got.M()-3.10) > 0.006 {
		t.Errorf("FV1 stands up in %.3f m, want 3.10", got.M())
	}
}

func manyPieces() Input {
	in := workedInput()
	var items []Item
	for k := range 3 {
		for _, it := range in.Items {
			it.Tag += string(rune('a' + k))
			items = append(items, it)
		}
	}
	in.Items = items
	in.Routes[0].Steps = append(in.Routes[0].Steps, Step{Name: "corridor", Kind: Corridor, Width: m(1.5), Height: m(2.2)})
	return in
}

func BenchmarkSize(b *testing.B) {
	in := manyPieces()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRules(b *testing.B) {
	in := manyPieces()
	r, err := Size(in)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		rule.Run(Rules(), Facts{in, r})
	}
}
