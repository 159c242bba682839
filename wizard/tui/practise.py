"""Practising: walking, looking and acting on a simulated machine, to the debrief.

Invariant: an act that cannot be taken back is asked about; a run that has ended is told soberly,
and its debrief is never skipped.
"""

from __future__ import annotations

from collections.abc import Iterable

from textual import events

from wizard.commands.deeds import Deed, deeds
from wizard.commands.exercise import Exercise, Look
from wizard.errors import InputError, WizardError
from wizard.keys import Command
from wizard.practice.faults import faults
from wizard.practice.places import place_named
from wizard.practice.run import Entry
from wizard.quantities import parse_quantity
from wizard.tui.dialogues import yes_or_no
from wizard.tui.doors import Door, GoIn
from wizard.tui.list_pane import Row
from wizard.tui.pages import Reader
from wizard.tui.parts import Parts
from wizard.tui.practise_site import SiteScreen
from wizard.tui.practise_views import (
    danger_page,
    debrief_page,
    deed_rows,
    hand_rows,
    object_rows,
    pace_words,
    site_rows,
    story_page,
)
from wizard.tui.spans import Lines, line

AROUND_LIST = 6
"""Rows of the screen that a list does not have."""
PACES = (1, 5, 20, 60, 0)
"""Seconds of the machine to a second, in the order that the key goes through them."""


class PractiseScreen(SiteScreen):
    """One run, one learner; `onward` leads to the choice of the next run."""

    def __init__(
        self,
        commands: Iterable[Command],
        exercise: Exercise,
        who: str,
        parts: Parts,
        onward: Door,
    ) -> None:
        super().__init__(commands, exercise, who, parts)
        self._onward = onward
        self._pages: list[Lines] = []
        self._left = False

    def on_mount(self) -> None:
        """A run that had ended before it was debriefed is debriefed now."""
        if self.exercise.run.ended:
            self._end()

    @property
    def place(self) -> str:
        """The pages of an ended run have keys of their own."""
        before = super().place
        return "told" if before == "read" and self._pages else before

    # -- lists --------------------------------------------------------------------

    def _show(self, kind: str, title: str, rows: list[Row], pick: str = "") -> None:
        """A list of practice."""
        self.status.say()
        self.lists.kind = kind
        head = line(f" {title}")
        if len(rows) > self.size.height - AROUND_LIST:
            head = (*head, *line((f"   {len(rows)} rows, the arrows go on below", "dim")))
        self.lists.pane.put(head, rows, pick)
        self.turn_to("list")

    def do_go(self) -> None:
        """The places of the site."""
        here = self.at.place if self.at else ""
        self._show("site", "Go to   ● looked at", site_rows(self.exercise.run), here)

    def do_do(self) -> None:
        """What can be done."""
        self._show("deeds", "Do", deed_rows(self.exercise.run))

    def do_hands(self) -> None:
        """The instruments of the place and their knobs."""
        if self.at is not None and (rows := hand_rows(self.exercise.run, self.at)):
            self._show("hands", "Instrument and knobs", rows)

    def do_more(self) -> None:
        """All commands that work here."""
        place = self.place
        able = [c for c in self.commands if place in c.places and self.usable(c)]
        self.lists.commands([c for c in able if c.name != "more"])
        self.turn_to("list")

    def do_story(self) -> None:
        """Everything that was noticed so far."""
        self.query_one(Reader).put(story_page(self.exercise.run, self._width))
        self.turn_to("read")

    @property
    def _width(self) -> int:
        """Of the pages to read."""
        return max(20, self.size.width - self.sheet("rail").size.width - 3)

    def picked(self, pick: str) -> None:
        """Do what the list is for."""
        kind = self.lists.kind
        if kind == "site":
            self.turn_to("work")
            self.look_at(Look(place_named(pick, self.exercise.run.machine).tools[0], pick))
        elif kind == "deeds":
            self._chosen(deeds(self.exercise.run)[int(pick)])
        elif kind == "hands":
            self._in_hand(pick)
        elif kind in ("report", "withdraw", "repair"):
            self.turn_to("work")
            self._do(Deed(kind, pick, ""))
        else:
            super().picked(pick)
            if kind == "items":
                self._close_if_elsewhere()

    def do_next(self) -> None:
        """The next open item; what was looked at stays where it is read there too.

        A phase under power is not left for one after it while something in it is open.
        """
        job, front = self.desk.job, self.desk.item
        following = job.next_item(front.key)
        if job.procedure.phase_of(front.key).strict and following is not None:
            left = [item for item in job.open_items() if item.phase == front.phase]
            if left and following.phase > front.phase:
                first = left[0]
                self.desk.go(first.key)
                self.show_item()
                self._close_if_elsewhere()
                self.status.say(f"Phase {front.phase} is not done: {len(left)} still open.", "dim")
                return
        super().do_next()
        self._close_if_elsewhere()

    def do_watch(self) -> None:
        """The stopwatch of the item; time runs while it does."""
        super().do_watch()
        self.keep_time()

    def _close_if_elsewhere(self) -> None:
        """Another item was put in front: what was looked at may belong to the one before."""
        if self.at in self.spots():
            self.remove_class("-only")
        elif self.at is not None:
            self.close_sight()

    def _in_hand(self, pick: str) -> None:
        """Another instrument in the hand, or a knob turned."""
        if self.at is None:
            return
        what, _, rest = pick.partition(" ")
        at = Look(rest, self.at.place) if what == "tool" else self.at
        if what == "set":
            try:
                self.exercise.do("set", rest)
            except WizardError as problem:
                self.show_problem(problem)
        self.look_at(at)

    # -- acting -------------------------------------------------------------------

    def _chosen(self, deed: Deed) -> None:
        """A deed of the list: at once, after a question, or from a list of its own."""
        if deed.opens_list:
            rows = object_rows(self.exercise.run, deed.verb)
            self._show(deed.verb, deed.title.removesuffix(" …"), rows)
            return
        self.turn_to("work")
        if deed.verb == "wait":
            self.run_worker(self._wait(deed), group="talk", exclusive=True)
        elif deed.asked:
            self.run_worker(self._ask(deed), group="talk", exclusive=True)
        else:
            self._do(deed)

    async def _ask(self, deed: Deed) -> None:
        question = f"{deed.title}. Do it? y or n"
        if deed.verb == "unlock" and (holds := self.exercise.job.holds()):
            question = f"HELD in phase {holds[0].phase}. Lock off all the same? y or n"
        elif deed.verb == "unlock" and (unproved := self._unproved()):
            question = f"{unproved} safety items are open. Lock off? y or n"
        if deed.verb == "finish" and (left := self.exercise.left_unsafe()):
            question = f"{left} safety items open or failed. Hand over? y or n"
        if await yes_or_no(self.status.ask, question):
            self._do(deed)

    def _unproved(self) -> int:
        """Safety items before the first start that have not passed."""
        job = self.exercise.job
        first = next((i for i in job.applicable if job.procedure.phase_of(i.key).strict), None)
        return len(job.unproved_safety(first)) if first else 0

    async def _wait(self, deed: Deed) -> None:
        given = await self.status.ask("Wait how long, as 30 s or 5 min", "")
        if given is None or not given.strip():
            return
        try:
            seconds = parse_quantity(given, "time", "min", "wait").si
        except WizardError as problem:
            self.status.say(str(problem), "error")
            return
        self._do(deed, seconds)

    def _do(self, deed: Deed, value: float | None = None) -> None:
        try:
            told = self.exercise.do(deed.verb, deed.what, value)
        except WizardError as problem:
            self.show_problem(problem)
            return
        self.after_deed(told, _done(deed))
        self.paint_below()

    def do_stop(self) -> None:
        """The hand at the switch."""
        self._do(Deed("switch", "off", "switch off"))

    def do_speed(self) -> None:
        """The next pace of time."""
        self.pace = PACES[(PACES.index(self.pace) + 1) % len(PACES)]
        alive = "" if self.exercise.alive else ", once anything moves"
        self.status.say(f"Time {pace_words(self.pace)}{alive}.", "dim")
        self._paint_top()
        self.keep_time()

    # -- the end ------------------------------------------------------------------

    def show_problem(self, problem: WizardError) -> None:
        """One sentence; a run that ended all the same is told."""
        if isinstance(problem, InputError) and self.place != "site":
            self.status.say(str(problem), "error")
        else:
            super().show_problem(problem)
        if self.exercise.run.ended and not self._pages:
            self._end()
            self.status.last(str(problem))

    def after_deed(self, told: tuple[Entry, ...], title: str = "") -> None:
        """As ever; a run that has ended is told."""
        super().after_deed(told, title)
        if self.exercise.run.ended and not self._pages:
            self._end()

    def _end(self) -> None:
        """The danger if there was one, then the debrief."""
        self.status.leave()
        self.status.say()
        pages = (
            danger_page(self.exercise.run, self._width),
            debrief_page(self.exercise, self._width),
        )
        self._pages = [page for page in pages if page]
        self.query_one(Reader).put(self._pages[0])
        self.turn_to("read")

    def take(self, key: events.Key) -> bool:
        """Tab turns the pages of what is told."""
        if self.place == "told" and key.key == "tab":
            self.query_one(Reader).page_on()
            return True
        return super().take(key)

    def do_on(self) -> None:
        """The rest of the page, the next page, and in the end the choice of the next run."""
        if self.query_one(Reader).read_on():
            return
        if len(self._pages) > 1:
            self._pages = self._pages[1:]
            self.query_one(Reader).put(self._pages[0])
            return
        if not self._left:
            self._left = True
            self.status.say("Back to the scenarios.", "dim")
            self.stop_work()
            self.post_message(GoIn(self._onward))

    def do_back(self) -> None:
        """Back to where the keys were; from the pages of an ended run there is only onward."""
        if self._pages:
            self.do_on()
        elif self.place == "sight":
            self.close_sight()
        else:
            self.turn_to("work")


def _done(deed: Deed) -> str:
    """What was done, in words."""
    if deed.verb == "report":
        return "It is on the defect list."
    if deed.verb == "withdraw":
        return "Struck off the defect list."
    if deed.verb == "repair":
        own = faults()[deed.what].hands == "you"
        by = "Put right." if own else "The electrician has put it right."
        return f"{by} Look again, and answer its item anew."
    return f"Done: {deed.title}."
