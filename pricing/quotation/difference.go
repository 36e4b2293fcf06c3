package quotation

import (
	"fmt"
	"slices"
	"strings"
)

// Section is a named list of figures: products, terms, price, engineering, findings.
type Section struct {
	Name    string  `json:"name"`
	Entries []Entry `json:"entries"`
}

// Entry is one figure, found again in another revision by its key.
type Entry struct {
	Key   string `json:"key"`
	Label string `json:"label"` // for the reader
	Value string `json:"value"`
}

// Change is a figure that was added, removed or changed.
type Change struct {
	Section string `json:"section"`
	Was     *Entry `json:"was,omitempty"` // nil when it was added
	Now     *Entry `json:"now,omitempty"` // nil when it was removed
}

// String says it in words.
func (c Change) String() string {
	switch {
	case c.Was == nil && c.Now == nil:
		return c.Section
	case c.Was == nil:
		return fmt.Sprintf("%s: %s added: %s", c.Section, c.Now.Label, c.Now.Value)
	case c.Now == nil:
		return fmt.Sprintf("%s: %s removed: %s", c.Section, c.Was.Label, c.Was.Value)
	case c.Was.Value == c.Now.Value:
		return fmt.Sprintf("%s: %s is now called %s", c.Section, c.Was.Label, c.Now.Label)
	}
	return fmt.Sprintf("%s: %s %s, was %s", c.Section, c.Now.Label, c.Now.Value, c.Was.Value)
}

// Difference is what leads from one revision's figures to another's.
type Difference struct {
	Changes []Change `json:"changes"`
	// Order is the new order of sections and keys, so that applying the changes
	// gives the new figures exactly.
	Order []SectionOrder `json:"order"`
}

// SectionOrder is a section's name and the keys in it.
type SectionOrder struct {
	Name string   `json:"name"`
	Keys []string `json:"keys"`
}

// Between returns the difference of two lists of sections: first what changed and
// what was added, in the order of the new one, then what was removed.
func Between(old, new []Section) (Difference, error) {
	if err := checkSections(old); err != nil {
		return Difference{}, fmt.Errorf("older revision: %w", err)
	}
	if err := checkSections(new); err != nil {
		return Difference{}, fmt.Errorf("newer revision: %w", err)
	}
	was, now := index(old), index(new)
	var d Difference
	for _, s := range new {
		order := SectionOrder{Name: s.Name}
		for _, e := range s.Entries {
			order.Keys = append(order.Keys, e.Key)
			before, ok := was[place{s.Name, e.Key}]
			switch {
			case !ok:
				d.Changes = append(d.Changes, Change{Section: s.Name, Now: &e})
			case before != e:
				d.Changes = append(d.Changes, Change{Section: s.Name, Was: &before, Now: &e})
			}
		}
		d.Order = append(d.Order, order)
	}
	for _, s := range old {
		for _, e := range s.Entries {
			if _, ok := now[place{s.Name, e.Key}]; !ok {
				d.Changes = append(d.Changes, Change{Section: s.Name, Was: &e})
			}
		}
	}
	return d, nil
}

// Apply makes the new figures of the old ones. A change that does not fit the old
// figures is an error: it belongs to another revision.
func (d Difference) Apply(old []Section) ([]Section, error) {
	entries := index(old)
	for _, c := range d.Changes {
		if c.Was != nil {
			at := place{c.Section, c.Was.Key}
			if entries[at] != *c.Was {
				return nil, fmt.Errorf("difference: %s %q is %q here, not %q", c.Section, c.Was.Key, entries[at].Value, c.Was.Value)
			}
			delete(entries, at)
		}
		if c.Now != nil {
			entries[place{c.Section, c.Now.Key}] = *c.Now
		}
	}
	var out []Section
	used := 0
	for _, order := range d.Order {
		s := Section{Name: order.Name}
		for _, key := range order.Keys {
			e, ok := entries[place{order.Name, key}]
			if !ok {
				return nil, fmt.Errorf("difference: %s %q is missing here", order.Name, key)
			}
			s.Entries = append(s.Entries, e)
			used++
		}
		out = append(out, s)
	}
	if used != len(entries) {
		return nil, fmt.Errorf("difference: %d figures here are not in the newer revision", len(entries)-used)
	}
	return out, nil
}

// withChanges puts behind a note what changed, so that the trail says who changed
// what. A long list is cut; all of it can be had from Between.
func withChanges(note string, was, now []Section) (string, error) {
	d, err := Between(was, now)
	if err != nil {
		return "", err
	}
	const most = 6
	var parts []string
	if note != "" {
		parts = append(parts, note)
	}
	for i, c := range d.Changes {
		if i == most {
			parts = append(parts, fmt.Sprintf("and %d more", len(d.Changes)-most))
			break
		}
		parts = append(parts, c.String())
	}
	return strings.Join(parts, "; "), nil
}

type place struct{ section, key string }

func index(sections []Section) map[place]Entry {
	out := make(map[place]Entry)
	for _, s := range sections {
		for _, e := range s.Entries {
			out[place{s.Name, e.Key}] = e
		}
	}
	return out
}

func checkSections(sections []Section) error {
	names := make(map[string]bool, len(sections))
	for _, s := range sections {
		if s.Name == "" || names[s.Name] {
			return fmt.Errorf("section %q has no name of its own", s.Name)
		}
		names[s.Name] = true
		keys := make(map[string]bool, len(s.Entries))
		for _, e := range s.Entries {
			if e.Key == "" || keys[e.Key] {
				return fmt.Errorf("section %s: key %q is empty or comes twice", s.Name, e.Key)
			}
			keys[e.Key] = true
		}
	}
	return nil
}

func cloneSections(sections []Section) []Section {
	out := slices.Clone(sections)
	for i := range out {
		out[i].Entries = slices.Clone(out[i].Entries)
	}
	return out
}
