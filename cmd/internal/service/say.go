package service

import (
	"cmp"
	"encoding/json"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// What goes wrong, in the language that the page speaks: every request may name it in its
// field "speak". Default: English.

// speaking are the texts of the language that a request is made in.
func speaking(request []byte) (*texts.Texts, error) {
	var r struct {
		Speak string `json:"speak"`
	}
	if len(request) > 0 {
		_ = json.Unmarshal(request, &r) // the call itself says what is wrong with it
	}
	l, err := pitch.ParseLanguage(r.Speak)
	if err != nil {
		l = pitch.English
	}
	return texts.In(l)
}

// Refusal says the error of a call in the language that its request was made in.
func Refusal(request []byte, err error) texts.Told {
	page, broken := speaking(request)
	if broken != nil {
		return texts.Told{Says: err.Error(), Line: err.Error()}
	}
	return page.Refusal(err, texts.AtPage)
}

// Warning is a warning as the command's JSON has it, and as people read it.
type Warning struct {
	musicxml.Warning
	texts.Told
}

// warnings says warnings.
func (c *call) warnings(all []musicxml.Warning) []Warning {
	said := []Warning{}
	for _, w := range all {
		said = append(said, Warning{w, c.page.Warning(w, texts.AtPage)})
	}
	return said
}

// Rejected is a file that was refused, and why.
type Rejected struct {
	Input string      `json:"input"`
	Code  notice.Code `json:"code"`
	Text  string      `json:"text"` // as the command's JSON has it
	texts.Told
}

func (c *call) rejected(input string, err error) Rejected {
	code := cmp.Or(musicxml.ErrorCode(err), notice.Unreadable)
	located := musicxml.Locate(err, musicxml.Error{File: input, Code: code})
	return Rejected{input, code, located.Error(), c.page.Refusal(located, texts.AtPage)}
}

// pitchReason says what told the pitch of a score; in English its own words do.
func (c *call) pitchReason(toldBy, english string) string {
	if c.page.Language == pitch.English {
		return english
	}
	switch toldBy {
	case "score":
		return c.page.Say("service.pitch-score", nil)
	case "request":
		return c.page.Say("service.pitch-request", nil)
	case "signatures":
		return c.page.Say("service.pitch-signatures", nil)
	case "ear":
		return c.page.Say("service.pitch-ear", nil)
	case "signatures and ear":
		return c.page.Say("service.pitch-both", nil)
	}
	return c.page.Say("service.pitch-nothing", nil)
}

// problem is an error of the page's own.
func problem(say func(*texts.Texts) string) error { return &texts.Problem{Say: say} }

// misread says that the words in a field of the page are not understood; err says why, and
// label is the field's.
func misread(label func(*texts.Texts) string, words string, err error) error {
	return &texts.Problem{Err: err, Say: func(t *texts.Texts) string {
		return t.Say("service.not-understood", texts.Fill{"words": words, "field": label(t)})
	}}
}

// The fields of the page, by their labels.
var (
	fieldInstrument = func(t *texts.Texts) string { return t.Say("page.instrument", nil) }
	fieldNotes      = func(t *texts.Texts) string { return t.Say("page.notes", nil) }
	fieldKey        = func(t *texts.Texts) string { return t.Say("page.key", nil) }
	fieldMeasures   = func(t *texts.Texts) string { return t.Say("page.measures", nil) }
	fieldBand       = func(t *texts.Texts) string { return t.Say("page.step-band", nil) }
)
