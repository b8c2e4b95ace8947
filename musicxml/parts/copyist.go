package parts

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Copyist makes parts out of one score.
type Copyist struct {
	score      *musicxml.Score
	catalogue  *instruments.Catalogue
	options    Options
	scoreParts []musicxml.ScorePart // beside score.Parts
	matches    []instruments.Match  // what their names mean
	surveys    []Survey
	atSound    []bool // parts that Convert found at sounding pitch in the source, unsaid
	concert    bool   // the score says that it is displayed in concert pitch
	words      *glossary
	tellsOf    *memo[changeQuestion, bool] // a change of instrument
	road       *road
	lengths    []musicxml.Fraction // of the measures, in the part that fills each most
	reading    reading
	players    *divisi.Lexicon // words that say who plays, where staves are shared out or reduced
	consensus  *consensus
	unused     []PlanRow // of the plan, that name no part
}

// New prepares a copyist for a score.
func New(score *musicxml.Score, catalogue *instruments.Catalogue, o Options) (*Copyist, error) {
	words, err := words()
	if err != nil {
		return nil, err
	}
	c := &Copyist{score: score, catalogue: catalogue, options: o, words: &glossary{lexicon: words}, tellsOf: new(memo[changeQuestion, bool])}
	root := score.Header.Root()
	c.concert = musicxml.Descend(root, "defaults", "concert-score") != nil
	known := map[string]musicxml.ScorePart{}
	for _, p := range score.ScoreParts() {
		known[p.ID] = p
	}
	for _, raw := range score.Parts {
		p, ok := known[raw.ID]
		if !ok {
			p = musicxml.ScorePart{ID: raw.ID}
		}
		c.scoreParts = append(c.scoreParts, p)
	}
	c.matches = c.recognise()
	c.surveys = make([]Survey, len(score.Parts))
	c.atSound = make([]bool, len(score.Parts))
	if o.Players || len(o.Plan) > 0 {
		var err error
		if c.players, err = divisi.LoadLexicon(); err != nil {
			return nil, err
		}
	}
	if err := CheckPlan(o.Plan, catalogue); err != nil {
		return nil, fmt.Errorf("plan, %w", err)
	}
	return c, nil
}

// Title returns the score's title, of the work or of the movement, "" without.
func (c *Copyist) Title() string {
	root := c.score.Header.Root()
	work := musicxml.Text(musicxml.Descend(root, "work", "work-title"))
	movement := musicxml.ChildText(root, "movement-title")
	switch {
	case work == "":
		return movement
	case movement == "" || movement == work:
		return work
	}
	return work + ": " + movement
}

// Sheet is a part that was made.
type Sheet struct {
	Document *etree.Document // nil where nothing is to be written
	Report   Report
}

// Report says what was done for one part.
type Report struct {
	Transpose transpose.Transposition // at the start of the part
	Moved     pitch.Interval          // what was added to the source's notes
	Measures  int
	Notes     int
	Respelled int
	Tacet     bool
	// AsSource: converted to written, the part was left at sounding pitch as in the
	// score that its concert score was made of.
	AsSource bool
	// Instruments are the ids of the score-instruments that the part keeps.
	Instruments []string
	Octaves     []OctaveChange // where the sound was moved by octaves, in order
	// ChangesInstrument: the player changes instrument on the way.
	ChangesInstrument bool
	Warnings          []musicxml.Warning
}

// sheet is a part in the making.
type sheet struct {
	*Copyist
	assignment Assignment
	survey     *Survey
	desk       *Desk
	part       *etree.Element
	timeline   *musicxml.Timeline // the desk's
	report     Report
	staves     int        // that the part is on, from the order of its rests on
	page       *staffPage // how the part stands on its staves
	reduced    bool       // a line was taken out of fuller music
	recounted  bool       // the part got finer divisions since it was laid out
	moved      bool       // notes of it are written otherwise than in the score
	changes    []instrumentChange
	// changeWords are the directions that tell of them, and others that name an
	// instrument and are right as they stand.
	changeWords map[*etree.Element]bool
	cues        [][]*etree.Element      // the notes of each cue
	courtesies  map[*etree.Element]bool // printed signs that stay on a part taken off a shared staff
}

// stages are the steps by which a copyist makes a part, in order.
var stages = []struct {
	name string
	do   func(*sheet) error
}{
	{"leave the score's page out", (*sheet).stripPage},
	{"take one player's music off the shared staff", (*sheet).takePlayersMusic},
	{"leave one line to an instrument of one", (*sheet).keepOneLine},
	{"find the changes of instrument", (*sheet).findChanges},
	{"put the rests in order", (*sheet).orderRests},
	{"add the marks of the whole system", (*sheet).addSystemMarks},
	{"name the instruments that are changed to", (*sheet).nameChanges},
	{"add cue notes", (*sheet).addCues},
	{"leave out another instrument's techniques", (*sheet).removeForeignTechniques},
	{"see how the score stands on its staves", (*sheet).readStaves},
	{"write for the player's instrument", (*sheet).writeForPlayer},
	{"set the cue notes on the staff", (*sheet).seatCues},
	{"choose the clefs", (*sheet).chooseClefs},
	{"turn the stems", (*sheet).turnStems},
	{"settle the marks at the stems", (*sheet).settlePlacement},
	{"look for texts that name pitches", (*sheet).reportPitchTexts},
	{"hold the notes against the range", (*sheet).checkRange},
	{"mark a silent part", (*sheet).markTacet},
	{"draw multi-bar rests", (*sheet).drawRestBars},
}

// Make makes one part. Every part must have been surveyed. The document stands on
// the desk: write it before that is cleared. Without a desk it has memory of its own.
func (c *Copyist) Make(a Assignment, desk *Desk) (*Sheet, error) {
	s := c.sheet(a, desk)
	if err := s.make(); err != nil {
		return nil, c.locate(err, a.Part)
	}
	if s.report.Tacet && c.options.Tacet == TacetSkip {
		return &Sheet{Report: s.report}, nil
	}
	doc, err := s.document()
	if err != nil {
		return nil, c.locate(err, a.Part)
	}
	return &Sheet{Document: doc, Report: s.report}, nil
}

// sheet begins a part at a desk.
func (c *Copyist) sheet(a Assignment, desk *Desk) *sheet {
	desk = desk.of(c)
	return &sheet{Copyist: c, assignment: a, survey: &c.surveys[a.Part], desk: desk, timeline: &desk.timeline}
}

func (s *sheet) make() error {
	var err error
	if s.part, err = s.score.SkimPart(s.assignment.Part, &s.desk.Slabs, musicxml.Skim{Attribute: notDrawn}); err != nil {
		return err
	}
	s.desk.size = s.score.Parts[s.assignment.Part].Size()
	if err := s.layOut(); err != nil {
		return err
	}
	s.report.Measures = len(s.timeline.Measures)
	s.report.Warnings = append(s.report.Warnings, s.assignment.Warnings...)
	for _, stage := range stages {
		if err := stage.do(s); err != nil {
			return fmt.Errorf("cannot %s: %w", stage.name, err)
		}
	}
	return nil
}

// layOut works out the timeline of the part as it now is, in place of the one
// before.
func (s *sheet) layOut() error {
	s.recounted = false
	return s.timeline.LayOut(s.part)
}

// renew is layOut after a stage that only added children to measures, took some out
// or moved them.
func (s *sheet) renew() error {
	if s.recounted {
		return s.layOut()
	}
	return s.timeline.Renew(s.part)
}

func (s *sheet) warn(w musicxml.Warning) { s.report.Warnings = append(s.report.Warnings, w) }

// locate adds file and part to an error.
func (c *Copyist) locate(err error, part int) error {
	p := c.scoreParts[part]
	return musicxml.Locate(err, musicxml.Error{File: c.score.Name, PartName: p.Name, PartID: p.ID})
}
