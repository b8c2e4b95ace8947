// Package shorthand writes and reads music in a short notation, so that tests can
// show a bar in a line. Only tests import it.
//
//	E5:q          a note: pitch and value (w h q e s, d for a dot, t for a triplet);
//	              without a value it is a quarter note
//	C5+E5:h       a chord        +E5:q  one more note of the chord before
//	r:q  a rest   x:q  a hidden rest   _:q  nothing   R  a whole bar of rest
//	g!D5:e        a grace note   c!E5:q  a cue note, read only
//	u!F4          a stroke without pitch, shown there
//	E5↑ E5↓ E5!   stems: up, down and none
//	E5:q(  E5:q)  a slur         E5:q~ E5:q^  a tie
//	E5:e{ E5:e- E5:e}   beams    E5:et[ E5:et]  a tuplet
//	E5:q#12       for the instruments I1 and I2     E5:q*  a hidden note
//	E5:q?         a fermata      E5:q. staccato   E5:q'la'  a syllable
//	E5«<trill·/>» whatever else stands in <notations>, with · for a blank
//	"1."          words          !p   a dynamic   !< !> !.  a hairpin and its end
//	treble        a clef by its name; 2treble on the second staff
//	[key -3]      a signature    [transpose -1 -2]  [transpose 0 0 -1]  [clef F 4]
//	[for -1 -2]   a for-part     <change wind.flutes.flute.piccolo>  a change of sound
//	<tempo 60>    a playback tempo    <XML>  anything else, as it stands
//
// Voices of a bar are parted by "/" or "<<", staves by "//", bars by "|", each between
// blanks; "=2" goes on on the second staff. A quarter note has 24 divisions. A part is
// in four quarter notes unless the time is given in front: "3/4 E5:hd".
//
// [Read] and [ReadAll] write a part in the notation; [ReadStaff] writes how it stands
// on its staves: clefs, pitches, stems and beams.
package shorthand
