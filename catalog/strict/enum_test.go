package strict_test

import (
	"strings"
	"testing"

	"tunwright/catalog/strict"
)

// A whole number may be one of a few only: a supply has one phase or three.
func TestNumberOutOfItsList(t *testing.T) {
	type supply struct {
		Phases int `yaml:"phases" range:"1..3" enum:"1|3"`
	}
	for text, good := range map[string]bool{"phases: 1": true, "phases: 3": true, "phases: 2": false, "phases: 4": false} {
		var s supply
		err := strict.Decode("a.yaml", []byte(text), &s)
		if good != (err == nil) {
			t.Errorf("%s: %v", text, err)
		}
		if !good && !strings.Contains(err.Error(), "1") {
			t.Errorf("%s is refused without what would be right: %v", text, err)
		}
	}
}
