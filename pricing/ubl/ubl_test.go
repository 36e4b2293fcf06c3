package ubl_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/pricing/ubl"
	"tunwright/testdata/projects"

	"github.com/shopspring/decimal"
)

// quotations are those of all samples, one of them with discounts on line and whole.
func quotations(t *testing.T) map[string]pricing.Quotation {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	book, err := pricing.ReadBook(data.PricesFile, data.Prices())
	if err != nil {
		t.Fatal(err)
	}
	firm, err := offer.ReadFirm(data.FirmFile, data.Firm())
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]pricing.Quotation{}
	for _, name := range projects.Names() {
		text, err := projects.Text(name)
		if err != nil {
			t.Fatal(err)
		}
		j, err := offer.Read(name, text)
		if err != nil {
			t.Fatal(err)
		}
		if name == projects.Demo {
			j.Terms.Discount, j.Terms.Reason = decimal.RequireFromString("2.5"), "early order"
			j.Terms.Lines = []offer.LineTerms{{Tag: "CH1", Discount: decimal.RequireFromString("7.5"), Reason: "show model"}}
		}
		o, err := offer.Make(j, offer.House{Firm: firm, Catalogue: c, Book: book})
		if err != nil {
			t.Fatal(err)
		}
		out[name] = o.Quotation
	}
	return out
}

var head = ubl.Head{
	Number: "T-0001", Revision: "A",
	Seller:   ubl.Party{Name: "Seller & Sons <Ltd>", Address: []string{"1 Yard"}, Country: "GB", VATNumber: "GB000000000"},
	Buyer:    ubl.Party{Name: "Buyer", Country: "GB", Contact: "A. Person", Email: "a@buyer.example"},
	Site:     ubl.Party{Address: []string{"Mill"}, Country: "GB"},
	Delivery: pricing.Delivery{Rule: "DAP", Place: "Mill"},
	Terms:    []string{"Terms in words."},
}

func written(t *testing.T, q pricing.Quotation) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := ubl.Write(&b, q, head); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The documents fit the schema that OASIS published.
func TestDocumentsFitTheSchema(t *testing.T) {
	if _, err := exec.LookPath("xmllint"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("xmllint is not installed")
		}
		t.Skip("xmllint is not installed: the schema cannot be applied")
	}
	schema := filepath.Join("..", "..", "testdata", "ubl-2.1", "maindoc", "UBL-Quotation-2.1.xsd")
	for name, q := range quotations(t) {
		path := filepath.Join(t.TempDir(), name+".xml")
		if err := os.WriteFile(path, written(t, q), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command("xmllint", "--nonet", "--noout", "--schema", schema, path).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", name, err, out)
		}
	}
}

// A quotation whose arithmetic nobody has checked does not leave the house.
func TestAnUncheckedQuotationIsRefused(t *testing.T) {
	q := quotations(t)[projects.Demo]
	q.Checks = nil
	if err := ubl.Write(&bytes.Buffer{}, q, head); err == nil {
		t.Error("accepted")
	}
}

// What fits the schema is summed right too, by EN 16931-1.
func TestArithmeticOfTheDocuments(t *testing.T) {
	all := quotations(t)
	if len(all) < 2 {
		t.Fatalf("%d quotations", len(all))
	}
	for name, q := range all {
		faults, err := ubl.Check(written(t, q))
		if err != nil || len(faults) > 0 {
			t.Errorf("%s: %v %v", name, err, faults)
		}
	}
}

// A document whose sums were tampered with is found out, rule by rule.
func TestWrongSumsAreFound(t *testing.T) {
	q := quotations(t)[projects.Demo]
	text := string(written(t, q))
	for _, tt := range []struct{ rule, from, to string }{
		{"BR-CO-13", ">" + q.Totals.Net.Fixed() + "</cbc:TaxExclusiveAmount>", ">1.00</cbc:TaxExclusiveAmount>"},
		{"BR-CO-15", ">" + q.Totals.Gross.Fixed() + "</cbc:TaxInclusiveAmount>", ">1.00</cbc:TaxInclusiveAmount>"},
		{"BR-CO-10", ">" + q.Totals.Lines.Fixed() + "</cbc:LineExtensionAmount>", ">1.00</cbc:LineExtensionAmount>"},
		{"BR-CO-11", "</cbc:AllowanceTotalAmount>", "9</cbc:AllowanceTotalAmount>"},
		{"BR-CO-17", "<cbc:Percent>20</cbc:Percent>", "<cbc:Percent>21</cbc:Percent>"},
	} {
		changed := strings.Replace(text, tt.from, tt.to, 1)
		if tt.rule == "BR-CO-17" {
			changed = strings.ReplaceAll(text, tt.from, tt.to)
		}
		if changed == text {
			t.Fatalf("%s: %q does not stand in the document", tt.rule, tt.from)
		}
		faults, err := ubl.Check([]byte(changed))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, f := range faults {
			found = found || f.Rule == tt.rule
		}
		if !found {
			t.Errorf("%s is not found: %v", tt.rule, faults)
		}
	}
}
