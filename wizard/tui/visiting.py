"""What is asked at a visit after the handover, one line at a time.

Invariant: a question that is left does nothing; every answer is on disk before the next question.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from wizard import service
from wizard.actions import NeedsConfirmation, NeedsReason
from wizard.finding import worst
from wizard.procedure.visits import visit_kind
from wizard.tui.desk import Desk
from wizard.tui.dialogues import Ask, cut, yes_or_no
from wizard.tui.views.marks import saved_words
from wizard.tui.views.visit import CLOSE, ITEM, NOTE, START, TASK


class Visiting:
    """The open visit of one desk."""

    def __init__(self, desk: Desk, ask: Ask) -> None:
        self.desk, self.ask = desk, ask

    async def pick(self, pick: str) -> str:
        """Do what a row of the list is for; a sentence about what was done, or nothing."""
        kind, _, rest = pick.partition(" ")
        if f"{kind} " == START:
            return await self._start(rest)
        if f"{kind} " == ITEM:
            return await self._answer(rest)
        if f"{kind} " == TASK and await yes_or_no(self.ask, "Done at this visit? y or n"):
            self._save(service.did, rest)
            return "Saved; it has its next date."
        if pick == NOTE and (text := await self.ask("Note of this visit", "")):
            self._save(service.note_visit, text)
            return "Saved."
        return await self._close() if pick == CLOSE else ""

    async def _close(self) -> str:
        """Close the visit; with something left over, for a reason only."""
        desk = self.desk
        left = service.left_over(desk.job)
        reason: str | None = ""
        if left:
            reason = await self.ask(f"{left} Reason for closing it", "")
        elif not await yes_or_no(self.ask, "Close the visit? y or n"):
            return ""
        if reason is None:
            return ""
        desk.session.save(service.close_visit(desk.job, desk.hand(), reason))
        return "The visit is closed."

    async def _start(self, kind: str) -> str:
        title = visit_kind(kind).title
        if not await yes_or_no(self.ask, f"Begin “{title}”? y or n"):
            return ""
        self._save(service.open_visit, kind)
        return visit_kind(kind).caution

    async def _answer(self, key: str) -> str:
        """Ask for a reading, and again for a reason or a confirmation where one is needed."""
        desk = self.desk
        item = desk.job.procedure.items[key]
        before = desk.job.answers.get(key)
        was = f", was {before.raw}" if before and before.raw else ""
        text = await self.ask(f"{cut(item.ask, 44)}{was}", "")
        given: dict[str, Any] = {"reason": "", "confirmed": False}
        while text is not None:
            try:
                self._save(service.answer_visit, key, text, **given)
            except NeedsReason:
                reason = await self.ask("Reason for the change", "")
                if reason is None:
                    return ""
                given["reason"] = reason
            except NeedsConfirmation as doubt:
                if not await yes_or_no(self.ask, f"{doubt} y or n"):
                    return ""
                given["confirmed"] = True
            else:
                return saved_words(worst(desk.job.found_again.get(key, ())))[0]
        return ""

    def _save(self, act: Callable[..., Any], *what: str, **how: Any) -> None:
        desk = self.desk
        desk.session.save(act(desk.job, *what, desk.hand(), **how))
