package phrase_test

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/pricing/pack/client/phrase"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

const table = "# remark\nkey,en,de\nhello,Good day %s,Guten Tag %s\nplain,100 % malt,100 % Malz\n"

func TestSay(t *testing.T) {
	b, err := phrase.Read("test", table)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		locale paper.Locale
		want   string
	}{{paper.EnGB, "Good day Orla"}, {paper.EnIE, "Good day Orla"}, {paper.EnUS, "Good day Orla"}, {paper.DeDE, "Guten Tag Orla"}} {
		if got := b.In(c.locale).Say("hello", "Orla"); got != c.want {
			t.Errorf("%s: %q, want %q", c.locale, got, c.want)
		}
	}
	v := b.In(paper.DeDE)
	if got := v.Say("plain"); got != "100 % Malz" {
		t.Errorf("a phrase without gaps became %q", got)
	}
	if got := v.Say("missing"); got != "[missing]" {
		t.Errorf("a missing phrase became %q", got)
	}
	if got := v.Known("missing", "word"); got != "word" {
		t.Errorf("an unknown word became %q", got)
	}
}

func TestTablesThatCannotBe(t *testing.T) {
	for name, text := range map[string]string{
		"no columns":     "a,b,c\nx,y,z\n",
		"empty":          "",
		"lacks German":   "key,en,de\nx,one,\n",
		"twice":          "key,en,de\nx,one,eins\nx,two,zwei\n",
		"lacks a column": "key,en,de\nx,one\n",
	} {
		if _, err := phrase.Read(name, text); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}

// Number forms by Unicode CLDR 48, numbers/symbols of en-GB and de-DE; the size of
// the foot by NIST SP 811 (2008), appendix B.8.
func TestFigures(t *testing.T) {
	b, err := phrase.Read("test", table)
	if err != nil {
		t.Fatal(err)
	}
	de, us := b.In(paper.DeDE), b.In(paper.EnUS)
	for _, c := range []struct{ got, want string }{
		{de.Number(decimal.New(12345, -1)), "1.234,5"},
		{us.Number(decimal.New(12345, -1)), "1,234.5"},
		{de.Percent(decimal.New(25, -1)), "2,5\u00a0%"},
		{de.Quantity(unit.Length(1.44), 4, false), "1.440\u00a0mm"},
		{us.Quantity(unit.Length(3.048), 4, true), "10\u00a0ft"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(table)
	f.Add("key,en,de\nx,\"a\nb\",c\n")
	f.Fuzz(func(t *testing.T, text string) {
		b, err := phrase.Read("fuzz", text)
		if err != nil {
			return
		}
		for _, key := range b.Keys() {
			if b.In(paper.EnGB).Say(key) == "" {
				t.Errorf("%q says nothing", key)
			}
		}
	})
}
