// Package parts is the copyist: it makes the parts that stand on the players'
// desks out of a score.
//
// A [Copyist] reads every part of the score once ([Copyist.Survey]), so that it
// knows what holds for all players and how the score is to be read; then it says
// which part files there will be ([Copyist.Assign]) and makes them one by one
// ([Copyist.Make]). Survey and Make may run for several parts at once.
//
//	c, err := parts.New(score, catalogue, parts.DefaultOptions())
//	for i := range score.Parts {
//		err = c.Survey(i, nil)
//	}
//	for _, a := range c.Assign() {
//		sheet, err := c.Make(a, nil)
//		// sheet.Document is the part, sheet.Report says what was done
//	}
package parts
