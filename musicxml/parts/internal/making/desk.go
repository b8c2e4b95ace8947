package making

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
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/wording"
	"deskpart/musicxml/parts/internal/written"
	"deskpart/musicxml/sounding"
	"deskpart/transpose"
)

// deskPart is the part of a player with several staves in the making.
type deskPart struct {
	*Maker
	*doubling.Desk
	drafts []*draft.Draft       // beside the staves
	clefs  [][]instruments.Clef // that the player reads on each of them; none where any will do
	heard  []sounding.Times
	host   int // the staff that the part is called by
}

// desk makes the part of a player who has several staves of the score. The other staves
// are made in memory of their own.
func (m *Maker) desk(w *stages.Workspace, a *assign.Assignment, desk *doubling.Desk) (Made, error) {
	d := deskPart{Maker: m, Desk: desk, host: -1}
	var staves []joining.Staff
	for k, own := range d.Staves {
		space := new(stages.Workspace)
		if d.host < 0 && own.ID == a.ID && own.Player == a.Player {
			d.host, space = k, w
		}
		written, err := d.write(space, own)
		if err != nil {
			return Made{}, m.Surveyed.Locate(err, own.Part)
		}
		staves = append(staves, joining.Staff{Draft: written, Entry: header.Entry(written, m.Language), Name: own.Label})
	}
	joined := joining.Join(staves, d.Layout)
	part, err := d.finish(a, staves, joined)
	if err != nil {
		return Made{}, m.Surveyed.Locate(err, a.Part)
	}
	made, entry := m.document(part)
	if entry != nil {
		joining.WriteOrigins(entry, joined.Came)
		part.Warn(audit.Examine(d.examined(part, made.Document))...)
	}
	return made, nil
}

// write makes one staff, and takes down when it sounds.
func (d *deskPart) write(w *stages.Workspace, a assign.Assignment) (*draft.Draft, error) {
	made := w.Draft(d.Surveyed, a)
	if err := d.Write(made, w); err != nil {
		return nil, err
	}
	d.drafts = append(d.drafts, made)
	d.clefs = append(d.clefs, w.Page.ClefsRead(made))
	heard, err := sounding.Read(made.Part)
	d.heard = append(d.heard, heard)
	return made, err
}

// finish makes a draft of the joined part and does with it what is done once.
func (d *deskPart) finish(a *assign.Assignment, staves []joining.Staff, joined joining.Joined) (*draft.Draft, error) {
	host := d.drafts[d.host]
	part := draft.New(d.Surveyed, *a, host.Slabs, host.Timeline)
	joined.Part.CreateAttr("id", a.ID)
	part.Part, part.Staves, part.Survey = joined.Part, joined.Staves, host.Survey
	for _, s := range staves {
		part.Entries = append(part.Entries, s.Entry)
	}
	for _, u := range joined.Unsaid {
		of := d.drafts[u.Staff]
		of.WarnAt(u.At, notice.SaidAtRest, "the player has another instrument here and does not come back to %s; left out what is said: %s", staves[u.Staff].Name, u.Text)
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
	if err := d.announce(part, joined.Heights); err != nil {
		return nil, err
	}
	if err := d.Maker.Finish(part); err != nil {
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
		r.Warnings = append(r.Warnings, d.warnings(s)...)
		r.ChangesInstrument = r.ChangesInstrument || s.Report.ChangesInstrument
	}
	for _, t := range d.Layout.Turns {
		r.ChangesInstrument = r.ChangesInstrument || len(t.Changes) > 0
	}
	part.Warn(d.Wrong()...)
}

// warnings are those of a staff; they say of which part of the score, where that is not the
// one that the player's part is called by.
func (d *deskPart) warnings(of *draft.Draft) []musicxml.Warning {
	said := slices.Clone(of.Report.Warnings)
	if a := &of.Assignment; a.ID != d.drafts[max(d.host, 0)].Assignment.ID {
		for i := range said {
			said[i].SourceName, said[i].SourcePart = a.Name, a.ID
		}
	}
	return said
}

// printSigns prints the accidentals that a player would miss in bars that were put
// together of two staves.
func printSigns(part *draft.Draft) error {
	own, err := transpose.Stretches(part.Timeline)
	if err != nil {
		return err
	}
	_, err = transpose.Move(part.Timeline, transpose.Options{Stretches: own, MaxSignature: written.Unlimited})
	return err
}

// announce tells the player to change instrument where the old one stops, and names the
// new one at its entry (part-preparation, 3); also the first, where the part is called by
// another.
func (d *deskPart) announce(part *draft.Draft, heights []int) error {
	above := 0
	for r, turns := range d.Layout.Turns {
		first := d.Layout.Rows[r][turns.First]
		label := d.Staves[first].Label
		if len(d.Layout.Rows) > 1 || first != d.host && label != part.Assignment.Label && d.sounds(first) {
			d.say(part, musicxml.Position{}, above, label)
		}
		for _, c := range turns.Changes {
			if err := part.Settle(); err != nil {
				return err
			}
			to := d.At(r, c.To)
			if c.Stop.Compare(c.Entry) < 0 {
				d.say(part, c.Stop, above, wording.Take(d.Language, to.Label))
			}
			if !saidAt(part, c.Entry, to.Label) {
				d.say(part, c.Entry, above, to.Label)
			}
		}
		above += heights[r]
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

// sounds reports whether a staff does so at all.
func (d *deskPart) sounds(staff int) bool { return len(d.heard[staff].Missing(sounding.Times{})) > 0 }

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

func (d *deskPart) examined(part *draft.Draft, doc *etree.Document) audit.Part {
	examined := Finished(part, doc, d.clefsRead())
	examined.Instrument, examined.Given = nil, false // there are several
	return examined
}

// clefsRead are those that the player reads on any of the staves; none where on one of them
// any will do.
func (d *deskPart) clefsRead() (all []instruments.Clef) {
	for _, clefs := range d.clefs {
		if len(clefs) == 0 {
			return nil
		}
		all = append(all, clefs...)
	}
	return all
}
