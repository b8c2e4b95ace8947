package parts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/condense"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/sounding"
)

// mostSharers bounds how many players share a staff that is put together.
const mostSharers = 3

// sharing are parts that are put on one staff, as a flag or a row of the plan says.
type sharing struct {
	words []string
	row   *PlanRow // nil for a flag
}

// planAssigner is the assigner with the rows of the plan that put parts on one staff
// ("Flute 1 + Flute 2") as a row for each part, and these sharings.
func (s *Surveyed) planAssigner() (*assign.Assigner, []sharing) {
	assigner := s.assigner()
	var rows []PlanRow
	var sharings []sharing
	for _, row := range s.options.Plan {
		words := strings.Split(row.Part, "+")
		if len(words) < 2 || len(words) > mostSharers || assigner.Means(row.Part) {
			rows = append(rows, row)
			continue
		}
		for i := range words {
			words[i] = strings.TrimSpace(words[i])
			if row.Instrument+row.Octave+row.Clef == "" || !assigner.Means(words[i]) {
				continue // as usual, or shareStaff says what is wrong
			}
			rows = append(rows, PlanRow{Part: words[i], Instrument: row.Instrument, Octave: row.Octave, Clef: row.Clef, Line: row.Line})
		}
		if !strings.EqualFold(strings.TrimSpace(row.Instrument), "none") {
			sharings = append(sharings, sharing{words, &row})
		}
	}
	if len(sharings) == 0 && len(rows) == len(s.options.Plan) {
		return assigner, nil
	}
	o := s.options.assigning()
	o.Divide, o.Plan = s.divide, rowsOf(rows)
	return assign.New(&s.score, s.evidence, o), sharings
}

// shareStaves puts groups of players on one staff each, and says what is wrong with them.
func (j *Job) shareStaves(sharings []sharing, wrong *PlanError) {
	for _, s := range sharings {
		err := j.shareStaff(s)
		switch {
		case err != nil && s.row != nil:
			wrong.Add(s.row.Line, s.row.Part, err.Error())
		case err != nil:
			wrong.Rows = append(wrong.Rows, fmt.Sprintf("--share %q: %s", strings.Join(s.words, ", "), err))
		}
	}
	if len(sharings) > 0 {
		j.number()
	}
}

// number counts the part files anew, unless only some are wanted.
func (j *Job) number() {
	if len(j.surveyed.options.Only) > 0 {
		return
	}
	for i := range j.assignments {
		j.assignments[i].Number = i + 1
	}
}

func (j *Job) shareStaff(group sharing) error {
	words := group.words
	if group.row != nil && group.row.Player != "" {
		return fmt.Errorf("a staff that several share has no one player; leave the column player empty")
	}
	if len(words) < 2 || len(words) > mostSharers {
		return fmt.Errorf("%d parts are named; two or three share a staff", len(words))
	}
	assigner := j.surveyed.assigner()
	var at []int
	for _, w := range words {
		i, err := assigner.Choose(j.assignments, w, 0)
		if err != nil {
			return err
		}
		if k := slices.Index(at, i); k >= 0 && !strings.EqualFold(words[k], w) {
			return fmt.Errorf("%q and %q are on one staff already, that of %s", words[k], w, j.assignments[i].Name)
		} else if k >= 0 {
			return fmt.Errorf("%q is named twice", w)
		}
		at = append(at, i)
	}
	shared := j.assignments[at[0]]
	numbers := []string{}
	for _, i := range at {
		a := &j.assignments[i]
		if err := j.canShare(a, &shared); err != nil {
			return err
		}
		if n := j.surveyed.score.Parts[a.Part].Match.Players; len(n) == 1 {
			numbers = append(numbers, strconv.Itoa(n[0]))
		}
		if i != at[0] {
			shared.With = append(shared.With, *a)
		}
	}
	if len(numbers) != len(at) {
		return fmt.Errorf("the names of the parts do not number their players, as in \"Flute 1\"")
	}
	shared.OneStaff, shared.StaffLabel = strings.Join(numbers, ","), shared.Label
	shared.Label = shared.Instrument.Label(j.surveyed.options.Language, shared.OneStaff)
	if row := group.row; row != nil {
		if row.Label != "" {
			shared.Label = row.Label
		}
		if copies, err := strconv.Atoi(row.Copies); err == nil {
			shared.Copies = copies
		}
	}
	j.assignments[at[0]] = shared
	j.assignments = deleteAll(j.assignments, at[1:])
	return nil
}

// canShare says why a part cannot share a staff with another.
func (j *Job) canShare(a, with *assign.Assignment) error {
	switch {
	case len(a.With) > 0 || a.Player > 0 || a.Edition != "" || a.StandsFor != "" || len(a.Takes) > 0:
		return fmt.Errorf("%s is not one player's whole part", a.Label)
	case a.Instrument == nil || a.Instrument != with.Instrument:
		return fmt.Errorf("%s and %s are not for the same instrument", with.Label, a.Label)
	}
	heard, err := j.hear(new(Workspace), *a)
	if err != nil {
		return err
	}
	if len(heard.Changes) > 0 {
		return fmt.Errorf("the player of %s changes instrument", a.Label)
	}
	if bars := severalAtOnce(heard); len(bars) > 0 {
		return fmt.Errorf("%s has several notes at once in %s", a.Label, inBars(bars))
	}
	return nil
}

// severalAtOnce lists the bars in which one player has chords or several voices.
func severalAtOnce(d *draft.Draft) []string {
	var bars []string
	for i := range d.Timeline.Measures {
		m := &d.Timeline.Measures[i]
		voice := ""
		if slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
			if ev.Kind != musicxml.Note || ev.Rest {
				return false
			}
			several := ev.Chord || voice != "" && voice != ev.Voice || ev.Staff > 1
			voice = ev.Voice
			return several
		}) {
			bars = append(bars, m.Number)
		}
	}
	return bars
}

func deleteAll(list []assign.Assignment, places []int) []assign.Assignment {
	var left []assign.Assignment
	for i, a := range list {
		if !slices.Contains(places, i) {
			left = append(left, a)
		}
	}
	return left
}

// makeShared makes one staff of the parts of several players.
func (j *Job) makeShared(w *Workspace, i int) (*Part, error) {
	a := &j.assignments[i]
	d := deskPart{Job: j, desk: &desk{}}
	own := *a
	own.With, own.Label, own.OneStaff = nil, a.StaffLabel, ""
	for k, member := range append([]assign.Assignment{own}, a.With...) {
		space := w
		if k > 0 {
			space = new(Workspace)
		}
		if _, err := d.write(space, member); err != nil {
			return nil, j.surveyed.score.Locate(err, member.Part)
		}
	}
	part, err := d.share(a)
	if err != nil {
		return nil, j.surveyed.score.Locate(err, a.Part)
	}
	made := &Part{workspace: w}
	if !part.Report.Tacet || j.surveyed.options.Tacet != TacetSkip {
		made.Document = header.Document(part, j.surveyed.options.Language)
		var ids []string
		for _, s := range d.drafts {
			ids = append(ids, s.Assignment.ID)
		}
		joining.WriteSharers(musicxml.Descend(made.Document.Root(), "part-list", "score-part"), ids)
		part.Warn(audit.Examine(finished(part, made.Document, d.clefs))...)
	}
	made.Report = reportOf(&part.Report)
	return made, nil
}

// share makes a draft of the staff and does with it what is done once.
func (d *deskPart) share(a *assign.Assignment) (*draft.Draft, error) {
	host := d.drafts[0]
	survey := *host.Survey
	survey.Match.Number, survey.Match.Players = a.OneStaff, nil
	var readings []staff.Reading
	for _, s := range d.drafts {
		read, err := staff.ReadClefs(s)
		if err != nil {
			return nil, err
		}
		readings = append(readings, read)
	}
	part := draft.New(&d.surveyed.score, *a, host.Slabs, host.Timeline)
	part.Part, part.Staves, part.Survey = condense.Join(d.drafts, strings.Split(a.OneStaff, ",")), 1, &survey
	part.Part.CreateAttr("id", a.ID)
	d.report(part)
	part.Rewritten()
	if err := part.Settle(); err != nil {
		return nil, err
	}
	if err := printSigns(part); err != nil {
		return nil, err
	}
	if err := d.stages.SetShared(part, readings); err != nil {
		return nil, err
	}
	if err := d.stages.Finish(part); err != nil {
		return nil, err
	}
	heard, err := sounding.Read(part.Part)
	if err != nil {
		return nil, err
	}
	part.Warn(draft.Silences(sounding.Union(d.heard...).Missing(heard), "the staff")...)
	return part, nil
}

// sharersApart takes a staff that was put together apart for its players, as any shared
// staff is.
func sharersApart(file *musicxml.Score, ids []string) ([]DeskScore, error) {
	catalogue, err := instruments.Load()
	if err != nil {
		return nil, err
	}
	o := DefaultOptions()
	o.Players, o.Input, o.RestBars = true, Written, 0
	surveyed, err := Survey(file, catalogue, o)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	if err != nil || len(job.assignments) != len(ids) {
		return nil, err
	}
	var all []DeskScore
	for i, id := range ids {
		made, err := job.Make(i)
		if err != nil {
			return nil, err
		}
		score, err := musicxml.Read(slices.Clone(made.Bytes(musicxml.WriteOptions{})), musicxml.ReadOptions{Name: file.Name})
		if err != nil {
			return nil, err
		}
		all = append(all, DeskScore{id, 0, score, false})
	}
	return all, nil
}
