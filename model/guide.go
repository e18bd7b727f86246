package model

// Offers is what earlier jobs bring to a new one.
type Offers struct {
	Answers  map[Place]Value // to the questions of the first step
	Residual Learned         // of this unit
	Escape   Learned         // of this rig
}

// Fold folds a job. The zero Offers offer nothing.
func Fold(job Job, offers Offers) *State {
	s := foldJob(job)
	s.offers = offers
	return s
}

// Offered is what an earlier job answered at a place.
func (s *State) Offered(t Topic, item int) (Value, bool) {
	v, ok := s.offers.Answers[Place{Topic: t, Item: item}]
	return v, ok
}

// guideMemo is what a guide remembers.
type guideMemo struct {
	next     lazy[upNext]
	progress map[progressOf]progress
}

// upNext is the next question, if there is one.
type upNext struct {
	prompt Prompt
	more   bool
}

type progressOf struct {
	step  Step
	round int
}

type progress struct{ answered, asked int }
