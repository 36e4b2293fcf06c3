package web

import (
	"encoding/base32"
	"testing"
	"time"
)

// The test vectors of RFC 6238, appendix B, for SHA-1: the last six of eight digits.
func TestCodesOfTheStandard(t *testing.T) {
	secret := base32.StdEncoding.EncodeToString([]byte("12345678901234567890"))
	for _, tt := range []struct {
		unix int64
		code string
	}{
		{59, "287082"},
		{1111111109, "081804"},
		{1111111111, "050471"},
		{1234567890, "005924"},
		{2000000000, "279037"},
		{20000000000, "353130"},
	} {
		now := time.Unix(tt.unix, 0)
		for _, near := range []time.Duration{-factorStep, 0, factorStep} {
			if step, ok := stepOf(secret, tt.code, now.Add(near)); !ok || step != tt.unix/30 {
				t.Errorf("%s at %d and %s: step %d, %t", tt.code, tt.unix, near, step, ok)
			}
		}
		if _, ok := stepOf(secret, tt.code, now.Add(3*factorStep)); ok {
			t.Errorf("%s holds a minute and a half later", tt.code)
		}
	}
}

func TestRecoveryCodesAreReadAsTyped(t *testing.T) {
	codes := newRecovery()
	seen := map[string]bool{}
	for _, code := range codes {
		if seen[code] || len(code) != 19 {
			t.Errorf("code %q", code)
		}
		seen[code] = true
		if got := recoveryForm(" " + code[:4] + code[5:] + "\n"); got != code {
			t.Errorf("%q is read as %q", code, got)
		}
	}
}

func TestBrowsersAreNamed(t *testing.T) {
	for agent, want := range map[string]string{
		"Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0":                                                                  "Firefox, Linux",
		"Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/142.0 Safari/537.36 Edg/142.0":                   "Edge, Windows",
		"Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.0 Mobile/15E148 Safari/604.1": "Safari, iPhone",
		"Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/142.0 Mobile Safari/537.36":                                "Chrome, Android",
		"": "a browser that does not say which",
	} {
		if got := browserWords(agent); got != want {
			t.Errorf("%q is named %q, want %q", agent, got, want)
		}
	}
}
