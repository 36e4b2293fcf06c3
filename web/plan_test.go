package web_test

import (
	"strconv"
	"strings"
	"testing"
)

// All writing of the plan stands within its frame, and no two pieces read the same.
func TestThePlanIsReadWhole(t *testing.T) {
	plan := newDesk(t).page(demo + "?sheet=plan").Find("svg.plan")
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	view := strings.Fields(plan.AttrOr("viewBox", ""))
	if len(view) != 4 {
		t.Fatalf("the frame is %v", view)
	}
	high := number(plan.AttrOr("font-size", ""))
	left, top := number(view[0]), number(view[1])
	right, bottom := left+number(view[2]), top+number(view[3])
	plan.Find("text").Each(func(_ int, s *selection) {
		x, y, half := number(s.AttrOr("x", "")), number(s.AttrOr("y", "")), high*0.31*float64(len(s.Text()))
		if x-half < left || x+half > right || y-high/2 < top || y+high/2 > bottom {
			t.Errorf("%q is cut off by the frame", s.Text())
		}
	})
	seen := map[string]int{}
	plan.Find("text.p-label").Each(func(_ int, s *selection) { seen[s.Text()]++ })
	for text, n := range seen {
		if n > 1 {
			t.Errorf("%d pieces read %s", n, text)
		}
	}
	if len(seen) < 10 {
		t.Errorf("only %d pieces have their tag", len(seen))
	}
}
