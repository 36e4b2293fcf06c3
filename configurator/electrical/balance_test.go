package electrical

import (
	"math"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

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

// TestTotalsAreTheWrongMeasure: the third instance balanced on its totals carries 11 A
// in its worst state, where 9 A are possible.
func TestTotalsAreTheWrongMeasure(t *testing.T) {
	p := problem{lines: 3, states: 1, base: make([][3]float64, 1)}
	for _, a := range []float64{9, 7, 6, 5, 4, 3} {
		p.pieces = append(p.pieces, piece{poles: 1, amps: []float64{a}, most: a})
	}
	sol := solve(3, p.base, p.pieces, math.Inf(1))
	if sol.worst != 12 {
		t.Errorf("totals balance to %v, want 12", sol.worst)
	}
}

// everyWay is the optimum found by trying every assignment.
func everyWay(lines int, base [][3]float64, pieces []piece) float64 {
	p := problem{lines: lines, states: len(base), base: base, pieces: pieces}
	p.prepare()
	best := math.Inf(1)
	at := make([]int, len(pieces))
	for {
		best = min(best, p.worstOf(at))
		k := 0
		for k < len(at) {
			at[k]++
			if at[k] < p.choices(k) {
				break
			}
			at[k] = 0
			k++
		}
		if k == len(at) {
			return best
		}
	}
}

func drawProblem(t *rapid.T, most int) (int, [][3]float64, []piece) {
	states := rapid.IntRange(1, 4).Draw(t, "states")
	lines := rapid.IntRange(2, 3).Draw(t, "lines")
	base := make([][3]float64, states)
	if rapid.Bool().Draw(t, "even") {
		lines = 3
	}
	for s := range base {
		for l := range lines {
			base[s][l] = float64(rapid.IntRange(0, 200).Draw(t, "base")) / 10
		}
	}
	var pieces []piece
	for range rapid.IntRange(1, most).Draw(t, "pieces") {
		p := piece{poles: rapid.IntRange(1, 2).Draw(t, "poles"), amps: make([]float64, states)}
		a := float64(rapid.IntRange(1, 200).Draw(t, "amps")) / 10
		for s := range p.amps {
			if rapid.Bool().Draw(t, "runs") {
				p.amps[s], p.most = a, a
			}
		}
		pieces = append(pieces, p)
	}
	return lines, base, pieces
}

// TestBalanceAgainstEveryWay: what is called proven is within the slack of the
// optimum over all assignments, and the bound is never above it.
func TestBalanceAgainstEveryWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines, base, pieces := drawProblem(t, 7)
		best := everyWay(lines, base, pieces)
		got := solve(lines, base, pieces, math.Inf(1))
		if !got.proven {
			t.Fatalf("%d pieces not proven", len(pieces))
		}
		if got.worst > best+proofSlack+1e-9 || got.worst < best-1e-9 {
			t.Fatalf("worst %v, best %v", got.worst, best)
		}
		if got.bound > best+1e-9 {
			t.Fatalf("bound %v above the best %v", got.bound, best)
		}
	})
}

// TestBalanceNeverWorseThanGreedy on problems of any size; and a target below what is
// possible is called hopeless only then.
func TestBalanceNeverWorseThanGreedy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines, base, pieces := drawProblem(t, 30)
		p := problem{lines: lines, states: len(base), base: base, pieces: append([]piece{}, pieces...)}
		p.prepare()
		p.greedy()
		got := solve(lines, base, pieces, math.Inf(1))
		if got.worst > p.worst+1e-9 {
			t.Fatalf("worst %v, greedy %v", got.worst, p.worst)
		}
		if got.bound > got.worst+1e-9 {
			t.Fatalf("bound %v above worst %v", got.bound, got.worst)
		}
		if solve(lines, base, pieces, got.worst).hopeless {
			t.Fatalf("target %v called hopeless though met", got.worst)
		}
	})
}

// TestLargePlants: invented plants of up to 60 circuits end proven or within a
// quarter of a per cent of the bound.
func TestLargePlants(t *testing.T) {
	proven, all := 0, 0
	for _, n := range []int{15, 20, 30, 40, 60} {
		for seed := range int64(12) {
			r := mustSize(t, manyLoads(n, seed))
			b := &r.Balance
			all++
			if b.Proven {
				proven++
			}
			if n <= 20 && !b.Proven || b.Worst > b.Bound*1.0025 {
				t.Errorf("%d loads, plant %d: worst %v, bound %v, proven %v", n, seed, b.Worst, b.Bound, b.Proven)
			}
		}
	}
	t.Logf("%d of %d proven", proven, all)
}

// TestTiedLines: a load that is connected stays where it is and ties those it is
// interlocked with; the free ones go elsewhere.
func TestTiedLines(t *testing.T) {
	in := healthy()
	for i, kw := range map[int]float64{3: 2.2, 4: 2.0, 5: 0.7} {
		in.Loads[i].Power, in.Loads[i].Runs = unit.Kilowatts(kw), nil
	}
	in.Loads[3].Line, in.Loads[4].Line = 2, 2
	b := mustSize(t, in).Balance
	if b.Line[3] != 2 || b.Line[4] != 2 || b.Line[5] == 2 {
		t.Errorf("lines %v", b.Line)
	}
	in.Loads[4].Line = 0
	in.Loads[3].Group, in.Loads[4].Group = "pumps", "pumps"
	if b := mustSize(t, in).Balance; b.Line[3] != 2 || b.Line[4] != 2 {
		t.Errorf("interlocked: lines %v", b.Line)
	}
}

// TestBalanceIsWhatFlows: the figure of the assignment is the one of the states.
func TestBalanceIsWhatFlows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		for i := range in.Loads {
			in.Loads[i].Line = rapid.IntRange(0, 3).Draw(t, "line")
		}
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		most := unit.Current(0)
		for _, s := range r.States {
			most = max(most, s.Max)
		}
		if math.Abs(most.A()-r.Balance.Worst.A()) > 1e-9 {
			t.Fatalf("assignment %v, states %v", r.Balance.Worst, most)
		}
	})
}
