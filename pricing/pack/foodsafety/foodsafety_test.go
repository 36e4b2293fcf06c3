package foodsafety_test

import (
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/haccp"
	"tunwright/pricing/pack/foodsafety"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			doc := proof.Paper(foodsafety.Title, r, foodsafety.Sections(r))
			text := proof.Print(t, "foodsafety-"+name, doc)
			flat := proof.Flat(text)
			want := []string{haccp.Notice[:40], "Left to the food business"}
			for _, b := range r.Food.Products {
				want = append(want, strings.Fields(b.Beer)[0])
			}
			for _, s := range r.Food.Flow {
				want = append(want, strings.Fields(s.Name)[0])
			}
			for _, l := range append(append([]string{}, r.Food.Records...), r.Food.Law...) {
				want = append(want, l[:12])
			}
			for _, x := range want {
				if !strings.Contains(flat, x) {
					t.Errorf("%q is not on the pages", x)
				}
			}
			if got := strings.Count(flat, haccp.Notice[:40]); got < 5 {
				t.Errorf("the notice that the business must own the plan stands %d times, in each part is right", got)
			}
			for _, table := range sheet.Tables(doc) {
				if table.Name == "haccp-hazards" && len(table.Rows) != len(r.Food.Hazards) {
					t.Errorf("%d hazards are printed, the plan has %d", len(table.Rows), len(r.Food.Hazards))
				}
			}
			if name == projects.Demo {
				proof.Golden(t, "foodsafety", text)
			}
		})
	}
}

func TestMarkdown(t *testing.T) {
	md, err := foodsafety.Markdown(proof.Report(t, projects.Demo))
	if err != nil || !strings.Contains(md, haccp.Notice) {
		t.Errorf("the editable plan is %q, %v", md, err)
	}
	if _, err := foodsafety.Markdown(configurator.Report{}); err == nil {
		t.Error("a plan that is not there was written")
	}
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Food, Words: "a beer has no name"}}}
	if s := foodsafety.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "a beer has no name") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
	if _, err := foodsafety.Flow(&haccp.Result{}); err == nil {
		t.Error("a flow without steps was drawn")
	}
}
