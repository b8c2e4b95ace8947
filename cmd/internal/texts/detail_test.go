package texts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/texts"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// What is wrong at a place keeps its notes, numbers and names in another language; the
// expected sentences are written by hand (octaves are numbered as in scientific pitch in every language here).
func TestDetails(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		language      pitch.Language
		code          notice.Code
		english, says string
	}{
		{pitch.German, notice.BelowRange, "written Bb2 lies below the range of Horn in C, which ends at written B2", "das notierte B2 liegt unter dem Umfang (Horn in C), der beim notierten H2 endet"},
		{pitch.French, notice.AboveRange, "written B5 lies above the range of Voice, which ends at written A5", "le si5 écrit dépasse vers l'aigu l'ambitus (Voix), qui s'arrête au la5 écrit"},
		{pitch.German, notice.KeyAtOdds, "the signature is 4 flats where the key of the other parts and the transposition give no sharps or flats", "am Anfang steht: 4 Be; die Tonart der anderen Stimmen und die Transposition ergeben: keine Vorzeichen"},
		{pitch.Italian, notice.ClefExchanged, "the score's baritone clef is none that Bassoon 2 reads; bass clef was taken", "la chiave della partitura (chiave di baritono) non è letta dall'esecutore (Fagotto 2); è stata presa: chiave di basso"},
		{pitch.Spanish, notice.UnrecognisedPart, `no instrument is known by the name "Staff \"1\""; the part stays at sounding pitch`, "no se conoce ningún instrumento con el nombre «Staff \"1\"»; la parte queda en sonidos reales"},
		{pitch.German, notice.Turn, "page 3 is turned with 0.5 seconds of rest", "Seite 3 wird mit 0,5 Sekunden Pause gewendet"},
		{pitch.German, notice.NotDrawn, "not drawn: slur with one end, 2 times, in measures 4, 9", "nicht gezeichnet: slur with one end, 2-mal, in den Takten 4, 9"},
		{pitch.German, notice.MissingBars, "the part has 1 bars, the score 12", "die Stimme hat 1 Takt, die Partitur 12"},
	} {
		told := textstest.In(t, row.language).Warning(musicxml.Warning{Code: row.code, Text: row.english}, texts.AtPage)
		assert.Equal(t, row.says, told.Says)
		assert.Empty(t, told.Exact, row.english)
	}
	unknown := textstest.In(t, pitch.German).Warning(musicxml.Warning{Code: notice.BelowRange, Text: "something else"}, texts.AtPage)
	assert.Equal(t, "something else", unknown.Exact)
	assert.Equal(t, "eine Note liegt unter dem Umfang des Instruments", unknown.Says)
}
