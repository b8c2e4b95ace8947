package service_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/service"
	"deskpart/musicxml/musicxmltest"
)

// TestSaidInTheLanguageOfThePage: what is wrong, and what to do about it, is said in the
// language that the page speaks, with the exact words behind it; what programs read stays.
func TestSaidInTheLanguageOfThePage(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	answer, _ := d.ask("open", map[string]any{"speak": "de"}, service.File{Name: "empty.musicxml"},
		read(t, example(t, "two-ferries.musicxml")))
	rejected := answer["rejected"].([]any)[0].(map[string]any)
	assert.Equal(t, "empty-file", rejected["code"])
	assert.Equal(t, "empty.musicxml: the file is empty; save or export it again", rejected["text"])
	assert.Equal(t, "empty.musicxml: die Datei ist leer; sie noch einmal speichern oder exportieren", rejected["line"])
	assert.Equal(t, "", rejected["exact"], "the registry's own words say it all")

	id := answer["scores"].([]any)[0].(map[string]any)["score"]
	seats, _ := d.ask("seat", map[string]any{"speak": "fr", "score": id, "settings": map[string]any{
		"plan": []map[string]any{{"part": "Ocarina", "instrument": "flute"}}}})
	unused := seats["warnings"].([]any)[0].(map[string]any)
	assert.Equal(t, "plan-row-unused", unused["code"])
	assert.Equal(t, "une ligne du plan ne nomme aucune partie de la partition", unused["says"])
	assert.NotContains(t, unused["do"], "--", "the page has no flags")
	assert.Equal(t, unused["text"], unused["exact"])
}

// TestFailuresAreSaid: a call that fails is said in the language of its request.
func TestFailuresAreSaid(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	for _, row := range []struct{ call, request, line string }{
		{"seat", `{"score":"s9","speak":"it"}`, "la partitura non è più aperta; aprirla di nuovo"},
		{"cast", `{"speak":"es"}`, "todavía no hay nadie en el conjunto; decir quién toca: un instrumento y cuántos"},
		{"lesson", `{"instrument":"horn in F","notes":"H9 x","speak":"de"}`, "„H9 x“ wird nicht verstanden (Noten); wie im Beispiel daneben schreiben"},
		{"lesson", `{"instrument":"zzz","notes":"C4","speak":"fr"}`, "«\u00a0zzz\u00a0» n'est pas compris (Instrument)\u00a0; l'écrire comme l'exemple à côté"},
		{"seat", `{"score":"s9"}`, "the score is not open any more; open it again"},
		{"seat", `{"score":`, "the request is not understood: unexpected end of JSON input"},
	} {
		_, err := d.Call(context.Background(), row.call, json.RawMessage(row.request), nil, nil)
		require.Error(t, err, row.call)
		assert.Equal(t, row.line, service.Refusal([]byte(row.request), err).Line)
	}
}

// TestWhoPlaysWhatIsSaid: why somebody plays a part, and what told the pitch of a score, is
// said in the language of the page; in English as the command says it.
func TestWhoPlaysWhatIsSaid(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	answer, _ := d.ask("open", map[string]any{"speak": "de"}, read(t, example(t, "two-ferries.musicxml")))
	opened := answer["scores"].([]any)[0].(map[string]any)
	assert.Equal(t, "die Partitur sagt es", opened["pitch_reason"])
	roles := func(language string) string {
		cast, _ := d.ask("cast", map[string]any{"speak": language, "score": opened["score"], "band": "flute, clarinet in B flat, alto saxophone, bassoon"})
		var said []string
		for _, r := range cast["roles"].([]any) {
			said = append(said, r.(map[string]any)["text"].(string))
		}
		return strings.Join(said, "\n")
	}
	assert.Contains(t, roles("en"), "every note is comfortable at the score's octave; reads 1 flat in treble clef; the part's own instrument")
	assert.Contains(t, roles("de"), "jede Note liegt bequem, in der Oktave der Partitur; liest 1 Be, Violinschlüssel; das eigene Instrument der Stimme")
	assert.Contains(t, roles("fr"), "à l'octave de la partition\u00a0; lit 1 bémol, clé de sol\u00a0; l'instrument même de la partie")
	for _, language := range []string{"de", "fr", "it", "es"} {
		for _, english := range []string{"[", "every note", "reads ", "the part's"} {
			assert.NotContains(t, roles(language), english, language)
		}
	}
}

// TestDetailsAreSaid: what is wrong with real scores is said exactly in the language of
// the page, so that nobody has to read English behind it. It fails where the program says
// something in other words than the table of details.
func TestDetailsAreSaid(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	all := append(musicxmltest.SharedFiles(t, "scores/songs/*.mxl"), musicxmltest.SharedFiles(t, "scores/written/*_1.mxl")...)
	codes := map[string]bool{}
	for _, path := range all {
		ids, _ := d.open(read(t, path))
		request, err := json.Marshal(map[string]any{"speak": "de", "score": ids[0]})
		require.NoError(t, err)
		_, err = d.Call(context.Background(), "make", request, nil, func(p service.Progress) {
			made, is := p.Made.(service.Made)
			require.True(t, is)
			for _, w := range made.Warnings {
				codes[string(w.Code)] = true
				assert.Empty(t, w.Exact, "%s: %s", path, w.Text)
			}
		})
		require.NoError(t, err)
	}
	assert.Greater(t, len(codes), 3, codes)
}

// TestBandIsNamed: the sheets of a band are headed in the language of the page.
func TestBandIsNamed(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	ids, _ := d.open(read(t, example(t, "two-ferries.musicxml")))
	answer, _ := d.ask("cast", map[string]any{"speak": "de", "score": ids[0], "band": "1 flute, 2 clarinet-bflat"})
	labels := []string{}
	for _, row := range answer["plan"].([]any) {
		label, _ := row.(map[string]any)["label"].(string)
		labels = append(labels, label)
	}
	assert.Contains(t, labels, "Flöte")
	assert.Contains(t, labels, "Klarinette in B 1")
}
