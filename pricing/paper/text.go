package paper

import (
	"strings"
	"unicode"
)

// Text is running text in spans of one style each.
type Text []Span

// Span is a stretch of text in one style.
type Span struct {
	Text   string
	Bold   bool
	Italic bool
	Sub    bool // set small and low, as an index
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

// Symbols reads formula symbols: an underscore makes an index of the letters and
// digits behind it, or of what stands in braces, as in I_b or t_{in,2}.
func Symbols(s string) Text {
	var out Text
	for s != "" {
		i := strings.IndexByte(s, '_')
		n, index := 0, ""
		if i >= 0 {
			index, n = indexAt(s[i+1:])
		}
		if n == 0 {
			return appendSpan(out, s, false, false)
		}
		out = appendSpan(out, s[:i], false, false)
		out = append(out, Span{Text: index, Sub: true})
		s = s[i+1+n:]
	}
	return out
}

// indexAt reads an index and says how many bytes it took; zero when there is none.
func indexAt(s string) (string, int) {
	if strings.HasPrefix(s, "{") {
		if end := strings.IndexByte(s, '}'); end > 1 {
			return s[1:end], end + 1
		}
		return "", 0
	}
	end := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if end < 0 {
		end = len(s)
	}
	return s[:end], end
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
