package quotation

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Canonical writes JSON in the one form that RFC 8785 gives it: members sorted,
// numbers and strings in their shortest form, no white space. Equal values give
// equal bytes, so that a digest over them says something.
//
// A name that comes twice, text that is not UTF-8 and whole numbers beyond 2^53 are
// refused: readers differ on what they mean (RFC 7493, I-JSON).
//
// Source: RFC 8785, JSON Canonicalization Scheme.
func Canonical(text []byte) ([]byte, error) {
	if !utf8.Valid(text) {
		return nil, errors.New("canonical JSON: the text is not UTF-8")
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.UseNumber()
	c := canonicalizer{dec: dec}
	if err := c.value(0); err != nil {
		return nil, fmt.Errorf("canonical JSON: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("canonical JSON: there is text behind the value")
	}
	return c.out, nil
}

// canonicalOf is Canonical of what json.Marshal makes of v.
func canonicalOf(v any) ([]byte, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	return Canonical(text)
}

type canonicalizer struct {
	dec *json.Decoder
	out []byte
}

const maxDepth = 200

func (c *canonicalizer) value(depth int) error {
	if depth > maxDepth {
		return fmt.Errorf("nested deeper than %d", maxDepth)
	}
	token, err := c.dec.Token()
	if err != nil {
		return err
	}
	switch v := token.(type) {
	case json.Delim:
		if v == '{' {
			return c.object(depth)
		}
		return c.array(depth)
	case string:
		c.out = appendString(c.out, v)
	case json.Number:
		return c.number(v)
	case bool:
		c.out = strconv.AppendBool(c.out, v)
	default:
		c.out = append(c.out, "null"...)
	}
	return nil
}

func (c *canonicalizer) array(depth int) error {
	c.out = append(c.out, '[')
	for first := true; c.dec.More(); first = false {
		if !first {
			c.out = append(c.out, ',')
		}
		if err := c.value(depth + 1); err != nil {
			return err
		}
	}
	c.out = append(c.out, ']')
	_, err := c.dec.Token()
	return err
}

type member struct {
	name  string
	order []uint16
	value []byte
}

func (c *canonicalizer) object(depth int) error {
	var members []member
	outer := c.out
	for c.dec.More() {
		token, err := c.dec.Token()
		if err != nil {
			return err
		}
		name, ok := token.(string)
		if !ok {
			return errors.New("a member without a name")
		}
		c.out = nil
		if err := c.value(depth + 1); err != nil {
			return err
		}
		members = append(members, member{name, utf16.Encode([]rune(name)), c.out})
	}
	if _, err := c.dec.Token(); err != nil {
		return err
	}
	slices.SortFunc(members, func(a, b member) int { return slices.Compare(a.order, b.order) })
	c.out = append(outer, '{')
	for i, m := range members {
		if i > 0 {
			if members[i-1].name == m.name {
				return fmt.Errorf("member %q comes twice", m.name)
			}
			c.out = append(c.out, ',')
		}
		c.out = append(appendString(c.out, m.name), ':')
		c.out = append(c.out, m.value...)
	}
	c.out = append(c.out, '}')
	return nil
}

// number writes a number as ECMAScript prints it, which is what encoding/json does.
func (c *canonicalizer) number(n json.Number) error {
	f, err := n.Float64()
	if err != nil || math.IsInf(f, 0) {
		return fmt.Errorf("number %s is out of range", n)
	}
	const exact = 1 << 53
	if i, err := strconv.ParseInt(n.String(), 10, 64); err == nil && (i > exact || i < -exact) {
		return fmt.Errorf("whole number %s is beyond 2^53; write it as a string", n)
	}
	if f == 0 {
		f = 0 // minus zero is zero
	}
	text, err := json.Marshal(f)
	if err != nil {
		return err
	}
	c.out = append(c.out, text...)
	return nil
}

// appendString escapes what RFC 8785 section 3.2.2.2 says, and nothing else.
func appendString(out []byte, s string) []byte {
	const hex = "0123456789abcdef"
	const named = "\b\t\n\f\r\"\\"
	const letters = "btnfr\"\\"
	out = append(out, '"')
	for i := range len(s) {
		b := s[i]
		if b >= ' ' && b != '"' && b != '\\' {
			out = append(out, b)
			continue
		}
		if at := strings.IndexByte(named, b); at >= 0 {
			out = append(out, '\\', letters[at])
			continue
		}
		out = append(out, '\\', 'u', '0', '0', hex[b>>4], hex[b&15])
	}
	return append(out, '"')
}
