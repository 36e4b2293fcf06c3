// Package data holds the price book and the letterhead of the invented firm whose
// range the catalogue describes. A firm of flesh and blood brings its own files.
package data

import _ "embed"

//go:embed prices-2026.yaml
var prices []byte

//go:embed firm.yaml
var firm []byte

// PricesFile is the name by which problems of the price book are reported.
const PricesFile = "pricing/data/prices-2026.yaml"

// Prices is the price book as the text of its file.
func Prices() []byte { return prices }

// FirmFile is the name by which problems of the firm's settings are reported.
const FirmFile = "pricing/data/firm.yaml"

// Firm is the firm's settings as the text of their file.
func Firm() []byte { return firm }
