// Package shorthand writes and reads music in a short notation, so that tests can
// show a bar in a line. Only tests import it.
//
//	E5:q          a note: pitch and value (w h q e s, d for a dot, t for a triplet)
//	C5+E5:h       a chord        r:q  a rest      x:q  a hidden rest
//	c(E5:q)       a cue note, read only
//	_:q           nothing        g(D5:e)  a grace note     R  a whole bar of rest
//	"1."          words          !p   a dynamic   !< !> !.  a hairpin and its end
//	E5:q(  E5:q)  a slur         E5:q~ E5:q^  a tie
//	E5:e{ E5:e- E5:e}   beams    E5:et[ E5:et]  a tuplet
//	E5:q#12       for the instruments I1 and I2     E5:q*  a hidden note
//	E5:q?         a fermata      E5:q. staccato   E5:q'la'  a syllable
//	[key -3]      a signature    [transpose -1 -2]  [transpose 0 0 -1]  [clef F 4]
//	[for -1 -2]   a for-part     <change wind.flutes.flute.piccolo>  a change of sound
//	<tempo 60>    a playback tempo
//
// Voices of a bar are parted by " / ", staves by " // ", bars by " | ". A part is
// in four quarter notes unless the time is given in front: "3/4 E5:hd".
package shorthand
