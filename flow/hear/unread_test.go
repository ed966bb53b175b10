package hear

import "testing"

// TestUnread: of what was not read the part is said back that was not, and a
// story that decides nothing is not. Who is told nothing takes all for read.
func TestUnread(t *testing.T) {
	for _, row := range []struct {
		topic  Topic
		text   string
		unread string
	}{
		{TopicGround, "clart up to the axles", "clart"},
		{TopicGround, "wet grass with some slape clart under it", "slape clart under it"},
		{TopicGround, "wet grass, hubs in, all turn", ""},
		{TopicSunk, "sunk to hubs one side", ""},
		{TopicAnchor, "punky oak 50 cm", "punky"},
		{TopicPeople, "hi our hay truck slid into the ditch, 4 of us here nobody hurt", ""},
		{TopicPeople, "our hay truck slid into the lagoon, 4 of us here", "lagoon"},
		{TopicPeople, "our hay truck slid into the ditch with my brother, 4 of us here", "brother"},
		{TopicPeople, "the hay truck slid into the ditch with the lad, 4 of us here", "lad"},
		{TopicPeople, "nobody hurt, theyre out. theres a ditch n wires a fair way off like 60 yards", "theres a ditch n wires a fair way off like 60 yards"},
		{TopicPeople, "about 7 tonnes with the hay, guess", ""},
	} {
		if got := Listen(row.text, row.topic).Unread(); got != row.unread {
			t.Errorf("after %q, %q leaves %q, want %q", row.topic, row.text, got, row.unread)
		}
	}
}
