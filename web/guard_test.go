package web

import (
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestPasswordHashes(t *testing.T) {
	stored := hashPassword("four grey kettles on a hill")
	if !strings.HasPrefix(stored, "$argon2id$v=19$m=19456,t=2,p=1$") {
		t.Errorf("stored as %s", stored)
	}
	if hashPassword("four grey kettles on a hill") == stored {
		t.Error("two people with one password have one hash")
	}
	for _, tt := range []struct {
		stored, typed string
		want          bool
	}{
		{stored, "four grey kettles on a hill", true},
		{stored, "four grey kettles on a hil", false},
		{stored, "", false},
		{"", "", false},
		{"$argon2id$v=19$m=99999999,t=2,p=1$AAAA$AAAA", "x", false}, // asks for more memory than there is
		{"$argon2id$v=19$m=19456,t=0,p=0$AAAA$AAAA", "x", false},
		{"$2y$10$abcdefghijklmnopqrstuv", "x", false},
	} {
		if got := checkPassword(tt.stored, tt.typed); got != tt.want {
			t.Errorf("%.40s, %q: %t", tt.stored, tt.typed, got)
		}
	}
}

// A key gets at most its turns in a while, however they fall.
func TestLimiterNeverGivesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.IntRange(1, 20).Draw(t, "most")
		l := newLimiter(most, time.Minute)
		now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
		given := 0
		for range rapid.IntRange(1, 100).Draw(t, "tries") {
			if l.take("key", now) {
				given++
			}
		}
		if given > most {
			t.Fatalf("%d turns of %d", given, most)
		}
		if !l.take("other", now) {
			t.Fatal("one key used up another's turns")
		}
		if !l.take("key", now.Add(time.Minute)) {
			t.Fatal("no turn after the while")
		}
	})
}

func TestLimiterForgets(t *testing.T) {
	l := newLimiter(3, time.Minute)
	now := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	for i := range limiterKeys + 10 {
		l.take(strings.Repeat("k", i%50)+time.Duration(i).String(), now)
	}
	l.take("late", now.Add(2*time.Minute))
	if len(l.seen) > 2 {
		t.Errorf("%d keys are kept", len(l.seen))
	}
}

// Whatever path a person came from, signing in never leads to another server.
func FuzzOwnPath(f *testing.F) {
	for _, seed := range []string{"/enquiries", "//evil", "/\\evil", "https://evil", "/a\r\nb", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, to string) {
		got := ownPath(to)
		if !strings.HasPrefix(got, "/") || strings.HasPrefix(got, "//") || strings.ContainsAny(got, "\\\r\n") {
			t.Errorf("%q leads to %q", to, got)
		}
	})
}
