package access

import "testing"

// By hand: each passes at one tilt only, which lies between upright and lying.
func TestTheTiltThatPassesIsFound(t *testing.T) {
	for name, c := range map[string]struct {
		b body
		s measures
	}{
		// hung on a hook it stands on no skates: at 46.5° 1.61 m high of 1.70 and 1.57 m long of 1.575
		"through a hatch under a low hook": {body{h: 0.5, d: 1.75, w: 1.75, round: true}, measures{kind: Hatch, w: 1.875, depth: 2.5, h: 1.75, skid: 0.1}},
		// too long to lie in the corner, too high on its edge, which no least tilt cures
		"a flat box on its edge round a corner": {body{h: 0.3, d: 2.5, w: 0.625}, measures{kind: Corner, w: 1, out: 1.5, h: 2.1875, skid: 0.1}},
		// the car is high enough to stand in, the door is not
		"through the low door of a high lift": {body{h: 3.9375, d: 0.5, w: 0.5, round: true}, measures{kind: Lift, w: 2, h: 4.5, depth: 3.9990234375, dw: 2, dh: 4, skid: 0.1}},
	} {
		f := c.s.try(c.b, looks)
		if !f.ok {
			t.Errorf("%s: %.0f mm short in %s", name, 1000*miss(f), f.worst.name)
			continue
		}
		if f = c.s.at(c.b, f.tilt, looks); !f.ok {
			t.Errorf("%s: said to pass at %.2f rad, where it does not", name, f.tilt)
		}
	}
}
