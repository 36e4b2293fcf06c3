package money

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
)

// wire is an amount in JSON. The number is a string, because JSON numbers are
// floating-point to most readers.
type wire struct {
	Amount   string   `json:"amount"`
	Currency Currency `json:"currency"`
}

// MarshalJSON writes {"amount":"12.50","currency":"GBP"}; the zero Amount is null.
// Equal amounts give equal bytes.
func (a Amount) MarshalJSON() ([]byte, error) {
	if a.currency == "" {
		return []byte("null"), nil
	}
	return []byte(`{"amount":"` + a.Fixed() + `","currency":"` + string(a.currency) + `"}`), nil
}

// UnmarshalJSON reads what MarshalJSON writes and nothing else: an amount written
// as a JSON number is refused.
func (a *Amount) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*a = Amount{}
		return nil
	}
	var w wire
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&w); err != nil {
		return fmt.Errorf(`%w: %w; write {"amount":"12.50","currency":"GBP"}`, ErrNotAmount, err)
	}
	parsed, err := New(w.Amount, w.Currency)
	if err != nil {
		return err
	}
	*a = parsed
	return nil
}

// MarshalText writes "GBP 12.50"; the zero Amount is empty.
func (a Amount) MarshalText() ([]byte, error) {
	if a.currency == "" {
		return nil, nil
	}
	return []byte(a.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (a *Amount) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*a = Amount{}
		return nil
	}
	code, number, found := strings.Cut(string(text), " ")
	if !found {
		return fmt.Errorf("%w: %q; write currency and number, such as GBP 12.50", ErrNotAmount, clip(string(text)))
	}
	parsed, err := New(number, Currency(code))
	if err != nil {
		return err
	}
	*a = parsed
	return nil
}
