// Package stream is the guide for other programs: a voice, a braille line, another
// screen, a script. It shows the sheets of a job as the screens do, one JSON object a
// line, and takes answers the same way. It draws nothing and decides nothing.
//
// # The form
//
// Each line out and each line in is one JSON object (UTF-8, 65,536 bytes at most coming
// in). testdata/schema/guide-1.schema.json is its schema; a test holds every line to
// it. testdata/script/whole_job.py does a whole job by it. Topics, tokens and steps are those of a job's file. A member that is not named
// here may be added later: a reader leaves what it does not know. What comes in with a
// key that is not known is refused.
//
// # Out
//
// Where a sheet begins:
//
//	{"sheet":{"id":"isolate","n":2,"of":9,"state":"as_found",
//	  "lines":[{"topics":["isolate.ground_and_chocks"],"ask":"…","offer":null}]}}
//
// id is prepare.1, prepare.2, prepare.3, isolate, drain, measure, preload, fill, cap,
// seat, verdict, close, resume (a job is taken up again) or stop (something does not
// fit, and is settled first). n is the step of the job that it is part of, of nine.
// state is what is known of the oil in the unit: as_found, empty, not_proven, filled
// (accepted, proven or not) or left. car, where there is one, says which other units of
// the car are open or to come. lines are all lines of the sheet in the order of
// the work; "folded":true marks one that is worth knowing and is asked of nobody.
// offer is what counts for a line as it stands, in words; null where it must be
// answered.
//
// For the line that is open, the first of them:
//
//	{"prompt":{"topic":"measure.amount","topics":["measure.with","measure.amount"],"step":"measure","round":0,"item":0,
//	  "kind":"amount","ask":"…","why":"…","caution":false,"key":"","options":[{"token":"…","label":"…"}],"offer":null,
//	  "unknown_ok":false}}
//
// topics are all that the line stands for, topic the one that its answer goes to;
// round counts corrections, item how often it was asked. kind is how it is answered:
//
//	confirm   by {"key":…} with the digit in key, and by nothing else. Where caution is true it is one
//	choice    the token of one of the options
//	amount    a volume, or a mass where a scale measures: "550", "550 ml", "330+258", "1 1/2 qt", "588@35"
//	number    a number with or without its unit
//	range     a volume, or a lowest and a highest: "600-680"
//	bounds    a tolerance: "50 ml", "5 %", "+20 -50"
//	text      a line of text; of several answers in one, commas part them
//	moment    when it was: "-15" minutes ago, "14.05" by this computer's clock, or RFC 3339. It is never asked for,
//	          but can be changed by its topic
//	complete  the sheet is complete
//
// why is the reason in one line. unknown_ok says that null is an answer.
//
// A line with an offer is not asked for: it counts as it stands. When no line is open:
//
//	{"prompt":{"kind":"complete","topics":[]}}
//
// After what came in, one or more of these; then, unless it was figures, what is
// asked next, the same prompt again after refused and mostly after doubt:
//
//	{"taken":{"topic":"measure.amount","seq":41}}       one for each entry; it is durable. All of a line were stored at once
//	{"refused":{"topic":"…","why":"…"}}                 nothing was stored. topic is "" where it was for no line
//	{"doubt":{"topic":"…","why":"…","choices":[{"token":"…","label":"…"}]}}   nothing was stored
//
// A doubt is over a figure that may be meant in another unit, its choices the meanings;
// or over readings that are to be read and given anew, its choices their topics: the
// next prompt is for the first of them. Any other request leaves it open to the prompt.
//
// At the end, when nothing is left to ask:
//
//	{"done":true}
//
// # In
//
//	{"answer":"550 ml"}                  to the prompt
//	{"answer":null}                      don't know, or not looked, where unknown_ok is true
//	{"topic":"measure.with","answer":"scale"}   changes a line of the sheet that is on, folded or not; "round" and "item" tell
//	                                     which, where several have the topic
//	{"key":"4"}                          confirms
//	{"choose":"588_ml"}                  settles a doubt, or what a stop asks
//	{"complete":true}                    the sheet is complete: what is on offer on it is taken
//	{"correct":"measure.amount","round":0,"item":0,"answer":"560"}   gives an answer of any sheet anew; the old one is kept, struck out
//	{"undo":true}                        takes the last answer back
//	{"leave":true}                       ends the program; nothing is lost
//	{"figures":true}                     asks for figures
//
// "at":"2026-01-02T10:00:00Z" (RFC 3339) beside any of them is when it happened: not
// before the last entry, not in the future. A new job may begin in the past: it begins
// with its first "at". Without it, an answer is of now.
//
// Figures, ml at 20 °C, null where not known:
//
//	{"figures":{…},"plan":{"load_ml":730,"stop_at_ml":22,"need_ml":626,"low_ml":600,"high_ml":680},
//	  "off":{"ml":12,"u_ml":20},"findings":["…"]}
//
// figures is what "tundish summary --format json" has under that name
// (model/report/job-4.schema.json). plan is for the round that is on: what to pour
// into the vessel, what it reads where the push ends, what belongs in and the right
// range. off is what is in less what belongs in, with one standard uncertainty, once
// there is a verdict. findings are in words.
//
// A job that is taken up again in the middle begins with the sheet resume. The input
// ending is the same as leave. The program's exit codes are those of every command.
package stream
