// Package hearing tells by the ear how the parts of a score are transposed.
//
// A signature may mislead: editions print the sounding key on a clarinet's part, or
// no key on a horn's. What a part sounds like beside the others does not mislead.
// Where two parts that transpose differently play at the same time, the right reading
// has unisons and octaves, fifths, thirds and sixths between them, a wrong one
// seconds, sevenths and tritones. So a reading is worth the mean consonance of all
// intervals that it makes, from −1 to 1:
//
//	var flute, clarinet hearing.Part
//	flute.Add(start, end, 72)    // C5 for a quarter note, as it is written
//	clarinet.Add(start, end, 74) // D5
//	…
//	ear, err := hearing.New()
//	told := ear.Prefer([]*hearing.Part{&flute, &clarinet}, hearing.Shifts{0, 0}, hearing.Shifts{0, -2})
//
// [Ear.Prefer] weighs two readings of a whole score; [Ear.Doubts] hears each part at all
// twelve shifts against the rest and names those that would go better with another.
// Both say how sure they are: few moments, music without a key, or parts that all
// transpose alike tell nothing.
//
// Octaves are beyond this ear, and so is spelling: it knows the twelve pitch classes
// alone. It hears full notes at every eighth note of time; what is shorter and falls
// between does not count. The package knows neither files nor instruments, and shares
// no code with what transposes.
package hearing
