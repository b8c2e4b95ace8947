// Package answers keeps the answers to questions that all parts of a score ask over
// again, such as what their words mean.
package answers
