package written

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// A concert score may show a part in another clef than its player reads: then the
// <for-part> says the player's. On the way to written pitch the player's takes the place
// of the one that is shown, and remembers it, so that the way back has the score as it
// was:
//
//	<clef><sign>G</sign><line>2</line><?deskpart shown <clef>…</clef>?></clef>

const (
	memoTarget = "deskpart"
	memoShown  = "shown "
)

// takePartClefs gives the part the clefs that its <for-part> elements say.
func (s *writer) takePartClefs() {
	for _, forPart := range musicxml.Along(s.Part, "measure", "attributes", "for-part") {
		if clef := musicxml.Child(forPart, "part-clef"); clef != nil {
			setClef(forPart.Parent(), clef, musicxml.Attr(forPart, "number"))
		}
	}
}

// setClef puts the player's clef of a staff in the place of the one that is shown. Where
// none is shown there, the player's is not remembered as ours: it stays a change of clef.
func setClef(attributes, partClef *etree.Element, staff string) {
	clef := partClef.Copy()
	clef.Tag = "clef"
	if staff != "" {
		clef.CreateAttr("number", staff)
	}
	for _, old := range musicxml.Children(attributes, "clef") {
		if n := musicxml.Attr(old, "number"); music.IsAdditional(old) {
			continue
		} else if n == staff || n == "" && staff == "1" || n == "1" && staff == "" {
			remember(clef, old)
			attributes.RemoveChild(old)
		}
	}
	musicxml.AddInOrder(attributes, clef)
}

func remember(clef, shown *etree.Element) {
	xml, _ := etree.NewDocumentWithRoot(shown.Copy()).WriteToString() // into memory
	if !strings.Contains(xml, "?>") {
		clef.AddChild(etree.NewProcInst(memoTarget, memoShown+xml))
	}
}

// playersClef is a clef that a part had before the score's own was put back.
type playersClef struct {
	measure *etree.Element
	clef    *etree.Element
}

// returnDisplayClefs puts the clefs back that the concert score showed, and returns those
// of the player that stood in their place.
func (s *writer) returnDisplayClefs() []playersClef {
	var clefs []playersClef
	for _, clef := range musicxml.Along(s.Part, "measure", "attributes", "clef") {
		shown := takeShown(clef)
		if shown == nil {
			continue
		}
		at, attributes := clef.Index(), clef.Parent()
		attributes.RemoveChild(clef)
		attributes.InsertChildAt(at, shown)
		clefs = append(clefs, playersClef{attributes.Parent(), clef})
	}
	return clefs
}

// takeShown reads what a clef remembers, and forgets it; nil where it remembers nothing.
func takeShown(clef *etree.Element) *etree.Element {
	for i, token := range clef.Child {
		memo, ok := token.(*etree.ProcInst)
		if !ok || memo.Target != memoTarget || !strings.HasPrefix(memo.Inst, memoShown) {
			continue
		}
		clef.RemoveChildAt(i)
		doc, err := musicxml.ParseDocument([]byte(strings.TrimPrefix(memo.Inst, memoShown)), musicxml.ReadOptions{})
		if err != nil {
			return nil
		}
		return doc.Root()
	}
	return nil
}

// sayPartClefs writes the player's clefs into the <for-part> elements of their bars.
func (s *writer) sayPartClefs(clefs []playersClef) {
	for _, c := range clefs {
		for _, forPart := range musicxml.Along(c.measure, "attributes", "for-part") {
			number, own := musicxml.Attr(forPart, "number"), musicxml.Attr(c.clef, "number")
			if musicxml.Child(forPart, "part-clef") != nil || number != "" && own != "" && number != own {
				continue
			}
			partClef := c.clef.Copy()
			partClef.Tag, partClef.Attr = "part-clef", nil
			forPart.InsertChildAt(0, partClef)
		}
	}
}
