// Package report prints what is kept or carried along on paper: the plan card,
// one page for a windscreen, and the report of a job for whoever reviews it.
//
// Both are one self-contained HTML page each: no script, no network, readable
// by a screen reader, in light and dark, on paper and on a phone. The pages know
// neither log nor channel; they are filled from [Card] and [Report], in words that
// others have chosen where people spoke, and from en.toml elsewhere.
//
// What people typed and named is data: html/template escapes it. Pictures come
// from our own drawing, which escapes its texts, and are set in as they are.
package report
