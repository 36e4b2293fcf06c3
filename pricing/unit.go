package pricing

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strings"
)

// Unit codes that the program itself writes.
const (
	UnitPiece   = "C62"
	UnitLumpSum = "LS"
	UnitDay     = "DAY"
	UnitMetre   = "MTR"
)

//go:embed tables/units.csv
var unitsCSV string

var unitWords, unitOrder = readUnits(unitsCSV)

func readUnits(text string) (map[string]string, []string) {
	rows := mustReadTable("units", text)
	words := make(map[string]string, len(rows))
	var order []string
	for _, row := range rows {
		words[row[0]] = row[1]
		order = append(order, row[0])
	}
	return words, order
}

// mustReadTable reads an embedded table without its heading. The table is part of
// the program, so that a fault in it is a broken invariant of our own.
func mustReadTable(name, text string) [][]string {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		panic(fmt.Sprintf("pricing: table %s: %v", name, err))
	}
	return rows[1:]
}

// KnownUnit tells whether a line may be in this unit of UN/ECE Recommendation 20.
func KnownUnit(code string) bool {
	_, ok := unitWords[code]
	return ok
}

// UnitWord is what a line prints for a unit code; the code itself if it is unknown.
func UnitWord(code string) string {
	if word, ok := unitWords[code]; ok {
		return word
	}
	return code
}

func unitList() string { return strings.Join(unitOrder, ", ") }
