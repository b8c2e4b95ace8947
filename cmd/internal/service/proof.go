package service

import (
	"deskpart/cmd/internal/pages/proof"
	"deskpart/transpose/verify"
)

// proofName is the page to look at before printing.
const proofName = "proof.html"

// proof makes the page that shows each part in sounding and in written pitch, with its
// range, keys, warnings and check.
func (s *Service) proof(c *call, on *seated) (Reply, error) {
	whole := &proof.Proof{Score: on.path, Title: on.job.Surveyed().Title(), Parts: make([]*proof.Part, len(on.rows))}
	whole.Pitch, whole.Reason = on.job.Surveyed().Pitch()
	examiner := proof.Examiner{Job: on.job, Level: on.options.Level,
		Verification: verify.Options{MaxSignature: on.options.MaxSignature, Spelling: on.options.Spelling}}
	var memory proof.Memory
	var err error
	for i := range on.rows {
		if whole.Parts[i], err = examiner.Examine(i, &memory); err != nil {
			return Reply{}, err
		}
		if err := c.step(Progress{Done: i + 1, Of: len(on.rows), Made: whole.Parts[i]}); err != nil {
			return Reply{}, err
		}
	}
	page, err := whole.Page()
	return Reply{Value: struct {
		NeedsPerson bool `json:"needs_person"`
	}{whole.NeedsPerson()}, Files: []File{{proofName, page}}}, err
}
