package offer_test

import (
	"testing"

	"tunwright/catalog/strict"
	"tunwright/pricing/offer"
	"tunwright/testdata/projects"

	"github.com/google/go-cmp/cmp"
)

// What is read, written and read again must be the same project: saving a draft
// loses nothing.
func TestProjectsSurviveWritingAndReading(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			text, err := projects.Text(name)
			if err != nil {
				t.Fatal(err)
			}
			first, err := offer.Read(name, text)
			if err != nil {
				t.Fatal(err)
			}
			for _, write := range []func(any) ([]byte, error){strict.YAML, strict.JSON} {
				out, err := write(first)
				if err != nil {
					t.Fatal(err)
				}
				second, err := offer.Read(name, out)
				if err != nil {
					t.Fatalf("%v\n%s", err, out)
				}
				if diff := cmp.Diff(first, second); diff != "" {
					t.Error(diff)
				}
			}
		})
	}
}
