package handbook

// A Post is one person's part in a pull: what it is called, and what it does.
// Small crews have parts that do more than one thing.
type Post struct{ Role, Does string }

// posts lists who does what, by the number of people, where a holding line must
// keep the load and where nothing can roll. Nobody is placed at a line that is
// not there: its holder's place goes to the next part. The driver never has
// anything else, nor the leader the holder's or the chocks'.
//
// Source: common practice; one signaller at a time and a stop from anyone
// after 29 CFR 1926.1417(y) and .1419.
var posts = map[bool][][]Post{
	true: {
		2: {leaderAll, driver},
		3: {leaderSignal, driver, riggerWatch},
		4: {leaderSignal, driver, riggerWatch, holder},
		5: {leaderSignal, driver, rigger, holder, chocks},
		6: {leaderSignal, driver, rigger, holder, chocks, lookout},
		7: {leader, driver, signal, rigger, holder, chocks, lookout},
		8: {leader, driver, signal, rigger, holder, chocks, lookout, recorder},
	},
	false: {
		2: {leaderAll, driver},
		3: {leaderSignal, driver, riggerWatch},
		4: {leaderSignal, driver, rigger, chocks},
		5: {leaderSignal, driver, rigger, chocks, lookout},
		6: {leaderSignal, driver, rigger, chocks, lookout, recorder},
		7: {leader, driver, signal, rigger, chocks, lookout, recorder},
	},
}

var (
	leader       = Post{"leader", "leader"}
	leaderSignal = Post{"leader_signal", "leader"}
	leaderAll    = Post{"leader_all", "leader"}
	driver       = Post{"driver", "driver"}
	signal       = Post{"signal", "signal"}
	rigger       = Post{"rigger", "rigger"}
	riggerWatch  = Post{"rigger_watch", "rigger"} // and chocks
	holder       = Post{"holder", "holder"}
	chocks       = Post{"chocks", "chocks"}
	lookout      = Post{"lookout", "lookout"}
	recorder     = Post{"recorder", "recorder"}
)

// Posts returns who does what in a crew of so many, the leader first, by whether
// a holding line is needed; nil for fewer than two. Of more than MostPosts the
// rest are sent away.
func Posts(people int, holds bool) []Post {
	if people < 2 {
		return nil
	}
	return posts[holds][min(people, MostPosts(holds))]
}

// MostPosts returns the size of the largest crew that has a part for everybody.
func MostPosts(holds bool) int { return len(posts[holds]) - 1 }
