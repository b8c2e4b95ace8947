package musicxml

import (
	"os"
	"strings"

	"github.com/beevik/etree"
)

// ReadOptions say how a file is read.
type ReadOptions struct {
	Name   string // the file's name in errors. ReadFile fills it with the path where it is empty
	Limits Limits // Default: DefaultLimits()
}

// Score is a score that has been cut into its header and its parts. The parts
// are read one by one, so that one part's tree per worker is alive and not the
// whole score's.
type Score struct {
	Name       string          // the file's name in errors
	Version    string          // version attribute of the root, "1.0" when absent
	Timewise   bool            // the source was timewise (Parts are partwise already)
	Compressed bool            // the source was a container
	Header     *etree.Document // prolog and root with all child elements but <part>; the root's tag is always score-partwise
	Parts      []RawPart       // in document order
	AfterParts []etree.Token   // comments and processing instructions after the last part, inside the root
	Trailer    []etree.Token   // comments and processing instructions after the root
	RootName   string          // name of the score inside the container, "" when not compressed
	Files      []File          // the container's other files
	Warnings   []*Error        // oddities that were read past, such as a part that the part-list does not name
}

// RawPart is one part of a score, not yet read.
type RawPart struct {
	ID     string        // id, also where the source left it out but it is clear which part is meant
	Before []etree.Token // comments and processing instructions between the previous part and this one
	data   string
}

// Size returns the number of bytes of the part's text, a measure of what reading it costs.
func (p RawPart) Size() int { return len(p.data) }

// File is a file in a container.
type File struct {
	Name      string // path inside the container, with slashes
	MediaType string // as META-INF/container.xml lists it; "" when not listed
	Data      []byte
}

// ScorePart is an entry of the part-list.
type ScorePart struct {
	ID           string
	Name         string // text of part-name
	NameDisplay  string // texts of part-name-display, accidentals as their signs
	Abbreviation string // text of part-abbreviation
	Instruments  []ScoreInstrument
	Groups       []string       // names of the groups around the part, outermost first
	Element      *etree.Element // the score-part in the header
}

// ScoreInstrument is a score-instrument of a score-part.
type ScoreInstrument struct {
	ID    string
	Name  string // text of instrument-name
	Sound string // standard sound id, such as "wind.reed.clarinet.bflat"
}

// ReadFile reads a score from a file.
func ReadFile(path string, o ReadOptions) (*Score, error) {
	if o.Name == "" {
		o.Name = path
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return Read(data, o)
}

// Read reads a score by its content: MusicXML 1.0 to 4.0, partwise or timewise,
// in any of the encodings, compressed or not. The score shares data, which must
// not change while the score or strings from it are in use.
func Read(data []byte, o ReadOptions) (*Score, error) {
	doc, err := ParseDocument(data, o)
	if err != nil {
		return nil, err
	}
	s := &Score{Name: o.Name, Header: doc}
	s.Version = doc.Root().SelectAttrValue("version", "1.0")
	for _, part := range doc.Root().SelectElements("part") {
		doc.Root().RemoveChild(part)
		text, _ := etree.NewDocumentWithRoot(part).WriteToString()
		s.Parts = append(s.Parts, RawPart{ID: part.SelectAttrValue("id", ""), data: text})
	}
	return s, nil
}

// ParseDocument reads any XML document with the strict scanner. The tree shares
// data.
func ParseDocument(data []byte, o ReadOptions) (*etree.Document, error) {
	doc := etree.NewDocument()
	doc.ReadSettings.PreserveCData = true
	if err := doc.ReadFromBytes(data); err != nil {
		return nil, err
	}
	doc.Unindent()
	return doc, nil
}

// ReadPart builds the tree of part i, an element without a parent. It is safe
// to call from several goroutines with a *Slabs each; the tree is valid until
// that set's Reset. With nil slabs the tree has memory of its own.
func (s *Score) ReadPart(i int, slabs *Slabs) (*etree.Element, error) {
	doc, err := ParseDocument([]byte(s.Parts[i].data), ReadOptions{Name: s.Name})
	if err != nil {
		return nil, err
	}
	part := doc.Root()
	part.Remove()
	return part, nil
}

// SkimPart is ReadPart without the elements, and all inside them, for which
// keep says no; what is left out is still checked to be well-formed. Tags come
// without prefix.
func (s *Score) SkimPart(i int, slabs *Slabs, keep func(parent, tag string) bool) (*etree.Element, error) {
	part, err := s.ReadPart(i, slabs)
	if err != nil {
		return nil, err
	}
	prune(part, keep)
	return part, nil
}

func prune(e *etree.Element, keep func(parent, tag string) bool) {
	for _, child := range e.ChildElements() {
		if !keep(e.Tag, child.Tag) {
			e.RemoveChild(child)
			continue
		}
		prune(child, keep)
	}
}

// ScoreParts returns the entries of the part-list in order.
func (s *Score) ScoreParts() []ScorePart {
	var list []ScorePart
	for _, e := range s.Header.FindElements("//part-list/score-part") {
		p := ScorePart{ID: e.SelectAttrValue("id", ""), Element: e}
		if name := e.SelectElement("part-name"); name != nil {
			p.Name = strings.TrimSpace(name.Text())
		}
		list = append(list, p)
	}
	return list
}

// NewDocument returns a deep copy of the header, declared as UTF-8, to whose
// root a <part> can be added.
func (s *Score) NewDocument() *etree.Document { return s.Header.Copy() }

// Assemble returns the whole score as one document again: the header, the given
// parts (one for each of s.Parts, nil leaves one out), and the comments and
// processing instructions in their places.
func (s *Score) Assemble(parts []*etree.Element) *etree.Document {
	doc := s.NewDocument()
	for _, part := range parts {
		if part != nil {
			doc.Root().AddChild(part)
		}
	}
	return doc
}
