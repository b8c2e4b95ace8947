package condense

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// mark is a direction of one player.
type mark struct {
	*musicxml.Event
	key    string   // what it says, when, and where the other end of a line is
	own    bool     // not every player has it
	forAll bool     // tempo and the like
	ending bool     // nothing but the end of a line
	kinds  []string // the names of what it holds
}

// marksOf reads the directions of all players, by player and bar, and tells which of them
// are not everybody's.
func marksOf(all []*musicxml.Timeline) [][][]mark {
	marks := make([][][]mark, len(all))
	counts := map[string]int{}
	for player, t := range all {
		marks[player] = make([][]mark, len(t.Measures))
		partners := partnersOf(t)
		seen := map[string]int{}
		for i, ev := range t.Each(musicxml.Direction) {
			key := strconv.Itoa(i) + " " + ev.Onset.String() + contentOf(ev.Element) + partners[ev.Element]
			seen[key]++
			key += " " + strconv.Itoa(seen[key])
			counts[key]++
			marks[player][i] = append(marks[player][i], mark{Event: ev, key: key, forAll: draft.ForAll(ev.Element), ending: onlyEnds(ev.Element), kinds: kindsIn(ev.Element)})
		}
	}
	for player := range marks {
		for i := range marks[player] {
			for k := range marks[player][i] {
				m := &marks[player][i][k]
				m.own = !m.forAll && counts[m.key] < len(all)
			}
		}
	}
	return marks
}

// contentOf is what a direction says, wherever it stands.
func contentOf(direction *etree.Element) string {
	var b strings.Builder
	var write func(e *etree.Element)
	write = func(e *etree.Element) {
		b.WriteString(" " + e.Tag + musicxml.Attr(e, "type") + musicxml.Text(e))
		for c := range e.ChildElementsSeq() {
			write(c)
		}
	}
	for t := range musicxml.Each(direction, "direction-type") {
		write(t)
	}
	return b.String()
}

// eachMark goes through the marks of a direction.
func eachMark(direction *etree.Element, do func(e *etree.Element)) {
	for t := range musicxml.Each(direction, "direction-type") {
		for e := range t.ChildElementsSeq() {
			do(e)
		}
	}
}

func onlyEnds(direction *etree.Element) bool {
	only := true
	eachMark(direction, func(e *etree.Element) { only = only && music.IsLine(e) && musicxml.Attr(e, "type") == "stop" })
	return only
}

func kindsIn(direction *etree.Element) (kinds []string) {
	eachMark(direction, func(e *etree.Element) { kinds = append(kinds, e.Tag) })
	return kinds
}

// partnersOf says of each direction with an end of a line where its other end is, of a stop
// what it ends, and of what goes on both: a hairpin that ends elsewhere, or opens the other way, is another one.
func partnersOf(t *musicxml.Timeline) map[*etree.Element]string {
	type end struct {
		e      *etree.Element
		when   string
		goesOn []*etree.Element
	}
	open := map[string]end{}
	partners := map[*etree.Element]string{}
	for i, ev := range t.Each(musicxml.Direction) {
		when := " " + t.Measures[i].Start.Add(ev.Onset).String()
		eachMark(ev.Element, func(e *etree.Element) {
			key := e.Tag + musicxml.Attr(e, "number")
			begun, is := open[key]
			switch {
			case !music.IsLine(e):
			case is && musicxml.Attr(e, "type") == "continue":
				begun.goesOn = append(begun.goesOn, ev.Element)
				open[key] = begun
			case musicxml.Attr(e, "type") != "stop":
				open[key] = end{e: ev.Element, when: when + musicxml.Attr(e, "type")}
			case is:
				for _, on := range begun.goesOn {
					partners[on] += begun.when + when
				}
				partners[ev.Element] += begun.when
				partners[begun.e] += when
				delete(open, key)
			}
		})
	}
	return partners
}

// hasOwn reports whether a player has a mark of its own in a bar, but for where lines end.
func hasOwn(marks [][][]mark, player, i int) bool {
	return slices.ContainsFunc(marks[player][i], func(m mark) bool { return m.own && !m.ending })
}

// placeMarks makes the marks of a bar say whose they are: what all have stands once and
// says no voice; the others say that of their player, and stand above the staff for the
// first and below it for others where both voices are written. Where one player alone has
// a mark of that kind the number stands before it, once until another has one. The first player's stay where they are;
// those of the others are returned.
func (j *joiner) placeMarks(i int, k kind) []timed {
	if k != voices {
		j.numbered = 0
	}
	var others []timed
	said := map[string]bool{}
	for player := range j.marks {
		for _, m := range j.marks[player][i] {
			switch {
			case player > 0 && (said[m.key] || !m.own && (!m.forAll || k != alone+kind(player))):
				continue
			case !m.own:
				said[m.key] = true
				musicxml.RemoveChildren(m.Element, "voice")
			}
			e := m.Element
			if player > 0 {
				e = e.Copy()
				musicxml.RemoveChildren(e, "offset")
				others = append(others, timed{e, m.Onset})
			}
			if m.own {
				j.markOwn(e, player, k, k < alone && !m.ending && j.needsNumber(player, i, m.kinds))
			}
		}
	}
	return others
}

// markOwn makes a direction one of a player's.
func (j *joiner) markOwn(e *etree.Element, player int, k kind, numbered bool) {
	musicxml.SetChildText(e, "voice", strconv.Itoa(player+1))
	eachMark(e, func(m *etree.Element) {
		if player > 0 && music.IsLine(m) && m.Tag != "principal-voice" { // which has no number
			draft.Renumber(m, 4*player)
		}
	})
	if k < alone {
		placement := "above"
		if player > 0 {
			placement = "below"
		}
		e.CreateAttr("placement", placement)
	}
	if numbered {
		number := etree.NewElement("direction-type")
		number.CreateElement("words").SetText(j.numbers[player] + ".")
		e.InsertChildAt(0, number)
	}
}

// needsNumber reports whether the number of a player is to stand before a mark: no other has
// one like it, and the number is not in force.
func (j *joiner) needsNumber(player, i int, kinds []string) bool {
	before := j.numbered
	if j.numbered = player + 1; !j.onlyOne(player, i, kinds) {
		j.numbered = 0
	}
	return j.numbered > 0 && j.numbered != before
}

// onlyOne reports whether no other player has a mark of its own of one of these kinds in a
// bar.
func (j *joiner) onlyOne(player, i int, kinds []string) bool {
	for other := range j.marks {
		if other == player {
			continue
		}
		for _, m := range j.marks[other][i] {
			if m.own && !m.ending && slices.ContainsFunc(m.kinds, func(kind string) bool { return slices.Contains(kinds, kind) }) {
				return false
			}
		}
	}
	return true
}
