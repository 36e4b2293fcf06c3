package web_test

import (
	"fmt"
	"testing"

	"tunwright/configurator"
	"tunwright/pricing/offer"
	"tunwright/testdata/projects"
)

// The untouched demo says on the desk what a check of its file says.
func TestTheDeskCountsAsACheckDoes(t *testing.T) {
	d := newDesk(t)
	text, err := projects.Text(projects.Demo)
	if err != nil {
		t.Fatal(err)
	}
	job, err := offer.Read(projects.Demo, text)
	if err != nil {
		t.Fatal(err)
	}
	h, err := house()
	if err != nil {
		t.Fatal(err)
	}
	if job.Project, err = configurator.Arrange(job.Project, h.Catalogue); err != nil {
		t.Fatal(err)
	}
	r, err := configurator.Check(offer.WithTerm(job, h).Project, h.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	n := r.Count()
	want := fmt.Sprintf("%d stop %d not known %d warn %d to know %d in order", n.Stops, n.Unknown, n.Warnings, n.Notices, n.Passed)
	for _, at := range []string{demo, d.post("/enquiries/sample", "sample", projects.Demo).Header.Get("Location")} {
		if got := squeeze(d.page(at).Find(".counts").Text()); got != want {
			t.Errorf("%s: the desk says %s, the check %s", at, got, want)
		}
	}
}
