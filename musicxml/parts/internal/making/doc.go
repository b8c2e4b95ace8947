// Package making makes the document of a part, from the first reading to what the audit
// says of it: of one staff, of several staves of one player, of one staff for several
// players.
package making
