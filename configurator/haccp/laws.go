package haccp

import (
	"tunwright/catalog/source"
	"tunwright/configurator/rule"
)

// What the checks rest on in the United States, from memory: each paper says so. In
// Ireland and Germany the regulations of the Union hold themselves.

func country(f Facts) Country { return f.Input.Country }

func american(id, place, note string) func(Facts) source.Ref {
	ref := source.Ref{Doc: source.Doc{ID: id}, Place: place, Provenance: source.FromMemory, Note: note}
	return rule.ByCountry(country, map[Country]source.Ref{US: ref})
}
