package docx

import (
	"bytes"
	"encoding/xml"
	"strconv"
)

// node is one element of markup.
type node struct {
	name  string
	attrs []xml.Attr
	kids  []node
	words string
}

func el(name string) node { return node{name: name} }

// set gives the element an attribute.
func (n node) set(name, value string) node {
	n.attrs = append(n.attrs[:len(n.attrs):len(n.attrs)], xml.Attr{Name: xml.Name{Local: name}, Value: value})
	return n
}

// with is the element with further children.
func (n node) with(kids ...node) node {
	n.kids = append(n.kids[:len(n.kids):len(n.kids)], kids...)
	return n
}

// text is the element holding words.
func (n node) text(s string) node {
	n.words = s
	return n
}

// add puts children into the element.
func (n *node) add(kids ...node) { n.kids = append(n.kids, kids...) }

// document is the element as a file of its own.
func (n node) document() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	if err := n.encode(e); err != nil {
		return nil, err
	}
	if err := e.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func (n node) encode(e *xml.Encoder) error {
	start := xml.StartElement{Name: xml.Name{Local: n.name}, Attr: n.attrs}
	if err := e.EncodeToken(start); err != nil {
		return err
	}
	if n.words != "" {
		if err := e.EncodeToken(xml.CharData(n.words)); err != nil {
			return err
		}
	}
	for _, k := range n.kids {
		if err := k.encode(e); err != nil {
			return err
		}
	}
	return e.EncodeToken(start.End())
}

// val is an element that is nothing but a value, of which the format is full.
func val(name, value string) node { return el(name).set("w:val", value) }

func num(name string, value int) node { return val(name, strconv.Itoa(value)) }
