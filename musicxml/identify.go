package musicxml

import (
	"fmt"

	"deskpart/musicxml/notice"
)

// identify checks the ids of the parts against the part-list. What is odd but
// clear is put right with a warning.
func (s *Score) identify() error {
	if len(s.Parts) == 0 {
		return &Error{File: s.Name, Code: notice.NoParts, Hint: "export the score again with its parts", Err: fmt.Errorf("the score has no part")}
	}
	listed, err := s.listedIDs()
	if err != nil {
		return err
	}
	if err := s.nameParts(listed); err != nil {
		return err
	}
	return s.matchParts(listed)
}

// listedIDs returns the ids of the part-list in order.
func (s *Score) listedIDs() ([]string, error) {
	var ids []string
	seen := map[string]bool{}
	for _, e := range s.partList() {
		if e.Tag != "score-part" {
			continue
		}
		id := idOf(e)
		switch {
		case seen[id]:
			return nil, &Error{File: s.Name, PartName: ChildText(e, "part-name"), PartID: id, Code: notice.DuplicatePart, Hint: mend, Err: fmt.Errorf("the part-list has this id twice")}
		case len(ids) >= s.limits.Parts:
			return nil, &Error{File: s.Name, Code: notice.TooManyParts, Hint: raiseLimit, Err: fmt.Errorf("the part-list has more than %d parts", s.limits.Parts)}
		}
		seen[id] = true
		ids = append(ids, id)
	}
	return ids, nil
}

// nameParts gives parts without an id the one that they must have: where the
// part-list has as many entries as there are parts, order tells.
func (s *Score) nameParts(listed []string) error {
	for i := range s.Parts {
		if s.Parts[i].ID != "" {
			continue
		}
		if len(listed) != len(s.Parts) || listed[i] == "" {
			return &Error{File: s.Name, Line: s.lineIn(s.Parts[i], 0), Code: notice.PartWithoutID, Hint: mend, Err: fmt.Errorf("part %d has no id, and the part-list does not tell which part it is", i+1)}
		}
		s.Parts[i].ID = listed[i]
		s.warn(i, notice.PartIDAssumed, "the part has no id and is taken for the %s of the part-list", ordinal(i+1))
	}
	return nil
}

func ordinal(n int) string {
	switch {
	case n%10 == 1 && n%100 != 11:
		return fmt.Sprintf("%dst", n)
	case n%10 == 2 && n%100 != 12:
		return fmt.Sprintf("%dnd", n)
	case n%10 == 3 && n%100 != 13:
		return fmt.Sprintf("%drd", n)
	}
	return fmt.Sprintf("%dth", n)
}

// matchParts refuses ids that two parts have, and adds to the part-list what it
// lacks.
func (s *Score) matchParts(listed []string) error {
	missing := map[string]bool{}
	for _, id := range listed {
		missing[id] = true
	}
	seen := map[string]bool{}
	for i, p := range s.Parts {
		if seen[p.ID] {
			return &Error{File: s.Name, Line: s.lineIn(p, 0), PartName: s.partName(p.ID), PartID: p.ID, Code: notice.DuplicatePart, Hint: mend, Err: fmt.Errorf("two parts have this id")}
		}
		seen[p.ID] = true
		if !missing[p.ID] {
			s.listPart(p.ID)
			s.warn(i, notice.PartNotListed, "the part-list does not name this part")
		}
		delete(missing, p.ID)
	}
	for _, id := range listed {
		if missing[id] {
			s.Warnings = append(s.Warnings, &Error{File: s.Name, PartName: s.partName(id), PartID: id, Code: notice.PartMissing, Err: fmt.Errorf("the part-list names this part, but the score does not have it")})
		}
	}
	return nil
}

func (s *Score) warn(part int, code notice.Code, format string, args ...any) {
	p := s.Parts[part]
	s.Warnings = append(s.Warnings, &Error{
		File: s.Name, PartName: s.partName(p.ID), PartID: p.ID, Code: code, Err: fmt.Errorf(format, args...),
	})
}

// listPart adds an entry without a name to the part-list.
func (s *Score) listPart(id string) {
	root := s.Header.Root()
	list := Child(root, "part-list")
	if list == nil {
		list = root.CreateElement("part-list")
	}
	entry := list.CreateElement("score-part")
	entry.CreateAttr("id", id)
	entry.CreateElement("part-name")
}
