package brewing

import "testing"

func BenchmarkPlanDepths(b *testing.B) {
	in := fitted()
	for _, c := range []struct {
		name string
		to   depth
	}{{"sheets", sheets}, {"dated", dated}, {"whole", whole}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := plan(in, c.to); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
