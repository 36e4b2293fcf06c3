package pdf

import (
	"errors"
	"fmt"
)

// GlyphError says that no embedded font has a character.
type GlyphError struct {
	Rune  rune
	Where string
}

func (e *GlyphError) Error() string {
	return fmt.Sprintf("%s: no embedded font has the character %q (U+%04X): write it another way", e.Where, e.Rune, e.Rune)
}

// OverflowError says that a word is wider than the place it stands in.
type OverflowError struct {
	Where      string
	Word       string
	Need, Have float64 // points
}

func (e *OverflowError) Error() string {
	return fmt.Sprintf("%s: %q needs %.1f pt and has %.1f pt: widen the column or allow a break in the word", e.Where, e.Word, e.Need, e.Have)
}

// TallError says that something that may not be split is taller than a page.
type TallError struct {
	Where      string
	Need, Have float64 // points
}

func (e *TallError) Error() string {
	return fmt.Sprintf("%s: needs %.0f pt of height and a page has %.0f pt: make it shorter", e.Where, e.Need, e.Have)
}

var errNotRead = errors.New("font has no character at all")
