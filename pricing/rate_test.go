package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"
)

func TestConvertAtADatedRate(t *testing.T) {
	// Own arithmetic: 8412.60 × 1.1874 × 1.02 = 10188.90 (10188.9037…).
	r := Rate{From: money.GBP, To: money.EUR, Value: dec(t, "1.1874"), Side: "ask", Source: "the bank", Date: date(t, "2026-05-04"), Expiry: date(t, "2026-06-03"), Buffer: dec(t, "2")}
	got, err := r.Convert(amount(t, "8412.60", money.GBP))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "converted", got, "10188.90")
	if _, err := r.Convert(amount(t, "1", money.EUR)); err == nil {
		t.Error("euros were converted at a rate from pounds")
	}
	for now, want := range map[string]bool{"1.1874": false, "1.211148": false, "1.211149": true, "1.1636": true} {
		if _, beyond, err := r.Moved(dec(t, now)); err != nil || beyond != want {
			t.Errorf("rate now %s: beyond %v, %v", now, beyond, err)
		}
	}
	if r.Holds(date(t, "2026-06-04")) || !r.Holds(date(t, "2026-06-03")) || r.Holds(date(t, "2026-05-03")) {
		t.Error("the expiry is the last day of use")
	}
	later := r
	later.Date, later.Value = date(t, "2026-05-20"), dec(t, "1.19")
	rates := Rates{later, r}
	for day, want := range map[string]string{"2026-05-19": "1.1874", "2026-05-20": "1.19", "2026-06-04": ""} {
		if got, err := rates.On(money.GBP, money.EUR, date(t, day)); (err == nil) != (want != "") || err == nil && got.Value.String() != want {
			t.Errorf("on %s: %s, %v", day, got.Value, err)
		}
	}
	r.Source = ""
	if _, err := r.Convert(amount(t, "1", money.GBP)); err == nil {
		t.Error("a rate without a source was used")
	}
}

func TestBookInAnotherCurrency(t *testing.T) {
	r := Rate{From: money.GBP, To: money.EUR, Value: dec(t, "1.2"), Side: "mid", Source: "the bank", Date: date(t, "2026-05-04"), Expiry: date(t, "2026-06-03")}
	b, err := book(t, bookA).In(r)
	if err != nil {
		t.Fatal(err)
	}
	p, err := b.Find("FERMENTER", date(t, "2026-05-04"))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "list", p.List, "11814.60")
	same(t, "cost", p.Cost, "8364.00")
	if b.Holds(date(t, "2026-06-04")) || !strings.Contains(b.Note, "the bank") {
		t.Errorf("note %q, to %s", b.Note, b.To)
	}
}

func TestEscalation(t *testing.T) {
	// BEAMA formula 5 + 47.5 + 47.5, own figures worked out by hand:
	// 118400.00·(5 + 47.5·127.8/131.5 + 47.5·109.9/104.2)/100 = 119894.05.
	indices := []Index{
		{Name: "materials", Base: dec(t, "131.5"), Now: dec(t, "127.8"), Weight: dec(t, "47.5")},
		{Name: "labour", Base: dec(t, "104.2"), Now: dec(t, "109.9"), Weight: dec(t, "47.5")},
	}
	a, err := Escalate(amount(t, "118400.00", money.GBP), dec(t, "5"), indices)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "adjusted", a.New, "119894.05")
	same(t, "change", a.Change, "1494.05")
	if _, err := Escalate(amount(t, "1", money.GBP), dec(t, "4"), indices); err == nil {
		t.Error("weights of 99 were taken")
	}
}
