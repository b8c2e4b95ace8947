package stages

import (
	"fmt"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/cues"
	"deskpart/musicxml/parts/internal/divided"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/rests"
	"deskpart/musicxml/parts/internal/sharing"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/internal/system"
	"deskpart/musicxml/parts/internal/technique"
	"deskpart/musicxml/parts/internal/written"
	"deskpart/transpose/pitch"
)

// Score is what the parts of a score have in common. Nothing in it changes.
type Score struct {
	Surveyed *survey.Score
	Words    *lexicon.Glossary
	Players  *divisi.Lexicon     // words that say who plays
	Finder   *changes.Reader     // of changes of instrument
	Marks    *system.Marks       // of the whole system
	Lengths  []musicxml.Fraction // of the measures, in the part that fills each most
	Cues     cues.Cues
	Writing  written.Options // but for what is one part's
	Language pitch.Language  // of what is printed in the parts
	RestBars int             // from so many empty bars on they are joined; 0 is never
	// Undivided leaves divisi on one staff.
	Undivided bool
}

// maker makes one part.
type maker struct {
	*Score
	*draft.Draft
	*Workspace
	reduced    bool                    // a line was taken out of fuller music
	courtesies map[*etree.Element]bool // printed signs that stay on a part taken off a shared staff
	cued       []cues.Cue
}

// stage is a step by which a part is made. After each one the draft is settled.
type stage struct {
	name string
	do   func(*maker) error
}

// stages are the steps by which a part is made, in order.
var stages = slices.Concat(music, writing, finishing)

// music finds what the player plays, with what holds for everybody.
var music = []stage{
	{"leave a silent player nothing", func(m *maker) error { return rests.LeaveNothing(m.Draft) }},
	{"take a percussionist's passages", func(m *maker) error { return sharing.TakePassages(m.Draft) }},
	{"take one player's music off the shared staff", (*maker).takePlayersMusic},
	{"leave out the words that tell players of one staff apart", func(m *maker) error { sharing.DropPlayersWords(m.Draft, m.Players); return nil }},
	{"write harmonics as they sound for an instrument without strings", func(m *maker) error { return technique.SoundHarmonics(m.Draft) }},
	{"leave one line to an instrument of one", (*maker).keepOneLine},
	{"set divisi that one staff cannot hold on two", (*maker).setDivided},
	{"find the changes of instrument", func(m *maker) error { return m.Finder.Find(m.Draft) }},
	{"put the rests in order", func(m *maker) error { return rests.Order(m.Draft, m.Lengths) }},
	{"add the marks of the whole system", func(m *maker) error { return m.Marks.Add(m.Draft, m.Words) }},
}

// writing writes it as the player reads it.
var writing = []stage{
	{"name the instruments that are changed to", func(m *maker) error { return changes.Name(m.Draft, m.Language) }},
	{"look where the music leads back to another instrument", func(m *maker) error { return joining.WarnLedBack(m.Draft, m.Lengths) }},
	{"add cue notes", (*maker).addCues},
	{"leave out another instrument's techniques", func(m *maker) error { return technique.RemoveForeign(m.Draft) }},
	{"see how the score stands on its staves", func(m *maker) error { return m.Page.Read(m.Draft) }},
	{"write for the player's instrument", (*maker).write},
	{"set the cue notes on the staff", func(m *maker) error { return cues.Set(m.Draft, m.cued) }},
	{"choose the clefs", func(m *maker) error { return m.Page.ChooseClefs(m.Draft) }},
	{"set the rests clear of the cue notes", func(m *maker) error { return cues.ClearRests(m.Draft, m.cued) }},
	{"turn the stems", func(m *maker) error { return m.Page.TurnStems(m.Assignment.Player > 0) }},
	{"settle the marks at the stems", func(m *maker) error { return m.Page.SettlePlacement(m.Assignment.Player > 0) }},
	{"set singers' words below and dynamics above", func(m *maker) error { return staff.PlaceForSingers(m.Draft) }},
	{"look for texts that name pitches", func(m *maker) error { return m.Page.ReportPitchTexts(m.Draft) }},
	{"hold the notes against the range", func(m *maker) error { return m.Page.CheckRange(m.Draft, m.Writing.Level) }},
}

// finishing is for all that the player has on the desk.
var finishing = []stage{
	{"list the player's instruments", func(m *maker) error { return changes.List(m.Draft) }},
	{"mark a silent part", func(m *maker) error { return rests.MarkTacet(m.Draft) }},
	{"hide the second staff of divisi where the players are together", func(m *maker) error { return divided.Hide(m.Draft) }},
	{"draw multi-bar rests", func(m *maker) error { return rests.DrawBars(m.Draft, m.Lengths, m.RestBars) }},
}

// Make makes a part out of a draft that is still empty. Whoever wants to look on is
// called after each stage.
func (s *Score) Make(d *draft.Draft, w *Workspace, lookOn func(stage string)) error {
	return s.make(d, w, stages, lookOn)
}

// Hear makes a part as far as to know when it sounds, and in which tempo.
func (s *Score) Hear(w *Workspace, a assign.Assignment) (*draft.Draft, error) {
	d := w.Draft(s.Surveyed, a)
	return d, s.Surveyed.Locate(s.make(d, w, music, nil), a.Part)
}

// Write makes a part but for what is done once for all that a player has on the desk.
func (s *Score) Write(d *draft.Draft, w *Workspace) error {
	return s.make(d, w, stages[:len(music)+len(writing)], nil)
}

// SetShared settles the clefs and stems of a staff that several players share, who read it
// so on their own.
func (s *Score) SetShared(d *draft.Draft, readings []staff.Reading) error {
	var page staff.Page
	if err := page.SetShared(d, readings); err != nil {
		return err
	}
	return d.Settle()
}

// Finish does the rest for parts that were written and joined.
func (s *Score) Finish(d *draft.Draft) error { return s.do(&maker{Score: s, Draft: d}, finishing, nil) }

func (s *Score) make(d *draft.Draft, w *Workspace, some []stage, lookOn func(stage string)) error {
	if err := d.Read(); err != nil {
		return err
	}
	if err := d.HearScore(); err != nil {
		return err
	}
	d.Report.Measures = len(d.Timeline.Measures)
	d.Warn(d.Assignment.Warnings...)
	if err := s.do(&maker{Score: s, Draft: d, Workspace: w}, some, lookOn); err != nil {
		return err
	}
	return d.HearPart()
}

func (s *Score) do(m *maker, some []stage, lookOn func(stage string)) error {
	for _, stage := range some {
		err := stage.do(m)
		if err == nil {
			err = m.Settle()
		}
		if err != nil {
			return fmt.Errorf("cannot %s: %w", stage.name, err)
		}
		if lookOn != nil {
			lookOn(stage.name)
		}
	}
	return nil
}

func (m *maker) takePlayersMusic() (err error) {
	if m.courtesies, err = sharing.TakePlayersMusic(m.Draft, m.Players); err != nil {
		return err
	}
	return m.HearPlayer()
}

func (m *maker) keepOneLine() (err error) {
	m.reduced, err = sharing.KeepOneLine(m.Draft)
	return err
}

func (m *maker) setDivided() error {
	if m.Undivided {
		return nil
	}
	return divided.Set(m.Draft)
}

func (m *maker) addCues() (err error) {
	m.cued, err = m.Cues.Add(m.Draft)
	return err
}

func (m *maker) write() error {
	o := m.Writing
	o.Page, o.Courtesies, o.Reduced, o.Memory = &m.Page, m.courtesies, m.reduced, &m.Move
	return written.Write(m.Draft, o)
}
