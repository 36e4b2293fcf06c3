package web

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
)

// Passwords are kept as argon2id in the usual text form, so that the figures can be
// raised later without locking anybody out.
//
// Source: RFC 9106 for the function; OWASP Password Storage Cheat Sheet for 19 MiB, two
// passes and one lane (from memory).
const (
	argonMemoryKiB = 19 * 1024
	argonPasses    = 2
	argonLanes     = 1
	argonSaltBytes = 16
	argonKeyBytes  = 32
)

func hashPassword(password string) string {
	salt := make([]byte, argonSaltBytes)
	_, _ = rand.Read(salt) // never fails: crypto/rand ends the program instead
	key := argon2.IDKey([]byte(password), salt, argonPasses, argonMemoryKiB, argonLanes, argonKeyBytes)
	enc := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, argonMemoryKiB, argonPasses, argonLanes, enc.EncodeToString(salt), enc.EncodeToString(key))
}

// checkPassword tells whether a password belongs to a stored hash. It takes the same
// time whether they differ early or late.
func checkPassword(stored, password string) bool {
	parts := strings.Split(stored, "$")
	if len(parts) != 6 || parts[1] != "argon2id" {
		return false
	}
	var version int
	var memory, passes uint32
	var lanes uint8
	_, errV := fmt.Sscanf(parts[2], "v=%d", &version)
	_, errP := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &memory, &passes, &lanes)
	salt, errS := base64.RawStdEncoding.DecodeString(parts[4])
	key, errK := base64.RawStdEncoding.DecodeString(parts[5])
	const mostMemoryKiB = 1 << 20
	if errors.Join(errV, errP, errS, errK) != nil || version != argon2.Version || memory > mostMemoryKiB || passes == 0 || lanes == 0 || len(key) == 0 {
		return false
	}
	got := argon2.IDKey([]byte(password), salt, passes, memory, lanes, uint32(len(key)))
	return subtle.ConstantTimeCompare(got, key) == 1
}

// nobody is checked against where there is no such person, so that the time of an
// answer does not tell who works here.
var nobody = hashPassword("there is no such person")

// Lengths of a password. Source: OWASP ASVS 5.0, 6.2.1 (at least 8, 15 recommended)
// and 6.2.9 (at least 64 permitted), from memory.
const (
	passwordShortest = 12
	passwordLongest  = 128
)

// passwordEffort is the least effort a new password must ask of a guesser, in bits. Any
// twelve letters that are no words have 56; two common words with a year behind them
// have about 40 (common practice, no source).
const passwordEffort = 44

// refusePassword says what is wrong with a new password; nothing when it will do.
// Rules on digits and capitals are left out: it is length and surprise that count.
func (s *Server) refusePassword(password, name, email string) string {
	n := utf8.RuneCountInString(password)
	switch {
	case n < passwordShortest:
		return fmt.Sprintf("it has %d characters, at least %d are needed: a few words in a row will do", n, passwordShortest)
	case n > passwordLongest:
		return fmt.Sprintf("it has %d characters, at most %d are taken", n, passwordLongest)
	}
	if s.common.effort(password, s.ownWords(name, email)) < passwordEffort {
		return "it is made of words that are tried first, or of your own name, or repeats itself: choose others"
	}
	return ""
}

// ownWords are the words that everybody connects with a person here.
func (s *Server) ownWords(name, email string) []string {
	at, domain, _ := strings.Cut(email, "@")
	words := append([]string{at, "tunwright", "brewery", "brewer", "brewing", "beer"}, strings.Fields(name)...)
	words = append(words, strings.Split(domain, ".")...)
	return append(words, strings.Fields(s.firm().Name)...)
}
