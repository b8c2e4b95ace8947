package parts

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/divided"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/sounding"
	"deskpart/transpose"
)

// deskPart is the part of a player with several staves in the making.
type deskPart struct {
	*Job
	*desk
	drafts  []*draft.Draft     // beside the staves
	clefs   []instruments.Clef // that the player reads
	anyClef bool               // of some staff it is not known which
	heard   []sounding.Times
	host    int // the staff that the part is called by
}

// makeDesk makes the part of a player who has several staves of the score. The other
// staves are made in memory of their own.
func (j *Job) makeDesk(w *Workspace, i int) (*Part, error) {
	d := deskPart{Job: j, desk: j.desks[i], host: -1}
	var staves []joining.Staff
	for k, a := range d.staves {
		space := new(Workspace)
		if d.host < 0 && a.ID == j.assignments[i].ID && a.Player == j.assignments[i].Player {
			d.host, space = k, w
		}
		made, err := d.write(space, a)
		if err != nil {
			return nil, j.surveyed.score.Locate(err, a.Part)
		}
		staves = append(staves, joining.Staff{Draft: made, Entry: header.Entry(made, j.surveyed.options.Language), Name: a.Label})
	}
	joined := joining.Join(staves, d.layout)
	part, err := d.finish(&j.assignments[i], staves, joined)
	if err != nil {
		return nil, j.surveyed.score.Locate(err, j.assignments[i].Part)
	}
	return d.document(w, part, joined)
}

// write makes one staff, and takes down when it sounds.
func (d *deskPart) write(w *Workspace, a assign.Assignment) (*draft.Draft, error) {
	w = w.begin(d.surveyed.score.Music)
	made := draft.New(&d.surveyed.score, a, &w.slabs, &w.timeline)
	if err := d.stages.Write(made, &w.stages); err != nil {
		return nil, err
	}
	d.drafts = append(d.drafts, made)
	read := w.stages.Page.ClefsRead(made)
	d.anyClef = d.anyClef || len(read) == 0
	d.clefs = append(d.clefs, read...)
	heard, err := sounding.Read(made.Part)
	d.heard = append(d.heard, heard)
	return made, err
}

// finish makes a draft of the joined part and does with it what is done once.
func (d *deskPart) finish(a *assign.Assignment, staves []joining.Staff, joined joining.Joined) (*draft.Draft, error) {
	host := d.drafts[d.host]
	part := draft.New(&d.surveyed.score, *a, host.Slabs, host.Timeline)
	joined.Part.CreateAttr("id", a.ID)
	part.Part, part.Staves, part.Survey = joined.Part, joined.Staves, host.Survey
	for _, s := range staves {
		part.Entries = append(part.Entries, s.Entry)
	}
	d.report(part)
	part.Rewritten()
	if err := part.Settle(); err != nil {
		return nil, err
	}
	if joined.Switched {
		if err := printSigns(part); err != nil {
			return nil, err
		}
	}
	if err := d.announce(part); err != nil {
		return nil, err
	}
	if err := d.stages.Finish(part); err != nil {
		return nil, err
	}
	return part, d.listen(part)
}

// report adds up what was done for the staves.
func (d *deskPart) report(part *draft.Draft) {
	r := &part.Report
	*r = d.drafts[d.host].Report
	r.Notes, r.Respelled, r.Heard, r.Octaves, r.Warnings = 0, 0, nil, nil, nil
	for _, s := range d.drafts {
		r.Notes += s.Report.Notes
		r.Respelled += s.Report.Respelled
		r.Measures = max(r.Measures, s.Report.Measures)
		r.Octaves = append(r.Octaves, s.Report.Octaves...)
		r.Warnings = append(r.Warnings, s.Report.Warnings...)
		r.ChangesInstrument = r.ChangesInstrument || s.Report.ChangesInstrument
	}
	for _, t := range d.layout.Turns {
		r.ChangesInstrument = r.ChangesInstrument || len(t.Changes) > 0
	}
	part.Warn(d.wrong()...)
}

// printSigns prints the accidentals that a player would miss in bars that were put
// together of two staves.
func printSigns(part *draft.Draft) error {
	own, err := transpose.Stretches(part.Timeline)
	if err != nil {
		return err
	}
	if _, err = transpose.Move(part.Timeline, transpose.Options{Stretches: own, MaxSignature: Unlimited}); err != nil {
		return err
	}
	part.Rewritten()
	return part.Settle()
}

// announce tells the player to change instrument where the old one stops, and names the
// new one at its entry (part-preparation, 3).
func (d *deskPart) announce(part *draft.Draft) error {
	above := 0
	for r, turns := range d.layout.Turns {
		first := d.at(r, turns.First)
		if len(turns.Changes) > 0 && (len(d.layout.Rows) > 1 || first.Label != part.Assignment.Label) && turns.First != d.rowHost(r) || len(d.layout.Rows) > 1 {
			d.say(part, musicxml.Position{}, above, first.Label)
		}
		for _, c := range turns.Changes {
			if err := part.Settle(); err != nil {
				return err
			}
			to := d.at(r, c.To)
			if c.Stop.Compare(c.Entry) < 0 {
				d.say(part, c.Stop, above, changes.Announcement(d.surveyed.options.Language, to.Label))
			}
			if len(d.layout.Rows) > 1 || !saidAt(part, c.Entry, to.Label) {
				d.say(part, c.Entry, above, to.Label)
			}
		}
		above += d.height(r)
	}
	return part.Settle()
}

// saidAt reports whether the music says these words there already, however they are
// capitalised.
func saidAt(part *draft.Draft, at musicxml.Position, text string) bool {
	if at.Measure >= len(part.Timeline.Measures) {
		return false
	}
	return slices.ContainsFunc(part.Timeline.Measures[at.Measure].Events, func(ev musicxml.Event) bool {
		return ev.Kind == musicxml.Direction && at.Compare(musicxml.Position{Measure: at.Measure, Onset: ev.Onset}) == 0 &&
			slices.ContainsFunc(draft.WordsIn(ev.Element), func(w *etree.Element) bool {
				return strings.EqualFold(strings.TrimSpace(w.Text()), text)
			})
	})
}

// rowHost is the place in a row of the staff that the part is called by, -1 where it is
// in another row.
func (d *deskPart) rowHost(r int) int {
	for k, s := range d.layout.Rows[r] {
		if s == d.host {
			return k
		}
	}
	return -1
}

func (d *deskPart) height(r int) int {
	height := 1
	for _, s := range d.layout.Rows[r] {
		height = max(height, d.drafts[s].Staves)
	}
	return height
}

// say prints boxed words over a staff.
func (d *deskPart) say(part *draft.Draft, at musicxml.Position, above int, text string) {
	if at.Measure >= len(part.Timeline.Measures) {
		return
	}
	direction := changes.Boxed(text)
	if part.Staves > 1 {
		musicxml.SetChildText(direction, "staff", strconv.Itoa(above+1))
	}
	part.InsertInside(&part.Timeline.Measures[at.Measure], at.Onset, direction)
	part.MarkWords(direction)
}

// listen holds the part against its staves: wherever one of them sounds, it does, and
// nowhere else.
func (d *deskPart) listen(part *draft.Draft) error {
	heard, err := sounding.Read(part.Part)
	if err != nil {
		return err
	}
	together := sounding.Union(d.heard...)
	part.Warn(draft.Silences(together.Missing(heard), "the part")...)
	for _, gap := range heard.Missing(together) {
		part.Warn(musicxml.Warning{Code: notice.MusicLost, Measure: gap.Measure, Beat: gap.Beat, Text: "the part sounds here and none of its staves does"})
	}
	return nil
}

// document is the joined part as a document.
func (d *deskPart) document(w *Workspace, part *draft.Draft, joined joining.Joined) (*Part, error) {
	made := &Part{workspace: w}
	if !part.Report.Tacet || d.surveyed.options.Tacet != TacetSkip {
		made.Document = header.Document(part, d.surveyed.options.Language)
		joining.WriteOrigins(musicxml.Descend(made.Document.Root(), "part-list", "score-part"), joined.Came)
		part.Warn(audit.Examine(d.examined(part, made.Document))...)
	}
	made.Report = reportOf(&part.Report)
	return made, nil
}

func (d *deskPart) examined(part *draft.Draft, doc *etree.Document) audit.Part {
	examined := finished(part, doc, d.clefs)
	examined.Instrument, examined.Given = nil, false // there are several
	if d.anyClef {
		examined.Clefs = nil
	}
	return examined
}

// DeskMusic is what a player with several staves has of one staff of the score.
type DeskMusic struct {
	Part   string // id of the part in the score
	Player int    // of a shared staff; 0 for the whole
	// Root is a <score-partwise> with the bars that the player has of the staff, rests in
	// the others.
	Root *etree.Element
}

// ScoresApart takes a file that holds one joined part to pieces, each a score of one part;
// none for any other.
func ScoresApart(file *musicxml.Score) ([]DeskScore, error) {
	list := file.ScoreParts()
	if len(file.Parts) != 1 || len(list) != 1 || list[0].Element == nil {
		return nil, nil
	}
	if ids := joining.Sharers(list[0].Element); len(ids) > 0 {
		return sharersApart(file, ids)
	}
	if text := joining.Divided(list[0].Element); text != "" {
		return dividedApart(file, list[0].ID, text)
	}
	if origins, err := joining.Origins(list[0].Element); len(origins) == 0 {
		return nil, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return nil, err
	}
	taken, err := joining.Apart(file.Assemble([]*etree.Element{part}).Root())
	if err != nil {
		return nil, err
	}
	var all []DeskScore
	for _, t := range taken {
		score, err := musicxml.Read(musicxml.Append(nil, etree.NewDocumentWithRoot(t.Root), musicxml.WriteOptions{}), musicxml.ReadOptions{Name: file.Name})
		if err != nil {
			return nil, err
		}
		all = append(all, DeskScore{t.Part, t.Player, score, t.Some})
	}
	return all, nil
}

// dividedApart takes out of a part what was added for the two staves of its divisi.
func dividedApart(file *musicxml.Score, id, text string) ([]DeskScore, error) {
	passages, err := divided.Parse(text)
	if err != nil {
		return nil, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return nil, err
	}
	if err := divided.Apart(part, passages); err != nil {
		return nil, err
	}
	data := musicxml.Append(nil, file.Assemble([]*etree.Element{part}), musicxml.WriteOptions{})
	score, err := musicxml.Read(data, musicxml.ReadOptions{Name: file.Name})
	return []DeskScore{{id, 0, score, false}}, err
}

// DeskScore is what a player with several staves has of one staff of the score, as a score
// of one part.
type DeskScore struct {
	Part   string // id of the part in the score
	Player int    // of a shared staff; 0 for the whole
	Score  *musicxml.Score
	Some   bool // the player has some passages of the staff only
}

// TakeApart takes a part that was joined of several staves of a score to pieces again;
// none for any other part. The document stays as it is.
func TakeApart(root *etree.Element) ([]DeskMusic, error) {
	taken, err := joining.Apart(root)
	var all []DeskMusic
	for _, t := range taken {
		all = append(all, DeskMusic{t.Part, t.Player, t.Root})
	}
	return all, err
}
