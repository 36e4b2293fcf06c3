package quotation

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"tunwright/pricing"

	"github.com/google/go-cmp/cmp"
)

func TestPortableThereAndBack(t *testing.T) {
	q := issued(t)
	text, err := WritePortable(q)
	if err != nil {
		t.Fatal(err)
	}
	back, err := ReadPortable("q.json", text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := WritePortable(back)
	if err != nil || !bytes.Equal(text, again) {
		t.Error("written again it differs")
	}
	for name, bad := range map[string]string{
		"changed name":  strings.Replace(string(text), "Mill Loft brewery", "Hill Loft brewery", 1),
		"unknown field": strings.Replace(string(text), `"format"`, `"x": 1, "format"`, 1),
		"other version": strings.Replace(string(text), `"version": 1`, `"version": 2`, 1),
		"text behind":   string(text) + "{}",
		"cut":           string(text[:len(text)/2]),
		"empty":         "",
	} {
		if _, err := ReadPortable("q.json", []byte(bad)); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// The published schema names every field of the file and no other.
func TestSchemaAgreesWithTheTypes(t *testing.T) {
	var schema struct {
		Properties map[string]any            `json:"properties"`
		Defs       map[string]map[string]any `json:"$defs"`
	}
	if err := json.Unmarshal(PortableSchema(), &schema); err != nil {
		t.Fatal(err)
	}
	object := schema.Properties["quotation"].(map[string]any)
	checks := map[string]struct {
		of   any
		have map[string]any
	}{"portable": {portable{}, schema.Properties}, "quotation": {Quote{}, object["properties"].(map[string]any)}}
	for name, of := range map[string]any{
		"snapshot": Snapshot{}, "section": Section{}, "entry": Entry{}, "paper": Paper{}, "need": pricing.ApprovalNeed{},
		"approval": Approval{}, "working": Working{}, "revision": Revision{}, "acceptance": Acceptance{}, "event": Event{}, "total": Total{},
	} {
		checks[name] = struct {
			of   any
			have map[string]any
		}{of, schema.Defs[name]["properties"].(map[string]any)}
	}
	for name, c := range checks {
		var want, have []string
		for i := range reflect.TypeOf(c.of).NumField() {
			tag, _, _ := strings.Cut(reflect.TypeOf(c.of).Field(i).Tag.Get("json"), ",")
			want = append(want, tag)
		}
		for key := range c.have {
			have = append(have, key)
		}
		slices.Sort(want)
		slices.Sort(have)
		if d := cmp.Diff(want, have); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

func FuzzReadPortable(f *testing.F) {
	q, _ := Open("q1", "t", "c", By{"Ann", start})
	text, err := WritePortable(q)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"format":"tunwright-quotation","version":1}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		q, err := ReadPortable("f.json", text)
		if err != nil {
			return
		}
		if _, err := WritePortable(q); err != nil {
			t.Fatal(err)
		}
	})
}
