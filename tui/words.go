package tui

// This file holds the small functions on text that several screens use.

import (
	"strconv"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

func itoa(n int) string { return strconv.Itoa(n) }

// entryWords are the name of an entry, and what was answered.
func entryWords(s *guide.Guide, e job.Entry) (name, echo string) {
	p, ok := guide.PromptOf(e)
	if !ok {
		return "line " + itoa(e.Seq), ""
	}
	return p.NameText(), s.AnswerText(e)
}

func EntryName(s *guide.Guide, e job.Entry) string {
	name, echo := entryWords(s, e)
	return name + ": " + echo
}

// nameColumns has room for the name of nearly every answer.
const nameColumns = 24

// columns lays out pairs in two columns, the first of a given width, in lines of at
// most width.
func columns(pairs [][2]string, first, width int) []string {
	var lines []string
	for _, p := range pairs {
		for i, l := range text.Wrap(p[1], width-first-3) {
			head := ""
			if i == 0 {
				head = p[0]
			}
			lines = append(lines, " "+text.PadRight(head, first)+" "+l)
		}
	}
	return lines
}

func exportNotice(msg exportedMsg) string {
	if msg.err != nil {
		return msg.what + " not written: " + msg.err.Error()
	}
	return msg.what + " written: " + msg.path
}
