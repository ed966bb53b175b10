package flow

// A Seat is one person's part in the pull: which post, who has it and whether
// they took it on.
type Seat struct {
	Post   Post   `json:"post"`
	Name   string `json:"name"`             // who; empty while nobody is named
	Member string `json:"member,omitempty"` // their phone in the job; empty for somebody without one
	Taken  bool   `json:"taken,omitempty"`  // they said that they take it on
}

// A Post is one person's part by what it is called and by what it does: the
// last parts of the keys of its role, and of those of its place and duty.
type Post struct{ Role, Does string }

// Posts lists who does what in a crew of so many, the leader first; nil for
// fewer than two. More than eight are sent away.
func Posts(people int) []Post { return posts[min(people, mostPosts)] }

// doers lists, for a duty, who does it where no post of a small crew is for it
// alone: the first that the crew has.
var doers = map[string][]string{
	"driver":   {"driver"},
	"leader":   {"leader"},
	"signal":   {"signal", "leader"},
	"rigger":   {"rigger", "leader"},
	"anchor":   {"anchor", "rigger", "leader"},
	"holder":   {"holder", "rigger", "leader"},
	"chocks":   {"chocks", "rigger", "leader"},
	"lookout":  {"lookout", "leader"},
	"recorder": {"recorder", "leader"},
}

// doer returns who does a duty; nil when no seat is set up yet.
func (s *Session) doer(duty string) *Seat {
	for _, does := range doers[duty] {
		for i := range s.Seats {
			if s.Seats[i].Post.Does == does {
				return &s.Seats[i]
			}
		}
	}
	return nil
}

// wantSeat asks whoever was proposed for a part whether they take it on.
func (t *turn) wantSeat(chat string) want { return want{} }

// wantItem asks whoever can see an item of the list for it.
func (t *turn) wantItem(chat string) want { return want{} }

// seatPress does what a button about parts and items of the list says.
func (t *turn) seatPress(choice string) bool { return false }

// seatWords does what words about parts and items of the list say.
func (t *turn) seatWords(text string) bool { return false }

// seatTick does what is due of reminders before the pull.
func (t *turn) seatTick() {}

// seatWake is when the job wants a turn for that; empty for never.
func (t *turn) seatWake() string { return "" }
