package transpose

import (
	"fmt"
	"hash/fnv"
	"io"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Some things have no equal in another key: a natural-flat at a note that becomes
// natural, a fretboard diagram with an open string, the octaves of a signature's
// signs. Others are a courtesy here and a need there, or are missing here and not
// missed there. So that the way back has the page as it was, one that is moved as
// printed remembers them in processing instructions:
//
//	<accidental>natural<?deskpart sign natural-flat at Db4?></accidental>
//	<note>…<?deskpart no-sign?></note>
//	<harmony>…<?deskpart was 1,2 4f9f2cab <frame>…</frame>?></harmony>
//
// Other readers pass them over, and the way back takes them out again. What a person has
// changed on the page since is not written over: the number says what stood there then.

// printedAccidental is a sign at the note that it was printed for.
type printedAccidental struct {
	name string
	at   pitch.Pitch
}

const (
	remarkTarget     = "deskpart"
	remarkAccidental = "sign "                 // in an <accidental>: the sign, and at which note
	remarkWas        = "was "                  // in a <key> or <harmony>: the interval since, and what was there
	remarkOmission   = "no-sign"               // in a <note> that lacks its sign
	remarkUnsayable  = "no-sign-for-this"      // in a <note> that needs a sign for once
	remarkAuxiliary  = "auxiliary"             // in an <accidental-mark> of an ornament that the source has not
	remarkKey        = "key"                   // in a <key> that the source repeats
	remarkSounding   = "sounding"              // in a <transpose> by octaves of a part that the concert score has as it sounds
	remarkParted     = "parted"                // in the first <key> of several that are one in the source
	remarkOurs       = "attributes"            // in an <attributes> that the source has not
	remarkBetween    = "attributes-in-between" // in one that stands between a backup and a forward of ours
)

// takeAccidental reads what an <accidental> or <accidental-mark> prints at a note of
// that pitch. Where the element remembers what it was elsewhere, that is the
// answer, unless someone has changed the sign since: moved says what would
// stand there now.
func takeAccidental(e *etree.Element, at pitch.Pitch, moved func(printedAccidental, pitch.Pitch) (string, bool)) (sign printedAccidental, remembered bool) {
	now := printedAccidental{musicxml.Text(e), at}
	i := remarkIndex(e)
	if i < 0 {
		return now, false
	}
	was, ok := parseRemark(e.Child[i].(*etree.ProcInst).Inst)
	e.RemoveChildAt(i)
	if !ok {
		return now, false
	}
	if name, _ := moved(was, at); name != now.name {
		return now, false
	}
	return was, true
}

// remarkIndex finds our processing instruction among an element's children, or
// returns −1.
func remarkIndex(e *etree.Element) int { return remarkSaying(e, "") }

// remarkSaying finds the one whose text begins so, or returns −1.
func remarkSaying(e *etree.Element, text string) int {
	for i, token := range e.Child {
		if remark, ok := token.(*etree.ProcInst); ok && remark.Target == remarkTarget && strings.HasPrefix(remark.Inst, text) {
			return i
		}
	}
	return -1
}

func hasRemark(e *etree.Element) bool { return remarkIndex(e) >= 0 }

func parseRemark(text string) (printedAccidental, bool) {
	text, ok := strings.CutPrefix(text, remarkAccidental)
	name, stands, found := strings.Cut(text, " at ")
	if !ok || !found {
		return printedAccidental{}, false
	}
	at, err := pitch.Parse(stands)
	return printedAccidental{name, at}, err == nil
}

// remember keeps what a sign was.
func remember(e *etree.Element, was printedAccidental) {
	addRemark(e, remarkAccidental+was.name+" at "+was.at.String())
}

// comesBack reports whether moving the sign that now stands at a note of that
// pitch gives the old one again.
func comesBack(e *etree.Element, was printedAccidental, at pitch.Pitch, moved func(printedAccidental, pitch.Pitch) (string, bool)) bool {
	name, _ := moved(printedAccidental{musicxml.Text(e), at}, was.at)
	return name == was.name
}

// takeWas reads what an element remembers to have held, and by which interval it
// has moved since, and forgets it. What was changed since is what it is.
func takeWas(e *etree.Element) (was *etree.Element, since pitch.Interval, ok bool) {
	i := remarkSaying(e, remarkWas)
	if i < 0 {
		return nil, since, false
	}
	text := strings.TrimPrefix(e.Child[i].(*etree.ProcInst).Inst, remarkWas)
	e.RemoveChildAt(i)
	interval, xml, _ := strings.Cut(text, " ")
	page, rest, said := strings.Cut(xml, " ")
	if said = said && !strings.HasPrefix(xml, "<"); said { // before 0.3.0 nothing was said of the page
		xml = rest
	}
	if _, err := fmt.Sscanf(interval, "%d,%d", &since.Diatonic, &since.Chromatic); err != nil {
		return nil, since, false
	}
	doc, err := musicxml.ParseDocument([]byte(xml), musicxml.ReadOptions{})
	if err != nil || doc.Root() == nil || said && page != pageOf(e) {
		return nil, pitch.Interval{}, false
	}
	was = doc.Root()
	was.Remove()
	return was, since, true
}

// addWas remembers what an element held before it was moved by an interval.
func addWas(e, was *etree.Element, since pitch.Interval) {
	xml, err := etree.NewDocumentWithRoot(was).WriteToString()
	if err != nil || strings.Contains(xml, "?>") {
		return // it cannot be put into a processing instruction
	}
	addRemark(e, fmt.Sprintf("%s%d,%d %s %s", remarkWas, since.Diatonic, since.Chromatic, pageOf(e), xml))
}

// pageOf sums up what an element prints: texts, with those in place of others, not where
// they stand.
func pageOf(e *etree.Element) string {
	sum := fnv.New32a()
	writePage(sum, e)
	return fmt.Sprintf("%08x", sum.Sum32())
}

func writePage(to io.Writer, e *etree.Element) {
	fmt.Fprintf(to, "%s=%s=%s;", e.Tag, musicxml.Text(e), musicxml.Attr(e, "text"))
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "cancel", "offset", "footnote", "level", "staff":
		default:
			writePage(to, c)
		}
	}
}

// takeRemark reports whether an element holds that remark, and takes it out.
func takeRemark(e *etree.Element, text string) bool {
	i := remarkSaying(e, text)
	if i < 0 || e.Child[i].(*etree.ProcInst).Inst != text {
		return false
	}
	e.RemoveChildAt(i)
	return true
}

func addRemark(e *etree.Element, text string) { e.AddChild(etree.NewProcInst(remarkTarget, text)) }
