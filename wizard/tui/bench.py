"""One item in front: what is asked, the field, band and verdict while typing, and the hold.

Invariant: what is painted is what the saved job says; text in the field is never lost.
"""

from __future__ import annotations

from collections.abc import Coroutine, Iterable
from itertools import chain
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Container
from textual.timer import Timer
from textual.widget import Widget

from wizard.actions import NeedsConfirmation, NeedsReason
from wizard.answer import Answer, Parsed
from wizard.errors import InputError, StoreError, WizardError
from wizard.pictures.scene import Scene
from wizard.tui.base import BaseScreen
from wizard.tui.commands import Command
from wizard.tui.desk import Desk
from wizard.tui.dialogues import Dialogues
from wizard.tui.entry import Entry
from wizard.tui.list_pane import ListPane
from wizard.tui.lists import Lists
from wizard.tui.pages import Pages, Reader
from wizard.tui.parts import Parts
from wizard.tui.session import Session
from wizard.tui.sheet import Sheet
from wizard.tui.spans import Lines, at_most, line, wrapped
from wizard.tui.views.explain import explain
from wizard.tui.views.finish import summary
from wizard.tui.views.hold import hold
from wizard.tui.views.masthead import masthead, rail
from wizard.tui.views.question import arrival, question, standing
from wizard.tui.views.verdict import below_field
from wizard.tui.views.watch import watch

BESIDE, RAIL_IN_FULL = 100, 150
FOLLOW_EVERY = 2.0
DRAFT_AFTER = 0.7


class BenchScreen(BaseScreen):
    """Painting and typing; the commands are added by the working screen."""

    PLACES: ClassVar[tuple[str, ...]] = ("work", "list", "read")
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012
        (0, "-narrow"),
        (BESIDE, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [(0, "-short"), (32, "-tall")]  # noqa: RUF012

    def __init__(
        self, commands: Iterable[Command], session: Session, who: str, parts: Parts
    ) -> None:
        super().__init__(commands)
        self.desk, self.outside = Desk(session, who, parts.clock), parts
        self.refused: InputError | None = None
        self.unsent: dict[str, str] = {}
        self._kept = False
        self._keeping: Timer | None = None
        self._ticking: Timer | None = None

    def parts(self) -> ComposeResult:
        """Masthead, rail, question, field, what is below it, hold, explanation, lists."""
        yield Sheet("masthead")
        with Container(id="middle"):
            yield Sheet("rail")
            with Container(id="bench"):
                with Container(id="work"):
                    yield Sheet("question")
                    yield Entry("field", submit=self.accept, leave=self.leave_field)
                    yield Sheet("below")
                    yield Sheet("hold")
                yield Pages("help")
            yield ListPane("list")
            yield Reader("read")

    def on_mount(self) -> None:
        """Take up the work where it was left."""
        self.field = self.query_one("#field", Entry)
        self.lists = Lists(self.desk, self.query_one(ListPane))
        self.dialogues = Dialogues(self.desk, self.status.ask)
        self.set_class(self.app.size.width >= BESIDE, "-help")
        self._offer_draft()
        self.show_item()
        self.set_focus(self.field, scroll_visible=False)
        self._say_what_was_found()

    def _say_what_was_found(self) -> None:
        """Who has the record, what to know of its folder, what a failed save has left."""
        session = self.desk.session
        if self.desk.read_only:
            self.status.last(f"Read only: {self.desk.read_only}")
            self.set_interval(FOLLOW_EVERY, self._follow)
        if session.warnings:
            width = max(20, self.app.size.width - 8)
            told = [wrapped(w, width, "caution") for w in session.warnings]
            self.query_one(Reader).put([*chain.from_iterable(told), line(("Esc goes on.", "dim"))])
            self.turn_to("read")
        if session.rescue is not None and not self.desk.read_only:
            self.talk(self.dialogues.rescue(session.rescue))

    def _offer_draft(self) -> None:
        uuid = self.desk.job.header.uuid
        draft = None if self.desk.read_only else self.outside.drafts.read_draft(uuid)
        if draft is None or draft.key not in self.desk.job.procedure.items or not draft.text:
            return
        self.desk.go(draft.key)
        self.unsent[draft.key] = draft.text
        self._kept = True
        self.status.say("This was being typed when the screen closed. Enter accepts it.", "strong")

    # -- painting -----------------------------------------------------------------

    def sheet(self, name: str) -> Sheet:
        """One of the sheets by its id."""
        return self.query_one(f"#{name}", Sheet)

    def show_item(self) -> None:
        """Bring everything up to date with the desk, with the text that was left there."""
        self.refused = None
        text = self.unsent.get(self.desk.key, "")
        self.field.put(text, line(("› ", "key")), self._hint())
        self.paint()
        self._tick_if_running()

    def _hint(self) -> str:
        item = self.desk.item
        if item.kind == "confirm":
            return "y or n"
        if item.kind == "choose":
            return f"1 to {len(item.options)}"
        return item.unit_in(self.desk.job.header.units)

    def paint(self) -> None:
        """Bring every part up to date, once there is room for any."""
        desk, size = self.desk, self.size
        if not self.sheet("rail").size:
            return
        self.set_class(bool(desk.job.holds()), "-held")
        self.set_class(size.width >= RAIL_IN_FULL, "-vast")
        self.sheet("masthead").show_lines(masthead(desk.job, desk.item, size.width, desk.read_only))
        rows = self.sheet("rail").size
        self.sheet("rail").show_lines(rail(desk.job, desk.item, rows.height, rows.width))
        asked = self.sheet("question").size
        self.sheet("question").show_lines(question(desk.job, desk.item, asked.width, asked.height))
        held = self.sheet("hold").size
        key = self._key_of("next")
        self.sheet("hold").show_lines(hold(desk.job, desk.key, held.width, held.height, key))
        self.paint_below()
        self.show_keys()

    def _key_of(self, name: str) -> str:
        return next((c.key_text for c in self.commands if c.name == name), "")

    def paint_below(self) -> None:
        """Bring what depends on the text in the field up to date."""
        desk = self.desk
        state = desk.judged(self.field.value)
        size = self.sheet("below").size
        self.sheet("below").show_lines(
            below_field(
                state,
                size.width,
                size.height,
                refused=self.refused,
                standing=self._standing(size.width),
                picture=self._picture(state.parsed, size.width, size.height),
                place=arrival(desk.job, desk.item, size.width),
            )
        )
        help_pane = self.query_one("#help", Pages)
        if help_pane.display:
            help_pane.put(explain(desk.job, desk.item, state, help_pane.size.width), from_top=False)

    def _standing(self, width: int) -> Lines:
        desk = self.desk
        timed = watch(desk.item, desk.timer, desk.elapsed(), self._key_of("watch"), width)
        lines = [*timed, *standing(desk.job, desk.item, width)]
        if desk.refusal:
            refusal = wrapped(f"Not yet: {desk.refusal}", width, "caution")
            lines = [*at_most(refusal, 3, width), *lines]
        return lines

    def _picture(self, trial: Parsed | Answer | None, width: int, height: int) -> Lines:
        desk = self.desk
        drawn = self.outside.picture(Scene(desk.job, desk.item, trial), width, height - 4)
        return [line(row) for row in drawn]

    # -- the field ----------------------------------------------------------------

    def on_entry_changed(self, event: Entry.Changed) -> None:
        """Judge while typing."""
        self.typed(event.entry.value)

    def typed(self, text: str) -> None:
        """The field holds another text; a lone ? is F1 where it cannot be an answer."""
        if text == "?" and self.desk.item.kind != "write":
            self.field.put("")
            self.do_help()
            return
        self.refused = None
        self.unsent[self.desk.key] = text
        self.status.say()
        self.paint_below()
        if self._keeping is None and not self.desk.read_only:
            self._keeping = self.set_timer(DRAFT_AFTER, self.keep_draft)

    def accept(self, text: str) -> None:
        """Take the text as the answer; ask first where a reason or a confirmation is needed."""
        desk = self.desk
        if desk.read_only:
            self.status.say()
            return
        if not text.strip() and desk.key in desk.job.answers:
            self.do_after()
            return
        key = desk.key
        try:
            if desk.running and desk.item.kind == "series":
                desk.lap(text)
            else:
                desk.accept(text)
        except (NeedsReason, NeedsConfirmation):
            self.talk(self.dialogues.accept(text, self._doubt), key)
        except WizardError as problem:
            self.show_problem(problem)
        else:
            self._accepted(key)

    def _accepted(self, key: str) -> None:
        """The answer is on disk: forget its text, and show what comes next."""
        self.unsent.pop(key, None)
        self.status.last("")
        self.forget_draft()
        self.status.say("Saved.", "dim")
        self.show_item()
        if self.desk.job.state == "finished":
            self.do_finish()

    def _doubt(self, doubt: NeedsConfirmation) -> None:
        self.refused = doubt
        self.paint_below()

    def on_key(self, event: events.Key) -> None:
        """Arrows choose an option or move the explanation."""
        if self.screen.focused is not self.field:
            return
        if event.key in ("up", "down"):
            event.stop()
            by = 1 if event.key == "down" else -1
            if self.desk.item.kind == "choose":
                self._choose(by)
            else:
                self.query_one("#help", Pages).scroll_by(by * 3)
        elif event.key == "tab":
            event.stop()
            self.query_one("#help", Pages).page_on()

    def _choose(self, by: int) -> None:
        """Put the option above or below into the field."""
        options = self.desk.item.options
        parsed = self.desk.judged(self.field.value).parsed
        at = options.index(str(parsed.value)) if parsed and parsed.value in options else -1
        at = (at + by) % len(options) if at >= 0 else (0 if by > 0 else len(options) - 1)
        self.field.put(str(at + 1))
        self.typed(self.field.value)

    def leave_field(self) -> None:
        """Esc in the field: close the explanation, or take back what was said."""
        if self.has_class("-help"):
            self.do_help()
        self.refused = None
        self.status.say()
        self.paint_below()

    def show_problem(self, problem: WizardError) -> None:
        """One sentence; the text stays in the field."""
        if isinstance(problem, StoreError):
            self.status.last(str(problem))
        elif isinstance(problem, InputError) and not self.status.asking:
            self.refused = problem
            self.paint_below()
        else:
            self.status.say(str(problem), "error")

    def talk(self, dialogue: Coroutine[Any, Any, bool], key: str = "") -> None:
        """Hold a dialogue beside the screen; `key` is the item whose text it uses up."""
        self.run_worker(self._talk(dialogue, key), group="talk", exclusive=True)

    async def _talk(self, dialogue: Coroutine[Any, Any, bool], key: str) -> None:
        try:
            done = await dialogue
        except WizardError as problem:
            self.show_problem(problem)
            return
        if done and key:
            self._accepted(key)
        elif done:
            self.show_item()
        else:
            self.refused = None
            self.paint_below()

    # -- drafts, stopwatch, another session -----------------------------------------

    def keep_draft(self) -> None:
        """Keep the text of the open field."""
        self._keeping = None
        if self.field.value and not self.desk.read_only:
            try:
                self.outside.drafts.keep_draft(
                    self.desk.job.header.uuid, self.desk.key, self.field.value
                )
            except StoreError as problem:
                self.status.say(str(problem), "error")
            else:
                self._kept = True

    def forget_draft(self) -> None:
        """Drop the text kept, once it is an answer."""
        if self._keeping is not None:
            self._keeping.stop()
            self._keeping = None
        if self._kept:
            self.outside.drafts.drop_draft(self.desk.job.header.uuid)
            self._kept = False

    def _tick_if_running(self) -> None:
        """Repaint once a second while a stopwatch runs, and never otherwise."""
        if self.desk.running and self._ticking is None:
            self._ticking = self.set_interval(1.0, self._tick)
        elif not self.desk.running and self._ticking is not None:
            self._ticking.stop()
            self._ticking = None

    def _tick(self) -> None:
        self._tick_if_running()
        self.paint_below()

    def _follow(self) -> None:
        """Show what the session that holds the record has saved since."""
        try:
            changed = self.desk.session.refresh()
        except WizardError as problem:
            self.status.say(str(problem), "error")
            return
        if changed:
            self.paint()

    # -- moving ---------------------------------------------------------------------

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
        reader: Widget = self.query_one(Reader)
        keys_to = {"work": self.field, "list": self.lists.pane, "read": reader}
        self.set_focus(keys_to[place], scroll_visible=False)
        self.show_keys()

    def do_help(self) -> None:
        """Open or close the explanation."""
        self.toggle_class("-help")
        self.query_one("#help", Pages).scroll_by(-10_000)

    def do_after(self) -> None:
        """The item after."""
        self._step(1, "This is the last item.")

    def _step(self, by: int, at_end: str) -> None:
        self.status.say()
        if self.desk.step(by):
            self.show_item()
        else:
            self.status.say(at_end, "dim")

    def do_finish(self) -> None:
        """Where the job stands."""
        pane = self.query_one(Reader)
        width = max(20, self.size.width - 8)
        pane.put(summary(self.desk.job, self.outside.dates(self.desk.job), width))
        self.turn_to("read")

    def stop_work(self) -> None:
        """Keep the text of the open field and give the record back."""
        self.keep_draft()
        self.desk.session.close()
