"""Guided training on a real job: the working screen with its explanation open, limits asked first.

Invariant: the machine's record gets what the working screen would put into it and nothing else;
what was learned goes into the learner's own training record.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace

from wizard.errors import InputError, WizardError
from wizard.keys import Command
from wizard.practice.record import Lesson
from wizard.procedure.item import Item
from wizard.tui.desk import Desk
from wizard.tui.dialogues import Ask, yes_or_no
from wizard.tui.guided_limit import (
    Asked,
    Compared,
    answer,
    asked,
    compared,
    question,
    skill_of,
    verdict,
)
from wizard.tui.judged import Judged
from wizard.tui.pages import Pages
from wizard.tui.parts import Parts
from wizard.tui.session import Session
from wizard.tui.spans import BLANK, Lines, at_most, line, wrapped
from wizard.tui.views.explain import explain
from wizard.tui.working import WorkScreen

Learned = Callable[[Lesson], object]
MOST_TEXT = 200
NOT_ALONE = "A mentor is somebody else: nobody countersigns their own work."
FIGURES = re.compile(r"\d+(?:[.,/]\d+)*")


class GuidedScreen(WorkScreen):
    """One job, one learner; `learned` keeps a lesson in the training record."""

    def __init__(
        self,
        commands: Iterable[Command],
        session: Session,
        who: str,
        parts: Parts,
        learned: Learned,
    ) -> None:
        own = (replace(c, places=("work",)) if "guided" in c.places else c for c in commands)
        super().__init__(own, session, who, parts)
        self._learned = learned
        self.pending: Asked | None = None
        self._shown: dict[str, tuple[Asked, Compared | None]] = {}

    def on_mount(self) -> None:
        """Open the explanation, however narrow the terminal."""
        self.call_later(self.open_explanation)

    def open_explanation(self) -> None:
        """The explanation beside the item, or below it."""
        self._help = True
        self.set_class(True, "-help")
        self.paint()

    # -- the limit before the reading ---------------------------------------------

    def show_item(self) -> None:
        """As ever; where a limit can be worked out, it is asked for first."""
        self.pending = self._to_ask()
        super().show_item()
        if self.pending is not None:
            self.field.put("", line(("limit › ", "key")), self.pending.unit)

    def _to_ask(self) -> Asked | None:
        key = self.desk.key
        if self.desk.read_only or key in self._shown or self.unsent.get(key):
            return None
        return asked(self.desk.job, self.desk.item)

    def typed(self, text: str) -> None:
        """A guess is neither judged nor kept as a draft."""
        if self.pending is None or text == "?":
            super().typed(text)
            return
        self.refused = None
        self.status.say()
        self.paint_below(typing=True)

    def accept(self, text: str) -> None:
        """Take the guess, show the limit and how they differ; then the reading as ever."""
        one = self.pending
        if one is None:
            super().accept(text)
            return
        result: Compared | None = None
        if text.strip():
            try:
                result = compared(one, text)
            except InputError as problem:
                self.refuse(problem)
                return
        self._shown[one.item.key] = (one, result)
        kept = result is None or self._keep(Lesson(
            at=self.desk.clock.now(), item=one.item.key, skill=skill_of(one.item),
            right=result.right, predicted=text.strip()[:MOST_TEXT],
        ))  # fmt: skip
        self.show_item()
        self.query_one("#help", Pages).scroll_by(-10_000)
        if result is not None and kept:
            word, role = verdict(result)
            self.status.say(f"{word} {self._where_told()}", role)

    def _let_replace(self) -> None:
        """A guess is one value, whatever the reading is."""
        if self.pending is not None:
            self.field.propose()
        else:
            super()._let_replace()

    def _where_told(self) -> str:
        """Where the limit just worked out is to be read."""
        if not self.has_class("-help"):
            return f"{self._key_of('help')} shows the limit and its working."
        where = "beside the item" if self.has_class("-wide") else "below"
        return f"The limit and its working are {where}."

    def _keep(self, lesson: Lesson) -> bool:
        """Put a lesson into the training record; whether it is there."""
        try:
            self._learned(lesson)
        except WizardError as problem:
            self.status.last(str(problem))
            return False
        return True

    # -- painting -----------------------------------------------------------------

    def paint_below(self, *, typing: bool = False) -> None:
        """As ever; while a limit is asked for, neither band nor verdict is shown."""
        one = self.pending
        if one is None:
            super().paint_below(typing=typing)
            return
        sheet = self.sheet("below")
        width, height = sheet.size
        lines: Lines = []
        if self.refused is not None:
            lines = at_most(wrapped(str(self.refused), width, "error"), 3, width)
        asks = at_most(question(one, width), max(1, height - len(lines)), width)
        sheet.show_lines([*lines, *asks])
        pane = self.query_one("#help", Pages)
        if pane.display and not typing:
            pane.put(beforehand(one.item, pane.size.width), from_top=False)

    def _answer_rows(self, width: int) -> int:
        """As ever, and no less than it takes to ask for a limit."""
        one = self.pending
        return max(super()._answer_rows(width), len(question(one, width)) + 1 if one else 0)

    def explanation(self, state: Judged, width: int) -> Lines:
        """The limit just worked out, the caution, the drawing, then why and how."""
        item = self.desk.item
        told = answer(*self._shown[item.key], width) if item.key in self._shown else []
        lines = explain(self.desk.job, item, state, width)
        first = lines.index(BLANK) + 1 if item.caution and BLANK in lines else 0
        picture = self._picture(width, 40) if self.has_class("-narrow") else []
        return [*told, *lines[:first], *picture, *([BLANK] if picture else []), *lines[first:]]

    # -- the mentor ---------------------------------------------------------------

    def usable(self, command: Command) -> bool:
        """A mentor signs what has been answered or worked out."""
        if command.name == "countersign":
            done = {*self.desk.job.answers, *self._shown}
            return self.place == "work" and bool(done) and not self.status.asking
        return super().usable(command)

    def do_countersign(self) -> None:
        """Ask the mentor."""
        self.talk(self._countersign(self.desk, self.status.ask))

    async def _countersign(self, desk: Desk, ask: Ask) -> bool:
        last = desk.last_answer()
        own = desk.key in desk.job.answers or desk.key in self._shown
        key = desk.key if own or last is None else last.key
        item = desk.job.procedure.items[key]
        if key != desk.key:
            desk.go(key)
            self.show_item()
        mentor = await ask("Mentor's name for this item", "")
        if mentor is None or not mentor.strip():
            return False
        name = " ".join(mentor.split())[:80]
        if name.casefold() == " ".join(desk.who.split()).casefold():
            self.status.say(NOT_ALONE, "error")
            return False
        right = await yes_or_no(ask, "Did it alone and could say why? y or n")
        if right is None:
            return False
        lesson = Lesson(
            at=desk.clock.now(), item=key, skill=skill_of(item), right=right, mentor=name
        )
        if self._keep(lesson):
            self.status.say(f"Countersigned by {name} in the training record.", "dim")
        return False


def beforehand(item: Item, width: int) -> Lines:
    """What may be read before the limit is worked out: how, source and figures would tell it."""
    lines: Lines = []
    why = FIGURES.sub("…", item.why)
    for name, text, role in (("Caution", item.caution, "caution"), ("Why", why, "text")):
        if text:
            lines += [line((name, "key")), *wrapped(text, width, role), BLANK]
    return [*lines, line(("How to measure it, the drawing and the rule follow then.", "dim"))]
