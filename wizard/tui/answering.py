"""Answering: what is typed, what becomes of it, and how text is kept until it is an answer.

Invariant: text in the field is never lost, and never becomes an answer by itself.
"""

from __future__ import annotations

from collections.abc import Coroutine, Iterable
from contextlib import suppress
from itertools import chain
from typing import Any

from textual import events
from textual.timer import Timer

from wizard.actions import NeedsConfirmation, NeedsReason
from wizard.errors import InputError, StoreError, WizardError
from wizard.keys import Command
from wizard.tui.bench import BenchScreen
from wizard.tui.dialogues import Dialogues
from wizard.tui.pages import Pages, Reader
from wizard.tui.parts import Parts
from wizard.tui.session import Session
from wizard.tui.spans import line, wrapped
from wizard.tui.views.finish import summary
from wizard.tui.views.marks import saved_words

FOLLOW_EVERY = 2.0
DRAFT_AFTER = 0.7
PAUSE = 0.5


class AnsweringScreen(BenchScreen):
    """The field at work."""

    def __init__(
        self, commands: Iterable[Command], session: Session, who: str, parts: Parts
    ) -> None:
        super().__init__(commands, session, who, parts)
        self.unsent: dict[str, str] = {}
        self._kept = False
        self._keeping: Timer | None = None
        self._typing: Timer | None = None
        self._ticking: Timer | None = None

    def on_mount(self) -> None:
        """Take up the work where it was left."""
        self.dialogues = Dialogues(self.desk, self.status.ask)
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
        if self.desk.read_only:
            return
        try:
            draft = self.outside.drafts.read_draft(self.desk.job.header.uuid)
        except StoreError as problem:
            self.status.say(str(problem), "error")
            return
        if draft is None or draft.key not in self.desk.job.procedure.items or not draft.text:
            return
        self.desk.go(draft.key)
        self.unsent[draft.key] = draft.text
        self._kept = True
        self.status.say("This was being typed when the screen closed. Enter accepts it.", "strong")

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
            return f"1 to {len(item.options)}" if item.numbered else "one of these"
        return item.unit_in(self.desk.job.header.units)

    def typed(self, text: str) -> None:
        """The field holds another text; a lone ? is F1 where it cannot be an answer."""
        if text == "?" and self.desk.item.kind != "write":
            self.field.put("")
            self.do_help()
            return
        self.refused = None
        self.unsent[self.desk.key] = text
        self.status.say()
        self.paint_below(typing=True)
        if self._keeping is None:
            self._keeping = self.set_timer(DRAFT_AFTER, self.keep_draft)
        if self._typing is not None:
            self._typing.stop()
        self._typing = self.set_timer(PAUSE, self.paint_below)

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
        except InputError as problem:
            self.refuse(problem)
        except WizardError as problem:
            self.show_problem(problem)
        else:
            self._accepted(key)

    def refuse(self, problem: InputError) -> None:
        """Say under the field why its text is no answer; another may be typed over it."""
        self.refused = problem
        self.status.say()
        self._let_replace()
        self.paint_below()

    def _accepted(self, key: str) -> None:
        """The answer is on disk: forget its text, and show what comes next."""
        self.unsent.pop(key, None)
        self.status.last("")
        self.forget_draft()
        self.status.say(*saved_words(self.desk.job.finding(key)))
        self.show_item()
        if self.desk.job.state == "finished":
            self.do_finish()

    def _doubt(self, doubt: NeedsConfirmation) -> None:
        self.refused = doubt
        self.paint_below()

    def take(self, key: events.Key) -> bool:
        """Arrows choose an option or move the explanation; Tab turns its pages."""
        if self.place not in ("work", "site", "case") or key.key not in ("up", "down", "tab"):
            return False
        by = -1 if key.key == "up" else 1
        if key.key == "tab":
            self.query_one("#help", Pages).page_on()
        elif self.desk.item.kind == "choose":
            self._choose(by)
        else:
            self.query_one("#help", Pages).scroll_by(by * 3)
        return True

    def _choose(self, by: int) -> None:
        """Put the option above or below into the field."""
        options = self.desk.item.listed(self.desk.job.header.units)
        parsed = self.desk.judged(self.field.value).parsed
        at = options.index(str(parsed.value)) if parsed and parsed.value in options else -1
        at = (at + by) % len(options) if at >= 0 else (0 if by > 0 else len(options) - 1)
        self.field.put(str(at + 1) if self.desk.item.numbered else options[at])
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
            self.refuse(problem)
        else:
            self.status.say(str(problem), "error")

    def _let_replace(self) -> None:
        """Let another value be typed over the one that is not taken, but a set be typed on."""
        state = self.desk.judged(self.field.value)
        if not 0 < len(state.readings) < len(state.item.labels):
            self.field.propose()

    def talk(self, dialogue: Coroutine[Any, Any, bool], key: str = "") -> None:
        """Hold a dialogue beside the screen; `key` is the item whose text it uses up.

        What was said of the answer before is not true any more once it has ended.
        """
        self.status.say()
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
            if self.refused is not None:
                self._let_replace()
            self.refused = None
            self.paint_below()

    def keep_draft(self) -> None:
        """Keep the text of the open field, or drop what was kept where it is empty again."""
        self._keeping = None
        if not self.field.value:
            self.forget_draft()
        elif not self.desk.read_only:
            uuid = self.desk.job.header.uuid
            try:
                self.outside.drafts.keep_draft(uuid, self.desk.key, self.field.value)
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
            self._kept = False
            # A draft that stays behind is offered once more, and is never an answer by itself.
            with suppress(StoreError):
                self.outside.drafts.drop_draft(self.desk.job.header.uuid)

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
