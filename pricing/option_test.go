package pricing

import (
	"strings"
	"testing"

	"tunwright/pricing/money"
)

func TestPriceRestsOnBuildingFacts(t *testing.T) {
	req := requestA(t)
	req.Items[8].DependsOn = []Assumption{{Key: "site.floor_height_mm", Value: "4200", Says: "floor 4.2 m above the street"}}
	q, _ := calculate(t, book(t, bookA), req)
	if got := q.Broken(map[string]string{"site.floor_height_mm": "4200"}); len(got) != 0 {
		t.Errorf("an unchanged fact is broken: %v", got)
	}
	if got := q.Broken(map[string]string{"site.floor_height_mm": "6100"}); len(got) != 1 || got[0].Ref != "9" || !strings.Contains(got[0].Says, "6100") {
		t.Errorf("changed: %v", got)
	}
	if got := q.Broken(nil); len(got) != 1 || !strings.Contains(got[0].Says, "not known any more") {
		t.Errorf("unknown: %v", got)
	}
}

func TestOptionsAndAlternatives(t *testing.T) {
	req := requestA(t)
	washer := Item{Ref: "w", Description: "Keg washer", Kind: Product, Quantity: dec(t, "1"), Price: amount(t, "6000.00", money.GBP), PriceReason: "bought in", Cost: amount(t, "4500.00", money.GBP)}
	larger := Item{Ref: "4b", Description: "Larger chiller", Kind: Product, Quantity: dec(t, "1"), Price: amount(t, "15480.00", money.GBP), PriceReason: "bought in", Cost: amount(t, "11900.00", money.GBP)}
	req.Options = []Option{
		{ID: "washer", Title: "Keg washer", Items: []Item{washer}},
		{ID: "larger", Title: "Larger chiller", Group: "chiller", Replaces: []string{"4"}, Items: []Item{larger}},
	}
	q, sheet := calculate(t, book(t, bookA), req)
	same(t, "an option is in no total", q.Totals.Net, "137946.49")
	// 6000.00 less 2.5 % is 5850.00; the discount is worked out on the whole.
	same(t, "washer", q.Options[0].Change.Net, "5850.00")
	same(t, "washer with tax", q.Options[0].Change.Gross, "7020.00")
	same(t, "larger chiller", q.Options[1].Change.Net, "2925.00")
	same(t, "cost of the washer", sheet.Options[0].Change.Cost, "4500.00")
	taken, err := req.Taking("larger")
	if err != nil {
		t.Fatal(err)
	}
	if taken.Items[3].Ref != "4b" || len(taken.Options) != 1 {
		t.Errorf("line 4 is %s", taken.Items[3].Ref)
	}
	after, _ := calculate(t, book(t, bookA), taken)
	same(t, "taken", after.Totals.Net, q.Options[1].IfTaken.Net.Fixed())
	broken := req
	broken.Options = []Option{{ID: "x", Title: "x", Items: []Item{{Ref: "x", Description: "x", Kind: Product}}}}
	if _, _, err := Calculate(book(t, bookA), broken); err == nil || !strings.Contains(err.Error(), "options[0], taken: items[9].quantity") {
		t.Errorf("an option without a quantity: %v", err)
	}
	req.Options = append(req.Options, Option{ID: "third", Title: "Third", Group: "chiller", Items: []Item{washer}})
	if _, err := req.Taking("larger", "third"); err == nil {
		t.Error("two alternatives were taken")
	}
	if _, err := req.Taking("nothing"); err == nil {
		t.Error("an option that is not there was taken")
	}
}

func TestCompare(t *testing.T) {
	one, _ := calculate(t, book(t, bookA), requestA(t))
	req := requestA(t)
	req.Items[3].Quantity = dec(t, "2")
	req.Items = append(req.Items[:1], req.Items[2:]...)
	two, _ := calculate(t, book(t, bookA), req)
	c, err := Compare(Named{"as asked", one}, Named{"two chillers", two})
	if err != nil {
		t.Fatal(err)
	}
	var differs []string
	for _, row := range c.Rows {
		if row.Differs {
			differs = append(differs, row.Ref)
		}
	}
	if got := strings.Join(differs, " "); got != "2 4" {
		t.Errorf("rows that differ: %s", got)
	}
	difference, _ := two.Totals.Net.Sub(one.Totals.Net)
	if !c.More[1].Equal(difference) || !c.More[0].IsZero() {
		t.Errorf("more: %v", c.More)
	}
	if _, err := Compare(Named{"alone", one}); err == nil {
		t.Error("one quotation was compared")
	}
}

func TestInstallation(t *testing.T) {
	in := Installation{Ref: "install", Description: "Installation", Crew: 3, Days: 11, DayCode: "INSTALL-DAY", Nights: 10, SubsistenceCode: "SUBSISTENCE"}
	items, err := in.Items()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"33", "30"}
	for i, item := range items {
		if item.Quantity.String() != want[i] {
			t.Errorf("%s: %s, want %s", item.Description, item.Quantity, want[i])
		}
	}
	for _, bad := range []Installation{{Crew: 0, Days: 1}, {Crew: 1, Days: 0}, {Crew: 1, Days: 1, Nights: 1}} {
		if _, err := bad.Items(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func TestProvisionalSumIsDefinedByFourMoreFields(t *testing.T) {
	// RICS New Rules of Measurement 2: nature, fixing, quantities, limitations.
	p := ProvisionalSum{Nature: "crane", Fixing: "from the street", Quantities: "6 lifts", Limitations: "Sunday"}
	if !p.Defined() || !strings.HasPrefix(p.Standing(), "Defined") {
		t.Error(p.Standing())
	}
	p.Limitations = " "
	if p.Defined() || !strings.Contains(p.Standing(), "no programme time") {
		t.Error(p.Standing())
	}
}

func TestSparesAreBoughtWhole(t *testing.T) {
	o, err := Spares("spares", 2, []Spare{{"SEAL", "Seal set", dec(t, "1.3")}, {"BELT", "Belt", dec(t, "0.2")}, {"LAMP", "Lamp", dec(t, "2")}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"3", "1", "4"} {
		if got := o.Items[i].Quantity.String(); got != want {
			t.Errorf("%s: %s, want %s", o.Items[i].Code, got, want)
		}
	}
	if _, err := Spares("spares", 0, nil); err == nil {
		t.Error("spares for no time")
	}
	if _, err := Spares("spares", 1, []Spare{{Code: "X"}}); err == nil {
		t.Error("a spare that is never used up")
	}
}
