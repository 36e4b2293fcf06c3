package offer_test

import (
	"reflect"
	"testing"

	"tunwright/configurator"
	"tunwright/testdata/projects"
)

// From any sample to any other, a report with the one before at hand is the report
// made afresh.
func TestRecheckFromSampleToSample(t *testing.T) {
	h := house(t)
	reports := map[string]configurator.Report{}
	for _, name := range projects.Names() {
		r, err := configurator.Check(arranged(t, h, name).Project, h.Catalogue)
		if err != nil {
			t.Fatal(err)
		}
		reports[name] = r
	}
	for from, before := range reports {
		for to, want := range reports {
			got, err := configurator.Recheck(before, want.Project, h.Catalogue)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, want) {
				t.Errorf("from %s to %s: the report differs from one made afresh", from, to)
			}
		}
	}
}
