package making

import (
	"strings"

	"deskpart/musicxml/audit"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/condense"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/stages"
)

// shared makes one staff of the parts of several players.
func (m *Maker) shared(a *assign.Assignment) (Made, error) {
	d := deskPart{Maker: m, Desk: new(doubling.Desk)}
	own := *a
	own.Label, own.OneStaff = a.StaffLabel, ""
	var ids []string
	for _, member := range append([]assign.Assignment{own}, a.With...) {
		if _, err := d.write(new(stages.Workspace), member); err != nil {
			return Made{}, m.Surveyed.Locate(err, member.Part)
		}
		ids = append(ids, member.ID)
	}
	part, err := d.share(a)
	if err != nil {
		return Made{}, m.Surveyed.Locate(err, a.Part)
	}
	made, entry := m.document(part)
	if entry != nil {
		joining.WriteSharers(entry, ids)
		part.Warn(audit.Examine(Finished(part, made.Document, d.clefsRead()))...)
	}
	return made, nil
}

// share makes a draft of the staff and does with it what is done once.
func (d *deskPart) share(a *assign.Assignment) (*draft.Draft, error) {
	host := d.drafts[0]
	survey := *host.Survey
	survey.Match.Number, survey.Match.Players = a.OneStaff, nil
	var readings []staff.Reading
	for _, s := range d.drafts {
		read, err := staff.ReadClefs(s)
		if err != nil {
			return nil, err
		}
		readings = append(readings, read)
	}
	part := draft.New(d.Surveyed, *a, host.Slabs, host.Timeline)
	part.Part, part.Staves, part.Survey = condense.Join(d.drafts, strings.Split(a.OneStaff, ",")), 1, &survey
	part.Part.CreateAttr("id", a.ID)
	d.report(part)
	part.Rewritten()
	if err := part.Settle(); err != nil {
		return nil, err
	}
	if err := printSigns(part); err != nil {
		return nil, err
	}
	if err := d.SetShared(part, readings); err != nil {
		return nil, err
	}
	if err := d.Maker.Finish(part); err != nil {
		return nil, err
	}
	return part, d.listen(part)
}
