package drawing

import "math"

// Cut cuts a run of lines into the strokes of the pattern, which runs on round the
// corners. A solid line stays whole.
func (d Dash) Cut(points []Point) [][]Point {
	pattern := d.Pattern()
	if len(pattern) == 0 || len(points) < 2 {
		return [][]Point{points}
	}
	var out [][]Point
	phase, left := 0, pattern[0]
	stroke := []Point{points[0]}
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		for {
			length := distance(from, to)
			if length <= left {
				left -= length
				break
			}
			t := left / length
			from = Point{from.X + (to.X-from.X)*t, from.Y + (to.Y-from.Y)*t}
			if phase%2 == 0 {
				out = append(out, append(stroke, from))
			}
			stroke = []Point{from}
			phase++
			left = pattern[phase%len(pattern)]
		}
		if phase%2 == 0 {
			stroke = append(stroke, to)
		}
	}
	if phase%2 == 0 && len(stroke) > 1 {
		out = append(out, stroke)
	}
	return out
}

func distance(p, q Point) MM { return MM(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))) }
