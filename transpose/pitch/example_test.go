package pitch_test

import (
	"fmt"

	"deskpart/transpose/pitch"
)

// A clarinet in B flat sounds a major second lower than it reads; so what sounds as
// a concert E flat it reads as F, in a key of two flats less.
func Example() {
	sounds := pitch.Interval{Diatonic: -1, Chromatic: -2}
	concert, _ := pitch.Parse("Eb4")
	key, _ := pitch.ParseKey("Eb")
	back := sounds.Negate()
	fmt.Println(back.Apply(concert), "in", key.Moved(back))
	fmt.Println("sounds", sounds.WithArticle("en"), "lower:", sounds.Apply(back.Apply(concert)))
	// Output:
	// F4 in F major
	// sounds a major second lower: Eb4
}

func ExampleParseInterval() {
	for _, text := range []string{"minor third down", "two octaves and a major second up", "A4 up"} {
		i, err := pitch.ParseInterval(text)
		fmt.Println(i.Diatonic, i.Chromatic, i, err)
	}
	_, err := pitch.ParseInterval("perfect third up")
	fmt.Println(err)
	// Output:
	// -2 -3 minor third down <nil>
	// 15 26 two octaves and a major second up <nil>
	// 3 6 augmented fourth up <nil>
	// "perfect third up": not an interval such as "minor third down", "octave up" or "M2 down"
}

func ExampleParseKey() {
	k, _ := pitch.ParseKey("F# minor")
	fmt.Println(k, "has", pitch.SignatureWords(k.Fifths), "on", pitch.SignatureNotes(k.Fifths))
	_, err := pitch.ParseKey("C5")
	fmt.Println(err)
	// Output:
	// F# minor has 3 sharps on F# C# G#
	// key "C5" is neither a number of fifths, such as -3, nor a name, such as Eb or F# minor
}

func ExampleInterval_NameIn() {
	i := pitch.Interval{Diatonic: -1, Chromatic: -2}
	for _, language := range pitch.Languages() {
		fmt.Println(i.NameIn(language))
	}
	// Output:
	// major second
	// große Sekunde
	// seconde majeure
	// seconda maggiore
	// segunda mayor
}
