// Package source holds cited documents and published tables. A number on a paper
// names the place it came from: source.Doc{…}.At("clause 6.3.1") is that place.
//
// A published table is a CSV file beside the code that reads it; its heading names
// the document, the edition and how the figures came into the house (Provenance).
// Lookups never go beyond the table: they return a *unit.RangeError instead.
package source

// Provenance tells how sure a figure's origin is.
type Provenance string

const (
	// LookedUp figures were read in the document or a printed copy of it.
	LookedUp Provenance = "looked up"
	// FromMemory figures await a check against the document.
	FromMemory Provenance = "from memory"
	// CommonPractice figures are rules of thumb of the trade without a source.
	CommonPractice Provenance = "common practice, no source"
	// Derived figures follow by arithmetic or from a stated formula.
	Derived Provenance = "derived"
)

// Doc is a document that figures are cited from.
type Doc struct {
	ID      string // short name used in citations, such as "EN 1991-1-1"
	Title   string
	Edition string
}

// At cites a place in the document.
func (d Doc) At(place string) Ref { return Ref{Doc: d, Place: place, Provenance: LookedUp} }

// Recalled cites a place in the document from memory.
func (d Doc) Recalled(place string) Ref { return Ref{Doc: d, Place: place, Provenance: FromMemory} }

// Ref is a place in a document, or the statement that there is none.
type Ref struct {
	Doc        Doc
	Place      string
	Provenance Provenance
	Note       string
}

// Practice marks a rule of thumb of the trade; note says what it is.
func Practice(note string) Ref { return Ref{Provenance: CommonPractice, Note: note} }

// Derivation marks what follows from physics or arithmetic; note says how.
func Derivation(note string) Ref { return Ref{Provenance: Derived, Note: note} }

// IsZero tells whether nothing is cited.
func (r Ref) IsZero() bool { return r == Ref{} }

// String prints the citation as it stands on a paper.
func (r Ref) String() string {
	switch r.Provenance {
	case CommonPractice:
		return withNote("common practice, no source", r.Note)
	case Derived:
		return withNote("derived", r.Note)
	}
	s := r.Doc.ID
	if r.Doc.Edition != "" {
		s += " (" + r.Doc.Edition + ")"
	}
	if r.Place != "" {
		s += ", " + r.Place
	}
	if r.Provenance == FromMemory {
		s += " [from memory]"
	}
	return withNote(s, r.Note)
}

func withNote(s, note string) string {
	if note == "" {
		return s
	}
	return s + ": " + note
}
