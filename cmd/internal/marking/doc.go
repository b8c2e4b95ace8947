// Package marking compares learners' transpositions with the answer and says
// which mistake was made.
//
// A wrong answer is seldom wrong note by note: who moves the wrong way moves all
// notes the wrong way. So each mistake that learners are known to make is thought
// to its end first: the whole answer that it would give is predicted, and the
// prediction from which the learner's answer differs in the fewest notes names the
// cause (trade/teaching.md, section 4). A cause is said once, with the bars it
// covers, and costs once in the lenient total; what is left is marked note by note
// against the prediction, so that nothing is punished twice. Rhythm is compared
// apart from pitch.
//
// Answers come from any notation program. They are read by what stands on the
// page: pitches as they are written, whatever the divisions, voices, measure
// numbers, title measures or other parts of the file; a file that says it shows
// concert pitch is read as the part that it stands for.
package marking
