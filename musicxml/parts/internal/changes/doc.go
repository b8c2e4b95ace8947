// Package changes finds where a player goes on with another instrument, and says so on
// the sheet.
package changes
