package pricing

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong in what was handed in: a file, an item, a term.
type Problem struct {
	File    string `json:"file,omitempty"` // the file and its line, where it came from one
	Line    int    `json:"line,omitempty"`
	Where   string `json:"where"`   // the field, such as prices.FV-20.list or items[3].quantity
	Message string `json:"message"` // what is wrong and what would be right
}

func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File)
		if p.Line > 0 {
			fmt.Fprintf(&b, ":%d", p.Line)
		}
		b.WriteString(": ")
	}
	if p.Where != "" {
		b.WriteString(p.Where)
		b.WriteString(": ")
	}
	b.WriteString(p.Message)
	return b.String()
}

// place is a member of a list in a request. Its name is written out only where
// something is wrong with it.
type place struct {
	list  string
	index int
}

func (p place) String() string { return fmt.Sprintf("%s[%d]", p.list, p.index) }

func (p place) dot(field string) string { return p.String() + "." + field }

// Problems are all the things wrong, in the order they were met.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// add notes one more.
func (ps *Problems) add(where, format string, args ...any) {
	*ps = append(*ps, Problem{Where: where, Message: fmt.Sprintf(format, args...)})
}

// err returns the problems as an error, nil when there are none.
func (ps Problems) err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}
