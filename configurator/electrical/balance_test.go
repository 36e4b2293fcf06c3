package electrical

import "testing"

// Three instances solved to the proven optimum by trying every assignment.
func TestBalanceInstances(t *testing.T) {
	one := func(amps ...float64) (ps []piece) {
		for _, a := range amps {
			ps = append(ps, piece{poles: 1, amps: []float64{a}, most: a})
		}
		return ps
	}
	r3 := func() []piece {
		in := map[byte]float64{'a': 9, 'b': 7, 'c': 6, 'd': 5, 'e': 4, 'f': 3}
		states := []string{"abd", "cef", "acde"}
		var ps []piece
		for _, n := range []byte("abcdef") {
			p := piece{poles: 1, amps: make([]float64, 3)}
			for s, on := range states {
				for k := range on {
					if on[k] == n {
						p.amps[s] = in[n]
						p.most = in[n]
					}
				}
			}
			ps = append(ps, p)
		}
		return ps
	}
	tests := []struct {
		id     string
		states int
		pieces []piece
		want   float64
	}{
		{"R1", 1, one(13, 10, 9, 6, 6, 4, 3, 2), 18},
		{"R2", 1, one(10, 10, 8, 8, 6, 6, 6), 18},
		{"R3", 3, r3(), 9},
	}
	for _, tt := range tests {
		got := solve(3, make([][3]float64, tt.states), tt.pieces, 1e9)
		if got.worst != tt.want || !got.proven {
			t.Errorf("%s: worst %v proven %v, want %v proven", tt.id, got.worst, got.proven, tt.want)
		}
	}
}
