"""One job under review, in the working screen, with nothing to answer and much to see.

Invariant: a lead changes no reading; remarks, acceptance and sending back go through the lock.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import ClassVar

from rich.cells import cell_len

from wizard.commands.reviewing import Reviewing
from wizard.errors import WizardError
from wizard.job import Job
from wizard.keys import Command
from wizard.review.case import Case
from wizard.review.inspection import Section, sections
from wizard.review.lead import Lead
from wizard.review.table import across
from wizard.review.trust import Trust
from wizard.signing import refusal
from wizard.tui.doors import Door, GoIn
from wizard.tui.pages import Reader
from wizard.tui.parts import Parts
from wizard.tui.spans import BLANK, Lines, line, wrapped
from wizard.tui.views.review import compared, sections_page
from wizard.tui.working import WorkScreen


class CaseScreen(WorkScreen):
    """A job of the folder under review."""

    PLACES: ClassVar[tuple[str, ...]] = ("case", "list", "read")

    def __init__(
        self,
        commands: Iterable[Command],
        case: Case,
        reviewing: Reviewing,
        parts: Parts,
        back: Door,
    ) -> None:
        super().__init__(commands, case, reviewing.who, parts)
        self.case, self.reviewing, self.back = case, reviewing, back
        self.desk.key = first_key(case)

    @property
    def place(self) -> str:
        """As the working screen, with other commands at the item."""
        place = super().place
        return "case" if place == "work" else place

    def usable(self, command: Command) -> bool:
        """Nothing is accepted that cannot be relied on."""
        look = self.case.look
        able = {
            "accept": look.usable and look.row.decision != "accepted",
            "send_back": look.usable,
            "remark": look.usable,
        }
        return able.get(command.name, True) and super().usable(command)

    def _standing(self, width: int) -> Lines:
        """What was seen and is judged differently now, and what to doubt here."""
        key, found = self.desk.key, self.case.look
        out: Lines = []
        for difference in found.differences:
            if difference.key == key:
                said = f"Seen as {difference.seen}; {difference.rules}: {difference.now}"
                out += wrapped(said, width, "fail")
        for doubt in found.doubts:
            if doubt.key == key:
                out += wrapped(f"Doubt, {doubt.rule}: {doubt.text}", width, "caution")
        for told in found.told:
            if told.key == key and told.rule in ("corrected", "withdrawn"):
                out += wrapped(f"{told.rule.capitalize()}: {told.text}", width, "dim")
        return [*out, *super()._standing(width)]

    def leave_field(self) -> None:
        """Esc: close the explanation, then back to the folder."""
        if self.has_class("-help") and self.has_class("-narrow"):
            self.do_help()
            return
        self.do_folder()

    def do_folder(self) -> None:
        """Back to the folder."""
        self.desk.session.close()
        self.post_message(GoIn(self.back))

    def accept(self, text: str) -> None:
        """Enter goes on; nothing is answered here."""
        self.field.put("")
        self.unsent.pop(self.desk.key, None)
        self.do_after()

    def do_doubts(self) -> None:
        """What there is to say of the record."""
        row = self.case.look.row
        others = tuple(across(row, self.reviewing.against)) or ("nothing",)
        told = [*sections(self.case.look), Section("Among the other jobs", others)]
        self._page(sections_page(told, self._width))

    def do_beside(self) -> None:
        """The job beside the others."""
        row, rows = self.case.look.row, self.reviewing.beside(self.case.look.row.file)
        self._page(compared(rows, row, self.reviewing.against, self._width))

    @property
    def _width(self) -> int:
        return max(20, self.size.width - 8)

    def _page(self, lines: Lines) -> None:
        self.query_one(Reader).put(lines)
        self.turn_to("read")

    # -- what a lead writes -----------------------------------------------------------

    def do_remark(self) -> None:
        """Ask for the remark."""
        self.run_worker(self._remark(), group="talk", exclusive=True)

    async def _remark(self) -> None:
        key = self.desk.key
        text = await self.status.ask("Remark on this item", "")
        if text and text.strip():
            self._write(lambda lead: lead.remark(self.case.path, key, text), "Saved.")

    def do_send_back(self) -> None:
        """Ask for what is to be done, then return the job."""
        self.run_worker(self._send_back(), group="talk", exclusive=True)

    async def _send_back(self) -> None:
        waiting = len(self.case.job.open_remarks())
        remarks = f"{waiting} remark{'s' if waiting > 1 else ''} and " if waiting else ""
        text = await self.status.ask(f"Send back with {remarks}a word on the whole job", "")
        if text is not None and await self._sign():
            word = text.strip()
            self._write(lambda lead: lead.send_back(self.case.path, word), "Sent back.")

    def do_accept(self) -> None:
        """Ask who signs and with which key, then accept."""
        self.run_worker(self._accept(), group="talk", exclusive=True)

    async def _accept(self) -> None:
        if why_not := refusal(self.case.job, "lead", "accepted"):
            self._refused(why_not)
        elif await self._sign():
            self._write(lambda lead: lead.accept(self.case.path), "Accepted.")

    async def _sign(self) -> bool:
        """Ask with which key, then who signs: the name that the lead's list has for the key.

        False where a question is left.
        """
        reviewing = self.reviewing
        key = await self.status.ask("SSH key file; empty signs without", reviewing.key)
        if key is None:
            return False
        key = str(Path(key.strip()).expanduser()) if key.strip() else ""
        listed = Trust.own().proposed(key, "lead")
        name = await self.status.ask("Sign as", listed or reviewing.principal or reviewing.who)
        if not name or not name.strip():
            return False
        reviewing.principal, reviewing.key = name.strip(), key
        return True

    def _write(self, act: Callable[[Lead], Job], said: str) -> None:
        """Let the lead write, and show what is in the record then."""
        try:
            self.reviewing.wrote(self.case, act)
        except WizardError as problem:
            self._refused(str(problem))
            return
        self.status.last("")
        self.status.say(said, "pass")
        self.show_item()

    def _refused(self, why: str) -> None:
        """Say why nothing was written: in the status row where it fits, else on a page."""
        if cell_len(why) < self.size.width:
            self.status.last(why)
            return
        self.status.last("")
        self._page([*wrapped(why, self._width, "error"), BLANK, line(("Esc goes back.", "dim"))])


def first_key(case: Case) -> str:
    """Where to begin: what fails, what is doubtful, what is noted, else the first item."""
    job, known = case.job, case.job.procedure.items
    failing = [item.key for item in job.failures()]
    differing = [difference.key for difference in case.look.differences]
    doubtful = [doubt.key for doubt in case.look.doubts]
    noted = [item.key for item in job.advisories()]
    keys = [key for key in (*failing, *differing, *doubtful, *noted) if key in known]
    return keys[0] if keys else job.applicable[0].key
