"""One item in front: what is asked, band and verdict while typing, and the hold, painted.

Invariant: what is painted is what the saved job says, and the text in the field.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Container
from textual.geometry import Size

from wizard.answer import Answer, Parsed
from wizard.errors import InputError
from wizard.keys import Command
from wizard.pictures.scene import Scene
from wizard.tui.base import BaseScreen
from wizard.tui.desk import Desk
from wizard.tui.entry import Entry
from wizard.tui.judged import Judged
from wizard.tui.list_pane import ListPane
from wizard.tui.pages import Pages, Reader
from wizard.tui.parts import Parts
from wizard.tui.session import Session
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, at_most, line, wrapped
from wizard.tui.views.explain import explain
from wizard.tui.views.hold import hold
from wizard.tui.views.masthead import masthead, rail
from wizard.tui.views.question import arrival, question, standing
from wizard.tui.views.verdict import FULL, BelowField
from wizard.tui.views.watch import watch

BESIDE, RAIL_IN_FULL, TALL = 100, 150, 32
PLAIN = 6
"""Rows below the field of an item that is not judged by a band."""
REFUSED, MOST_TOLD, SHORT = 3, 3, 24
"""Rows of a refusal, most of choices besides, and of a terminal where a hold has one."""
UNANSWERED, UNANSWERED_PLAIN = 7, 1
"""Rows there until an answer is typed, with a band and without one."""


class BenchScreen(BaseScreen):
    """The layout of the working screen and what is painted on it."""

    PLACES: ClassVar[tuple[str, ...]] = ("work", "list", "read")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (BESIDE, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-short"), (TALL, "-tall")]  # noqa: RUF012

    def __init__(
        self, commands: Iterable[Command], session: Session, who: str, parts: Parts
    ) -> None:
        super().__init__(commands)
        self.desk, self.outside = Desk(session, who, parts.clock), parts
        self.refused: InputError | None = None
        self._drawn: Parsed | Answer | None = None
        self._below = BelowField()
        self._help: bool | None = None
        self._fitted: tuple[object, ...] = ()
        self._coming: dict[str, Size] = {}

    def parts(self) -> ComposeResult:
        """Masthead, rail, question, field, what is below it, hold, explanation, lists."""
        yield Sheet("masthead")
        with Container(id="middle"):
            yield Sheet("rail")
            with Container(id="bench"):
                with Container(id="work"):
                    yield Sheet("question")
                    yield Entry(
                        "field", submit=self.accept, leave=self.leave_field, change=self.typed
                    )
                    yield Sheet("below")
                    yield Sheet("hold")
                yield Pages("help")
            yield ListPane("list", pick=self.picked)
            yield Reader("read")

    def typed(self, text: str) -> None:
        """Another text in the field."""
        raise NotImplementedError

    def picked(self, pick: str) -> None:
        """Enter on a row of a list."""
        raise NotImplementedError

    def accept(self, text: str) -> None:
        """Enter in the field."""
        raise NotImplementedError

    def leave_field(self) -> None:
        """Esc in the field."""
        raise NotImplementedError

    @property
    def field(self) -> Entry:
        """The field of the item in front."""
        return self.query_one("#field", Entry)

    def sheet(self, name: str) -> Sheet:
        """One of the sheets by its id."""
        return self.query_one(f"#{name}", Sheet)

    def paint(self) -> None:
        """Bring every part up to date, once there is room for any."""
        desk, size = self.desk, self.size
        if not self.sheet("masthead").size:
            return
        self.set_class(bool(desk.job.holds()), "-held")
        self.set_class(size.width >= RAIL_IN_FULL, "-vast")
        if self._help is None:
            self.set_class(size.width >= BESIDE, "-help")
        self._fit_cautions()
        self.sheet("masthead").show_lines(masthead(desk.job, desk.item, size.width, desk.read_only))
        rows = self.sheet("rail").size
        self.sheet("rail").show_lines(rail(desk.job, desk.item, rows.height, rows.width))
        asked = self._size_of("question")
        tool = desk.instrument or self._key_of("instrument")
        self.sheet("question").show_lines(
            question(desk.job, desk.item, asked.width, asked.height, tool)
        )
        held = self._size_of("hold")
        key = self._key_of("next")
        self.sheet("hold").show_lines(hold(desk.job, desk.key, held.width, held.height, key))
        self.paint_below()
        self.show_keys()

    def _fit_cautions(self) -> None:
        """Let a long caution, and then the danger of a hold, have the rows that are free.

        It is measured when another item comes or the room changes, never while somebody types, so
        that nothing moves.
        """
        desk = self.desk
        room = self.query_one("#work").size.with_height(self.query_one("#bench").size.height)
        asks, holds = self.sheet("question"), self.sheet("hold")
        sight = self.has_class("-sight") or (self.has_class("-help") and self.has_class("-narrow"))
        fitted = desk.key, room, sight, tuple(h.key for h in desk.job.holds())
        if fitted == self._fitted:
            return
        stays = fitted[:3] == self._fitted[:3]
        self._fitted, self._drawn, self._coming = fitted, None, {}
        if sight:
            self._fit_explanation()
            return
        self.sheet("below").styles.height = None
        tall = self.size.height >= TALL
        least, held = (6 if tall else 4), (7 if tall else 4) if desk.job.holds() else 0
        below = room.height - 1 - least - held
        free = below - self._wanted_below(room.width, below)
        tool = desk.instrument or self._key_of("instrument")
        wanted = len(question(desk.job, desk.item, room.width, room.height, tool)) - least
        more = max(0, min(free, wanted))
        if stays:
            # An answer that holds leaves field and question where they are.
            more = max(more, asks.size.height - least)
        told = len(hold(desk.job, desk.key, room.width, room.height, "")) - held
        rows = {"question": least + more, "hold": held + max(0, min(free - more, told))}
        asks.styles.height, holds.styles.height = rows["question"], rows["hold"]
        rows["below"] = max(0, room.height - 1 - sum(rows.values()))
        self._coming = {name: room.with_height(height) for name, height in rows.items()}

    def _size_of(self, name: str) -> Size:
        """The room of a sheet: where it has just been told another height, the one to come.

        What is painted then is sent with the layout in one frame, and not moved by a second.
        """
        return self._coming.get(name, self.sheet(name).size)

    def on_sheet_resized(self) -> None:
        """The layout is done: what it gave is what there is."""
        self._coming = {}

    def _fit_explanation(self) -> None:
        """Let the explanation have the rows that question, answer and hold can do without.

        What they are cut to is in the explanation; a refusal has three rows, as ever.
        """
        item, width = self.desk.item, self.query_one("#work").size.width
        tool = self.desk.instrument or self._key_of("instrument")
        short = self.size.height < SHORT
        asked = len(question(self.desk.job, item, width, 3 if short else 4, tool))
        self.sheet("question").styles.height = asked
        self.sheet("below").styles.height = self._answer_rows(width)
        held = bool(self.desk.job.holds())
        self.sheet("hold").styles.height = (1 if short else 2) if held else 0

    def _answer_rows(self, width: int) -> int:
        """Rows for what becomes of the answer, while the explanation stands below them."""
        options = self.desk.item.options
        told = min(MOST_TOLD, len(options))
        return REFUSED + max(told, min(2, len(self._standing(width))))

    def _wanted_below(self, width: int, height: int) -> int:
        """Rows below the field that an answer may come to need, of so many.

        A drawing that has no room beside a verdict gives way to it, and asks for none with it.
        """
        item = self.desk.item
        banded = item.measured and bool(item.checks)
        judged, before = (FULL + 1, UNANSWERED) if banded else (PLAIN, UNANSWERED_PLAIN)
        low = self._picture(width, height) or arrival(self.desk.job, item, width)
        together = judged + len(item.options) + len(low)
        if together <= height:
            return together
        return len(item.options) + max(judged, before + len(low))

    def _key_of(self, name: str) -> str:
        return next((c.key_text for c in self.commands if c.name == name), "")

    def paint_below(self, *, typing: bool = False) -> None:
        """Bring what depends on the text in the field up to date.

        While `typing`, picture and explanation stay; they follow when the keys pause, so that a
        key costs little over a slow link.
        """
        desk = self.desk
        state = desk.judged(self.field.value)
        if not typing:
            self._drawn = state.parsed
        size = self._size_of("below")
        self.sheet("below").show_lines(
            self._below.lines(
                state,
                size.width,
                size.height,
                refused=self.refused,
                answer=None if desk.key in desk.job.waived else desk.job.answers.get(desk.key),
                standing=self._standing(size.width),
                picture=self._picture(size.width, size.height),
                place=arrival(desk.job, desk.item, size.width),
                typing=typing,
            )
        )
        pane = self.query_one("#help", Pages)
        if pane.display and not typing:
            pane.put(self.explanation(state, pane.size.width), from_top=False)

    def explanation(self, state: Judged, width: int) -> Lines:
        """What stands beside the item while the explanation is open."""
        return explain(self.desk.job, self.desk.item, state, width)

    def _standing(self, width: int) -> Lines:
        desk = self.desk
        timed = watch(desk.item, desk.timer, desk.elapsed(), self._key_of("watch"), width)
        lines = [*timed, *standing(desk.job, desk.item, width)]
        if desk.refusal:
            refusal = wrapped(f"Not yet: {desk.refusal}", width, "caution")
            lines = [*at_most(refusal, 3, width), *lines]
        return lines

    def _picture(self, width: int, height: int) -> Lines:
        scene = Scene(self.desk.job, self.desk.item, self._drawn)
        return [line(row) for row in self.outside.picture(scene, width, height - 4)]

    @property
    def place(self) -> str:
        """Work, a list, or a text to read."""
        if self.has_class("-list"):
            return "list"
        return "read" if self.has_class("-read") else "work"

    def turn_to(self, place: str) -> None:
        """Show the work, a list or a text."""
        self.set_class(place == "list", "-list")
        self.set_class(place == "read", "-read")
        keys_to = {"work": "#field", "list": "#list", "read": "#read"}[place]
        self.set_focus(self.query_one(keys_to), scroll_visible=False)
        self.show_keys()

    def do_help(self) -> None:
        """Open or close the explanation."""
        self._help = not self.has_class("-help")
        self.set_class(self._help, "-help")
        self._fit_cautions()
        self.query_one("#help", Pages).scroll_by(-10_000)
