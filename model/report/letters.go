package report

// This file draws big letters for the tag in text.

import "strings"

// bigNames are the letters that the tag is written in, bigRows their shapes, one beside
// the other, which any printer has: bigWide signs wide, with a blank between them.
const (
	bigNames = "DONTRIVE"
	bigWide  = 5
)

var bigRows = [5]string{
	"####   ###  #   # ##### ####   ###  #   # #####",
	"#   # #   # ##  #   #   #   #   #   #   # #    ",
	"#   # #   # # # #   #   ####    #   #   # #### ",
	"#   # #   # #  ##   #   #  #    #    # #  #    ",
	"####   ###  #   #   #   #   #  ###    #   #####",
}

// bigLetter is a letter five rows high; of another sign blanks.
func bigLetter(r rune) (letter [5]string) {
	at := strings.IndexRune(bigNames, r) * (bigWide + 1)
	for i, row := range bigRows {
		letter[i] = strings.Repeat(" ", bigWide)
		if at >= 0 {
			letter[i] = row[at : at+bigWide]
		}
	}
	return letter
}

// bigWord is a word in big letters, each sign doubled in width so that the
// letters stand upright: a letter takes 12 columns.
func bigWord(word string) []string {
	rows := make([]string, 5)
	for _, r := range word {
		letter := bigLetter(r)
		for i := range rows {
			for _, sign := range letter[i] {
				rows[i] += strings.Repeat(string(sign), 2)
			}
			rows[i] += "  "
		}
	}
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	return rows
}
