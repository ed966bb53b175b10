// Package picture draws a plan: the rig as it is to be laid out, and where the
// force comes from.
//
// A [Drawing] is a list of ops, lines and circles and texts, that two back ends
// write: SVG for pages, PNG for a chat. What is measured in one holds for the
// other. Slopes are drawn at their true angle; the view from above is a diagram
// of the reeving, not to scale, and says so. A plan that gives no force, such as
// one that refers the job to a professional, has an empty drawing: a figure
// would invite a pull.
//
// Every sign is told twice, by shape or word as well as by colour. The words
// are in en.toml.
package picture
