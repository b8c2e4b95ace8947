package divisi_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
)

// dealt divides music among players and writes what each has, and the warnings
// that the first player's part was given.
func dealt(t testing.TB, music string, players []divisi.Player) (parts []string, warnings []musicxml.Warning) {
	t.Helper()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for i := range players {
		tree := shorthand.Part(t, music)
		timeline, err := musicxml.NewTimeline(tree)
		require.NoError(t, err)
		report, err := divisi.Divide(timeline, divisi.Options{Players: players, Keep: i, Lexicon: lexicon, Names: []string{"Fl.", "Flute"}})
		require.NoError(t, err)
		parts = append(parts, shorthand.Read(tree))
		if i == 0 {
			warnings = report.Warnings
		}
	}
	return parts, warnings
}

func pair() []divisi.Player { return []divisi.Player{{Number: 1}, {Number: 2}} }

func TestDivideAmongTwo(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, why, music, first, second, doubt string }{ // doubt: measures of both-play warnings
		{
			name: "by voice", why: "with two voices the first player has the upper one (harris s.24)",
			music: `E5:q F5:q G5:h / C5:h D5:h`,
			first: `E5:q F5:q G5:h`, second: `C5:h D5:h`,
		},
		{
			name: "by chord", why: "the first player has the upper note (mem-gould)",
			music: `C5+E5:h D5+F5:h`,
			first: `E5:h F5:h`, second: `C5:h D5:h`,
		},
		{
			name: "by words", why: `after "1." the second player rests until the next mark; after "a 2" both have the notes, and the marks are dropped (mem-gould)`,
			music: `"1." E5:q F5:q G5:h | A5:w | "2." C5:w | "a 2" D5:w`,
			first: `E5:q F5:q G5:h | A5:w | R | D5:w`, second: `R | R | C5:w | D5:w`,
		},
		{
			name: "a 2, divided, solo", why: `"a 2" holds over the chords of a "div.", a number ends it`,
			music: `"a 2" C5:h D5:h | "div." C5+E5:h D5:h | "1. Solo" E5:w | "tutti" F5:w`,
			first: `C5:h D5:h | E5:h D5:h | "Solo" E5:w | "tutti" F5:w`, second: `C5:h D5:h | C5:h D5:h | R | "tutti" F5:w`,
		},
		{
			name: "nobody is named", why: "where the score does not say who plays, both play and a warning says from which bar on (issue 3)",
			music: `E5:w | F5:w | "1." G5:w | C5+E5:w | D5:w`,
			first: `E5:w | F5:w | G5:w | E5:w | D5:w`, second: `E5:w | F5:w | R | C5:w | D5:w`,
			doubt: "1 5",
		},
		{
			name: "a voice that begins in mid bar", why: "before the voices part, the one line is for both or for those who are named",
			music: `"a 2" C5:h E5:h / _:h C5:h | "1." C5:q D5:q E5:h / _:h C5:h`,
			first: `C5:h E5:h | C5:q D5:q E5:h`, second: `C5:h C5:h | r:h C5:h`,
		},
		{
			name: "a note that only one can hold", why: "a whole note is not for a player who begins another line under it",
			music: `E5:w / _:h C5:h`,
			first: `E5:w`, second: `r:h C5:h`,
		},
		{
			name: "printed rests of the lower voice", why: "they say that the second player rests, no word is needed",
			music: `E5:q F5:q G5:h / r:h C5:h | E5:w / r:w`,
			first: `E5:q F5:q G5:h | E5:w`, second: `r:h C5:h | r:w`,
		},
		{
			name: "hidden rests of the lower voice", why: "they say nothing: software fills voices with them",
			music: `"1." E5:q F5:q G5:h / x:h C5:h`,
			first: `E5:q F5:q G5:h`, second: `r:h C5:h`,
		},
		{
			name: "a lower voice alone", why: "stems down without an upper voice are the second player's",
			music: `E5:w / C5:w | x:w / C5:w`,
			first: `E5:w | R`, second: `C5:w | C5:w`,
		},
		{
			name: "tie from a unison into two voices", why: "each player's tie has both its ends",
			music: `"a 2" C5:w~ | C5:h^ E5:h / C5:w`,
			first: `C5:w~ | C5:h^ E5:h`, second: `C5:w~ | C5:w^`,
		},
		{
			name: "tie from a unison of voices into the lower", why: "it is written at the upper voice's note, which goes elsewhere: the lower player's own is tied",
			music: `C5:w~ / C5:w | E5:w / C5:w^`,
			first: `C5:w | E5:w`, second: `C5:w~ | C5:w^`,
		},
		{
			name: "tie that the other voice carries on", why: "a player who goes on with another note is tied no longer",
			music: `"a 2" C5:w~ | C5:w^ / A4:w`,
			first: `C5:w~ | C5:w^`, second: `C5:w | A4:w`,
		},
		{
			name: "a held note under a new word", why: "the word is for the next note that is struck",
			music: `"a 2" C5:w~ | "1." C5:h^ D5:h`,
			first: `C5:w~ | C5:h^ D5:h`, second: `C5:w~ | C5:h^ r:h`,
		},
		{
			name: "slur from a unison into two voices", why: "slurs are complete in each part",
			music: `"a 2" C5:h( D5:h | E5:w) / C5:w`,
			first: `C5:h( D5:h | E5:w)`, second: `C5:h( D5:h | C5:w)`,
		},
		{
			name: "slur that one player does not finish", why: "a lone end is taken out",
			music: `"a 2" C5:h( D5:h | "1." E5:w)`,
			first: `C5:h( D5:h | E5:w)`, second: `C5:h D5:h | R`,
		},
		{
			name: "two slurs that end on one note", why: "one end is written for both: each has it",
			music: `E5:h( F5:h / C5:h( D5:h | "a 2" E5:w)`,
			first: `E5:h( F5:h | E5:w)`, second: `C5:h( D5:h | E5:w)`,
		},
		{
			name: "a slur from one note that ends in both voices", why: "one beginning is written for both",
			music: `"a 2" E5:w( | F5:w) / D5:w)`,
			first: `E5:w( | F5:w)`, second: `E5:w( | D5:w)`,
		},
		{
			name: "slur over chords", why: "what stands once at the stem is for both",
			music: `C5+E5:h( D5+F5:h)`,
			first: `E5:h( F5:h)`, second: `C5:h( D5:h)`,
		},
		{
			name: "articulations of chords and voices", why: "given once for a chord they go to both; between voices they go with the stems (part-preparation 7)",
			music: `C5+E5:q. D5+F5:q C5+E5:h | E5:w. / C5:w`,
			first: `E5:q. F5:q E5:h | E5:w.`, second: `C5:q. D5:q C5:h | C5:w`,
		},
		{
			name: "a pause of one voice", why: "a pause holds for all players (gehrkens-mnt s.36-44)",
			music: `"1." E5:w? | E5:h C5:h? / C5:w`,
			first: `E5:w? | E5:h C5:h?`, second: `R? | C5:w?`,
		},
		{
			name: "beams", why: "a group that lost notes is closed again",
			music: `"a 2" C5:e{ D5:e- "1." E5:e- F5:e} G5:h`,
			first: `C5:e{ D5:e- E5:e- F5:e} G5:h`, second: `C5:e{ D5:e} r:q r:h`,
		},
		{
			name: "a single note of a beam", why: "it has its flag",
			music: `"1." C5:e{ D5:e- E5:e- "a 2" F5:e} G5:h`,
			first: `C5:e{ D5:e- E5:e- F5:e} G5:h`, second: `r:q r:e F5:e G5:h`,
		},
		{
			name: "tuplets", why: "rests inside a tuplet keep its rhythm, and its bracket has both ends",
			music: `"a 2" C5:et[{ "1." D5:et- E5:et]} F5:q G5:h`,
			first: `C5:et{[ D5:et- E5:et}] F5:q G5:h`, second: `C5:et[ r:et r:et] r:q r:h`,
		},
		{
			name: "a tuplet for one player", why: "the other has a plain rest in its place",
			music: `"1." C5:et[{ D5:et- E5:et]} "a 2" F5:q G5:h`,
			first: `C5:et{[ D5:et- E5:et}] F5:q G5:h`, second: `r:q F5:q G5:h`,
		},
		{
			name: "grace notes", why: "they go with the note that they lead to",
			music: `"1." g!D5:e C5:h "a 2" g!D5:e C5:h`,
			first: `g!D5:e C5:h g!D5:e C5:h`, second: `r:h g!D5:e C5:h`,
		},
		{
			name: "grace notes before chords", why: "chords of one size go note by note, a single one to both",
			music: `g!B4+D5:e C5+E5:h g!D5:e C5+E5:h`,
			first: `g!D5:e E5:h g!D5:e E5:h`, second: `g!B4:e C5:h g!D5:e C5:h`,
		},
		{
			name: "dynamics given once", why: "they serve both (part-preparation 7)",
			music: `!p E5:h !f G5:h / C5:h D5:h`,
			first: `!p E5:h !f G5:h`, second: `!p C5:h !f D5:h`,
		},
		{
			name: "dynamics of each voice", why: "a voice with marks of its own goes by those",
			music: `!p E5:h G5:h / !f C5:h D5:h`,
			first: `!p E5:h G5:h`, second: `!f C5:h D5:h`,
		},
		{
			name: "dynamics and words of the other player", why: "they are dropped; the dynamic in force is said again at the entry (common practice, no source)",
			music: `"1." !p "dolce" E5:w | "a 2" D5:w`,
			first: `!p "dolce" E5:w | D5:w`, second: `R | !p D5:w`,
		},
		{
			name: "a hairpin", why: "both ends go to all who sound under it",
			music: `!< E5:h G5:h !. / C5:h D5:h | "1." !< E5:w !.`,
			first: `!< E5:h G5:h !. | !< E5:w !.`, second: `!< C5:h D5:h !. | R`,
		},
		{
			name: "a direction inside a long note", why: "it is moved to the note with an offset (MusicXML 4.0, offset)",
			music: `E5:q F5:q !f G5:h / C5:w`,
			first: `E5:q F5:q !f G5:h`, second: `!f@48 C5:w`,
		},
		{
			name: "words under a voice", why: "lyrics printed once for two voices go to both (musicxml-coverage 13)",
			music: `E5:h'la' G5:h'lo' / C5:h D5:h`,
			first: `E5:h'la' G5:h'lo'`, second: `C5:h'la' D5:h'lo'`,
		},
		{
			name: "rests show the beats", why: "no rest runs over the middle of a bar in four (common practice, no source)",
			music: `"a 2" C5:q "1." D5:hd | "a 2" C5:q "1." D5:q "a 2" E5:h`,
			first: `C5:q D5:hd | C5:q D5:q E5:h`, second: `C5:q r:q r:h | C5:q r:q E5:h`,
		},
		{
			name: "unison under two stems, one hidden", why: "a hidden duplicate is shown in the part (musicxml-coverage 4)",
			music: `E5:h G5:h / E5:h* C5:h`,
			first: `E5:h G5:h`, second: `E5:h C5:h`,
		},
		{
			name: "unison under two stems, both hidden", why: "nobody shows it: it stays hidden",
			music: `E5:w* / E5:w*`,
			first: `E5:w*`, second: `E5:w*`,
		},
		{
			name: "a hidden note beside another", why: "it is hidden for another reason",
			music: `E5:w / C5:w*`,
			first: `E5:w`, second: `C5:w*`,
		},
		{
			name: "a dynamic while nobody plays", why: "it is for those who play next; the other has it at the entry",
			music: `"a 2" E5:h r:h | !p r:h "1." F5:h | "2." D5:w`,
			first: `E5:h r:h | !p r:h F5:h | R`, second: `E5:h r:h | R | !p D5:w`,
		},
		{
			name: "dotted notes in a triplet", why: "the rests are written as they are",
			music: `"a 2" C5:et[ "1." D5:edt E5:st] F5:q G5:h`,
			first: `C5:et[ D5:edt E5:st] F5:q G5:h`, second: `C5:et[ r:edt r:st] r:q r:h`,
		},
		{
			name: "solo of the one who plays", why: `"Solo" alone means the one who is named already, else the first`,
			music: `"2." E5:w | "Solo" F5:w | "a 2" D5:w | "Solo" C5:w`,
			first: `R | R | D5:w | "Solo" C5:w`, second: `E5:w | "Solo" F5:w | D5:w | R`,
		},
		{
			name: "numbers at one moment", why: "they add up",
			music: `"1." "2." E5:w | "1." "a 2" F5:w | "a 2" "2." G5:w`,
			first: `E5:w | F5:w | R`, second: `E5:w | R | G5:w`,
		},
		{
			name: "rests of the score before and after a gap", why: "they are written together with it; one that carries a pause is not",
			music: `"a 2" C5:q r:e "1." D5:e E5:e r:e r:q | "a 2" C5:q r:q? "1." D5:q r:q`,
			first: `C5:q r:e D5:e E5:e r:e r:q | C5:q r:q? D5:q r:q`, second: `C5:q r:q r:h | C5:q r:q? r:h`,
		},
		{
			name: "grace notes that lead to a rest", why: "the words say whose they are",
			music: `"1." g!D5:e r:h C5:h`,
			first: `g!D5:e r:h C5:h`, second: `R`,
		},
		{
			name: "a mark at the end of a voice's bar", why: "it is of that voice, and for those who sound next",
			music: `E5:w / C5:w | E5:w "x" / C5:w | "2." C5:w`,
			first: `E5:w | E5:w "x" | R`, second: `C5:w | C5:w "x" | C5:w`,
		},
		{
			name: "dynamics of each voice in a later bar", why: "the same as in the first",
			music: `E5:w / C5:w | !p E5:w / !f C5:w`,
			first: `E5:w | !p E5:w`, second: `C5:w | !f C5:w`,
		},
		{
			name: "slurs with a rest between", why: "nothing is joined over a rest; a beginning that has no end in the score stays as it is",
			music: `E5:h( F5:h / C5:h( r:h | "a 2" E5:w)`,
			first: `E5:h( F5:h | E5:w)`, second: `C5:h( r:h | E5:w`,
		},
		{
			name: "two slurs of the lower voice, one without an end", why: "the last that is open is the one that ends",
			music: `E5:q( F5:q E5:h / C5:q( D5:q) C5:q( D5:q | "a 2" E5:w)`,
			first: `E5:q( F5:q E5:h | E5:w)`, second: `C5:q( D5:q) C5:q( D5:q | E5:w)`,
		},
		{
			name: "grace notes at the end of the upper voice's bar", why: "they stand there once",
			music: `E5:h F5:h g!G5:e / C5:w`,
			first: `E5:h F5:h g!G5:e`, second: `C5:w`,
		},
		{
			name: "grace notes alone in a bar's end of another voice", why: "they lead to nothing and stay",
			music: `E5:w / C5:h D5:h g!C5:e`,
			first: `E5:w`, second: `C5:h D5:h g!C5:e`,
		},
		{
			name: "names and numbers", why: "the name of the instrument may stand beside the number",
			music: `"Fl. 1" E5:w | "2. Fl." D5:w | "1.2." F5:w | "I" G5:w | "(II)" A5:w | "beide" G5:w`,
			first: `E5:w | R | F5:w | G5:w | R | G5:w`, second: `R | D5:w | F5:w | R | A5:w | G5:w`,
		},
		{
			name: "bare digits that count", why: "a 3 over two players counts bars, and so do the others",
			music: `"a 2" E5:w | "2" E5:w | "3" E5:w`,
			first: `E5:w | "2" E5:w | "3" E5:w`, second: `E5:w | "2" E5:w | "3" E5:w`,
		},
		{name: "a solo of two", why: "it is the first player's", music: `"1.2." E5:h "Solo" F5:h`, first: `E5:h "Solo" F5:h`, second: "E5:h r:h"},
		{name: "a grace note of a voice without notes, over two that have some", why: "nothing says whose it is: it is not lost", music: `E5:w / C5:w / g!D5:e r:w`, first: `E5:w / g!D5:e _96`, second: `C5:w / g!D5:e _96`, doubt: "1"},
		{name: "the later voice first in the file", why: "words hold in the order of time", music: `<forward><duration>48</duration></forward> "2." ` + rawNote(2, "D", 48, 0) + `<backup><duration>96</duration></backup> "1." ` + rawNote(1, "E", 48, 0), first: "E5:h r:h", second: "r:h D5:h"},
		{name: "hidden strokes on another line", why: "a stroke has no pitch that the other voice could show", music: `u!F4:w / u!D4:w*`, first: ":w", second: ":w*"},
		{name: "a hidden stroke beside the lowest C", why: "a stroke has no pitch", music: `C0:w / u!D4:w*`, first: "C0:w", second: ":w*"},
		{name: "the lowest C hidden beside a stroke", why: "nor does a stroke show one", music: `u!F4:w / C0:w*`, first: ":w", second: "C0:w*"},
		{name: "a slur inside a tuplet, over rests of one player", why: "nobody slurs to a rest", music: `"a 2" C5:et[( "1." D5:et E5:et]) F5:q G5:h`, first: "C5:et[( D5:et E5:et]) F5:q G5:h", second: "C5:et[ r:et r:et] r:q r:h"},
		{
			name: "two slurs that end on a unison, one with a beginning of the lower voice", why: "a beginning opens one slur: the other began at a note of the upper voice alone",
			music: slurred(rawNote(1, "F", 96, 0), "start", 1) + rawNote(2, "D", 96, 96) + "| " + slurred(rawNote(1, "E", 96, 0), "start", 2) + slurred(rawNote(2, "C", 96, 96), "start", 3) + `| "a 2" ` + slurred(rawNote(1, "D", 48, 0), "stop", 2) + slurred(rawNote(1, "C", 48, 0), "stop", 1),
			first: "F5:w( | E5:w( | D5:h) C5:h)", second: "D5:w | C5:w( | D5:h) C5:h",
		},
		{
			name: "two slurs of a unison, one with an end of the lower voice", why: "an end closes one slur: the longer one goes on to where the upper voice's ends",
			music: `"a 2" ` + slurred(rawNote(1, "C", 48, 0), "start", 1) + slurred(rawNote(1, "D", 48, 0), "start", 2) + "| " + slurred(rawNote(1, "E", 96, 0), "stop", 2) + slurred(rawNote(2, "C", 96, 96), "stop", 3) + "| " + slurred(rawNote(1, "F", 96, 0), "stop", 1) + rawNote(2, "D", 96, 96),
			first: "C5:h( D5:h( | E5:w) | F5:w)", second: "C5:h( D5:h( | C5:w) | D5:w)",
		},
		{name: "the end of the other's slur before a beginning that never ends", why: "no slur goes backwards", music: `E5:w( / C5:w | "a 2" E5:w) | D5:w(`, first: "E5:w( | E5:w) | D5:w(", second: "C5:w | E5:w | D5:w("},
		{name: "a beginning behind an end that nothing begins", why: "no slur goes backwards", music: `"a 2" E5:w) | D5:w( | F5:w) / C5:w`, first: "E5:w) | D5:w( | F5:w)", second: "E5:w) | D5:w( | C5:w)"},
		{name: "a rest, then what the other plays", why: "it is one silence", music: `"a 2" r:q "1." D5:q "a 2" E5:h`, first: "r:q D5:q E5:h", second: "r:h E5:h"},
		{name: "a hidden note", why: "it was hidden because the other voice shows it: the own part does", music: `E5:w / E5:w*`, first: "E5:w", second: "E5:w"},
		{name: "a hidden note of another pitch", why: "it stays hidden", music: `E5:w / C5:w*`, first: "E5:w", second: "C5:w*"},
		{name: "a hidden note of another time", why: "it stays hidden", music: `E5:h F5:h / C5:h E5:h*`, first: "E5:h F5:h", second: "C5:h E5:h*"},
		{name: "hidden notes of both voices", why: "nobody shows it", music: `E5:w* / E5:w*`, first: "E5:w*", second: "E5:w*"},
		{name: "a hidden note of another staff", why: "each staff shows its own", music: `E5:w // E5:w*`, first: "E5:w", second: "E5:w*"},
		{name: "voices that are numbered anew", why: "software counts on: the upper of those in the bar is the first player's", music: `E5:w / C5:w | _:w / _:w / F5:w / D5:w`, first: "E5:w | F5:w", second: "C5:w | D5:w"},
		{name: "voices numbered anew, the lower one first in the file", why: "the upper is the one with the lower number", music: `E5:w / C5:w | ` + rawNote(4, "D", 96, 0) + rawNote(3, "F", 96, 96), first: "E5:w | F5:w", second: "C5:w | D5:w"},
		{name: "a lower voice alone in mid bar", why: "it is still its player's; before it nothing says who plays", music: `E5:h / _:h C5:h`, first: "E5:h r:h", second: "E5:h C5:h", doubt: "1"},
		{name: "a lower voice alone under the other's number", why: "the number is for the upper one", music: `"1." E5:h / _:h C5:h`, first: `E5:h r:h`, second: "r:h C5:h"},
		{name: "dynamics of each voice, then a rest of one", why: "the player was told a dynamic of the own voice, the other's was not missed", music: `!p E5:w / !f C5:w | "1." E5:w | "a 2" D5:w`, first: `!p E5:w | E5:w | D5:w`, second: `!f C5:w | R | D5:w`},
		{name: "a dynamic that the player has already", why: "it is not said again", music: `"1." !p E5:w | "a 2" D5:w | "1." !p E5:w | "a 2" D5:w`, first: `!p E5:w | D5:w | !p E5:w | D5:w`, second: `R | !p D5:w | R | D5:w`},
		{name: "a dynamic at the bar line that is the other's", why: "the voice goes by its own, and has not rested", music: `!p E5:w !f / !p C5:w | E5:w / C5:w`, first: `!p E5:w !f | E5:w`, second: `!p C5:w | C5:w`},
		{name: "a dynamic inside a note of the upper voice, which begins with a rest", why: "it is the lower voice's, where the upper begins no note", music: `r:q E5:hd / C5:h !f D5:h`, first: `r:q E5:hd`, second: `C5:h !f D5:h`},
		{name: "a dynamic of one voice, words of the other", why: "words are no dynamic of the own voice", music: `!p E5:w / C5:h "dolce" D5:h`, first: `!p E5:w`, second: `!p C5:h "dolce" D5:h`},
		{name: "the end of a tie that nothing leads to, under a new word", why: "nobody holds it: it is the next note", music: `"a 2" C5:w | "1." C5:h^ D5:h`, first: `C5:w | C5:h^ D5:h`, second: `C5:w | R`},
		{name: "a number, then a voice for each", why: "it does not go on where two play: behind them nothing says who plays", music: `"1." G5:w | E5:w / C5:w | D5:w`, first: `G5:w | E5:w | D5:w`, second: `R | C5:w | D5:w`, doubt: "3"},
		{name: "a slur that never ends before one of the same number", why: "the number begins anew (MusicXML 4.0, slur): the second end has no beginning, and the first beginning stays", music: `"a 2" E5:q( F5:q( G5:q) "1." A5:q)`, first: `E5:q( F5:q( G5:q) A5:q)`, second: `E5:q( F5:q( G5:q) r:q`},
		{name: "in compound time", why: "rests show the beats", music: `6/8 "1." E5:qd "a 2" D5:qd`, first: `E5:qd D5:qd`, second: `r:qd D5:qd`},
		{
			name: "numbers that mean no player", why: "a repeat's word stays",
			music: `"a 2" E5:w | "1. volta" E5:w | "Tempo I" E5:w`,
			first: `E5:w | "1. volta" E5:w | "Tempo I" E5:w`, second: `E5:w | "1. volta" E5:w | "Tempo I" E5:w`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			parts, warnings := dealt(t, c.music, pair())
			assert.Equal(t, c.first, parts[0], "first player: %s", c.why)
			assert.Equal(t, c.second, parts[1], "second player: %s", c.why)
			assert.Equal(t, c.doubt, measuresOf(warnings, "both-play"), "warnings")
		})
	}
}

// rawNote writes a half or whole note of a voice as MusicXML has it, behind a step back.
func rawNote(voice int, step string, duration, back int) string {
	text := ""
	if back > 0 {
		text = fmt.Sprintf(`<backup><duration>%d</duration></backup> `, back)
	}
	value := map[int]string{48: "half", 96: "whole"}[duration]
	return text + fmt.Sprintf(`<note><pitch><step>%s</step><octave>5</octave></pitch><duration>%d</duration><voice>%d</voice><type>%s</type></note> `, step, duration, voice, value)
}

// slurred gives a note an end of a slur.
func slurred(note, end string, number int) string {
	return strings.Replace(note, "</note>", fmt.Sprintf(`<notations><slur type="%s" number="%d"/></notations></note>`, end, number), 1)
}

// More notes at once than players: in a chord, in voices; not where each has one.
func TestCrowded(t *testing.T) {
	t.Parallel()
	for music, want := range map[string]string{
		"C5+E5:w | C5:w / A4:w": "", "C5+E5:w | C5+E5+G5:w": "2:1", "G5:w / E5:w / C5:w": "1:1", "C5+E5+G5:w | C5+E5+G5:w | C5:w": "1:1",
		"G5:w / E5:w / r:h C5:h": "1:3", "G5:w / E5:h r:h / r:h C5:h": "", "G5:h A5:h / E5:w / r:hd C5:q": "1:4", "G5:w / r:q E5:hd / r:hd C5:q": "1:4", "E5+G5:w / x:h C5:h": "1:3", "E5+G5:h F5:h / x:h C5:h": "",
		"G5:w / E5:w / x:h C5:h | C5:w": "1:3", "E5+G5+B5:w / x:h C5:h": "1:1",
	} {
		_, warnings := dealt(t, music, pair())
		got := ""
		for _, w := range warnings {
			if w.Code == "too-many-notes" {
				got += w.Measure + ":" + w.Beat
			}
		}
		assert.Equal(t, want, got, music)
	}
}

// What cannot be divided is refused.
func TestDivideRefuses(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	timeline := lay(t, shorthand.Part(t, `C5:w`))
	for _, o := range []divisi.Options{
		{Lexicon: lexicon}, {Lexicon: lexicon, Players: make([]divisi.Player, divisi.MaxPlayers+1)}, {Lexicon: lexicon, Players: pair(), Keep: -1},
		{Lexicon: lexicon, Players: pair(), Keep: 2}, {Players: pair()},
	} {
		_, err := divisi.Divide(timeline, o)
		assert.Error(t, err)
	}
	_, err = divisi.Divide(timeline, divisi.Options{Lexicon: lexicon, Players: make([]divisi.Player, 17)})
	assert.EqualError(t, err, "a part cannot be divided among 17 players (at most 16)")
	tree := shorthand.Part(t, `C5:w`)
	note := tree.FindElement("measure/note")
	for range 5000 {
		musicxml.SetChildText(note, "duration", "1")
		tree.FindElement("measure").AddChild(note.Copy())
	}
	var fault *musicxml.Error
	_, err = divisi.Divide(lay(t, tree), divisi.Options{Lexicon: lexicon, Players: pair()})
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "1", fault.Measure)
	assert.EqualError(t, fault.Err, "a bar with more than 5000 notes cannot be shared out among players")
	assert.Equal(t, "extract the part without sharing it out", fault.Hint)
	for keep := range divisi.MaxPlayers {
		_, err := divisi.Divide(lay(t, shorthand.Part(t, `C5:w`)), divisi.Options{Lexicon: lexicon, Players: make([]divisi.Player, divisi.MaxPlayers), Keep: keep})
		assert.NoError(t, err)
	}
}

func TestDivideByInstruments(t *testing.T) {
	t.Parallel()
	players := []divisi.Player{{Number: 1, Instruments: []string{"I1"}}, {Number: 2, Instruments: []string{"I2"}}}
	for _, c := range []struct {
		name, why     string
		music         string
		first, second string
		doubt         string
	}{
		{
			name: "shared notes carry both", why: "the ids say all, words or not (musicxml-coverage 9, instrument)",
			music: `E5:h#1 F5:h#2 | G5:w#12 / C5:w#2`,
			first: `E5:h#1 r:h | G5:w#1`, second: `r:h F5:h#2 | G5:w#2 / C5:w#2`,
		},
		{
			name: "a chord of which one note names nobody", why: "the ids do not say all of it: the upper note is the first player's",
			music: `G5:h#1 A5:h#2 | C5:w#1 +E5:w`,
			first: `G5:h#1 r:h | E5:w`, second: `r:h A5:h#2 | C5:w`,
		},
		{name: "the id of nobody", why: "it does not say who plays, and stays", music: `E5:h#1 F5:h#2 | G5:w#3 / C5:w#2`, first: `E5:h#1 r:h | G5:w#3`, second: `r:h F5:h#2 | C5:w#2`},
		{
			name: "shared notes carry both, others one", why: `then the ids say more than "a 2"`,
			music: `"a 2" E5:w#12 | F5:w#1 | G5:w#2`,
			first: `E5:w#1 | F5:w#1 | R`, second: `E5:w#2 | R | G5:w#2`,
		},
		{
			name: "one id a voice, unison by words", why: `where no note carries both, "a 2" says more than the id`,
			music: `E5:w#1 / C5:w#2 | "a 2" E5:w#1 | "1." F5:w#1`,
			first: `E5:w#1 | E5:w#1 | F5:w#1`, second: `C5:w#2 | E5:w | R`,
		},
		{
			name: "one id for everything", why: "software names the first instrument at every note: that says nothing",
			music: `E5:w#1 / C5:w#1 | E5:w#1`,
			first: `E5:w#1 | E5:w#1`, second: `C5:w#1 | E5:w#1`, doubt: "2",
		},
		{
			name: "ids in a chord", why: "the ids decide, not the pitch",
			music: `C5:h#1 E5:h#2`,
			first: `C5:h#1 r:h`, second: `r:h E5:h#2`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			parts, warnings := dealt(t, c.music, players)
			assert.Equal(t, c.first, parts[0], "first player: %s", c.why)
			assert.Equal(t, c.second, parts[1], "second player: %s", c.why)
			assert.Equal(t, c.doubt, measuresOf(warnings, "both-play"), "warnings")
		})
	}
}

func TestDivideAmongMore(t *testing.T) {
	t.Parallel()
	numbered := func(numbers ...int) []divisi.Player {
		var players []divisi.Player
		for _, n := range numbers {
			players = append(players, divisi.Player{Number: n})
		}
		return players
	}
	for _, c := range []struct {
		name, why string
		music     string
		players   []divisi.Player
		parts     []string
		doubt     string // measures of both-play warnings
		crowd     string // measures of too-many-notes warnings
	}{
		{
			name: "three trombones", why: "upper voice to the first two, lower to the third; chords from the top",
			music:   `"a 2" E5:w / C4:w | C5+E5:w / C4:w | C4+E4+G4:w | "3." C4:w`,
			players: numbered(1, 2, 3),
			parts:   []string{`E5:w | E5:w | G4:w | R`, `E5:w | C5:w | E4:w | R`, `C4:w | C4:w | C4:w | C4:w`},
		},
		{
			name: "four horns, two staves", why: "two players a staff; the numbers are those of the name",
			music:   `"1." E5:w // "3." C4:w | C5+E5:w // "a 2" D4:w`,
			players: numbered(1, 2, 3, 4),
			parts:   []string{`E5:w | E5:w`, `R | C5:w`, `C4:w | D4:w`, `R | D4:w`},
		},
		{
			name: "horns 3 and 4", why: "the words use the numbers of the part's name",
			music:   `"3." E5:w | "4." C5:w | "a 2" D5:w`,
			players: numbered(3, 4),
			parts:   []string{`E5:w | R | D5:w`, `R | C5:w | D5:w`},
		},
		{
			name: "bare digits for horns 3 and 4", why: "by the numbers of the name, else counted from the top: none of them counts bars",
			music:   `"3" E5:w | "4" C5:w | "1" D5:w`,
			players: numbered(3, 4),
			parts:   []string{`E5:w | R | D5:w`, `R | C5:w | R`},
		},
		{
			name: "the lower voice of four alone", why: "it is that of the last two; which of them plays is not said",
			music:   `"a 2" E5:w / C5:w | x:w / C5:w`,
			players: numbered(1, 2, 3, 4),
			parts:   []string{`E5:w | R`, `E5:w | R`, `C5:w | C5:w`, `C5:w | C5:w`}, doubt: "2",
		},
		{
			name: "the lower voice of four in mid bar, under another's number", why: "it is that of the last two; which of them plays is not said",
			music:   `"1." E5:h / _:h C5:h`,
			players: numbered(1, 2, 3, 4),
			parts:   []string{`E5:h r:h`, `R`, `r:h C5:h`, `r:h C5:h`}, doubt: "1",
		},
		{
			name: "two notes for three", why: "the score does not say which two: the upper note is doubled, with a warning",
			music:   `C5+E5:w`,
			players: numbered(1, 2, 3),
			parts:   []string{`E5:w`, `E5:w`, `C5:w`}, doubt: "1",
		},
		{
			name: "more notes than players", why: "no note is lost: the last player has what remains",
			music:   `C5+E5+G5:w`,
			players: numbered(1, 2),
			parts:   []string{`G5:w`, `C5+E5:w`}, crowd: "1",
		},
		{
			name: "numbers for the lower voice", why: "the upper one is still that of the first two; which of them plays is not said",
			music:   `"3.4." E5:w / C4:w`,
			players: numbered(1, 2, 3, 4),
			parts:   []string{`E5:w`, `E5:w`, `C4:w`, `C4:w`}, doubt: "1",
		},
		{
			name: "a chord for as many as are named", why: "they are the ones who play it",
			music:   `"1.3." C5+E5:w`,
			players: numbered(1, 2, 3),
			parts:   []string{`E5:w`, `R`, `C5:w`},
		},
		{
			name: "more voices than players, the lowest first in the file", why: "the parts have them from the top",
			music:   rawNote(3, "C", 96, 0) + rawNote(2, "E", 96, 96) + rawNote(1, "G", 96, 96),
			players: numbered(1, 2),
			parts:   []string{`G5:w`, `E5:w / C5:w`}, crowd: "1",
		},
		{
			name: "more voices than players", why: "no note is lost: the last player has the rest in voices of their own",
			music:   `G5:w / E5:w / C5:w`,
			players: numbered(1, 2),
			parts:   []string{`G5:w`, `E5:w / C5:w`}, crowd: "1",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			parts, warnings := dealt(t, c.music, c.players)
			assert.Equal(t, c.parts, parts, c.why)
			assert.Equal(t, c.doubt, measuresOf(warnings, "both-play"))
			assert.Equal(t, c.crowd, measuresOf(warnings, "too-many-notes"))
		})
	}
}

// measuresOf lists the measures of the warnings of one code.
func measuresOf(warnings []musicxml.Warning, code string) string {
	var bars []string
	for _, w := range warnings {
		if string(w.Code) == code {
			bars = append(bars, w.Measure)
		}
	}
	return strings.Join(bars, " ")
}
