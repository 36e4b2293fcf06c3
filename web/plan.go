package web

import (
	"errors"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"tunwright/catalog/strict"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/floor"
	"tunwright/configurator/plan"
	"tunwright/pricing/offer"

	"github.com/gin-gonic/gin"
)

// The plan: the room to scale with its pieces, to be moved with pointer or keys, or by
// their figures in the table below it.

func (s *Server) planRoutes(r *gin.RouterGroup) {
	r.POST("/enquiries/:id/place", s.handle(s.placePiece))
	r.POST("/enquiries/:id/arrange", s.handle(s.arrange))
}

// planView is the drawing in centimetres, y downwards, and the table of places.
type planView struct {
	ID       string
	View     string // of the drawing
	Type     string // size of its writing, so that it is read at the width of a sheet
	Ground   []drawn
	Pieces   []pieceView
	Legend   []string
	Unplaced []string
}

// drawn is one shape as the drawing has it.
type drawn struct {
	Class string
	Path  string // of polygons, lines and arcs
	X, Y  string // of circles and writing
	R     string
	Text  string
	Title string
}

// pieceView is one piece with its own shapes. X, Y and Turn are in metres and degrees
// as the enquiry holds them.
type pieceView struct {
	Tag, Item, Part, Name string
	Letter                string // tells the parts of one item apart
	X, Y, Turn            string
	Shapes                []drawn
	Placed                bool
}

// Spoken names a piece to somebody who cannot see it: what is written on it first, so
// that it can be called by what others see.
func (p pieceView) Spoken() string {
	var words []string
	for _, s := range p.Shapes {
		if s.Text != "" {
			words = append(words, s.Text)
		}
	}
	return strings.Join(append(words, p.Name), " ")
}

// lettersAcross is how many heights of a letter the drawing is wide.
const lettersAcross = 64

func planOf(id string, r configurator.Report) *planView {
	room := configurator.Room(r.Project)
	items := make([]plan.Item, 0, len(r.Pieces))
	for _, p := range r.Pieces {
		items = append(items, r.PlanItem(p))
	}
	var marks plan.Marks
	if r.Floor != nil {
		marks = floor.Marks(floor.Input{}, *r.Floor)
	}
	figure := plan.Draw(&room, items, marks)
	v := &planView{ID: id, Legend: plan.Legend()}
	clearOfGullies(figure.Shapes, (figure.Hi.X-figure.Lo.X)/lettersAcross)
	lo, hi := withWriting(figure)
	v.View = fmt.Sprintf("%s %s %s %s", cm(lo.X), cm(-hi.Y), cm(hi.X-lo.X), cm(hi.Y-lo.Y))
	v.Type = cm((figure.Hi.X - figure.Lo.X) / lettersAcross)
	letters := partLetters(r.Pieces)
	byTag := map[string]int{}
	for i, p := range r.Pieces {
		if items[i].Wall || items[i].Outside {
			continue
		}
		byTag[p.Tag] = len(v.Pieces)
		own := pieceOf(p, items[i])
		own.Letter = letters[p.Tag]
		v.Pieces = append(v.Pieces, own)
		if items[i].Place == nil {
			v.Unplaced = append(v.Unplaced, p.Tag)
		}
	}
	for _, shape := range figure.Shapes {
		i, own := byTag[shape.Tag]
		if shape.Tag != "" && own {
			if own := v.Pieces[i]; shape.Form == plan.FormText && shape.Text == own.Item {
				shape.Text = strings.TrimSpace(own.Item + " " + own.Letter)
			}
			v.Pieces[i].Shapes = append(v.Pieces[i].Shapes, draw(shape))
			continue
		}
		v.Ground = append(v.Ground, draw(shape))
	}
	return v
}

// withWriting is the frame of a drawing with its writing, which stands centred on its
// place, and a margin around it.
func withWriting(f plan.Figure) (lo, hi plan.Point) {
	lo, hi = f.Lo, f.Hi
	high := (f.Hi.X - f.Lo.X) / lettersAcross
	for _, s := range f.Shapes {
		if s.Form != plan.FormText || len(s.Points) == 0 {
			continue
		}
		const across = 0.62 // width of a letter in its heights
		half := high * unit.Length(across*float64(len([]rune(s.Text)))/2)
		lo.X, hi.X = min(lo.X, s.Points[0].X-half), max(hi.X, s.Points[0].X+half)
		lo.Y, hi.Y = min(lo.Y, s.Points[0].Y-high), max(hi.Y, s.Points[0].Y+high)
	}
	return plan.Point{X: lo.X - high, Y: lo.Y - high}, plan.Point{X: hi.X + high, Y: hi.Y + high}
}

// clearOfGullies moves the writing that would stand on a gully to above it.
func clearOfGullies(shapes []plan.Shape, high unit.Length) {
	for _, g := range shapes {
		if g.Class != plan.ClassGully || g.Form != plan.FormCircle || len(g.Points) == 0 {
			continue
		}
		for i, s := range shapes {
			if s.Form != plan.FormText || len(s.Points) == 0 || s.Points[0].Distance(g.Points[0]) > 3*g.Radius || s.Text == "" || !strings.HasSuffix(g.Title, " "+s.Text) {
				continue
			}
			shapes[i].Points = []plan.Point{{X: g.Points[0].X, Y: g.Points[0].Y + g.Radius + high*0.8}}
		}
	}
}

// partLetters gives a, b, c to the parts of one item.
func partLetters(pieces []configurator.Piece) map[string]string {
	parts := map[string]int{}
	for _, p := range pieces {
		parts[p.Item]++
	}
	out, seen := map[string]string{}, map[string]int{}
	for _, p := range pieces {
		if n := parts[p.Item]; n < 2 || n > 26 {
			continue
		}
		out[p.Tag] = string(rune('a' + seen[p.Item]))
		seen[p.Item]++
	}
	return out
}

func pieceOf(p configurator.Piece, it plan.Item) pieceView {
	v := pieceView{Tag: p.Tag, Item: p.Item, Part: p.Part, Name: it.Name, Turn: "0"}
	if it.Place != nil {
		v.Placed = true
		v.X, v.Y = metres(it.Place.At.X), metres(it.Place.At.Y)
		v.Turn = strconv.FormatFloat(math.Round(it.Place.Turn.Deg()), 'f', 0, 64)
	}
	return v
}

func metres(l unit.Length) string { return strconv.FormatFloat(l.M(), 'f', 2, 64) }

func cm(l unit.Length) string { return strconv.FormatFloat(l.M()*100, 'f', 1, 64) }

func draw(s plan.Shape) drawn {
	d := drawn{Class: "p-" + string(s.Class) + " use-" + strconv.Itoa(int(s.Level)), Title: s.Title, Text: s.Text}
	at := func(p plan.Point) string { return cm(p.X) + " " + cm(-p.Y) }
	if len(s.Points) == 0 {
		return d
	}
	switch s.Form {
	case plan.FormPolygon, plan.FormLine:
		parts := make([]string, len(s.Points))
		for i, p := range s.Points {
			parts[i] = at(p)
		}
		d.Path = "M" + strings.Join(parts, "L")
		if s.Form == plan.FormPolygon {
			d.Path += "Z"
		}
	case plan.FormArc:
		end := func(a float64) plan.Point {
			sin, cos := math.Sincos(a)
			return s.Points[0].Add(plan.P(cos*s.Radius.M(), sin*s.Radius.M()))
		}
		sweep := 0
		if s.Sweep < 0 {
			sweep = 1
		}
		d.Path = fmt.Sprintf("M%sL%sA%s %s 0 0 %d %sZ", at(s.Points[0]), at(end(s.From.Rad())), cm(s.Radius), cm(s.Radius), sweep, at(end(s.From.Rad()+s.Sweep.Rad())))
	case plan.FormCircle:
		d.X, d.Y, d.R = cm(s.Points[0].X), cm(-s.Points[0].Y), cm(s.Radius)
	case plan.FormText:
		d.X, d.Y = cm(s.Points[0].X), cm(-s.Points[0].Y)
	}
	return d
}

// placePiece puts one piece of an item to a place; its other pieces stay.
func (s *Server) placePiece(c *gin.Context) error {
	tag, part := c.PostForm("tag"), c.PostForm("part")
	figures := make([]float64, 3)
	for i, name := range []string{"x", "y", "turn"} {
		x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(c.PostForm(name)), ",", ".", 1), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return &trouble{http.StatusUnprocessableEntity, "That is not a place", fmt.Sprintf("%s was %q: write metres from the south-west corner and degrees as numbers, such as 3.2, 4.5 and 90.", name, c.PostForm(name))}
		}
		figures[i] = x
	}
	d, err := s.change(c.Request.Context(), c.Param("id"), s.who(c), func(d draft) (offer.Job, string, error) {
		edit, err := placeEdit(d.Job, tag, part, figures)
		if err != nil {
			return offer.Job{}, "", err
		}
		job, err := offer.Apply(d.Job, edit)
		if problems, ok := errors.AsType[strict.Problems](err); ok {
			return offer.Job{}, "", &trouble{http.StatusUnprocessableEntity, "It cannot stand there", sentence(problems)}
		}
		return job, "place of " + strings.TrimSpace(tag+" "+part), err
	})
	return s.afterChange(c, d, err)
}

func placeEdit(job offer.Job, tag, part string, figures []float64) (Edit, error) {
	for _, item := range job.Chosen.Items {
		if item.Tag != tag {
			continue
		}
		own := placeText(part, figures[0], figures[1], figures[2])
		var list []string
		found := false
		for _, p := range item.Places {
			if p.Part == part {
				list, found = append(list, own), true
				continue
			}
			list = append(list, placeText(p.Part, p.At.X.M(), p.At.Y.M(), p.Turn.Deg()))
		}
		if !found {
			list = append(list, own)
		}
		return Edit{Op: strict.Set, Path: "equipment.items[" + tag + "].places", Text: "[" + strings.Join(list, ", ") + "]"}, nil
	}
	return Edit{}, &trouble{http.StatusConflict, "There is no " + tag + " any more", "Somebody took it out of the equipment. Load the page again."}
}

func placeText(part string, x, y, turn float64) string {
	text := fmt.Sprintf("at_m: [%s, %s]", hundredths(x), hundredths(y))
	if part != "" {
		text = fmt.Sprintf("part: %q, %s", part, text)
	}
	if turn = math.Mod(turn, 360); turn != 0 {
		text += ", turn_deg: " + hundredths(turn)
	}
	return "{" + text + "}"
}

func hundredths(x float64) string {
	return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64)
}

// arrange places what has no place; asked to begin anew, it forgets all places first.
func (s *Server) arrange(c *gin.Context) error {
	anew := c.PostForm("anew") == "yes"
	d, err := s.change(c.Request.Context(), c.Param("id"), s.who(c), func(d draft) (offer.Job, string, error) {
		job := d.Job
		if anew {
			items := job.Chosen.Items
			job.Chosen.Items = append(items[:0:0], items...)
			for i := range job.Chosen.Items {
				job.Chosen.Items[i].Places = nil
			}
		}
		arranged, err := configurator.Arrange(job.Project, s.House.Catalogue)
		if err != nil {
			return offer.Job{}, "", err
		}
		job.Project = arranged
		job, err = offer.Apply(job) // rounded as its file has it
		return job, "layout", err
	})
	return s.afterChange(c, d, err)
}
