package marked

import (
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/texts"
)

// Named is a page with the name of its file.
type Named struct {
	Page
	// Pupil is the name of the pupil as the report has it, "" for the page of the class.
	Pupil string
	File  string
}

// classStem is the name of the class's page without its ending.
const classStem = "class"

// Pages makes a page for each pupil and, last, one for the class that leads to them.
// unique makes the name of a file of a stem and an ending that no other has.
func Pages(t *texts.Texts, r class.Report, unique func(stem, ending string) string) ([]Named, error) {
	const ending = ".html"
	var all []Named
	class := unique(classStem, ending)
	links := map[string]string{}
	for _, pupil := range r.Summary.Pupils {
		page, err := Pupil(t, r, pupil)
		if err != nil {
			return nil, err
		}
		name := unique(r.PupilName(pupil.Name), ending)
		links[pupil.Name] = name
		all = append(all, Named{page, pupil.Name, name})
	}
	return append(all, Named{Page: Class(t, r, links), File: class}), nil
}
