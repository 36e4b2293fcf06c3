// Package say holds the small words that builders of papers share: cells with their
// units, lists, workings, citations. It decides nothing of what a paper says.
package say

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/trace"
	"tunwright/pricing/paper"
)

// Para is a paragraph of plain words.
func Para(format string, args ...any) paper.Paragraph {
	return paper.Paragraph{Text: paper.Plain(fmt.Sprintf(format, args...))}
}

// Note is a remark set apart.
func Note(format string, args ...any) paper.Note {
	return paper.Note{Text: paper.Plain(fmt.Sprintf(format, args...))}
}

// Heading is a second-level heading.
func Heading(text string) paper.Heading { return paper.Heading{Level: 2, Text: text} }

// Number puts a quantity into a column of a stated unit.
func Number(q unit.Quantity, key string, decimals int) paper.Cell {
	if q == nil {
		return paper.Cell{}
	}
	u, ok := q.Kind().ByKey(key)
	if !ok {
		u = q.Kind().Shown()
	}
	return paper.N(u.From(q.SI()), decimals)
}

// Maybe is a cell for a value that may be unknown; unknown is said, not left blank.
func Maybe[Q unit.Quantity](q *Q, key string, decimals int) paper.Cell {
	if q == nil {
		return paper.W("unknown")
	}
	return Number(*q, key, decimals)
}

// Words is a cell of formatted words.
func Words(format string, args ...any) paper.Cell { return paper.W(fmt.Sprintf(format, args...)) }

// Row is an item row.
func Row(cells ...paper.Cell) paper.Row { return paper.Row{Cells: cells} }

// Group is a heading row over the rows below it.
func Group(title string) paper.Row {
	return paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W(title)}}
}

// List turns lines into a bulleted list.
func List(lines []string) paper.List {
	l := paper.List{}
	for _, s := range lines {
		l.Items = append(l.Items, paper.Plain(s))
	}
	return l
}

// Texts turns lines into the lines of a caution.
func Texts(lines []string) []paper.Text {
	out := make([]paper.Text, len(lines))
	for i, s := range lines {
		out[i] = paper.Plain(s)
	}
	return out
}

// Working prints the steps of a calculation.
func Working(title string, steps trace.Trace) paper.Working {
	w := paper.Working{Title: title}
	for _, s := range steps {
		w.Steps = append(w.Steps, step(s))
	}
	return w
}

func step(s trace.Step) paper.Step {
	out := paper.Step{Title: s.Title, Symbol: printable.Replace(s.Symbol), Formula: printable.Replace(s.Formula), Note: s.Note, Source: Cite(s.Source)}
	for _, v := range s.Values {
		if v.Quantity != nil {
			out.Values = append(out.Values, printable.Replace(v.Symbol)+" = "+v.Quantity.String())
		}
	}
	if s.Result != nil {
		out.Result = s.Result.String()
	}
	return out
}

// Cite is a citation as printed; nothing for none.
func Cite(r source.Ref) string {
	if r.IsZero() {
		return ""
	}
	return r.String()
}

// Quantity is a quantity in its usual unit; nothing for none.
func Quantity(q unit.Quantity) string {
	if q == nil {
		return ""
	}
	return q.String()
}

// YesNo is yes or no.
func YesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// Slug is a title as the name of a file.
func Slug(title string) string {
	out := make([]rune, 0, len(title))
	for _, r := range title {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			out = append(out, r)
		case r >= 'A' && r <= 'Z':
			out = append(out, r+'a'-'A')
		case len(out) > 0 && out[len(out)-1] != '-':
			out = append(out, '-')
		}
	}
	return string(out)
}

// Sentence begins words with a capital letter and closes them with a full stop.
func Sentence(s string) string {
	s = Capital(s)
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

// Capital begins words with a capital letter.
func Capital(s string) string {
	if s == "" {
		return s
	}
	r, size := utf8.DecodeRuneInString(s)
	// A symbol such as "pH" keeps its letters; words of the house begin with a capital.
	if next, _ := utf8.DecodeRuneInString(s[size:]); unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}

// Known is a value that may be unknown, in words.
func Known[Q unit.Quantity](q *Q) string {
	if q == nil {
		return "unknown"
	}
	return (*q).String()
}

// Join is two remarks with a comma between them.
func Join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// Or is the first text that is not empty.
func Or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

// Few is the first three of a list.
func Few(list []string) string {
	const most = 3
	out := ""
	for i, s := range list {
		if i == most {
			return out + ", …"
		}
		if i > 0 {
			out += ", "
		}
		out += s
	}
	return out
}

// printable writes symbols that the embedded faces lack in another usual way.
var printable = strings.NewReplacer("ṁ", "qm", "Q̇", "Q", "̇", "")
