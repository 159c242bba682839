"""What can be done in a practice run now, in the words of a list.

Invariant: a deed that cannot be taken back is asked about, a harmless one like a deadly one, so
that the question gives nothing away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wizard.practice.acts import VERBS, put_right, reported
from wizard.practice.faults import faults, fitting
from wizard.practice.places import place_named
from wizard.practice.run import Entry, Run
from wizard.practice.story import said

GROUPS = {
    "report": "Defect list",
    "repair": "Defect list",
    "withdraw": "Defect list",
    "lift": "On the truck",
    "lock": "Power",
    "unlock": "Power",
    "switch": "Power",
    "bump": "Power",
    "open panel": "Power",
    "outlet": "Air",
    "drain": "Air",
    "ring": "Air",
    "wait": "Time",
    "finish": "End",
    "turn": "Feet, drive and joints",
    "guard": "Feet, drive and joints",
    "tighten": "Feet, drive and joints",
    "back off": "Feet, drive and joints",
    "undo": "Feet, drive and joints",
}
"""The heading of each verb, in the order of the list."""
ASKED = frozenset({"lift", "unlock", "turn", "guard", "undo", "open panel", "finish"})
OPENS_LIST = frozenset({"report", "withdraw", "repair"})
"""Verbs whose object is picked from a list of its own."""


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing to do. `what` is empty where it has no object, or where that is still open."""

    verb: str
    what: str
    title: str

    @property
    def group(self) -> str:
        """The heading it stands under."""
        return GROUPS[self.verb]

    @property
    def asked(self) -> bool:
        """Whether somebody asks first if it is meant."""
        return self.verb in ASKED

    @property
    def opens_list(self) -> bool:
        """Whether the object is picked from a list."""
        return self.verb in OPENS_LIST


def deeds(run: Run) -> list[Deed]:
    """What can be done now, by heading."""
    if not run.placed:
        return [deed for verb in ("report", "lift", "finish") for deed in _of(verb, run)]
    return [deed for verb in GROUPS for deed in _of(verb, run) if _possible(deed, run)]


def _of(verb: str, run: Run | None = None) -> Iterator[Deed]:
    title = VERBS[verb].title
    if verb in OPENS_LIST:
        yield Deed(verb, "", f"{title} …")
    elif not VERBS[verb].whats:
        yield Deed(verb, "", title)
    else:
        for what in VERBS[verb].whats:
            yield Deed(verb, what, f"{title}: {_named(what, run)}")


def _named(what: str, run: Run | None) -> str:
    """An object in words."""
    kind, dot, number = what.partition(".")
    if run is not None and kind == "joint":
        return place_named(what, run.machine).title
    return f"{kind} {number}" if dot else what


def _possible(deed: Deed, run: Run) -> bool:
    """Whether it would change anything that can be seen to stand otherwise."""
    state = run.state
    if deed.verb == "lift":
        return False
    if deed.verb in ("lock", "unlock"):
        return state.locked == (deed.verb == "unlock")
    if deed.verb == "withdraw":
        return bool(reported(run))
    if deed.verb == "repair":
        return bool({*reported(run)} - put_right(run))
    return {
        ("drain", "open"): not state.drain_open,
        ("drain", "shut"): state.drain_open,
        ("guard", "off"): state.guard_on,
        ("guard", "on"): not state.guard_on,
    }.get((deed.verb, deed.what), True)


def objects(run: Run, verb: str) -> list[tuple[str, str, str]]:
    """What a verb with a list of its own can be done to: name, title, how it stands."""
    listed = reported(run)
    names = fitting(run.scenario.plant) if verb == "report" else listed
    done = put_right(run)
    return [
        (
            name,
            faults()[name].title,
            "put right" if name in done else "on the list" if name in listed else "",
        )
        for name in sorted(names, key=lambda n: (n in done, faults()[n].title))
    ]


def heard(entries: tuple[Entry, ...]) -> str:
    """What was noticed, as one line."""
    return " ".join(sentence for entry in entries if (sentence := said(entry)))


def standing(run: Run) -> str:
    """How the machine stands, for everybody to see from anywhere."""
    if run.ended:
        return "the run has ended"
    if not run.placed:
        return "on the truck"
    power = "locked off" if run.state.locked else "power on"
    return f"{power}, {'RUNNING' if run.view.turning else 'still'}"


def clock(run: Run) -> str:
    """The time spent so far, as 1:02:05."""
    seconds = int(run.state.time + run.handled)
    return f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
