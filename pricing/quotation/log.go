package quotation

import (
	"fmt"
	"slices"
	"time"
)

// Event is one entry of the audit trail: who did what, when. Each holds the hash of
// the one before, so that an entry cannot be changed or taken out unnoticed.
type Event struct {
	Seq    int       `json:"seq"`
	At     time.Time `json:"at"` // UTC
	Who    string    `json:"who"`
	Did    Action    `json:"did"`
	Detail string    `json:"detail,omitempty"`
	// Prev and Hash chain the entries: Hash is over this entry with Prev in it.
	Prev string `json:"prev"`
	Hash string `json:"hash"`
}

func (e Event) hash() (string, error) {
	e.Hash = ""
	text, err := canonicalOf(e)
	if err != nil {
		return "", err
	}
	return sum(text), nil
}

// appended returns the log with one more entry.
func appended(log []Event, by By, did Action, detail string) ([]Event, error) {
	e := Event{Seq: len(log) + 1, At: by.at(), Who: by.Who, Did: did, Detail: detail}
	if len(log) > 0 {
		e.Prev = log[len(log)-1].Hash
		if e.At.Before(log[len(log)-1].At) {
			return nil, fmt.Errorf("%s at %s: the last entry of the trail is later (%s); check the clock", did, e.At.Format(time.RFC3339), log[len(log)-1].At.Format(time.RFC3339))
		}
	}
	var err error
	if e.Hash, err = e.hash(); err != nil {
		return nil, fmt.Errorf("audit trail: %w", err)
	}
	return append(slices.Clone(log), e), nil
}

// VerifyLog walks the chain and names the first entry that does not fit.
func VerifyLog(log []Event) error {
	prev := ""
	for i, e := range log {
		hash, err := e.hash()
		if err != nil {
			return fmt.Errorf("audit trail, entry %d: %w", i+1, err)
		}
		if e.Seq != i+1 || e.Prev != prev || e.Hash != hash {
			return fmt.Errorf("audit trail, entry %d (%s by %s): it has been changed or one is missing before it", i+1, e.Did, e.Who)
		}
		prev = e.Hash
	}
	return nil
}
