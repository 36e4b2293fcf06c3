package paper

import "tunwright/pricing/paper/drawing"

// Block is a part of a section. The kinds are those in this package.
type Block interface{ block() }

// Heading is a heading inside a section: level 2 or 3. Level 1 is the section's
// own title.
type Heading struct {
	Level int
	Text  string
}

// Voice is how a paragraph is set.
type Voice uint8

// The voices of a paragraph.
const (
	Body  Voice = iota
	Lead        // larger, for the sentence that matters most
	Small       // smaller, for terms and footers
)

// Paragraph is running text.
type Paragraph struct {
	Text  Text
	Voice Voice
}

// List is a list of points, bulleted or numbered.
type List struct {
	Numbered bool
	Items    []Text
}

// Facts is a grid of names and values in one or two columns.
type Facts struct {
	Facts   []Fact
	Columns int // 1 or 2; zero is 1
}

// Fact is one name and its value.
type Fact struct {
	Name  string
	Value Cell
	Unit  string
	Note  string // how sure, or where from
}

// Note is a remark set apart from running text.
type Note struct{ Text Text }

// Caution is a warning of danger. It is boxed and named in words, so that nobody
// misses it on a black-and-white print.
type Caution struct {
	Title string // such as "Carbon dioxide"
	Lines []Text
}

// Sources lists where figures come from.
type Sources struct{ Items []string }

// Figure is a drawing with its caption.
type Figure struct {
	Drawing drawing.Drawing
	Caption string
}

// PageBreak starts a new page.
type PageBreak struct{}

// Together keeps its blocks on one page when they fit one.
type Together struct{ Blocks []Block }

// Signatures is a row of lines to sign on; each item names who signs.
type Signatures struct{ Items []string }

func (Heading) block()    {}
func (Paragraph) block()  {}
func (List) block()       {}
func (Facts) block()      {}
func (Table) block()      {}
func (Note) block()       {}
func (Caution) block()    {}
func (Findings) block()   {}
func (Working) block()    {}
func (Sources) block()    {}
func (Figure) block()     {}
func (PageBreak) block()  {}
func (Together) block()   {}
func (Signatures) block() {}
