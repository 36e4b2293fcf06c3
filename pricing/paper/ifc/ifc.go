// Package ifc writes the room and the equipment that stands in it as an IFC 4 model
// (ISO 16739-1) in the clear text of ISO 10303-21, so that an architect or a
// structural engineer can lay it into a model of the building, with each piece's
// masses as properties.
//
// Pieces are plain prisms over their outline: they keep the room they take, not
// their shape. The same model gives the same bytes.
//
// Begin with Model and Write.
package ifc

import (
	"crypto/sha256"
	"fmt"
	"io"
	"math"
	"math/big"
	"strings"
	"time"

	"tunwright/catalog/unit"
)

// Point is a place on the plan.
type Point struct{ X, Y unit.Length }

// Model is a storey with one room and what stands in it.
type Model struct {
	Name      string // of the project
	Site      string
	Building  string
	Storey    string
	Elevation unit.Length // of the storey over the street
	Date      time.Time
	Author    string
	Firm      string
	Program   string
	Outline   []Point // of the room, in order
	Height    unit.Length
	Items     []Item
}

// Item is one piece.
type Item struct {
	Tag, Name, Product     string
	Tank                   bool
	At                     Point      // middle of its base
	Turn                   unit.Angle // of its length from the x axis
	Length, Width, Height  unit.Length
	Round                  bool // diameter Length
	Empty, Operating, Brim unit.Mass
	Estimated              bool
	FootLoad               unit.Force // of one foot at work; 0 unknown
	Feet                   int
}

// Write writes the model.
func Write(w io.Writer, m Model) error {
	if len(m.Outline) < 3 || m.Height <= 0 {
		return fmt.Errorf("write the model: the room has %d corners and is %s high; it needs three corners and a height", len(m.Outline), m.Height)
	}
	f := file{seed: m.Name + "|" + m.Site}
	f.model(m)
	_, err := io.WriteString(w, f.text(m))
	return err
}

// file collects the instances of the data section.
type file struct {
	lines []string
	seed  string
	count int
}

// ref is the number of an instance.
type ref int

func (r ref) String() string { return fmt.Sprintf("#%d", int(r)) }

func (f *file) add(format string, args ...any) ref {
	n := ref(len(f.lines) + 1)
	f.lines = append(f.lines, fmt.Sprintf("%s=%s;", n, fmt.Sprintf(format, args...)))
	return n
}

// guid is the identity of one object: the compressed form of a hash of its name, so
// that the same model keeps its identities.
func (f *file) guid(name string) string {
	f.count++
	sum := sha256.Sum256([]byte(f.seed + "|" + name))
	return quote(compress(sum[:16]))
}

// alphabet is the base 64 of IFC identities (ISO 16739-1, IfcGloballyUniqueId).
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"

// compress writes 128 bits as 22 digits, the first of them two bits only.
func compress(bits []byte) string {
	const digits = 22
	n := new(big.Int).SetBytes(bits)
	base, rest := big.NewInt(64), new(big.Int)
	out := make([]byte, digits)
	for i := digits - 1; i >= 0; i-- {
		n.DivMod(n, base, rest)
		out[i] = alphabet[rest.Int64()]
	}
	return string(out)
}

// quote writes a text of ISO 10303-21: apostrophes and backslashes doubled, what is
// not ASCII in the \X2\ form.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, r := range s {
		switch {
		case r == '\'':
			b.WriteString("''")
		case r == '\\':
			b.WriteString(`\\`)
		case r >= 0x20 && r < 0x7f:
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\X4\%08X\X0\`, r)
		default:
			fmt.Fprintf(&b, `\X2\%04X\X0\`, r)
		}
	}
	b.WriteByte('\'')
	return b.String()
}

// real writes a number with the point that the format demands.
func real(x float64) string {
	x = math.Round(x*1e6) / 1e6
	if x == 0 {
		x = 0 // no minus sign before nothing
	}
	s := fmt.Sprintf("%.6f", x)
	s = strings.TrimRight(s, "0")
	return s
}

func mm(l unit.Length) string { return real(l.MM()) }

func (f *file) text(m Model) string {
	var b strings.Builder
	b.WriteString("ISO-10303-21;\nHEADER;\n")
	fmt.Fprintf(&b, "FILE_DESCRIPTION(('ViewDefinition [ReferenceView_V1.2]'),'2;1');\n")
	fmt.Fprintf(&b, "FILE_NAME(%s,%s,(%s),(%s),%s,%s,'');\n", quote(m.Name+".ifc"), quote(m.Date.Format("2006-01-02T15:04:05")), quote(m.Author), quote(m.Firm), quote(m.Program), quote(m.Program))
	b.WriteString("FILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n")
	for _, l := range f.lines {
		b.WriteString(l)
		b.WriteByte('\n')
	}
	b.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return b.String()
}
