package pdf

import "github.com/signintech/gopdf"

// bookmark is an entry in the file's outline.
type bookmark struct {
	title string
	level int // 1 or 2
	page  int // filled while laying out, counted from 1
}

// outline is the tree of bookmarks. gopdf keeps a flat list, which is linked into a
// tree when complete; the first and the last entry of that list are always of the
// first level, since a document begins and ends with a section.
type outline struct {
	roots []*gopdf.OutlineNode
}

func (o *outline) add(gp *gopdf.GoPdf, b *bookmark, y float64) {
	gp.SetXY(0, y)
	node := &gopdf.OutlineNode{Obj: gp.AddOutlineWithPosition(b.title)}
	if b.level == 1 || len(o.roots) == 0 {
		o.roots = append(o.roots, node)
		return
	}
	parent := o.roots[len(o.roots)-1]
	parent.Children = append(parent.Children, node)
}

func (o *outline) link() {
	chain(o.roots)
	for _, root := range o.roots {
		if len(root.Children) == 0 {
			continue
		}
		root.Parse()
		chain(root.Children)
	}
}

// chain ties neighbours together.
func chain(nodes []*gopdf.OutlineNode) {
	for i, n := range nodes {
		n.Obj.SetPrev(-1)
		n.Obj.SetNext(-1)
		if i > 0 {
			n.Obj.SetPrev(nodes[i-1].Obj.GetIndex())
			nodes[i-1].Obj.SetNext(n.Obj.GetIndex())
		}
	}
}
