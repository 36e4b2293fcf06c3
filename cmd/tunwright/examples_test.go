package main

import (
	"os"
	"regexp"
	"slices"
	"testing"

	"tunwright/configurator"
)

// The calculations and rules that help texts and the README give as examples are
// there under that name.
func TestExamplesNameWhatIsThere(t *testing.T) {
	var known []string
	for _, k := range configurator.Calculations() {
		known = append(known, k.ID)
	}
	for _, r := range configurator.Rules() {
		known = append(known, r.ID)
	}
	named := regexp.MustCompile(`(?:calc (?:run|describe)|such as|explain) ([a-z]+\.[a-z-]+|[A-Z]{2}-[0-9]{3})`)
	seen := 0
	for _, file := range []string{"main.go", "calc.go", "rules.go", "../../README.md"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range named.FindAllSubmatch(text, -1) {
			seen++
			if !slices.Contains(known, string(m[1])) {
				t.Errorf("%s speaks of %s: there is none", file, m[1])
			}
		}
	}
	if seen < 5 {
		t.Errorf("only %d examples found: the search is broken", seen)
	}
}
