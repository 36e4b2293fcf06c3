package quotation

import (
	"testing"
)

func TestCanonicalExamplesOfRFC8785(t *testing.T) {
	tests := []struct{ source, in, want string }{
		{
			"RFC 8785 section 3.2.2 and 3.2.3",
			`{
  "numbers": [333333333.33333329, 1E30, 4.50,
              2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}`,
			`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
		},
		{
			"RFC 8785 section 3.2.3, sorting by UTF-16 code units",
			`{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}`,
			"{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u0080\":\"Control\",\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"😀\":\"Emoji: Grinning Face\",\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
		},
		{"RFC 8785 appendix B, minus zero", `[-0, -0.0]`, `[0,0]`},
		{"RFC 8785 appendix B, smallest and largest", `[5e-324, -5e-324, 1.7976931348623157e308]`, `[5e-324,-5e-324,1.7976931348623157e+308]`},
		{"RFC 8785 appendix B, 2^53", `[9007199254740992, -9007199254740992]`, `[9007199254740992,-9007199254740992]`},
		{"RFC 8785 appendix B, around 1e21 and 1e-6", `[1e21, 9.999999999999997e22, 1e23, 999999999999999700000e0, 0.000001]`, `[1e+21,9.999999999999997e+22,1e+23,999999999999999700000,0.000001]`},
		{"no escaping for HTML", `"<a&b>\u2028"`, "\"<a&b>\u2028\""},
	}
	for _, tt := range tests {
		got, err := Canonical([]byte(tt.in))
		if err != nil || string(got) != tt.want {
			t.Errorf("%s:\n got %s, %v\nwant %s", tt.source, got, err, tt.want)
		}
	}
}

func TestCanonicalRefuses(t *testing.T) {
	for _, bad := range []string{`{"a":1,"a":2}`, `{"a":1} x`, `[1`, ``, `1e999`, `9007199254740993`, "\"\xff\"", `{1:2}`, `[1,]`} {
		if got, err := Canonical([]byte(bad)); err == nil {
			t.Errorf("%q became %s", bad, got)
		}
	}
}

func FuzzCanonical(f *testing.F) {
	for _, s := range []string{`{"b":[1.50,"x"],"a":null}`, `"\ud800"`, `[1e-7]`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		once, err := Canonical(text)
		if err != nil {
			return
		}
		twice, err := Canonical(once)
		if err != nil || string(once) != string(twice) {
			t.Fatalf("%q became %q and then %q, %v", text, once, twice, err)
		}
	})
}
