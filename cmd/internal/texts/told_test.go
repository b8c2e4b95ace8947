package texts_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/texts"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// The places are written by hand, as a musician of the language says them.
func TestWarnings(t *testing.T) {
	t.Parallel()
	high := musicxml.Warning{Code: notice.AboveRange, Measure: "12", Beat: "3.5", Text: "F#6 lies above D6"}
	for _, row := range []struct {
		language              pitch.Language
		where, says, do, last string
		mark                  string // before a colon and a semicolon
	}{
		{pitch.English, "bar 12, beat 3 and a half", "F#6 lies above D6", "look whether the octave or the instrument is meant; ranges are a guide", "", ""},
		{pitch.German, "Takt 12, Zählzeit „3 und“", "eine Note liegt über dem Umfang des Instruments", "prüfen, ob die Oktave oder das Instrument gemeint ist; Umfänge sind ein Anhalt", high.Text, ""},
		{pitch.French, "mesure 12, temps 3 et demi", "une note dépasse l'ambitus de l'instrument vers l'aigu", "vérifier si l'octave ou l'instrument est le bon\u00a0; les ambitus sont indicatifs", high.Text, "\u00a0"},
		{pitch.Italian, "battuta 12, movimento 3 e mezzo", "una nota supera verso l'acuto l'estensione dello strumento", "controllare se l'ottava o lo strumento sono quelli intesi; le estensioni sono indicative", high.Text, ""},
		{pitch.Spanish, "compás 12, tiempo 3 y medio", "una nota queda por encima de la extensión del instrumento", "comprobar si la octava o el instrumento son los que se quieren; las extensiones orientan", high.Text, ""},
	} {
		told := textstest.In(t, row.language).Warning(high, texts.AtPage)
		assert.Equal(t, texts.Told{Where: row.where, Says: row.says, Do: row.do, Exact: row.last, Line: row.where + row.mark + ": " + row.says + row.mark + "; " + row.do}, told)
	}
}

func TestBeatsOfWarnings(t *testing.T) {
	t.Parallel()
	for name, said := range map[string]string{
		"1": "beat 1", "2.25": "beat 2 and a quarter", "4.667": "beat 4 and two thirds", "1.333": "beat 1 and a third",
		"3.875": "shortly after beat 3", "0.5": "0.5", "a": "a", "": "",
	} {
		told := textstest.In(t, pitch.English).Warning(musicxml.Warning{Code: notice.Check, Beat: name, Text: "x"}, texts.AtPage)
		assert.Equal(t, said, told.Where, name)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	large := &musicxml.Error{File: "f.mxl", Code: notice.TooLarge, Err: errors.New("the file has 9 bytes, more than 8")}
	unsaid := &musicxml.Error{PartName: "Corno", PartID: "P2", Measure: "4", Line: 7, Code: notice.NoMusic, Hint: "say --force", Err: errors.New("no step")}
	own := &texts.Problem{Say: func(t *texts.Texts) string { return t.Say("service.not-open", nil) }}
	for _, row := range []struct {
		language pitch.Language
		to       texts.Listener
		err      error
		want     texts.Told
	}{
		{pitch.English, texts.AtCommand, large, texts.Told{Says: "the file has 9 bytes, more than 8", Do: "allow more if you trust where it comes from (deskpart help limits)"}},
		{pitch.English, texts.AtPage, large, texts.Told{Says: "the file has 9 bytes, more than 8", Do: "the command deskpart takes larger files than a browser can"}},
		{pitch.German, texts.AtPage, large, texts.Told{Says: "die Datei oder das, was sie entpackt ergibt, ist größer als erlaubt",
			Do: "der Befehl deskpart nimmt größere Dateien, als ein Browser es kann", Exact: "the file has 9 bytes, more than 8"}},
		{pitch.English, texts.AtCommand, unsaid, texts.Told{Where: "part “Corno” (P2), bar 4, line 7", Says: "no step", Do: "say --force"}},
		{pitch.English, texts.AtPage, unsaid, texts.Told{Where: "part “Corno” (P2), bar 4, line 7", Says: "no step", Do: "correct the bar and export it again"}},
		{pitch.Italian, texts.AtCommand, unsaid, texts.Told{Where: "parte «Corno» (P2), battuta 4, riga 7", Says: "una nota, una durata o una tonalità non si può leggere",
			Do: "correggere la battuta ed esportare di nuovo", Exact: "no step; say --force"}},
		{pitch.French, texts.AtPage, own, texts.Told{Says: "la partition n'est plus ouverte\u00a0; l'ouvrir de nouveau"}},
		{pitch.English, texts.AtPage, errors.New("odd"), texts.Told{Says: "odd"}},
		{pitch.Spanish, texts.AtPage, errors.New("odd"), texts.Told{Says: "esto no se pudo hacer", Exact: "odd"}},
	} {
		told := textstest.In(t, row.language).Refusal(row.err, row.to)
		assert.True(t, strings.HasPrefix(told.Line, row.want.Where) && strings.HasSuffix(told.Line, row.want.Do) && strings.Contains(told.Line, row.want.Says), told.Line)
		told.Line = ""
		assert.Equal(t, row.want, told)
	}
}
