package notice

import "strconv"

// Counted is a number with its noun in English, for what is said in no other language:
// "1 part", "2 parts".
func Counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
