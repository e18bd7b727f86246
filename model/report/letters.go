package report

// This file draws big letters for the tag in text.

import "strings"

// bigLetter is a letter five rows high, in the shapes that any printer has.
func bigLetter(r rune) [5]string {
	switch r {
	case 'D':
		return [5]string{"#### ", "#   #", "#   #", "#   #", "#### "}
	case 'O':
		return [5]string{" ### ", "#   #", "#   #", "#   #", " ### "}
	case 'N':
		return [5]string{"#   #", "##  #", "# # #", "#  ##", "#   #"}
	case 'T':
		return [5]string{"#####", "  #  ", "  #  ", "  #  ", "  #  "}
	case 'R':
		return [5]string{"#### ", "#   #", "#### ", "#  # ", "#   #"}
	case 'I':
		return [5]string{" ### ", "  #  ", "  #  ", "  #  ", " ### "}
	case 'V':
		return [5]string{"#   #", "#   #", "#   #", " # # ", "  #  "}
	case 'E':
		return [5]string{"#####", "#    ", "#### ", "#    ", "#####"}
	}
	return [5]string{"     ", "     ", "     ", "     ", "     "}
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
