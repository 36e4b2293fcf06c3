// Package ubl writes a quotation as an OASIS UBL 2.1 Quotation document. A document
// that fits the schema can still be summed wrongly, so that the tests read it back and
// sum it anew by the rules of EN 16931-1.
//
// No European profile covers quotations, so that the plain document type is used.
// Payment stages have no place in it; they stand in the transaction conditions in
// words.
//
// Begin with Write.
package ubl

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

// Party is a seller or buyer.
type Party struct {
	Name      string
	Address   []string
	Country   string // ISO 3166-1 alpha-2
	VATNumber string
	Contact   string
	Email     string
}

// Head is what the quotation does not know of itself.
type Head struct {
	Number   string
	Revision string
	Seller   Party
	Buyer    Party
	Site     Party // where the plant is delivered
	Delivery pricing.Delivery
	Notes    []string
	Terms    []string
}

// node is an element; a leaf has text, the others children.
type node struct {
	name  string
	attrs []xml.Attr
	text  string
	kids  []node
}

func leaf(name, text string, attrs ...string) node {
	n := node{name: name, text: text}
	for i := 0; i+1 < len(attrs); i += 2 {
		n.attrs = append(n.attrs, xml.Attr{Name: xml.Name{Local: attrs[i]}, Value: attrs[i+1]})
	}
	return n
}

func tree(name string, kids ...node) node {
	n := node{name: name}
	for _, k := range kids {
		if k.text != "" || len(k.kids) > 0 {
			n.kids = append(n.kids, k)
		}
	}
	return n
}

func amount(name string, a money.Amount) node {
	return leaf(name, a.Fixed(), "currencyID", string(a.Currency()))
}

// Write writes the document. A quotation that the rules of EN 16931-1 have no room
// for is refused.
func Write(w io.Writer, q pricing.Quotation, h Head) error {
	if err := q.FitsInvoiceStandard(); err != nil {
		return fmt.Errorf("write the quotation as UBL: %w", err)
	}
	if len(q.Lines) == 0 {
		return fmt.Errorf("write the quotation as UBL: it has no line, and the document needs at least one")
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", "  ")
	if err := put(enc, document(q, h)); err != nil {
		return fmt.Errorf("write the quotation as UBL: %w", err)
	}
	if err := enc.Close(); err != nil {
		return fmt.Errorf("write the quotation as UBL: %w", err)
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func put(enc *xml.Encoder, n node) error {
	start := xml.StartElement{Name: xml.Name{Local: n.name}, Attr: n.attrs}
	if err := enc.EncodeToken(start); err != nil {
		return err
	}
	if n.text != "" {
		if err := enc.EncodeToken(xml.CharData(n.text)); err != nil {
			return err
		}
	}
	for _, k := range n.kids {
		if err := put(enc, k); err != nil {
			return err
		}
	}
	return enc.EncodeToken(start.End())
}

// document follows the order of the schema, which is fixed.
func document(q pricing.Quotation, h Head) node {
	kids := []node{
		leaf("cbc:UBLVersionID", "2.1"), leaf("cbc:ID", h.Number+"-"+h.Revision), leaf("cbc:IssueDate", q.Date.String()),
	}
	for _, s := range h.Notes {
		kids = append(kids, leaf("cbc:Note", s))
	}
	kids = append(
		kids,
		leaf("cbc:PricingCurrencyCode", string(q.Currency)),
		leaf("cbc:LineCountNumeric", fmt.Sprint(len(q.Lines))),
		tree("cac:ValidityPeriod", leaf("cbc:StartDate", q.Date.String()), leaf("cbc:EndDate", q.ValidUntil.String())),
		tree("cac:SellerSupplierParty", party(h.Seller)),
		tree("cac:BuyerCustomerParty", party(h.Buyer)),
		tree("cac:Delivery", address("cac:DeliveryAddress", h.Site)),
	)
	if h.Delivery.Rule != "" {
		kids = append(kids, tree("cac:DeliveryTerms", leaf("cbc:ID", h.Delivery.Rule), leaf("cbc:SpecialTerms", h.Delivery.String())))
	}
	kids = append(kids, conditions(q, h))
	for _, a := range q.Allowances {
		kids = append(kids, allowances(a)...)
	}
	for _, c := range q.Charges {
		kids = append(kids, tree("cac:AllowanceCharge", leaf("cbc:ChargeIndicator", "true"), leaf("cbc:AllowanceChargeReasonCode", c.ReasonCode), leaf("cbc:AllowanceChargeReason", c.Reason), amount("cbc:Amount", c.Amount), category("cac:TaxCategory", c.Tax)))
	}
	kids = append(kids, taxTotal(q), totals(q))
	for i := range q.Lines {
		kids = append(kids, line(&q.Lines[i]))
	}
	root := tree("Quotation", kids...)
	for _, ns := range [][2]string{
		{"xmlns", "urn:oasis:names:specification:ubl:schema:xsd:Quotation-2"},
		{"xmlns:cac", "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"},
		{"xmlns:cbc", "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"},
	} {
		root.attrs = append(root.attrs, xml.Attr{Name: xml.Name{Local: ns[0]}, Value: ns[1]})
	}
	return root
}

func party(p Party) node {
	tax := node{}
	if p.VATNumber != "" {
		tax = tree("cac:PartyTaxScheme", leaf("cbc:CompanyID", p.VATNumber), tree("cac:TaxScheme", leaf("cbc:ID", "VAT")))
	}
	contact := node{}
	if p.Contact != "" || p.Email != "" {
		contact = tree("cac:Contact", leaf("cbc:Name", p.Contact), leaf("cbc:ElectronicMail", p.Email))
	}
	return tree("cac:Party", tree("cac:PartyName", leaf("cbc:Name", p.Name)), address("cac:PostalAddress", p), tax, contact)
}

func address(name string, p Party) node {
	var kids []node
	for _, l := range p.Address {
		kids = append(kids, tree("cac:AddressLine", leaf("cbc:Line", l)))
	}
	if p.Country != "" {
		kids = append(kids, tree("cac:Country", leaf("cbc:IdentificationCode", p.Country)))
	}
	return tree(name, kids...)
}

// conditions hold the terms and the payment stages in words.
func conditions(q pricing.Quotation, h Head) node {
	kids := []node{leaf("cbc:ID", "terms")}
	for _, t := range h.Terms {
		kids = append(kids, leaf("cbc:Description", t))
	}
	for _, s := range q.Stages {
		kids = append(kids, leaf("cbc:Description", fmt.Sprintf("%s: %s %% = %s with tax, due when %s, %d days", s.Name, s.Percent, s.Gross, s.Event, s.Days)))
	}
	return tree("cac:TransactionConditions", kids...)
}

// allowances gives one element for each tax that a discount on the whole falls
// under, because an element has one category.
func allowances(a pricing.Allowance) []node {
	var out []node
	for _, s := range a.Shares {
		kids := []node{leaf("cbc:ChargeIndicator", "false"), leaf("cbc:AllowanceChargeReasonCode", a.ReasonCode), leaf("cbc:AllowanceChargeReason", a.Reason)}
		if len(a.Shares) == 1 && a.Percent.Sign() > 0 {
			kids = append(kids, leaf("cbc:MultiplierFactorNumeric", a.Percent.String()), amount("cbc:Amount", s.Amount), amount("cbc:BaseAmount", a.Base))
		} else {
			kids = append(kids, amount("cbc:Amount", s.Amount))
		}
		out = append(out, tree("cac:AllowanceCharge", append(kids, category("cac:TaxCategory", s.Tax))...))
	}
	return out
}

func category(name string, t pricing.Tax) node {
	kids := []node{leaf("cbc:ID", string(t.Category))}
	if t.Category != pricing.TaxOutside {
		kids = append(kids, leaf("cbc:Percent", t.Percent.String()))
	}
	if t.Reason != "" && name == "cac:TaxCategory" {
		kids = append(kids, leaf("cbc:TaxExemptionReasonCode", t.ReasonCode), leaf("cbc:TaxExemptionReason", t.Reason))
	}
	return tree(name, append(kids, tree("cac:TaxScheme", leaf("cbc:ID", "VAT")))...)
}

func taxTotal(q pricing.Quotation) node {
	kids := []node{amount("cbc:TaxAmount", q.Totals.Tax)}
	for _, t := range q.Taxes {
		kids = append(kids, tree("cac:TaxSubtotal", amount("cbc:TaxableAmount", t.Base), amount("cbc:TaxAmount", t.Amount), category("cac:TaxCategory", t.Tax)))
	}
	return tree("cac:TaxTotal", kids...)
}

func totals(q pricing.Quotation) node {
	return tree(
		"cac:QuotedMonetaryTotal",
		amount("cbc:LineExtensionAmount", q.Totals.Lines), amount("cbc:TaxExclusiveAmount", q.Totals.Net), amount("cbc:TaxInclusiveAmount", q.Totals.Gross),
		amount("cbc:AllowanceTotalAmount", q.Totals.Allowances), amount("cbc:ChargeTotalAmount", q.Totals.Charges), amount("cbc:PayableAmount", q.Totals.Gross),
	)
}

func line(l *pricing.Line) node {
	kids := []node{leaf("cbc:ID", fmt.Sprint(l.Number))}
	if note := lineNote(l); note != "" {
		kids = append(kids, leaf("cbc:Note", note))
	}
	kids = append(kids, leaf("cbc:Quantity", l.Quantity.String(), "unitCode", l.Unit), amount("cbc:LineExtensionAmount", l.Net))
	for _, d := range l.Discounts {
		discount := []node{leaf("cbc:ChargeIndicator", "false"), leaf("cbc:AllowanceChargeReasonCode", d.ReasonCode), leaf("cbc:AllowanceChargeReason", d.Reason)}
		if d.Percent.Sign() > 0 {
			discount = append(discount, leaf("cbc:MultiplierFactorNumeric", d.Percent.String()), amount("cbc:Amount", d.Amount), amount("cbc:BaseAmount", d.Base))
		} else {
			discount = append(discount, amount("cbc:Amount", d.Amount))
		}
		kids = append(kids, tree("cac:AllowanceCharge", discount...))
	}
	kids = append(
		kids,
		tree("cac:Price", amount("cbc:PriceAmount", l.Price), leaf("cbc:BaseQuantity", l.Per.String(), "unitCode", l.Unit)),
		tree("cac:Item", leaf("cbc:Name", l.Description), tree("cac:SellersItemIdentification", leaf("cbc:ID", or(l.Code, l.Ref))), category("cac:ClassifiedTaxCategory", l.Tax)),
	)
	return tree("cac:QuotationLine", leaf("cbc:ID", l.Ref), tree("cac:LineItem", kids...))
}

// lineNote says what the document type has no element for.
func lineNote(l *pricing.Line) string {
	var parts []string
	if l.Provisional != nil {
		parts = append(parts, "Provisional sum: "+l.Provisional.What+"; "+l.Provisional.Adjusted+"; "+l.Provisional.Settled)
	}
	for _, a := range l.DependsOn {
		parts = append(parts, "Rests on "+a.Says)
	}
	return strings.Join(parts, ". ")
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
