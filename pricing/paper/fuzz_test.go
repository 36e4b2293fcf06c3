package paper_test

import (
	"strings"
	"testing"

	"tunwright/pricing/paper"
)

// Reading marks and symbols ends and takes away nothing but the marks.
func FuzzText(f *testing.F) {
	for _, seed := range []string{"a **b** c", "I_b", "t_{in,2}", "___", "***", "x_{", "_", "Ω_λ", "**__x__**", "_\xff", "x\xe2_{\x82"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		s = strings.ToValidUTF8(s, "\ufffd") // the writers refuse what is not UTF-8
		without := strings.NewReplacer("*", "", "_", "", "{", "", "}", "")
		for name, got := range map[string]string{"marked": paper.Marked(s).String(), "symbols": paper.Symbols(s).String()} {
			if without.Replace(got) != without.Replace(s) {
				t.Errorf("%s: %q became %q", name, s, got)
			}
		}
	})
}
