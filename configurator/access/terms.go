package access

import (
	_ "embed"
	"slices"

	"tunwright/catalog/source"
)

//go:embed tables/incoterms.csv
var incotermsCSV string

var deliveryRules = readDeliveryRules()

// DeliveryRule is a rule of Incoterms 2020 in short.
type DeliveryRule struct {
	Rule      string // EXW … CIF
	Name      string
	Mode      string // any, or sea
	Place     string // what kind of place is named
	Carriage  string // who pays the carriage
	Unloading string // who unloads at the named place
	Insurance string // who insures the carriage
	Import    string // who clears for import
}

// DeliveryRules returns the rules in the order of the publication.
func DeliveryRules() []DeliveryRule { return slices.Clone(deliveryRules) }

func readDeliveryRules() []DeliveryRule {
	table := source.MustTable("incoterms", incotermsCSV)
	rules := make([]DeliveryRule, table.Len())
	for i := range rules {
		text := func(column string) string { return table.Text(i, column) }
		rules[i] = DeliveryRule{text("rule"), text("name"), text("mode"), text("place"), text("carriage"), text("unloading"), text("insurance"), text("import")}
	}
	return rules
}
