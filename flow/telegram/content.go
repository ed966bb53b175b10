package telegram

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"linetender/flow"
)

// other names what came instead of words.
func (m *message) other() string {
	switch {
	case oneOf(m.Voice, m.Audio):
		return flow.OtherVoice
	case oneOf(m.Sticker):
		return flow.OtherSticker
	case m.Photo.there:
		return flow.OtherPhoto
	case m.Video.there, m.VideoNote.there, m.Animation.there: // an animation is a document too
		return flow.OtherVideo
	case m.Document.there:
		return flow.OtherFile
	case m.Location.there, m.Venue.there: // a venue is a location too
		return flow.OtherLocation
	case oneOf(m.Contact):
		return flow.OtherContact
	case oneOf(m.Dice, m.Poll, m.Story, m.Game, m.PaidMedia, m.Checklist):
		return flow.OtherUnknown
	}
	return ""
}

// files are what is kept of the pictures and papers that came: of a picture its largest size.
func (m *message) files() []flow.File {
	kind := m.other()
	var d document
	switch {
	case kind == flow.OtherPhoto && len(m.Photo.holds()) > 0:
		p := slices.MaxFunc(m.Photo.holds(), func(a, b photo) int { return cmp.Compare(a.Width*a.Height, b.Width*b.Height) })
		d = document{ID: p.ID, Same: p.Same, Type: "image/jpeg", Size: p.Size}
	case kind == flow.OtherVideo:
		d = cmp.Or(m.Video.holds(), m.Animation.holds(), m.VideoNote.holds())
	case kind == flow.OtherFile:
		d = m.Document.holds()
	}
	if d.ID == "" || len(d.ID) > longestID || len(d.Same) > longestID {
		return nil
	}
	return []flow.File{{
		Kind: kind, ID: d.ID, Same: d.Same, Name: short(plain(d.Name)), Type: short(plain(d.Type)), Size: max(0, d.Size),
	}}
}

// What is kept of a file is bounded, whatever is said of it.
const (
	longestID   = 256
	longestName = 128 // in bytes
)

func short(s string) string {
	if len(s) <= longestName {
		return s
	}
	n := longestName
	for !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n]
}

// at is the place that was sent; nil if there is none on this earth.
func (m *message) at() *flow.Place {
	l := m.Location.holds()
	if l.Lat == nil {
		l = m.Venue.holds().Location
	}
	if l.Lat == nil || l.Lon == nil || !(-90 <= *l.Lat && *l.Lat <= 90) || !(-180 <= *l.Lon && *l.Lon <= 180) {
		return nil
	}
	return &flow.Place{Lat: *l.Lat, Lon: *l.Lon, Good: max(0, l.Good)}
}
