"""Practice: a simulated machine with a hidden true state, its instruments, faults and scoring.

Invariant: everything here is a value or a pure function; time and seeds come in as arguments.

run.Run            one practice run: new, see, look, after
acts.act           what a person does: verbs in acts.VERBS; dangerous ones end the run
story.story        what somebody beside the machine notices
spots              which instrument and place an item of the procedure is read at
scoring.debrief    what a mentor says afterwards
keep               a run as plain values, to leave and resume it
record             the learner's training record
scenario           written scenarios and endless ones from a seed
"""
