package form

import (
	"fmt"
	"strconv"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/configurator/enquiry"
)

// Names of the inputs of one field: its value, how a fact is known, and the
// person or reason behind it.
func ValueName(path string) string { return "v:" + path }
func BasisName(path string) string { return "b:" + path }
func WhyName(path string) string   { return "w:" + path }

// Edits compares what was typed with the fields shown and gives an edit for each
// field that changed. get returns an input by name and whether it was sent.
func Edits(groups []Group, get func(name string) (string, bool)) []enquiry.Edit {
	var edits []enquiry.Edit
	for _, g := range groups {
		for _, f := range g.Fields {
			if e, changed := edit(f, get); changed {
				edits = append(edits, e)
			}
		}
	}
	return edits
}

func edit(f Field, get func(string) (string, bool)) (enquiry.Edit, bool) {
	typed, sent := get(ValueName(f.Path))
	if !sent {
		return enquiry.Edit{}, false
	}
	typed = strings.TrimSpace(typed)
	if f.Fact {
		return factEdit(f, typed, get)
	}
	if typed == f.Value {
		return enquiry.Edit{}, false
	}
	if typed == "" {
		return enquiry.Edit{Op: enquiry.Remove, Path: f.Path}, true
	}
	return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: written(f, typed)}, true
}

func factEdit(f Field, typed string, get func(string) (string, bool)) (enquiry.Edit, bool) {
	basisText, _ := get(BasisName(f.Path))
	why, _ := get(WhyName(f.Path))
	basis, why := enquiry.Basis(strings.TrimSpace(basisText)), strings.TrimSpace(why)
	if typed != "" && basis == enquiry.Unknown && typed != f.Value {
		// A figure typed in a call without saying how it is known is what the person
		// on the phone was told.
		basis = enquiry.Told
	}
	if typed == f.Value && basis == f.Basis && why == f.Why {
		return enquiry.Edit{}, false
	}
	if typed == "" || basis == enquiry.Unknown {
		return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: "unknown"}, f.Basis != enquiry.Unknown
	}
	reason := "by"
	if basis == enquiry.Assumed {
		reason = "why"
	}
	if why == "" {
		why = defaultWhy(basis)
	}
	text := fmt.Sprintf("{%s: %s, %s: %s}", basis, written(f, typed), reason, strconv.Quote(why))
	return enquiry.Edit{Op: enquiry.Set, Path: f.Path, Text: text}, true
}

// defaultWhy is what the sheet prints where nobody was named.
func defaultWhy(b enquiry.Basis) string {
	switch b {
	case enquiry.Assumed:
		return "assumed during the call"
	case enquiry.Measured:
		return "measured, by whom not noted"
	}
	return "told during the call, by whom not noted"
}

// written is a typed text as it would stand in a file. Numbers may be typed with a
// decimal comma; three digits behind the only comma could be a thousands mark as
// well, so that the reader is left to refuse it rather than to guess.
func written(f Field, typed string) string {
	switch f.Kind {
	case Number:
		whole, decimals, comma := strings.Cut(typed, ",")
		if comma && len(decimals) != 3 && !strings.ContainsAny(typed[len(whole)+1:], ",.") && !strings.Contains(whole, ".") {
			return whole + "." + decimals
		}
		if strings.ContainsAny(typed, ",: {}[]#&*!|>'\"%@`") {
			return strconv.Quote(typed)
		}
		return typed
	case Place:
		return place(typed)
	case Outline:
		corners := strings.Split(typed, "/")
		for i := range corners {
			corners[i] = place(corners[i])
		}
		return "[" + strings.Join(corners, ", ") + "]"
	case YesNo:
		return strconv.FormatBool(typed == "yes")
	case Day:
		return strconv.Quote(typed)
	}
	return strconv.Quote(typed)
}

// Assign puts the problems of a refused edit to their fields and returns those that
// belong to none of them.
func Assign(groups []Group, problems strict.Problems) strict.Problems {
	var rest strict.Problems
	for _, p := range problems {
		if !assignOne(groups, p) {
			rest = append(rest, p)
		}
	}
	return rest
}

func assignOne(groups []Group, p strict.Problem) bool {
	for gi := range groups {
		for fi := range groups[gi].Fields {
			f := &groups[gi].Fields[fi]
			if f.Path == p.Field {
				f.Error = p.Message
				if p.WouldHelp != "" {
					f.Error += "; " + p.WouldHelp
				}
				return true
			}
		}
	}
	return false
}

// place writes "2,4; 6.1" as a point of the file; anything else is quoted, so that
// the reader refuses it with its own words.
func place(typed string) string {
	x, y, ok := strings.Cut(typed, ";")
	x, y = strings.TrimSpace(x), strings.TrimSpace(y)
	x, y = strings.Replace(x, ",", ".", 1), strings.Replace(y, ",", ".", 1)
	_, errX := strconv.ParseFloat(x, 64)
	_, errY := strconv.ParseFloat(y, 64)
	if !ok || errX != nil || errY != nil {
		return strconv.Quote(typed)
	}
	return "[" + x + ", " + y + "]"
}
