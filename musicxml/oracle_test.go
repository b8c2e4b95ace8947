package musicxml

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// etreeRead is the slow twin of the scanner: etree's own reading of the same
// text, which the scanner's must equal but for the white space between elements.
func etreeRead(text string, known *entities) (*etree.Document, error) {
	doc := etree.NewDocument()
	doc.ReadSettings.PreserveCData = true
	doc.ReadSettings.Entity = map[string]string{}
	for _, reference := range regexp.MustCompile(`&[^&;]+;`).FindAllString(text, -1) {
		name := reference[1 : len(reference)-1]
		if value, why := known.lookup(name); why == nil {
			doc.ReadSettings.Entity[name] = value
		}
	}
	if err := doc.ReadFromString(text); err != nil {
		return nil, err
	}
	dropEmpty(&doc.Element)
	dropBlanks(&doc.Element, true, false)
	for _, token := range doc.Child {
		if p, ok := token.(*etree.ProcInst); ok && p.Target == "xml" {
			d, _ := parseDeclaration(p.Inst)
			if d.encoding != "" && !strings.EqualFold(d.encoding, "UTF-8") {
				p.Inst = `version="1.0" encoding="UTF-8"` // the text has been decoded
				if d.standalone != "" {
					p.Inst += ` standalone="` + d.standalone + `"`
				}
			}
		}
	}
	return doc, nil
}

// dropEmpty takes out text of no length, which etree makes of an entity that
// stands for nothing.
func dropEmpty(e *etree.Element) {
	for i := len(e.Child) - 1; i >= 0; i-- {
		switch t := e.Child[i].(type) {
		case *etree.Element:
			dropEmpty(t)
		case *etree.CharData:
			if t.Data == "" && !t.IsCData() {
				e.RemoveChildAt(i)
			}
		}
	}
}

// dropBlanks takes the white space out that the scanner leaves out, by a walk
// over the finished tree.
func dropBlanks(e *etree.Element, top, literal bool) {
	switch e.SelectAttrValue("xml:space", "") {
	case "preserve":
		literal = true
	case "":
	default:
		literal = false
	}
	elements, mixed := false, false
	for _, t := range e.Child {
		switch t := t.(type) {
		case *etree.Element:
			elements = true
			dropBlanks(t, false, literal)
		case *etree.CharData:
			mixed = mixed || t.IsCData() || !t.IsWhitespace()
		}
	}
	if !top && (literal || mixed || !elements) {
		return
	}
	var kept []etree.Token
	for _, t := range e.Child {
		if text, ok := t.(*etree.CharData); !ok || !text.IsWhitespace() || text.IsCData() {
			kept = append(kept, t)
		}
	}
	e.Child = kept
	e.ReindexChildren()
}

// sameTrees compares two trees token by token, links included.
func sameTrees(t testing.TB, want, got *etree.Element) {
	t.Helper()
	if where := differ(want, got); where != "" {
		t.Fatalf("the trees differ at %s", where)
	}
}

// differ returns where two trees differ, "" where they do not. It calls no
// assertion for each token, as the trees have millions of them.
func differ(want, got *etree.Element) string {
	if want.Space != got.Space || want.Tag != got.Tag {
		return fmt.Sprintf("<%s>: <%s>", want.FullTag(), got.FullTag())
	}
	if len(want.Attr) != len(got.Attr) {
		return fmt.Sprintf("<%s>: %d attributes, %d", want.FullTag(), len(want.Attr), len(got.Attr))
	}
	for i := range want.Attr {
		if a, b := &want.Attr[i], &got.Attr[i]; a.Space != b.Space || a.Key != b.Key || spaced(a.Value) != spaced(b.Value) || a.Space != "" && (a.Element() == want) != (b.Element() == got) {
			return fmt.Sprintf("<%s>: %s=%q, %s=%q", want.FullTag(), a.FullKey(), a.Value, b.FullKey(), b.Value)
		}
	}
	if len(want.Child) != len(got.Child) {
		return fmt.Sprintf("<%s>: %d children, %d\n%s\n%s", want.FullTag(), len(want.Child), len(got.Child), shapeOf(want), shapeOf(got))
	}
	for i, w := range want.Child {
		g := got.Child[i]
		if g.Parent() != got || g.Index() != i {
			return fmt.Sprintf("<%s>: child %d has another parent", want.FullTag(), i)
		}
		if where := differTokens(w, g); where != "" {
			return fmt.Sprintf("<%s>, %s", want.FullTag(), where)
		}
	}
	return ""
}

// spaced makes line ends and tabs of an attribute's value spaces, as XML has it
// and etree does not.
func spaced(value string) string {
	if strings.ContainsAny(value, "\r\n\t") {
		return strings.NewReplacer("\r\n", " ", "\n", " ", "\t", " ", "\r", " ").Replace(value)
	}
	return value
}

func differTokens(want, got etree.Token) string {
	same := false
	switch want := want.(type) {
	case *etree.Element:
		if got, ok := got.(*etree.Element); ok {
			return differ(want, got)
		}
	case *etree.CharData:
		got, ok := got.(*etree.CharData)
		same = ok && want.Data == got.Data && want.IsCData() == got.IsCData() && want.IsWhitespace() == got.IsWhitespace()
	case *etree.Comment:
		got, ok := got.(*etree.Comment)
		same = ok && want.Data == got.Data
	case *etree.Directive:
		got, ok := got.(*etree.Directive)
		same = ok && want.Data == got.Data
	case *etree.ProcInst:
		got, ok := got.(*etree.ProcInst)
		same = ok && want.Target == got.Target && want.Inst == got.Inst
	}
	if !same {
		return fmt.Sprintf("%#v, %#v", want, got)
	}
	return ""
}

// plainReferences undoes what the writer does beyond etree's: references for
// carriage returns, and in values for tabs and line feeds.
func plainReferences(text []byte) string {
	return strings.NewReplacer("&#xA;", "\n", "&#x9;", "\t", "&#xD;", "\r").Replace(string(text))
}

// shapeOf writes an element for a message.
func shapeOf(e *etree.Element) string {
	var b strings.Builder
	e.WriteTo(&b, &etree.WriteSettings{})
	return b.String()
}

// sharedScores returns the paths of the scores beside the project, but the longest.
func sharedScores(t testing.TB) []string {
	t.Helper()
	return musicxmltest.SharedSpread(t, "scores/*/*.mxl", "scores/*/*.musicxml", "scores/*/*.xml",
		"testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml", "testsuite/xmlFiles/*.mxl")
}

// scoreText returns the text of a score's file, unpacked.
func scoreText(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	if isContainer(data) {
		c, err := openContainer(data, DefaultLimits())
		require.NoError(t, err)
		root, err := c.findRoot()
		require.NoError(t, err)
		data, err = c.read(root)
		require.NoError(t, err)
	}
	text, err := decode(data)
	require.NoError(t, err)
	return text
}

// compareWithEtree reads a text with the scanner and, where that accepts it,
// with etree; the trees and what is written of them must be equal, and the
// written text must be read and written to the same bytes again.
func compareWithEtree(t testing.TB, text string) {
	t.Helper()
	s := newScanner(text, DefaultLimits(), nil, nil)
	got, err := s.document()
	if err != nil {
		return
	}
	want, err := etreeRead(text, s.entities)
	require.NoError(t, err, "etree refuses what the scanner reads")
	sameTrees(t, &want.Element, &got.Element)
	wanted, err := want.WriteToBytes()
	require.NoError(t, err)
	first := Append(nil, got, WriteOptions{})
	require.Equal(t, spaced(plainReferences(wanted)), spaced(plainReferences(first)), "written as etree writes it")
	for _, indent := range []int{0, 2} {
		first := Append(nil, got, WriteOptions{Indent: indent})
		again, err := ParseDocument(first, ReadOptions{})
		require.NoError(t, err, "%q", first)
		require.Equal(t, string(first), string(Append(nil, again, WriteOptions{Indent: indent})), "the same bytes again")
		require.Empty(t, differ(&got.Element, &again.Element), "the same tree again")
	}
}
