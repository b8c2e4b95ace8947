// Package draft is a part in the making: its tree, the same laid out in time, what is
// reported of it, and how elements are put where they belong. What a part should hold
// is the stages' affair; those are in the packages beside this one, and each works on a
// [Draft].
package draft
