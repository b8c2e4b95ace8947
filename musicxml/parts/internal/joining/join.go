package joining

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
)

// Staff is a part that was made for the player, to be joined with others.
type Staff struct {
	*draft.Draft
	// Entry is the part's <score-part> with the instruments that it keeps.
	Entry *etree.Element
	Name  string // of the instrument, as it is announced
}

// Joined is the part of one player.
type Joined struct {
	Part *etree.Element
	// Came says where the music of each staff of the score stands, in order.
	Came []Origin
	// Switched: within some bars the player has several staves, so that what is printed
	// there was written for other notes before.
	Switched bool
	Staves   int
	Heights  []int // of its rows, in staves
	Unsaid   []Unsaid
}

// Join makes one part of parts that are made, but for their multi-bar rests, as a layout
// says. The trees of the staves are used up.
func Join(staves []Staff, layout desks.Layout) Joined {
	divisions := draft.CommonDivisions(partsOf(staves)...)
	for i := range staves {
		draft.Unify(staves[i].Part, divisions)
	}
	nameInstruments(staves)
	j := joiner{staves: staves, layout: layout, divisions: musicxml.NewFraction(divisions, 1), frames: framesOf(staves)}
	rows := make([]*etree.Element, len(layout.Rows))
	below := 0
	for i := range rows {
		rows[i] = j.row(i, below)
		j.made.Heights = append(j.made.Heights, j.height(i))
		below += j.made.Heights[i]
	}
	j.made.Part, j.made.Staves = rows[0], below
	if len(rows) > 1 {
		j.made.Part = stack(rows, j.made.Heights, j.divisions)
	}
	return j.made
}

// joiner joins some staves.
type joiner struct {
	staves    []Staff
	layout    desks.Layout
	divisions musicxml.Fraction
	frames    []musicxml.Measure
	made      Joined
}

func partsOf(staves []Staff) []*etree.Element {
	var all []*etree.Element
	for i := range staves {
		all = append(all, staves[i].Part)
	}
	return all
}

// framesOf are the bars of the part: of each the longest that a staff has.
func framesOf(staves []Staff) []musicxml.Measure {
	var frames []musicxml.Measure
	for i := range staves {
		for k, m := range staves[i].Timeline.Measures {
			switch {
			case k == len(frames):
				frames = append(frames, m)
			case frames[k].Length.Less(m.Length):
				frames[k] = m
			}
		}
	}
	return frames
}

// height is how many staves a row of the part has.
func (j *joiner) height(i int) int {
	height := 1
	for _, s := range j.layout.Rows[i] {
		height = max(height, j.staves[s].Staves)
	}
	return height
}

// row joins the staves that the player has in turn, and notes where they went.
func (j *joiner) row(i, above int) *etree.Element {
	r := row{turns: j.layout.Turns[i], frames: j.frames, divisions: j.divisions}
	for _, s := range j.layout.Rows[i] {
		r.music = append(r.music, newMusic(j.staves[s].Timeline, 0, 0))
	}
	part := r.join()
	for _, u := range r.unsaid {
		u.Staff = j.layout.Rows[i][u.Staff]
		j.made.Unsaid = append(j.made.Unsaid, u)
	}
	for k, s := range j.layout.Rows[i] {
		came := Origin{Part: j.staves[s].Assignment.ID, Label: j.staves[s].Name, Some: len(j.staves[s].Assignment.Takes) > 0, Player: j.staves[s].Assignment.Player, Staff: above + 1, Staves: j.staves[s].Staves}
		for n, stretch := range r.stretches {
			if stretch.staff != k {
				continue
			}
			to := r.end(n)
			came.Stretches = append(came.Stretches, Stretch{stretch.from, to})
			j.made.Switched = j.made.Switched || stretch.from.Onset.Sign() > 0
		}
		j.made.Came = append(j.made.Came, came)
	}
	return part
}

// nameInstruments gives every note the id of its instrument: there are several in the
// part (MusicXML 4.0, instrument).
func nameInstruments(staves []Staff) {
	for _, s := range staves {
		first := musicxml.Child(s.Entry, "score-instrument")
		if first == nil {
			continue
		}
		id := musicxml.Attr(first, "id")
		for _, ev := range s.Timeline.Each(musicxml.Note) {
			if ev.Rest || musicxml.Child(ev.Element, "instrument") != nil {
				continue
			}
			e := etree.NewElement("instrument")
			e.CreateAttr("id", id)
			musicxml.AddInOrder(ev.Element, e)
		}
	}
}

// stack puts rows one above the other as staves of one part with a bracket.
func stack(rows []*etree.Element, heights []int, divisions musicxml.Fraction) *etree.Element {
	part := etree.NewElement("part")
	all := make([]*musicxml.Timeline, len(rows))
	staves := 0
	for i, r := range rows {
		all[i], _ = musicxml.NewTimeline(r) // the rows were laid out before they were joined
		staves += heights[i]
	}
	for i := range all[0].Measures {
		b := newBar(&all[0].Measures[i], divisions, inForce{})
		above := 0
		for k, t := range all {
			s := stacked{barMaker: b, above: above, height: heights[k], first: k == 0, voices: map[string]string{}, begun: map[int]int{}, upper: all[0].Measures[i].Events}
			s.take(&t.Measures[i])
			above += heights[k]
		}
		if b.closing != nil {
			b.put(b.closing, all[0].Measures[i].Length, musicxml.Fraction{})
		}
		if i == 0 {
			bracket(b.bar, staves)
		}
		part.AddChild(b.bar)
	}
	return part
}

// bracket says how many staves the part has.
func bracket(bar *etree.Element, staves int) {
	attributes := musicxml.Child(bar, "attributes")
	musicxml.SetChildText(attributes, "staves", strconv.Itoa(staves))
	musicxml.RemoveChildren(attributes, "part-symbol")
	symbol := musicxml.SetChildText(attributes, "part-symbol", "bracket")
	symbol.CreateAttr("top-staff", "1")
	symbol.CreateAttr("bottom-staff", strconv.Itoa(staves))
}
