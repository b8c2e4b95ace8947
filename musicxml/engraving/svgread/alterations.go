package svgread

// alterations are the accidentals and what they mean in semitones (MusicXML 4.0,
// accidental-value; arrows a quarter tone, small figures as commas of a ninth of
// a tone are read as the plain sign).
var alterations = map[string]float64{
	"sharp": 1, "natural": 0, "flat": -1, "double-sharp": 2, "sharp-sharp": 2, "flat-flat": -2,
	"natural-sharp": 1, "natural-flat": -1, "triple-sharp": 3, "triple-flat": -3,
	"quarter-flat": -0.5, "quarter-sharp": 0.5, "three-quarters-flat": -1.5, "three-quarters-sharp": 1.5,
	"sharp-down": 0.5, "sharp-up": 1.5, "natural-down": -0.5, "natural-up": 0.5, "flat-down": -1.5, "flat-up": -0.5,
	"double-sharp-down": 1.5, "double-sharp-up": 2.5, "flat-flat-down": -2.5, "flat-flat-up": -1.5,
	"arrow-down": -0.5, "arrow-up": 0.5,
	"slash-quarter-sharp": 0.5, "slash-sharp": 1, "slash-flat": -1, "double-slash-flat": -1,
	"sharp-1": 1, "sharp-2": 1, "sharp-3": 1, "sharp-5": 1, "flat-1": -1, "flat-2": -1, "flat-3": -1, "flat-4": -1,
	"sori": 0.5, "koron": -0.5,
}
