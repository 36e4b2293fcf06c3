package strict

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Edit is one change to a value, in the words of its file. A person at a form, a
// remedy and a client's wish all change a project by edits, so that one reader
// checks them all.
type Edit struct {
	Op   Op     `json:"op"`
	Path string `json:"path"` // site.supply.fuse_a, brief.beers[2].yearly_hl, equipment.items[FV1].product
	Text string `json:"text"` // the new value as it would stand in the file
}

// Op is what an edit does.
type Op string

const (
	Set    Op = "set"    // replace the value, or give it for the first time
	Add    Op = "add"    // append to a list
	Remove Op = "remove" // take out of a list, or forget a value
)

// Apply reads into the value that into points to what from would be with the edits
// made, in order; from is not changed. What the reader would not accept in a file is
// returned as Problems.
func Apply(name string, from, into any, edits ...Edit) error {
	root, err := ToNode(reflect.ValueOf(from), nil)
	if err != nil {
		return fmt.Errorf("edit %s: %w", name, err)
	}
	for _, e := range edits {
		if err := applyOne(root, e); err != nil {
			return err
		}
	}
	return DecodeNode(name, root, into)
}

func applyOne(root *yaml.Node, e Edit) error {
	keys, err := splitPath(e.Path)
	if err != nil {
		return err
	}
	var val *yaml.Node
	if e.Op != Remove {
		if val, err = parseValue(e); err != nil {
			return err
		}
	}
	switch e.Op {
	case Set:
		return set(root, keys, e.Path, val)
	case Add:
		return add(root, keys, e.Path, val)
	case Remove:
		return remove(root, keys, e.Path)
	}
	return editProblem(e.Path, fmt.Sprintf("%q is not an edit", e.Op), "use set, add or remove")
}

func editProblem(path, message, help string) error {
	return Problems{{File: "edit", Field: path, Message: message, WouldHelp: help}}
}

func parseValue(e Edit) (*yaml.Node, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(e.Text), &doc); err != nil || len(doc.Content) != 1 {
		return nil, editProblem(e.Path, fmt.Sprintf("%q is not a value", e.Text), "quote texts with colons or brackets")
	}
	return doc.Content[0], nil
}

// splitPath cuts "equipment.items[FV1].product" into its names and indexes. A point
// inside brackets belongs to the tag, as in items[FV-7.5].
func splitPath(path string) ([]string, error) {
	var keys []string
	for rest := path; ; {
		end := strings.IndexAny(rest, ".[")
		if end < 0 {
			end = len(rest)
		}
		if end == 0 {
			return nil, editProblem(path, "this is not a place in the enquiry", "write names joined by points")
		}
		keys = append(keys, rest[:end])
		rest = rest[end:]
		for strings.HasPrefix(rest, "[") {
			index, after, ok := strings.Cut(rest[1:], "]")
			if !ok || index == "" {
				return nil, editProblem(path, "a bracket is not closed or empty", "write items[FV1] or beers[2]")
			}
			keys = append(keys, "["+index)
			rest = after
		}
		if rest == "" {
			return keys, nil
		}
		if !strings.HasPrefix(rest, ".") {
			return nil, editProblem(path, "a point is missing behind a bracket", "write items[FV1].product")
		}
		rest = rest[1:]
	}
}

// childAt finds the entry of a key; -1 where there is none.
func childAt(n *yaml.Node, key string) int {
	if strings.HasPrefix(key, "[") {
		return childOfList(n, key[1:])
	}
	if n.Kind != yaml.MappingNode {
		return -1
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return i + 1
		}
	}
	return -1
}

// childOfList takes a number counted from one, or the tag, name or part of an entry.
func childOfList(n *yaml.Node, index string) int {
	if n.Kind != yaml.SequenceNode {
		return -1
	}
	for i, entry := range n.Content {
		for _, id := range []string{"tag", "name", "part"} {
			if at := childAt(entry, id); at >= 0 && entry.Content[at].Value == index {
				return i
			}
		}
	}
	if x, err := strconv.Atoi(index); err == nil && x >= 1 && x <= len(n.Content) {
		return x - 1
	}
	return -1
}

// find walks to the node that holds the last key; groups that are not there yet
// are made when the edit gives a value.
func find(root *yaml.Node, keys []string, path string, makeGroups bool) (*yaml.Node, error) {
	at := root
	for _, key := range keys {
		i := childAt(at, key)
		if i < 0 && makeGroups && at.Kind == yaml.MappingNode && !strings.HasPrefix(key, "[") {
			at.Content = append(at.Content, TextNode(key), &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"})
			i = len(at.Content) - 1
		}
		if i < 0 {
			return nil, editProblem(path, "there is no "+strings.TrimPrefix(key, "[")+" here", "check the tag or the number of the entry")
		}
		at = at.Content[i]
	}
	return at, nil
}

func set(root *yaml.Node, keys []string, path string, val *yaml.Node) error {
	last := keys[len(keys)-1]
	owner, err := find(root, keys[:len(keys)-1], path, true)
	if err != nil {
		return err
	}
	if i := childAt(owner, last); i >= 0 {
		owner.Content[i] = val
		return nil
	}
	if owner.Kind != yaml.MappingNode || strings.HasPrefix(last, "[") {
		return editProblem(path, "there is no such entry to change", "add it first")
	}
	owner.Content = append(owner.Content, TextNode(last), val)
	return nil
}

func add(root *yaml.Node, keys []string, path string, val *yaml.Node) error {
	list, err := find(root, keys, path, true)
	if err != nil {
		return err
	}
	if list.Kind == yaml.MappingNode && len(list.Content) == 0 {
		*list = yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	}
	if list.Kind != yaml.SequenceNode {
		return editProblem(path, "this is not a list", "use set")
	}
	list.Content = append(list.Content, val)
	return nil
}

func remove(root *yaml.Node, keys []string, path string) error {
	owner, err := find(root, keys[:len(keys)-1], path, false)
	if err != nil {
		return err
	}
	i := childAt(owner, keys[len(keys)-1])
	if i < 0 {
		return editProblem(path, "there is nothing here to remove", "check the tag or the number of the entry")
	}
	from := i
	if owner.Kind == yaml.MappingNode {
		from = i - 1
	}
	owner.Content = append(owner.Content[:from], owner.Content[i+1:]...)
	return nil
}
