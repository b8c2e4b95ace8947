// Package plan is the table that says who plays what: a row a part, as a spreadsheet
// saves it. It knows no score; what fits one is for package parts to say.
package plan
