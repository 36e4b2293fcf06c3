package programme_test

import (
	"strings"
	"testing"

	"tunwright/configurator"
	planned "tunwright/configurator/programme"
	"tunwright/pricing/pack/programme"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper/drawing"
	"tunwright/testdata/projects"
)

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			text := proof.Print(t, "programme-"+name, proof.Paper(programme.Title, r, append(programme.Sections(r), programme.Workings(r)...)))
			flat := proof.Flat(text)
			p := r.Programme
			want := []string{"earliest honest opening is " + p.Earliest.Words(), p.OrderBy.String(), "Critical path", "Permits, consents and notices"}
			for _, c := range planned.Cautions() {
				want = append(want, c[:24])
			}
			for _, s := range p.Steps {
				if s.Days == 0 && strings.HasPrefix(s.ID, "SHIP-") {
					continue // no time of its own: one row with the making
				}
				want = append(want, strings.Fields(s.Name)[0], s.Start.String())
				if s.Group == "permit" && s.Instrument != "" {
					want = append(want, strings.Fields(s.Instrument)[0])
				}
			}
			for _, h := range p.Holidays {
				want = append(want, h.String())
			}
			for _, x := range want {
				if !strings.Contains(flat, x) {
					t.Errorf("%q is not on the pages", x)
				}
			}
			if name == projects.Demo {
				proof.Golden(t, "programme", text)
			}
		})
	}
}

// Every task with a length has its bar, and every bar with float its dashed end.
func TestBarsHoldEveryTask(t *testing.T) {
	p := proof.Report(t, projects.Demo).Programme
	figures, err := programme.Bars(p, programme.BarsWidth, programme.BarsHeight)
	if err != nil {
		t.Fatal(err)
	}
	solid, dashed := 0, 0
	for _, f := range figures {
		for _, it := range f.Items {
			g, ok := it.(drawing.Group)
			if !ok || g.Name == "axis" || g.Name == "legend" {
				continue
			}
			for _, x := range g.Items {
				if bar, ok := x.(drawing.Polygon); ok {
					switch {
					case bar.Pen.Dash == drawing.Dashed:
						dashed++
					case bar.Fill != drawing.Tint(drawing.Black): // not the mark of a latest start
						solid++
					}
				}
			}
		}
	}
	tasks, floats := 0, 0
	for _, s := range p.Steps {
		if s.Days == 0 && strings.HasPrefix(s.ID, "SHIP-") {
			continue
		}
		tasks++
		if s.Float > 0 {
			floats++
		}
	}
	if solid != tasks || dashed != floats {
		t.Errorf("%d bars and %d floats are drawn of %d tasks and %d floats", solid, dashed, tasks, floats)
	}
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Programme, Words: "today's date is not set"}}}
	if s := programme.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "today's date is not set") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
}

func TestWithoutAnOpeningDate(t *testing.T) {
	today, err := planned.ParseDate("2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	res, err := planned.Size(planned.Input{Country: planned.US, Today: today})
	if err != nil {
		t.Fatal(err)
	}
	r := configurator.Report{Programme: &res}
	flat := proof.Flat(proof.Print(t, "programme-undated", proof.Paper(programme.Title, r, programme.Sections(r))))
	for _, want := range []string{"no opening date was said", "not set", "Is a crane needed?"} {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
	if strings.Contains(flat, "Should have begun already") {
		t.Error("tasks are called late where no date is wished for")
	}
}
