"""Questions asked one line at a time before something is done to the job.

Invariant: a question that is left does nothing.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import replace
from typing import TypeVar

from wizard.accuracy import due_date, wants_resolution, with_accuracy
from wizard.actions import NeedsConfirmation, NeedsReason
from wizard.errors import InputError
from wizard.instrument import Instrument
from wizard.job import Job
from wizard.tui.desk import Desk
from wizard.tui.views.question import readings

T = TypeVar("T")
Ask = Callable[[str, str], Awaitable[str | None]]
WIDEST = 60
"""Cells of a question that leave room for its answer."""
AT_ONCE = "undone at once"
WORDS = {"y": True, "yes": True, "n": False, "no": False}


def cut(text: str, most: int) -> str:
    """A text, or its beginning with a sign that it goes on."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


async def yes_or_no(ask: Ask, question: str) -> bool | None:
    """Whether the answer is yes, asked until it is yes or no; None where it is left."""
    asked = question
    while (given := await ask(asked, "")) is not None:
        word = given.strip().casefold()
        if word in WORDS:
            return WORDS[word]
        said = f"“{cut(given.strip(), 10)}” is neither y nor n" if word else "Nothing is typed"
        asked = f"{said}. {question}"
    return None


class Dialogues:
    """What is asked, in which order, for one desk."""

    def __init__(self, desk: Desk, ask: Ask) -> None:
        self.desk, self.ask = desk, ask

    async def accept(self, text: str, doubtful: Callable[[NeedsConfirmation], None]) -> bool:
        """Take an answer; ask for a reason or a confirmation where one is needed."""
        key, reason, confirmed = self.desk.key, "", False
        while True:
            try:
                self.desk.accept(text, reason=reason, confirmed=confirmed)
            except NeedsReason:
                was = cut(readings(self.desk.item, self.desk.job.answers[key]), 24)
                given = await self.ask(f"Was {was}. Reason for the change", "")
                if given is None:
                    return False
                reason = given
            except NeedsConfirmation as doubt:
                doubtful(doubt)
                if not await yes_or_no(self.ask, "Take it as typed? y or n"):
                    return False
                confirmed = True
            else:
                return True

    async def rescue(self, kept: Job) -> bool:
        """Offer the entries of a save that failed."""
        more = len(kept.events) - len(self.desk.job.events)
        what = "1 entry" if more == 1 else f"{more} entries"
        question = f"A failed save has left {what}. Take what it has left? y or n"
        if not await yes_or_no(self.ask, question):
            return False
        self.desk.take(kept)
        return True

    async def waive(self) -> bool:
        """Mark the item not applicable."""
        reason = await self.ask("Not applicable, because", "")
        if reason is None:
            return False
        self.desk.waive(reason)
        return True

    async def note(self) -> bool:
        """Write a note."""
        text = await self.ask("Reply to the lead" if self.desk.remarked else "Note", "")
        if text is None:
            return False
        self.desk.note(text)
        return True

    async def undo(self) -> bool:
        """Take the last answer back."""
        last = self.desk.last_answer()
        if last is None:
            return False
        ask = self.desk.job.procedure.items[last.key].ask
        label = f"Take back “{cut(last.data['raw'], 10)}” ({cut(ask, 18)}), because"
        reason = await self.ask(label, AT_ONCE)
        if reason is None:
            return False
        self.desk.withdraw(last.key, reason)
        return True

    async def new_instrument(self) -> bool:
        """List an instrument: name, accuracy, calibration."""
        item = self.desk.item
        kind = item.instrument or "instrument"
        name = await self.ask(f"Name or number of the {kind}", "")
        if not name or not name.strip():
            return False
        instrument = Instrument(" ".join(name.split())[:80], kind, item.quantity)
        known = await self._accuracy(instrument)
        if known is None:
            return False
        units = self.desk.job.header.units
        due = await self._until(
            "Calibration due, as 2026-03-01; empty if none",
            lambda text: (due_date(text, units),),
        )
        if due is None:
            return False
        self.desk.add_instrument(replace(known, calibration_due=due[0]))
        return True

    async def _accuracy(self, instrument: Instrument) -> Instrument | None:
        """The instrument with its accuracy, the size of a digit asked where that counts digits."""
        unit = self.desk.item.unit_in(self.desk.job.header.units)
        size = f"Size of one digit, as 0.1 {unit}"
        label = "Accuracy, as 1 % + 2 V or 1 % + 3 digits; empty if unknown"
        text = ""

        def understood(typed: str) -> Instrument:
            nonlocal text
            text = typed.strip()
            one = f"1 {unit}" if wants_resolution(text) else ""
            return with_accuracy(instrument, text, unit, one) if text else instrument

        known = await self._until(label, understood)
        if known is None or not wants_resolution(text):
            return known
        return await self._until(size, lambda step: with_accuracy(instrument, text, unit, step))

    async def _until(self, label: str, understood: Callable[[str], T]) -> T | None:
        """What the answer to a question means; asked again with what is accepted instead."""
        asked, text = label, ""
        while (typed := await self.ask(asked, text)) is not None:
            try:
                return understood(typed)
            except InputError as problem:
                asked, text = f"Accepted: {problem.accepted}"[:WIDEST], typed
        return None
