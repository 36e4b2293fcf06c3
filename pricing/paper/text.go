package paper

import "strings"

// Text is running text in spans of one style each.
type Text []Span

// Span is a stretch of text in one style.
type Span struct {
	Text   string
	Bold   bool
	Italic bool
}

// Plain is text without any styling; whatever a person typed stays as typed.
func Plain(s string) Text {
	if s == "" {
		return nil
	}
	return Text{{Text: s}}
}

// Marked reads **bold** and __italic__ marks. It is meant for wording written in
// this house; text that came from outside goes through Plain.
func Marked(s string) Text {
	var out Text
	bold, italic := false, false
	rest := s
	for {
		i := strings.IndexAny(rest, "*_")
		for i >= 0 && (i+1 >= len(rest) || rest[i+1] != rest[i]) {
			next := strings.IndexAny(rest[i+1:], "*_")
			if next < 0 {
				i = -1
				break
			}
			i += 1 + next
		}
		if i < 0 {
			return appendSpan(out, rest, bold, italic)
		}
		out = appendSpan(out, rest[:i], bold, italic)
		if rest[i] == '*' {
			bold = !bold
		} else {
			italic = !italic
		}
		rest = rest[i+2:]
	}
}

func appendSpan(t Text, s string, bold, italic bool) Text {
	if s == "" {
		return t
	}
	return append(t, Span{Text: s, Bold: bold, Italic: italic})
}

// String is the text without its styling.
func (t Text) String() string {
	if len(t) == 1 {
		return t[0].Text
	}
	var b strings.Builder
	for _, s := range t {
		b.WriteString(s.Text)
	}
	return b.String()
}
