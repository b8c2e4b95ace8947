// Package divided sets divisi of strings that cannot be read on one staff on two, as
// copyists do (part-preparation, 2: divisi stay in one part, on two staves where that is
// clearer [bostoncons]): where the voices cross, where there are three or more of unlike
// rhythm, or where each has dynamics of its own. A passage is as long as every bar of it
// has its voices complete; elsewhere the second staff is hidden.
//
// The part says which bars these are and what was added, so that it can be taken to pieces
// again ([Apart]).
package divided
