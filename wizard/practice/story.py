"""What somebody beside the machine notices of what happens by itself.

Invariant: only what an eye or an ear would notice is told, and never its cause.
"""

from __future__ import annotations

from wizard.practice.run import Entry, Run

TOLD = {
    "motor starts": "The contactor pulls in with a clack; the motor starts.",
    "motor stops": "The motor drops out; the flywheel coasts to a stand.",
    "up to speed": "The motor has come up to speed.",
    "motor stalls": "The motor growls, the flywheel slows and stands.",
    "overload trips": "A click in the starter. The overload relay has tripped.",
    "switch opens": "The pressure switch snaps over; air hisses at the unloader.",
    "switch closes": "The pressure switch snaps back.",
    "line vented": "The hiss at the unloader ends.",
    "relief opens": "The relief valve opens with a roar.",
    "relief closes": "The relief valve shuts.",
    "relief valve blows freely": "The relief valve blows freely and snaps shut when let go.",
    "flywheel turns freely": "The flywheel goes round twice by hand, free, no tight spot.",
    "flywheel pushes back": "The flywheel pushes back against the hand: there is air over it.",
    "nothing blows": "The ring comes up; nothing blows.",
    "start tried with the lock on: nothing moves": "Start pressed: nothing moves. Back to off.",
}
"""Happenings that are noticed; others go on unseen inside."""


def said(entry: Entry) -> str:
    """The sentence for one line of the log; empty where nothing is noticed."""
    return TOLD.get(entry.what, "") if entry.kind == "told" else ""


def story(run: Run, since: int = 0) -> tuple[str, ...]:
    """What was noticed from line `since` of the log on, by the clock of the run."""
    lines = []
    for entry in run.log[since:]:
        if sentence := said(entry):
            spent = int(entry.clock)
            lines.append(f"{spent // 3600}:{spent // 60 % 60:02d}:{spent % 60:02d}  {sentence}")
    return tuple(lines)
