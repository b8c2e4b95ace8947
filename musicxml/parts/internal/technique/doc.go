// Package technique takes out of a part that goes to another instrument what only the
// first one can do.
package technique
