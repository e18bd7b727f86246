package ahead

// Groups are the numbers of the first of each group of things that are done together, and
// of the end: up to so many, and so many bytes.
func Groups(count, most, mostBytes int, bytesOf func(i int) int) (from []int) {
	bytes := 0
	for i := range count {
		if bytes += bytesOf(i); len(from) == 0 || bytes > mostBytes || i-from[len(from)-1] == most {
			from, bytes = append(from, i), bytesOf(i)
		}
	}
	return append(from, count)
}
