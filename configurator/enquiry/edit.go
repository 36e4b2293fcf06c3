package enquiry

import "tunwright/catalog/strict"

// Edit is one change to a project, in the words of its file.
type Edit = strict.Edit

// What an edit does.
const (
	Set    = strict.Set
	Add    = strict.Add
	Remove = strict.Remove
)

// Apply gives the project with the edits made, in order. The project given is not
// changed. What the edited file would not accept is returned as strict.Problems.
func Apply(p Project, edits ...Edit) (Project, error) {
	var edited Project
	if err := strict.Apply("enquiry", p, &edited, edits...); err != nil {
		return Project{}, err
	}
	if problems := edited.Validate("enquiry"); len(problems) > 0 {
		return Project{}, problems
	}
	return edited, nil
}
