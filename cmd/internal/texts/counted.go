package texts

import "strconv"

// Counted is a number with its noun in English, for what is said in no other language:
// "1 part", "2 parts".
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
