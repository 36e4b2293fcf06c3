package web

import (
	"sync"
	"time"
)

// limiter lets each key do a thing so often in a while. It forgets keys that have
// been quiet, so that it does not grow.
type limiter struct {
	most  float64
	while time.Duration

	mu   sync.Mutex
	seen map[string]bucket
}

// bucket holds what is left to a key, and when that was reckoned.
type bucket struct {
	left float64
	at   time.Time
}

func newLimiter(most int, while time.Duration) *limiter {
	return &limiter{most: float64(most), while: while, seen: map[string]bucket{}}
}

const limiterKeys = 10_000

// take uses one turn of a key and tells whether there was one.
func (l *limiter) take(key string, now time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.seen) > limiterKeys {
		l.forget(now)
	}
	b := l.filled(key, now)
	ok := b.left >= 1
	if ok {
		b.left--
	}
	l.seen[key] = b
	return ok
}

// allows tells whether a key has a turn left, without using it.
func (l *limiter) allows(key string, now time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.filled(key, now).left >= 1
}

func (l *limiter) filled(key string, now time.Time) bucket {
	b, ok := l.seen[key]
	if !ok {
		return bucket{l.most, now}
	}
	gained := l.most * float64(now.Sub(b.at)) / float64(l.while)
	return bucket{min(l.most, b.left+max(0, gained)), now}
}

func (l *limiter) forget(now time.Time) {
	for key, b := range l.seen {
		if now.Sub(b.at) > l.while {
			delete(l.seen, key)
		}
	}
}
