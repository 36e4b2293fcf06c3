package quotation

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
)

// Snapshot is everything a revision was made of, frozen. What the rest of the
// program moves on to, today's catalogue, prices and code, does not touch it.
//
// Project, Report, Prices, Terms and House are JSON of their owners; this package
// keeps them and never looks inside.
type Snapshot struct {
	Project   json.RawMessage `json:"project"`
	Report    json.RawMessage `json:"report"`
	Prices    json.RawMessage `json:"prices"`
	Terms     json.RawMessage `json:"terms"`
	Catalogue string          `json:"catalogue"` // its version or digest
	Program   string          `json:"program"`   // the version that computed it
	// House is what stays in the house: the cost sheet and internal notes. Its own
	// SHA-256 stands for it in the digest, so that a copy without it still verifies.
	House       json.RawMessage `json:"house,omitempty"`
	HouseDigest string          `json:"house_digest,omitempty"`
	// Sections are the figures by name, for differences between revisions.
	Sections []Section `json:"sections,omitempty"`
	// Papers are the very bytes that were sent.
	Papers []Paper `json:"papers,omitempty"`
}

// Paper is a document as it was sent.
type Paper struct {
	Name      string `json:"name"`
	MediaType string `json:"media_type"`
	Bytes     []byte `json:"bytes"`
}

// Digest is the SHA-256, in hexadecimal, of the canonical JSON of the snapshot, its
// papers and its house part being represented by their own SHA-256.
func (s Snapshot) Digest() (string, error) {
	type paperDigest struct {
		Name      string `json:"name"`
		MediaType string `json:"media_type"`
		SHA256    string `json:"sha256"`
	}
	papers := make([]paperDigest, len(s.Papers))
	for i, p := range s.Papers {
		papers[i] = paperDigest{p.Name, p.MediaType, sum(p.Bytes)}
	}
	bare := s
	bare.Papers, bare.House = nil, nil
	if len(s.House) > 0 {
		digest, err := houseDigest(s.House)
		if err != nil {
			return "", fmt.Errorf("digest of the snapshot: %w", err)
		}
		bare.HouseDigest = digest
	}
	text, err := canonicalOf(struct {
		Snapshot
		Papers []paperDigest `json:"papers"`
	}{bare, papers})
	if err != nil {
		return "", fmt.Errorf("digest of the snapshot: %w", err)
	}
	return sum(text), nil
}

// contentDigest is the digest without the papers, which carry number and date only
// once they go out.
func (s Snapshot) contentDigest() (string, error) {
	s.Papers = nil
	return s.Digest()
}

func houseDigest(house json.RawMessage) (string, error) {
	text, err := Canonical(house)
	if err != nil {
		return "", err
	}
	return sum(text), nil
}

func sum(data []byte) string {
	digest := sha256.Sum256(data)
	return hex.EncodeToString(digest[:])
}

// ForClient is the snapshot without what stays in the house.
func (s Snapshot) ForClient() Snapshot {
	s.House = nil
	return s
}

// Paper returns the bytes of a paper by name.
func (s Snapshot) Paper(name string) (Paper, bool) {
	for _, p := range s.Papers {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// check refuses a snapshot from which nothing could be reprinted.
func (s Snapshot) check() error {
	for _, part := range []struct {
		name string
		text json.RawMessage
	}{{"project", s.Project}, {"report", s.Report}, {"prices", s.Prices}, {"terms", s.Terms}} {
		if !json.Valid(part.text) {
			return fmt.Errorf("snapshot: %s is missing or not JSON", part.name)
		}
	}
	if len(s.House) > 0 && !json.Valid(s.House) {
		return errors.New("snapshot: house is not JSON")
	}
	if s.Catalogue == "" || s.Program == "" {
		return errors.New("snapshot: versions of catalogue and program are missing")
	}
	names := make(map[string]bool, len(s.Papers))
	for _, p := range s.Papers {
		if p.Name == "" || names[p.Name] || len(p.Bytes) == 0 {
			return fmt.Errorf("snapshot: paper %q has no name of its own or no content", p.Name)
		}
		names[p.Name] = true
	}
	return checkSections(s.Sections)
}

// frozen makes the snapshot independent of what the caller goes on to change, and
// notes the digest of its house part.
func (s Snapshot) frozen() (Snapshot, error) {
	if len(s.House) > 0 {
		digest, err := houseDigest(s.House)
		if err != nil {
			return Snapshot{}, fmt.Errorf("snapshot: house: %w", err)
		}
		s.HouseDigest = digest
	}
	return s.clone(), nil
}

func (s Snapshot) clone() Snapshot {
	s.Project, s.Report, s.Prices = slices.Clone(s.Project), slices.Clone(s.Report), slices.Clone(s.Prices)
	s.Terms, s.House = slices.Clone(s.Terms), slices.Clone(s.House)
	s.Sections = cloneSections(s.Sections)
	s.Papers = slices.Clone(s.Papers)
	for i := range s.Papers {
		s.Papers[i].Bytes = slices.Clone(s.Papers[i].Bytes)
	}
	return s
}
