package model

// verdictMemo is what an assessment remembers.
type verdictMemo struct {
	verdicts map[int]judged
}

type judged struct {
	verdict Verdict
	err     error
}
