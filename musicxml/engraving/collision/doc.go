// Package collision counts where the ink of one thing lies over that of another
// on what was drawn. It has one reason to exist: what was laid out badly is to be
// found by somebody who did not lay it out. It reads the list of what is drawn
// (package display) and knows none of the engraver's plans.
package collision
