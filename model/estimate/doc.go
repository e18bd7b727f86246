// Package estimate holds what the answers of a job mean as amounts: what measured
// them, what came out, what belongs in, what went in and what escaped. Whether
// that is right is not judged here, and nothing is asked.
//
// Volumes are in ml, at 20 °C unless a name says otherwise. Each comes with its
// errors (package measure), and is shown in the owner's units (package quantity).
//
// Where the rules come from: doubt is propagated as JCGM 100:2008 does, volumes
// are corrected by API MPMS 11.1 (ASTM D1250-80). What is common practice of the
// trade, or a judgement, says so beside its figure.
package estimate
