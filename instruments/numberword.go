package instruments

import (
	"slices"
	"strconv"
	"unicode/utf8"
)

// maxPlayers is the highest number that is taken for a player's.
const maxPlayers = 40

var romanNumbers = map[string]int{
	"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9, "x": 10,
	"xi": 11, "xii": 12,
}

// ordinalEndings follow a number without a space: 1st, 2nd, 1er, 2e, 1a, 3te.
var ordinalEndings = []string{"st", "nd", "rd", "th", "er", "ers", "re", "ere", "eres", "e", "eme",
	"emes", "ieme", "iemes", "ds", "nds", "des", "mo", "ro", "ros", "a", "o", "os", "as", "da", "do", "di", "de", "te", "ten", "ter", "to", "ta"}

// readNumber reads a player's number at the head of the tokens: "1", "2nd", "III",
// "erste". The second result is the number of tokens it takes, 0 for none.
func (v *vocabulary) readNumber(tokens []token) (number, taken int) {
	t := tokens[0]
	if t.isNumber() {
		return digits(tokens)
	}
	if n, ok := romanNumbers[t.text]; ok && (len(t.text) > 1 || !t.isLower()) {
		return n, 1
	}
	if entry, taken := v.find(roleOrdinal, tokens[:1]); taken > 0 {
		n, _ := strconv.Atoi(entry.meaning)
		return n, taken
	}
	return 0, 0
}

func digits(tokens []token) (number, taken int) {
	n, err := strconv.Atoi(tokens[0].text)
	if err != nil || n < 1 || n > maxPlayers {
		return 0, 0
	}
	if len(tokens) == 1 || tokens[1].before != 0 {
		return n, 1
	}
	// What is glued to a number belongs to it: 2nd, but 8vb is no number of a player.
	// Other scripts have no space there.
	switch glued := tokens[1].text; {
	case slices.Contains(ordinalEndings, glued):
		return n, 2
	case len(glued) > 1 && glued[0] < utf8.RuneSelf:
		return 0, 0
	}
	return n, 1
}

// addNumber adds a player, or with a hyphen before it all from the last one on.
func addNumber(numbers []int, n int, rangeTo bool) []int {
	if !rangeTo || len(numbers) == 0 {
		return union(numbers, []int{n})
	}
	for next := numbers[len(numbers)-1] + 1; next <= n; next++ {
		numbers = union(numbers, []int{next})
	}
	return numbers
}

// numberList writes players' numbers as the labels take them: "3,4".
func numberList(numbers []int) string {
	text := ""
	for n, number := range numbers {
		if n > 0 {
			text += ","
		}
		text += strconv.Itoa(number)
	}
	return text
}

// players returns the numbers of the players, counted where the name says how many.
func (m *mention) players() []int {
	if len(m.numbers) > 0 || m.count == 0 {
		return m.numbers
	}
	var all []int
	for n := 1; n <= min(m.count, maxPlayers); n++ {
		all = append(all, n)
	}
	return all
}
