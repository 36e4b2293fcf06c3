package quotation

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Format and FormatVersion name the portable file.
const (
	Format        = "tunwright-quotation"
	FormatVersion = 1
)

const maxPortableBytes = 128 << 20

//go:embed portable.schema.json
var portableSchema []byte

// PortableSchema is the JSON Schema (2020-12) of the portable file.
func PortableSchema() []byte { return bytes.Clone(portableSchema) }

// portable is a quotation in a file of its own, from which a lost register can be
// filled again.
type portable struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Quote   Quote  `json:"quotation"`
	// SHA256 is over the canonical JSON of the quotation.
	SHA256 string `json:"sha256"`
}

// WritePortable writes a quotation with all its revisions, papers and trail as one
// JSON file. The same quotation gives the same bytes.
func WritePortable(q Quote) ([]byte, error) {
	if err := q.Verify(); err != nil {
		return nil, fmt.Errorf("export: %w", err)
	}
	text, err := canonicalOf(q)
	if err != nil {
		return nil, fmt.Errorf("export %s: %w", q.Number, err)
	}
	out, err := json.MarshalIndent(portable{Format, FormatVersion, q, sum(text)}, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("export %s: %w", q.Number, err)
	}
	return append(out, '\n'), nil
}

// ReadPortable reads what WritePortable wrote, on this machine or another, and
// refuses it when anything in it was changed on the way.
func ReadPortable(file string, data []byte) (Quote, error) {
	if len(data) > maxPortableBytes {
		return Quote{}, fmt.Errorf("%s: larger than %d MB", file, maxPortableBytes>>20)
	}
	var p portable
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&p); err != nil {
		return Quote{}, fmt.Errorf("%s: not a portable quotation: %w", file, err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Quote{}, fmt.Errorf("%s: there is text behind the quotation", file)
	}
	if p.Format != Format || p.Version != FormatVersion {
		return Quote{}, fmt.Errorf("%s: format %.40q version %d; this program reads %q version %d", file, p.Format, p.Version, Format, FormatVersion)
	}
	text, err := canonicalOf(p.Quote)
	if err != nil {
		return Quote{}, fmt.Errorf("%s: %w", file, err)
	}
	if sum(text) != p.SHA256 {
		return Quote{}, fmt.Errorf("%s: the file was changed after it was written: its digest does not fit", file)
	}
	if p.Quote.ID == "" || possible[p.Quote.State] == nil {
		return Quote{}, fmt.Errorf("%s: a quotation in state %.20q without meaning", file, p.Quote.State)
	}
	if err := p.Quote.Verify(); err != nil {
		return Quote{}, fmt.Errorf("%s: %w", file, err)
	}
	return p.Quote, nil
}
