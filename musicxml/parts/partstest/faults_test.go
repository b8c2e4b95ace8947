package partstest_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// makePart makes a part of one of the copyist's golden scores.
func makePart(t *testing.T, name string, index int) (*partstest.Facts, *etree.Document) {
	t.Helper()
	score, err := musicxml.ReadFile("../testdata/"+name+".input.musicxml", musicxml.ReadOptions{})
	require.NoError(t, err)
	facts, err := partstest.Read(score)
	require.NoError(t, err)
	job := partstest.Job(t, score, parts.DefaultOptions())
	sheet, err := job.Make(index)
	require.NoError(t, err)
	return facts, sheet.Document
}

func at(t *testing.T, doc *etree.Document, path string) *etree.Element {
	t.Helper()
	e := doc.FindElement(path)
	require.NotNil(t, e, path)
	return e
}

// A check that never fails checks nothing: each planted fault must be found.
func TestPlantedFaultsAreFound(t *testing.T) {
	t.Parallel()
	const first = "//measure[1]"
	tests := []struct {
		name, score string
		spoil       func(*etree.Document, func(string) *etree.Element)
		found       string
	}{
		{"a rehearsal mark is missing", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//rehearsal").Parent().Parent().Remove() }, "rehearsal"},
		{"a rehearsal mark stands twice", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) {
			d := at("//rehearsal").Parent().Parent()
			d.Parent().InsertChildAt(0, d.Copy())
		}, "rehearsal"},
		{"the metronome mark is missing", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//metronome").Parent().Remove() }, "metronome"},
		{"a tempo is missing", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//measure[3]/direction").Remove()
		}, "a tempo"},
		{"a playback tempo is missing", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure[2]/sound").Remove() }, "sound tempo"},
		{"D.S. is missing", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure[5]/direction").Remove() }, "dalsegno"},
		{"a line does not stop", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//dashes[@type='stop']").Parent().Parent().Remove()
		}, "<dashes>"},
		{"a wrong note", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//pitch/step").SetText("A") }, "D4"},
		{"a wrong spelling", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//pitch/step").SetText("F")
			musicxml.SetChildText(at("//pitch"), "alter", "2")
		}, "F##"},
		{"a wrong transposition", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//transpose/chromatic").SetText("-5") }, "measure 1"},
		{"a short bar", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at(first + "/note/duration").SetText("6") }, "lasts"},
		{"a bar too few", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure[6]").Remove() }, "measures instead"},
		{"a wrong bar number", "01-system-marks", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure[6]").CreateAttr("number", "7") }, "number"},
		{"a repeat is missing", "02-barlines-and-metre", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//repeat[@direction='backward']").Remove()
		}, "repeat backward"},
		{"an ending is hidden", "02-barlines-and-metre", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//ending").CreateAttr("print-object", "no")
		}, "hidden"},
		{"an ending is missing", "02-barlines-and-metre", func(_ *etree.Document, at func(string) *etree.Element) { at("//ending").Remove() }, "ending"},
		{"the double bar is missing", "02-barlines-and-metre", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//measure[3]/barline[@location='right']/bar-style").Remove()
		}, "light-light"},
		{"a change of metre is missing", "02-barlines-and-metre", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure[4]/attributes/time").Remove() }, "time"},
		{"a pause is missing", "03-pauses", func(_ *etree.Document, at func(string) *etree.Element) { at("//note/notations/fermata").Remove() }, "pause"},
		{"a rest counts too much", "04-rest-bars", func(_ *etree.Document, at func(string) *etree.Element) { at("//multiple-rest").SetText("4") }, "runs"},
		{"a rest counts too little", "04-rest-bars", func(_ *etree.Document, at func(string) *etree.Element) { at("//multiple-rest").SetText("2") }, ""},
		{"a multi-bar rest is missing", "04-rest-bars", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//measure-style").Parent().Parent().Remove()
		}, ""},
		{"a hidden rest", "05-rests", func(_ *etree.Document, at func(string) *etree.Element) {
			at(first+"/note").CreateAttr("print-object", "no")
		}, "hidden"},
		{"an instrument that is not there", "06-head", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//midi-instrument").CreateAttr("id", "P9-I1")
		}, "P9-I1"},
		{"a position of the score's page", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//note").CreateAttr("default-x", "20") }, "default-x"},
		{"a break of the score's page", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//print").CreateAttr("new-system", "yes") }, "new-system"},
		{"the title is missing", "06-head", func(d *etree.Document, at func(string) *etree.Element) { at("//work-title").SetText("Another") }, "work-title"},
		{"the title is not on the page", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//credit").Remove() }, "title"},
		{"the score's label", "06-head", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//credit/credit-words").SetText("Score in C")
		}, "Score in C"},
		{"no name", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//part-name").SetText("") }, "name"},
		{"a small staff", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//millimeters").SetText("5") }, "mm high"},
		{"a concert score", "06-head", func(_ *etree.Document, at func(string) *etree.Element) {
			at("//defaults").CreateElement("concert-score")
		}, "concert-score"},
		{"no numbers", "06-head", func(_ *etree.Document, at func(string) *etree.Element) { at("//measure-numbering").SetText("none") }, "numbered"},
		{"a staff too many", "07-tacet", func(_ *etree.Document, at func(string) *etree.Element) { at("//note/staff").SetText("3") }, "staff 3"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			index := 1
			if tt.score == "05-rests" {
				index = 0
			}
			facts, doc := makePart(t, tt.score, index)
			before := facts.Check(partstest.Part{Index: index, Document: doc, RestBars: 2, Warned: map[string]bool{"5": true}})
			require.Empty(t, before)
			tt.spoil(doc, func(path string) *etree.Element { return at(t, doc, path) })
			after := facts.Check(partstest.Part{Index: index, Document: doc, RestBars: 2, Warned: map[string]bool{"5": true}})
			require.NotEmpty(t, after)
			assert.Contains(t, strings.Join(after, "\n"), tt.found)
		})
	}
}
