package exercise

import (
	"deskpart/cmd/internal/explain"
	"deskpart/transpose/pitch"
)

// FromParts makes a sheet of music that was cut out of a score, one exercise for
// each part, which is on the task's side. source names the score on the page.
func FromParts(task explain.Task, o Settings, source string, parts []explain.Passage) (Sheet, error) {
	l, err := LevelOf(o.Level)
	if err != nil {
		return Sheet{}, err
	}
	if err := o.complete(); err != nil {
		return Sheet{}, err
	}
	o.Instrument, o.From, o.WithoutSignature = task.Instrument, task.From, task.WithoutSignature
	o.Count, o.Versions = len(parts), 1
	s := Sheet{Version: "A", Source: source, Settings: o}
	for i, part := range parts {
		solution, err := task.Solve(part.Part)
		if err != nil {
			return Sheet{}, err
		}
		s.Exercises = append(s.Exercises, &Exercise{Solution: solution, Number: i + 1, Level: l, Topic: Transposition, Octaves: part.Octaves, Facts: measure(solution)})
	}
	return s, nil
}

// measure counts what there is in an excerpt.
func measure(s *explain.Solution) Facts {
	f := Facts{Notes: len(s.Pairs)}
	if k, ok := explain.KeyOf(s.Given); ok {
		f.Key, f.Minor = k.Fifths, k.Mode == pitch.Minor
		f.Answer = k.Fifths + s.Moved.Fifths()
	}
	last := -1
	for i, p := range s.Pairs {
		if p.FromSign != "" && p.Raised() != 0 {
			f.Signs++
			if p.From.Alter != p.To.Alter && p.Raised() == p.RaisedInAnswer() {
				f.Changes++
			}
		}
		if p.Chord || p.TieStop {
			continue
		}
		if last >= 0 && pitch.Abs(p.From.Place()-s.Pairs[last].From.Place()) >= leapFrom {
			f.Leaps++
		}
		last = i
	}
	return f
}
