package brewing

import (
	"math"
	"testing"

	"tunwright/catalog/source"
)

// monotone holds a column to rising (1) or falling (−1).
func monotone(t *testing.T, table source.Table, column string, way float64) {
	t.Helper()
	xs, err := table.Column(column)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(xs); i++ {
		if math.IsNaN(xs[i]) || (xs[i]-xs[i-1])*way < 0 {
			t.Errorf("%s: %s row %d: %g after %g", table.Name, column, i+1, xs[i], xs[i-1])
		}
	}
}

func sum(t *testing.T, table source.Table, column string) float64 {
	t.Helper()
	xs, err := table.Column(column)
	if err != nil {
		t.Fatal(err)
	}
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s
}

func TestTablesAreAsPrinted(t *testing.T) {
	for _, c := range []struct {
		table  source.Table
		rows   int
		column string
		sum    float64
	}{
		{kindsTable, 8, "ferment_days", 60},
		{waterTable, 11, "rho_kg_m3", 10778.51},
		{maltHeatTable, 7, "relative_heat", 2.78},
		{dutyFactorTable, 11, "factor", 1.43},
		{dutyBandsTable, 11, "to_hl", 11297.5},
		{liftingTable, 5, "men_close_kg", 85},
		{waterUseTable, 10, "mean", 6.6},
		{kegsTable, 4, "net_l", 140.915},
	} {
		if c.table.Len() != c.rows {
			t.Errorf("%s has %d rows, want %d", c.table.Name, c.table.Len(), c.rows)
		}
		if got := sum(t, c.table, c.column); math.Abs(got-c.sum) > 1e-6 {
			t.Errorf("%s: %s sums to %g, want %g", c.table.Name, c.column, got, c.sum)
		}
	}
	monotone(t, waterTable, "rho_kg_m3", -1)
	monotone(t, waterTable, "hfg_kj_kg", -1)
	monotone(t, maltHeatTable, "relative_heat", 1)
	monotone(t, maltHeatTable, "slaking_k", -1)
	monotone(t, dutyFactorTable, "from", 1)
	monotone(t, dutyFactorTable, "factor", 1)
	monotone(t, kegsTable, "full_kg", 1)
}

// The duty factors leave no gap: each row begins a tenth after the one before.
func TestDutyFactorsAreSeamless(t *testing.T) {
	for i := 1; i < dutyFactorTable.Len(); i++ {
		from, _ := dutyFactorTable.Number(i, "from")
		to, _ := dutyFactorTable.Number(i-1, "to")
		near(t, "start of row", from, to+0.1, 1e-9)
	}
}

// The two columns of the lifting filter for women never exceed those for men.
func TestLiftingFilter(t *testing.T) {
	for _, row := range LiftFilter(25) {
		if row.PassesMen || row.PassesWomen {
			t.Errorf("%s: a 25 kg bag passes; HSE: passing means less than the figure", row.Zone)
		}
		if row.WomenClose > row.MenClose || row.MenExtended > row.MenClose {
			t.Errorf("%s: columns are out of order", row.Zone)
		}
	}
	if !LiftFilter(24)[2].PassesMen {
		t.Error("24 kg between knuckle and elbow should pass for men")
	}
}
