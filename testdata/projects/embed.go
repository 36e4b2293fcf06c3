// Package projects holds whole sample enquiries, different in kind: the upper
// floor of a mill, a hotel cellar, a barn on a single-phase supply and an
// industrial unit with steam. They are invented; a new user starts from one, and
// the tests run over all of them.
package projects

import (
	"embed"
	"fmt"
	"strings"
)

//go:embed *.yaml
var files embed.FS

// Demo is the sample that the program opens by itself.
const Demo = "weaving-mill"

// Names lists the samples, the demo first.
func Names() []string {
	return []string{Demo, "hotel-basement", "hill-farm", "industrial-unit"}
}

// Text gives one sample as the text of its file.
func Text(name string) ([]byte, error) {
	text, err := files.ReadFile(name + ".yaml")
	if err != nil {
		return nil, fmt.Errorf("no sample is called %q: there are %s", name, strings.Join(Names(), ", "))
	}
	return text, nil
}
