package web

import (
	_ "embed"
	"math"
	"strings"
	"unicode"
)

//go:embed words/passwords.txt
var passwordFile string

// commonWords are passwords that many have chosen, with the place each has among them.
type commonWords struct {
	places map[string]int
}

func newCommonWords(file string) commonWords {
	w := commonWords{places: map[string]int{}}
	n := 1
	for line := range strings.Lines(file) {
		if line = strings.ToLower(strings.TrimSpace(line)); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		for _, form := range []string{line, plainLetters(line)} {
			if _, twice := w.places[form]; !twice {
				w.places[form] = n
			}
		}
		n++
	}
	return w
}

// keyRows are the rows of a keyboard that fingers run along.
var keyRows = []string{"1234567890", "qwertyuiop", "qwertzuiop", "azertyuiop", "asdfghjkl", "zxcvbnm", "yxcvbnm", "abcdefghijklmnopqrstuvwxyz"}

// effort estimates how many guesses a password takes, as bits: the cheapest way to put
// it together from common passwords, from a person's own words, from runs along the
// keyboard and from single characters. What repeats itself counts once.
//
// Valid for text of up to passwordLongest characters; it is a floor for what a patient
// guesser needs, not a measure of strength. Source of the idea: D. L. Wheeler, "zxcvbn:
// Low-Budget Password Strength Estimation", USENIX Security 2016 (from memory); the bits
// of a single character are the logarithm of how many there are of its kind.
func (w commonWords) effort(password string, own []string) float64 {
	text := plainLetters(strings.ToLower(password))
	bits := 0.0
	if p := period(text); p < len(text) {
		bits, text = math.Log2(float64(len(text))/float64(p))+1, text[:p]
	}
	known := map[string]bool{}
	for _, word := range own {
		known[strings.ToLower(word)] = true
	}
	least := make([]float64, len(text)+1)
	for end := 1; end <= len(text); end++ {
		least[end] = least[end-1] + characterBits(text, end-1)
		for begin := 0; begin <= end-3; begin++ {
			if b, ok := w.wordBits(text[begin:end], known); ok {
				least[end] = min(least[end], least[begin]+b)
			}
		}
	}
	return bits + least[len(text)]
}

// wordBits is what a word costs somebody who tries the common ones first.
func (w commonWords) wordBits(word string, own map[string]bool) (float64, bool) {
	const ownBits = 2 // one of a handful that everybody knows of a person
	if own[word] {
		return ownBits, true
	}
	place, ok := w.places[word]
	return 1 + math.Log2(float64(place)), ok
}

// characterBits is what one character costs; nearly nothing where it goes on as the one
// before it did.
func characterBits(text string, at int) float64 {
	if at > 0 && goesOn(text[at-1], text[at]) {
		return 1
	}
	switch c := rune(text[at]); {
	case unicode.IsDigit(c):
		return math.Log2(10)
	case unicode.IsLower(c):
		return math.Log2(26)
	}
	return math.Log2(33) // the other printable characters of ASCII
}

func goesOn(a, b byte) bool {
	if a == b {
		return true
	}
	for _, row := range keyRows {
		i, j := strings.IndexByte(row, a), strings.IndexByte(row, b)
		if i >= 0 && j >= 0 && (j == i+1 || j == i-1) {
			return true
		}
	}
	return false
}

// period is the length after which a text repeats itself, its own length where it does
// not.
func period(text string) int {
	for p := 1; p <= len(text)/2; p++ {
		if text[p:] == text[:len(text)-p] {
			return p
		}
	}
	return len(text)
}

// plainLetters undoes the usual replacements of letters.
func plainLetters(text string) string {
	return strings.NewReplacer("@", "a", "$", "s", "0", "o", "3", "e").Replace(text)
}
