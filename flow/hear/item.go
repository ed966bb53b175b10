package hear

// What people say beside a yes to an item of the list on the spot is data, in
// words/item.txt: which item words tell of, and which words tell nothing more.

// items are the word lists.
var items = loadForms("item")

// TellsDone reports whether words say that something was done with hands, or that
// something else is there now.
func TellsDone(text string) bool { return items.in("done", Lowered(text)) }

// ClaimWord reports whether a word, in small letters, is one of those in which people say
// of chocks, marks and brakes that they are as they are to be.
func ClaimWord(word string) bool { return items.in("claim", word) }

// BesideYes reports whether a word, in small letters, tells nothing more behind a yes.
func BesideYes(word string) bool { return items.in("besideyes", word) }

// ItemSubject is how words, in small letters, tell of what an item of the list asks, by
// the item's field; nil where no words do.
func ItemSubject(field string) *Pattern { return items["of "+field] }
