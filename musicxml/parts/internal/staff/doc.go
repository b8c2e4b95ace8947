// Package staff is a part as it stands on its staves: every note with its place on the
// lines ([Page]). Where notes were moved it chooses the clefs that the player reads,
// turns the stems, settles the marks at them and holds the notes against the range.
package staff
