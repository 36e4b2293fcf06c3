package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

func TestDeliveryRules(t *testing.T) {
	// Incoterms 2020 of the ICC: eleven rules, seven for any mode; the seller unloads
	// under DPU alone, insures under CIP and CIF, clears for import under DDP.
	var any, unloads, insures, clears []string
	for _, r := range DeliveryRules() {
		if r.Mode == "any" {
			any = append(any, r.Rule)
		}
		if r.Unloading == "seller" {
			unloads = append(unloads, r.Rule)
		}
		if r.Insurance == "seller" {
			insures = append(insures, r.Rule)
		}
		if r.Import == "seller" {
			clears = append(clears, r.Rule)
		}
	}
	want := "EXW FCA CPT CIP DAP DPU DDP|DPU|CIP CIF|DDP"
	got := strings.Join([]string{strings.Join(any, " "), strings.Join(unloads, " "), strings.Join(insures, " "), strings.Join(clears, " ")}, "|")
	if got != want || len(DeliveryRules()) != 11 {
		t.Errorf("%s, want %s", got, want)
	}
	d := Delivery{Rule: "DAP", Place: "kerbside, 4 Quay Lane", UpperFloor: true}
	if d.String() != "DAP kerbside, 4 Quay Lane (Incoterms 2020)" || len(d.Questions()) != 2 || d.Check() != nil {
		t.Errorf("%s: %v", d, d.Questions())
	}
	if q := (Delivery{Rule: "DPU", Place: "first floor, in position", UpperFloor: true, LiftByUs: true}).Questions(); len(q) != 0 {
		t.Errorf("DPU with our lift asks %v", q)
	}
	for _, bad := range []Delivery{{Rule: "DAT", Place: "x"}, {Rule: "DAP", Place: " "}} {
		if bad.Check() == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestFlags(t *testing.T) {
	tests := []struct {
		name   string
		supply Supply
		want   string
	}{
		{"plant and installation at home, private buyer", Supply{SellerCountry: "GB", BuyerCountry: "GB", SiteCountry: "GB", Installed: true}, ""},
		{"installed in Ireland by a British firm", Supply{SellerCountry: "GB", SiteCountry: "IE", Installed: true, BuyerInBusiness: true}, "TX-01 TX-02"},
		{"the same with a VAT number", Supply{SellerCountry: "GB", SiteCountry: "IE", Installed: true, BuyerInBusiness: true, BuyerVATNumber: "IE0000000X"}, "TX-01"},
		{"goods exported", Supply{SellerCountry: "GB", SiteCountry: "NO"}, "TX-03"},
		{"Northern Ireland", Supply{SellerCountry: "GB", SiteCountry: "XI", Installed: true}, "TX-01 TX-04"},
		{"pipework in a building", Supply{SellerCountry: "GB", SiteCountry: "GB", ConstructionScope: true, BuyerInBusiness: true}, "TX-05"},
		{"the same for an end user", Supply{SellerCountry: "GB", SiteCountry: "GB", ConstructionScope: true, BuyerInBusiness: true, EndUserStatement: true}, ""},
		{"goods above two thirds in Ireland", Supply{SellerCountry: "IE", SiteCountry: "IE", GoodsCostShare: true}, "TX-06"},
		{"the United States", Supply{SellerCountry: "US", SiteCountry: "US"}, "TX-07"},
		{"hard-piped tanks", Supply{SellerCountry: "GB", SiteCountry: "GB", HardPipedUnits: 4}, "TI-01"},
		{"mixed scopes", Supply{SellerCountry: "GB", SiteCountry: "GB", Installed: true, ConstructionScope: true}, "TI-02"},
	}
	for _, tt := range tests {
		var ids []string
		for _, f := range Flags(tt.supply) {
			ids = append(ids, f.ID)
			if f.Title == "" || f.Question == "" || f.Source == "" {
				t.Errorf("%s is incomplete", f.ID)
			}
		}
		if got := strings.Join(ids, " "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestReadyToIssue(t *testing.T) {
	b := book(t, strings.Replace(bookA, "prices:", "to: 2026-07-01\nprices:", 1))
	q, _ := calculate(t, b, requestA(t))
	if got := q.ReadyToIssue(b); len(got) != 0 {
		t.Errorf("ready, but %v", got)
	}
	late := q
	late.ValidUntil = date(t, "2026-07-01")
	rate := Rate{From: money.EUR, To: money.GBP, Value: decimal.New(1, 0), Date: date(t, "2026-05-01"), Expiry: date(t, "2026-06-30")}
	if got := late.ReadyToIssue(b, rate); len(got) != 2 {
		t.Errorf("book and rate have ended, but %v", got)
	}
	late.ValidUntil = Date{}
	if got := late.ReadyToIssue(b); len(got) != 1 {
		t.Errorf("no validity, but %v", got)
	}
	if q.Acceptable(date(t, "2026-06-06")) || !q.Acceptable(date(t, "2026-06-05")) {
		t.Error("the last day counts, the next does not")
	}
}

func TestThreeDecimalsAreRefusedNotCut(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	if err := q.FitsInvoiceStandard(); err != nil {
		t.Error(err)
	}
	q.Currency = "KWD"
	if err := q.FitsInvoiceStandard(); err == nil {
		t.Error("dinars with three decimals fit")
	}
}

func TestDates(t *testing.T) {
	d := date(t, "2025-01-05")
	// Unicode CLDR 48, long dates, printed by Intl.DateTimeFormat of Node.
	want := map[money.Locale]string{money.EnGB: "5 January 2025", money.EnIE: "5 January 2025", money.EnUS: "January 5, 2025", money.DeDE: "5. Januar 2025"}
	for l, w := range want {
		if got := d.Long(l); got != w {
			t.Errorf("%s: %q, want %q", l, got, w)
		}
	}
	if d.AddDays(31) != date(t, "2025-02-05") || d.DaysUntil(date(t, "2026-01-05")) != 365 {
		t.Error("days are counted wrong")
	}
	for _, bad := range []string{"2025-02-29", "2025-2-3", "05/06/2026", "", "1899-01-01"} {
		if got, err := ParseDate(bad); err == nil {
			t.Errorf("%q was read as %s", bad, got)
		}
	}
	var zero Date
	if text, _ := zero.MarshalText(); string(text) != "" || zero.Long(money.DeDE) != "" {
		t.Error("no date prints something")
	}
}

func TestQuotationHasNoRoomForCosts(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	if d := cmp.Diff([]string(nil), costWords(t, q)); d != "" {
		t.Error(d)
	}
}
