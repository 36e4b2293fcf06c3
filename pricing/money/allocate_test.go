package money

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func weights(t testing.TB, texts ...string) []decimal.Decimal {
	t.Helper()
	out := make([]decimal.Decimal, len(texts))
	for i, s := range texts {
		out[i] = dec(t, s)
	}
	return out
}

func TestAllocate(t *testing.T) {
	tests := []struct {
		source  string
		total   string
		weights []string
		want    []string
	}{
		{"own arithmetic: 40/50/10 of a net total", "137946.49", []string{"40", "50", "10"}, []string{"55178.60", "68973.24", "13794.65"}},
		{"own arithmetic: 30/60/10 of a tax total", "15792.15", []string{"30", "60", "10"}, []string{"4737.65", "9475.29", "1579.21"}},
		{"largest remainder, ties to the earlier part", "1.00", []string{"1", "1", "1"}, []string{"0.34", "0.33", "0.33"}},
		{"a negative total mirrors", "-1.00", []string{"1", "1", "1"}, []string{"-0.34", "-0.33", "-0.33"}},
		{"a weight of zero gets nothing", "0.05", []string{"0", "3", "0.0"}, []string{"0.00", "0.05", "0.00"}},
		{"fractions as weights", "100.00", []string{"33.33", "66.67"}, []string{"33.33", "66.67"}},
		{"the usual teaching example of the largest remainder method, 100 000 votes for 10 seats with the Hare quota: 5 2 1 1 1 0, from memory", "0.10", []string{"47000", "16000", "15900", "12000", "6000", "3100"}, []string{"0.05", "0.02", "0.01", "0.01", "0.01", "0.00"}},
	}
	for _, tt := range tests {
		parts, err := amount(t, tt.total, GBP).Allocate(weights(t, tt.weights...))
		if err != nil {
			t.Errorf("%s: %v", tt.source, err)
			continue
		}
		for i, p := range parts {
			if p.Fixed() != tt.want[i] {
				t.Errorf("%s: part %d is %s, want %s", tt.source, i+1, p.Fixed(), tt.want[i])
			}
		}
	}
}

func TestAllocateRefuses(t *testing.T) {
	tests := []struct {
		total   string
		weights []string
	}{
		{"1.005", []string{"1"}},
		{"1.00", nil},
		{"1.00", []string{"0", "0"}},
		{"1.00", []string{"1", "-1"}},
	}
	for _, tt := range tests {
		if parts, err := amount(t, tt.total, GBP).Allocate(weights(t, tt.weights...)); err == nil {
			t.Errorf("allocate %s by %v gave %v", tt.total, tt.weights, parts)
		}
	}
	if _, err := amount(t, "1.00", GBP).Split(0); err == nil {
		t.Error("split into no parts")
	}
}

func TestAllocateNeverLosesAPenny(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total, _ := FromMinor(rapid.Int64().Draw(t, "total"), GBP)
		n := rapid.SliceOfN(rapid.Int64Range(0, 1_000_000), 0, 11).Draw(t, "weights")
		one := rapid.Int64Range(1, 1_000_000).Draw(t, "a weight above zero")
		n = slices.Insert(n, rapid.IntRange(0, len(n)).Draw(t, "its place"), one)
		ws := make([]decimal.Decimal, len(n))
		sum := decimal.New(0, 0)
		for i, w := range n {
			ws[i] = decimal.New(w, -int32(i%4))
			sum = sum.Add(ws[i])
		}
		parts, err := total.Allocate(ws)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Sum(GBP, parts...)
		if err != nil || !back.Equal(total) {
			t.Fatalf("parts %v add up to %v, not %v (%v)", parts, back, total, err)
		}
		mirrored, err := total.Neg().Allocate(ws)
		if err != nil && total.Decimal().CoefficientInt64() != -1<<63 {
			t.Fatal(err)
		}
		for i, p := range parts {
			checkShare(t, total, p, ws[i], sum)
			if err == nil && !mirrored[i].Equal(p.Neg()) {
				t.Fatalf("part %d: %v, mirrored %v", i, p, mirrored[i])
			}
		}
	})
}

// checkShare asserts |part·W − T·w| < one minor unit · W, and nothing for no weight.
func checkShare(t *rapid.T, total, part Amount, w, sum decimal.Decimal) {
	if w.IsZero() && !part.IsZero() {
		t.Fatalf("weight zero got %v", part)
	}
	away := part.Decimal().Mul(sum).Sub(total.Decimal().Mul(w)).Abs()
	if away.Cmp(sum.Shift(-2)) >= 0 {
		t.Fatalf("%v is a whole unit away from its share of %v", part, total)
	}
}

func TestSpreadIsAllocateTakenOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var over []Amount
		var weights []decimal.Decimal
		taken := rapid.SliceOfN(rapid.Bool(), 1, 8).Draw(t, "taken")
		for _, take := range taken {
			a, _ := FromMinor(rapid.Int64Range(1, 1e9).Draw(t, "amount"), GBP)
			w := decimal.Decimal{}
			if take {
				w = a.Decimal()
			}
			over, weights = append(over, a), append(weights, w)
		}
		total, _ := FromMinor(rapid.Int64Range(0, 1e6).Draw(t, "total"), GBP)
		left, err := total.Spread(over, func(i int) bool { return taken[i] })
		parts, errAllocate := total.Allocate(weights)
		if (err == nil) != (errAllocate == nil) {
			t.Fatalf("%v, %v", err, errAllocate)
		}
		for i := range left {
			if want, _ := over[i].Sub(parts[i]); !left[i].Equal(want) {
				t.Fatalf("%v less %v is %v", over[i], parts[i], left[i])
			}
		}
	})
}
