"""Practice in plain lines, for a terminal that can only take lines, or a screen reader.

Invariant: it works on the same exercise as the screen; drawings are plain ASCII, and a number in
front of a row is what picks it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence

from wizard import actions
from wizard.actions import Hand, NeedsConfirmation, NeedsReason
from wizard.commands import exercise
from wizard.commands.deeds import Deed, clock, deeds, heard, objects, standing
from wizard.commands.exercise import Exercise, Look
from wizard.commands.output import FAILED, GOOD, UNFINISHED, narrate, print_lines
from wizard.commands.shelf import Shelf
from wizard.errors import InputError, WizardError
from wizard.memo import warm_procedure
from wizard.pictures.plain import plain
from wizard.practice.dangers import dangers
from wizard.practice.places import Place, place_named, places_of
from wizard.practice.record import titled
from wizard.practice.scenario import listing, scenario
from wizard.practice.scoring import debrief
from wizard.practice.spots import PAPERS, spots_of
from wizard.practice.tools import tools
from wizard.procedure.item import Item
from wizard.quantities import parse_quantity
from wizard.store import clock as days
from wizard.text import show

HELP = (
    "go            the places; go 3 walks to the third and looks",
    "look TOOL     look again, with another instrument",
    "set KNOB=VALUE  turn a knob of the instrument; set alone shows them",
    "item          the item in front, and where it is read; item KEY takes another",
    "= READING     the answer to the item in front",
    "next          the next open item",
    "do            what can be done; do 3 does the third",
    "report        the defect list; report 3 writes the third on it",
    "repair        have something put right; repair 1 the first",
    "strike        take something off the list",
    "wait 5 min    let time pass",
    "stop          switch the machine off",
    "quit          leave; everything is kept",
)
A_COMMAND = 10.0
"""Seconds that the machine runs on with every command."""
READ_ON = {"y", "yes"}


class Leave(Exception):
    """The learner goes."""


def run(learner: str, name: str, seed: int | None, resume: bool) -> int:
    """A run from briefing to debrief, or until the learner leaves."""
    warm_procedure()
    shelf = Shelf(learner)
    held = [h for h in shelf.in_hand() if not name or h.run.scenario.name == name]
    if resume:
        if not held:
            raise InputError("--resume", "no run in hand", "a run that was left")
        one = exercise.resume(shelf, held[0])
    elif not name:
        print_lines(listing())
        narrate("Name one of them, as “wizard practise first_day”.")
        return UNFINISHED
    else:
        seed = exercise.next_seed(shelf.training(), name) if seed is None else seed
        scenario(name, seed)
        one = exercise.begin(shelf, name, seed)
    return Talk(one).hold()


class Talk:
    """Commands of one learner on one exercise."""

    def __init__(self, one: Exercise) -> None:
        self.one = one
        self.at: Look | None = None
        self.front: Item | None = one.job.next_item()

    def hold(self) -> int:
        """Take commands until the run has ended or the learner goes."""
        told = self.one.run.scenario
        print(f"PRACTICE, no machine's record. {told.title}")
        print(told.briefing)
        print("Type ? for the commands.")
        try:
            while not self.one.run.ended:
                self._state()
                self._take(_line("> "))
        except (Leave, EOFError, KeyboardInterrupt):
            print(
                f"\nThe run is kept; “wizard practise --resume” goes on at {clock(self.one.run)}."
            )
            return UNFINISHED
        finally:
            self.one.close()
        self._debrief()
        return FAILED if self.one.run.ended in dangers() else GOOD

    def _state(self) -> None:
        holds = self.one.job.holds()
        held = f"  HELD in phase {holds[0].phase}: {holds[0].finding.text}" if holds else ""
        print(f"[{clock(self.one.run)}  {standing(self.one.run)}{held}]")

    def _take(self, text: str) -> None:
        word, _, rest = text.strip().partition(" ")
        if text.startswith("="):
            word, rest = "=", text[1:]
        does: dict[str, Callable[[str], None]] = {
            "?": lambda _: _say(HELP),
            "go": self._go,
            "look": self._look,
            "set": self._set,
            "item": self._item,
            "next": lambda _: self._next(),
            "=": self._answer,
            "do": self._deed,
            "report": lambda n: self._object("report", n),
            "repair": lambda n: self._object("repair", n),
            "strike": lambda n: self._object("withdraw", n),
            "wait": self._wait,
            "stop": lambda _: self._do("switch", "off"),
            "quit": _leave,
        }
        if not word:
            return
        if word not in does:
            print(f"No command “{show(word)[:20]}”; ? lists them.")
            return
        try:
            does[word](rest.strip())
            if self.one.alive and word not in ("wait", "?"):
                _tell(heard(self.one.pass_time(A_COMMAND)))
        except WizardError as problem:
            print(problem)

    # -- looking ------------------------------------------------------------------

    def _go(self, rest: str) -> None:
        there = list(places_of(self.one.run.machine))
        if not rest:
            _numbered(f"{p.title}  ({', '.join(p.tools)})" for p in there)
            return
        place: Place = there[_number(rest, len(there))]
        self._see(Look(place.tools[0], place.name))

    def _look(self, rest: str) -> None:
        if self.at is None:
            raise InputError("look", "nowhere", "a place first: go, or item")
        self._see(Look(rest or self.at.tool, self.at.place))

    def _see(self, at: Look) -> None:
        sight = self.one.look(at, ascii_only=True)
        self.at = at
        _say(plain(row) for row in sight.lines)

    def _set(self, rest: str) -> None:
        if self.at is None:
            raise InputError("set", "no instrument", "a place first: go, or item")
        if not rest:
            for knob, values in tools()[self.at.tool].knobs.items():
                now = self.one.run.knobs[f"{self.at.tool}.{knob}"]
                print(f"  {knob}: now {now}; {', '.join(values)}")
            return
        self._do("set", f"{self.at.tool}.{rest}")
        self._see(self.at)

    # -- the procedure ------------------------------------------------------------

    def _item(self, rest: str) -> None:
        if rest:
            self.front = actions.item_of(self.one.job, rest)
        if self.front is None:
            print("No item can be answered now.")
            return
        item = self.front
        unit = f" [{item.unit_in(self.one.job.header.units)}]" if item.measured else ""
        labels = f" ({', '.join(item.labels)})" if item.labels else ""
        if item.caution:
            print(f"Caution: {item.caution}")
        print(f"{item.key}: {item.ask}{labels}{unit}")
        if item.numbered:
            _numbered(item.options)
        else:
            _say(f"  {option}" for option in item.listed(self.one.job.header.units))
        for spot in spots_of(item.key):
            if spot.tool == PAPERS:
                _say(plain(row) for row in self.one.look_up(item).lines)
            else:
                place = place_named(spot.place, self.one.run.machine)
                print(f"  read at “{place.title}” with {spot.tool}")

    def _next(self) -> None:
        self.front = self.one.job.next_item(self.front.key if self.front else "")
        self._item("")

    def _answer(self, text: str) -> None:
        item = self.front
        if item is None:
            raise InputError("answer", "no item in front", "next, or item KEY")
        reason, confirmed = "", False
        while True:
            hand = Hand(self.one.shelf.learner, days.now())
            try:
                job = actions.answer(
                    self.one.job, item.key, text, hand, reason=reason, confirmed=confirmed
                )
            except NeedsConfirmation as doubt:
                if _line(f"{doubt} Is it right? (y/n) ").casefold() not in READ_ON:
                    return
                confirmed = True
            except NeedsReason:
                reason = _line("Why is it corrected? ")
                if not reason:
                    return
            else:
                break
        before = self.one.job
        self.one.save(job)
        if found := self.one.job.finding(item.key):
            print(f"{found.verdict}: {found.text}")
        self.front = self.one.job.item_after(item.key, before)
        self._item("")

    # -- acting -------------------------------------------------------------------

    def _deed(self, rest: str) -> None:
        able = [d for d in deeds(self.one.run) if not d.opens_list and d.verb != "wait"]
        if not rest:
            _numbered(deed.title for deed in able)
            return
        deed: Deed = able[_number(rest, len(able))]
        left = self.one.left_unsafe() if deed.verb == "finish" else 0
        warned = f" {left} safety items are open or failed." if left else ""
        question = f"{deed.title}.{warned} Do it? (y/n) "
        if not deed.asked or _line(question).casefold() in READ_ON:
            self._do(deed.verb, deed.what)

    def _object(self, verb: str, rest: str) -> None:
        there = objects(self.one.run, verb)
        if not rest:
            _numbered(f"{title}  {state}".rstrip() for _, title, state in there)
            return
        self._do(verb, there[_number(rest, len(there))][0])

    def _wait(self, rest: str) -> None:
        self._do("wait", "", parse_quantity(rest, "time", "min", "wait").si)

    def _do(self, verb: str, what: str = "", value: float | None = None) -> None:
        _tell(heard(self.one.do(verb, what, value)) or "Done.")

    # -- the end ------------------------------------------------------------------

    def _debrief(self) -> None:
        if danger := dangers().get(self.one.run.ended):
            print(f"\nTHE RUN HAS ENDED: {danger.title}\n{danger.happened}\n{danger.instead}")
        print()
        _say(debrief(self.one.run))
        advice = self.one.advice()
        print(f"Next: {titled(advice.scenario)}. {advice.said}")
        print(f"“wizard practise {advice.scenario}” begins it.")


def _leave(_: str) -> None:
    raise Leave


def _number(text: str, count: int) -> int:
    """A row picked by its number, from nothing up."""
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text[:6]) <= count:
        raise InputError("number", show(text)[:20], f"1 to {count}")
    return int(text) - 1


def _numbered(rows: Iterable[str]) -> None:
    for number, row in enumerate(rows, 1):
        print(f"  {number:>2} {row}")


def _say(rows: Sequence[str] | Iterable[str]) -> None:
    print_lines(rows)


def _tell(text: str) -> None:
    if text:
        print(text)


def _line(prompt: str) -> str:
    print(prompt, end="", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.strip()
