package web

import (
	"strings"
	"testing"
)

// Every password that many have chosen is refused where it is long enough at all, and
// the most frequent ones with a year, twice over or with digits for letters.
func TestCommonPasswordsAreRefused(t *testing.T) {
	s := &Server{common: newCommonWords(passwordFile)}
	const listed = 49_000
	if len(s.common.places) < listed {
		t.Fatalf("%d words", len(s.common.places))
	}
	long, often := 0, 0
	for word, place := range s.common.places {
		if len(word) >= passwordShortest {
			long++
			if s.refusePassword(word, "", "") == "" {
				t.Errorf("%s is taken", word)
			}
		}
		const most = 3000
		if place > most || len(word) < 4 {
			continue
		}
		often++
		for _, variant := range []string{word + word + word, word + "2026!!!!", strings.ToUpper(word) + "12345678"} {
			if s.refusePassword(variant, "", "") == "" {
				t.Errorf("%s is taken: %.0f bits", variant, s.common.effort(variant, nil))
			}
		}
	}
	t.Logf("%d long enough, %d often chosen", long, often)
	if long < 300 || often < 2500 {
		t.Errorf("%d and %d were tried", long, often)
	}
}

func TestEffortOfAPassword(t *testing.T) {
	s := &Server{common: newCommonWords(passwordFile)}
	s.now.firm.Name = "Marlow & Tarn Vessels"
	for _, tt := range []struct {
		password string
		taken    bool
	}{
		{"four grey kettles on a hill", true},
		{"kvtwqmzjxhbd", true},
		{"4719 2806 5533 1904", true},
		{"Übergänge über Öresund", true},
		{"qwertyuiop[]", false},
		{"abcdefghijklmnop", false},
		{"123456789012345", false},
		{"monkeydragonmonkeydragon", false},
		{"P@$$w0rd2026", false},
		{"vesselsvesselstarn", false},
		{"ada.lovelace2026", false},
		{"tunwright-2026", false},
	} {
		if got := s.refusePassword(tt.password, "Ada Lovelace", "ada.lovelace@firm.example"); (got == "") != tt.taken {
			t.Errorf("%q: %q, %.0f bits", tt.password, got, s.common.effort(tt.password, nil))
		}
	}
}
