package ventilation_test

import (
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/ventilation"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"
)

func doc(r configurator.Report) paper.Doc {
	return proof.Paper(ventilation.Title, r, append(ventilation.Sections(r), ventilation.Workings(r)...))
}

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			text := proof.Print(t, "ventilation-"+name, doc(r))
			flat := proof.Flat(text)
			s := r.Air.Steam
			for _, want := range append([]string{
				unit.Fixed(s.Evaporation, 1), unit.Fixed(s.Capture, 0), grouped(s.MakeUp.M3H()), unit.Digits(s.Condenser.Duty.KW(), 3),
				unit.Digits(s.DuctAt.MS(), 3), "Who does what",
			}, words(air.Cautions())...) {
				if !strings.Contains(flat, want) {
					t.Errorf("%q is not on the pages", want)
				}
			}
			if name == projects.Demo {
				proof.Golden(t, "ventilation", text)
			}
		})
	}
}

// grouped is a figure as an English table prints it.
func grouped(v float64) string {
	s := unit.Digits(v, 3)
	if len(s) > 3 && !strings.Contains(s, ".") {
		return s[:len(s)-3] + "," + s[len(s)-3:]
	}
	return s
}

// words are the beginnings of the cautions: lines break on the page, words do not.
func words(cautions []string) []string {
	var out []string
	for _, c := range cautions {
		out = append(out, c[:24])
	}
	return out
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Air, Words: "the room has no height"}}}
	if s := ventilation.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "the room has no height") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
	r = configurator.Report{Air: &air.Result{}}
	if s := ventilation.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "No kettle boils") {
		t.Errorf("a project without a kettle is not told apart: %v", s)
	}
	if _, err := ventilation.Flows(r); err == nil {
		t.Error("flows were drawn where there are none")
	}
}
