package words_test

import (
	"fmt"
	"log"

	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

func Example() {
	third := pitch.Interval{Diatonic: 2, Chromatic: 3}
	for _, l := range pitch.Languages() {
		in, err := words.In(l)
		if err != nil {
			log.Fatal(err)
		}
		b, err := pitch.Parse("Bb4")
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s: %s, %s, %s\n", l, in.Pitch(b), in.Major(-3), in.Moved(third))
	}
	// Output:
	// en: B♭4, E♭ major, a minor third up
	// de: B4, Es-Dur, eine kleine Terz nach oben
	// fr: si♭4, mi bémol majeur, une tierce mineure vers le haut
	// it: si♭4, mi bemolle maggiore, una terza minore verso l'alto
	// es: si♭4, mi bemol mayor, una tercera menor hacia arriba
}
