"""The conversation about one job: which item comes next, and what is done with a typed line."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping

from wizard import actions, remarks
from wizard.actions import Hand, NeedsConfirmation, NeedsReason
from wizard.commands.dialogue import said
from wizard.commands.dialogue.tool import new_instrument
from wizard.commands.dialogue.typed import Typed, is_letter, understand
from wizard.commands.output import print_folded
from wizard.commands.people import hand
from wizard.errors import InputError, WizardError
from wizard.event import Act
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.stopwatch import clock_text, elapsed
from wizard.store import Session, monotonic, now
from wizard.text import show

NOTE = "An advisory wants a note, now or when nothing else is left. Note, or Enter for later> "
AT_ONCE, FREE = "undone at once", "Nothing holds the job."
YES = ("y", "yes")


class Leave(Exception):
    """The person wants to stop."""


def read_line(prompt: str) -> str:
    """A line from stdin; EOFError at its end."""
    print(prompt, end="", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line.strip()


class Talk:
    """One person, one job. `at` is the item in front."""

    def __init__(
        self, session: Session, by: str, instrument: str, line: Callable[[str], str]
    ) -> None:
        self.session, self._by, self._line = session, by, line
        self._instrument = instrument
        self._tools: dict[str, str] = {}
        self._skipped: set[str] = set()
        self._before_answer = session.job
        self._phase = 0
        self._does: Mapping[str, Callable[[Item, str], str | None]] = {
            "?": lambda item, rest: self._say(said.explanation(self.job, item)),
            "n": self._note,
            "x": self._waive,
            "u": self._undo,
            "g": self._go,
            "b": self._before,
            "s": self._skip,
            "l": self._list,
            "h": lambda item, rest: self._say(list(said.holds(self.job)) or [FREE]),
            "w": self._watch,
            "i": self._take_instrument,
            "a": self._answer,
            "q": self._quit,
        }

    @property
    def job(self) -> Job:
        """The job as it is saved."""
        return self.session.job

    def hold(self) -> None:
        """Ask until nothing is left that can be answered."""
        self._say(said.help_lines())
        self._say(said.holds(self.job))
        item = self._first()
        while item is not None:
            after = self._ask(item)
            item = self.job.procedure.items[after] if after else self._next(item)
        for unnoted in self.job.wants_note():
            self._say(["", f"{unnoted.ask} ({unnoted.key})"])
            self._say(said.findings(self.job, unnoted.key))
            self._try(self._note, unnoted, self._worded("Note> "))

    # -- which item ---------------------------------------------------------------

    def _first(self) -> Item | None:
        """The item in front at the start: after a failed save and a draft have been offered."""
        kept, draft = self.session.rescue, self.session.read_draft()
        if kept is not None:
            more = len(kept.events) - len(self.job.events)
            if self._yes(f"{more} entries of a failed save are kept. Take them?"):
                self.session.save(kept)
        if draft and draft.text and draft.key in self.job.procedure.items:
            self._say([f"Typed before and not accepted: {show(draft.text)}"])
            self.session.drop_draft()
            return self.job.procedure.items[draft.key]
        return self.job.next_item()

    def _next(self, item: Item) -> Item | None:
        """Where the job goes on; where nothing can be done it is said why."""
        job, before, self._before_answer = self.job, self._before_answer, self.job
        following = job.item_after(item.key, before, self._skipped)
        waiting = [i for i in job.open_items() if i.key not in self._skipped]
        if following is None and waiting:
            self._say(["", job.refusal(waiting[0].key)])
        return following

    def _ask(self, item: Item) -> str:
        """Ask one item until it is answered or left; the key to go to, empty for the next."""
        arrived, self._phase = item.phase != self._phase, item.phase
        self._say(said.question(self.job, item, arrived=arrived))
        while True:
            line = self._line(self._prompt(item))
            if not line:
                act: Callable[[Item, str], str | None] = self._enter
                typed = Typed("", "")
            else:
                try:
                    typed = understand(item, line, self.job.header.units)
                except InputError as problem:
                    self._say([str(problem)])
                    continue
                act = self._does[typed.command] if typed.command else self._answer
            after = self._try(act, item, typed.rest)
            if after is not None:
                return after

    def _try(self, act: Callable[[Item, str], str | None], item: Item, rest: str) -> str | None:
        """Do something; what is refused is said."""
        try:
            return act(item, rest)
        except WizardError as problem:
            self._say([str(problem)])
            return None

    def _say(self, lines: Iterable[str]) -> None:
        print_folded(lines)

    def _yes(self, question: str) -> bool:
        return self._line(f"{question} (y/n) ").casefold() in YES

    def _hand(self) -> Hand:
        return hand(self._by)

    # -- answering ----------------------------------------------------------------

    def _enter(self, item: Item, rest: str) -> str | None:
        """Enter alone: leave an answer as it is, run the stopwatch, or leave blank."""
        if item.key in self.job.answers or item.key in self.job.waived:
            return self._skip(item, "")
        if said.timed(item) and (self._running(item) or not item.optional):
            return self._watch(item, "")
        return self._answer(item, "")

    def _answer(self, item: Item, text: str) -> str | None:
        if self._running(item) and item.kind == "series":
            self._lap(item, text)
            return None
        before = {h.key for h in self.job.holds()}
        self.session.save(self._answered(item, text))
        self._skipped.discard(item.key)
        self._say(said.findings(self.job, item.key))
        self._say(said.holds(self.job))
        if before and not self.job.holds():
            self._say([FREE])
        if item in self.job.wants_note() and (note := self._worded(NOTE)):
            self._note(item, note)
        return ""

    def _answered(self, item: Item, text: str) -> Job:
        reason, confirmed = "", False
        tool = self._tools.get(item.instrument) or self._instrument
        while True:
            try:
                return actions.answer(
                    self.job,
                    item.key,
                    text,
                    self._hand(),
                    reason=reason,
                    confirmed=confirmed,
                    instrument=tool,
                )
            except NeedsConfirmation as doubt:
                if not self._yes(f"{doubt} Is {show(text)} right?"):
                    raise InputError(item.ask, "a value taken back", "the reading again") from None
                confirmed = True
            except NeedsReason:
                before = show(self.job.answers[item.key].raw) or "not given"
                ask = f"It was {before}. Why is it corrected? Enter leaves it so> "
                if not (reason := self._worded(ask)):
                    raise

    def _worded(self, ask: str) -> str:
        """Words for a note or a reason; the letter of a command is none and is asked again."""
        while is_letter(text := self._line(ask)):
            self._say([str(InputError("words", text, "a few words, or Enter for none"))])
        return text.removeprefix("n ").strip()

    # -- the stopwatch ------------------------------------------------------------

    def _running(self, item: Item) -> bool:
        timer = self.job.timers.get(item.key)
        return timer is not None and timer.stopped is None

    def _prompt(self, item: Item) -> str:
        if not self._running(item):
            return "> "
        shown = clock_text(self._seconds(item))
        laps = "a reading keeps it, " if item.kind == "series" else ""
        return f"Stopwatch at {shown}, {laps}Enter stops> "

    def _seconds(self, item: Item) -> float:
        seconds = elapsed(self.job.timers[item.key], monotonic(), now())
        if seconds.doubt:
            self._say([f"Timed {seconds.doubt}."])
        return round(seconds.seconds, 1)

    def _watch(self, item: Item, rest: str) -> str | None:
        """Start, or stop and offer the time as the answer."""
        if not said.timed(item):
            raise InputError("stopwatch", item.ask, "an item that is timed")
        if not self._running(item):
            self.session.save(actions.start_timer(self.job, item.key, self._hand(), monotonic()))
            self._say(["Started."])
            return None
        seconds = self._seconds(item)
        self.session.save(actions.stop_timer(self.job, item.key, seconds, self._hand()))
        text = actions.timed_answer(self.job, item.key)
        self._say([f"Stopped: {text or 'no reading was taken'}"])
        return self._answer(item, self._line("Enter takes it, or type another> ") or text)

    def _lap(self, item: Item, text: str) -> None:
        seconds = self._seconds(item)
        self.session.save(actions.lap(self.job, item.key, seconds, text, self._hand()))
        taken = self.job.timers[item.key].laps
        self._say([f"Reading {len(taken)}: {taken[-1][1]} at {clock_text(taken[-1][0])}."])

    # -- the other commands -------------------------------------------------------

    def _note(self, item: Item, text: str) -> None:
        remarked = remarks.open_at(self.job, item.key)
        write = remarks.reply if remarked else actions.note
        self.session.save(write(self.job, item.key, text, self._hand()))
        self._say(["Replied." if remarked else "Noted."])

    def _waive(self, item: Item, reason: str) -> str:
        self.session.save(actions.waive(self.job, item.key, reason, self._hand()))
        self._say([f"Not applicable: {show(reason)}"])
        return ""

    def _undo(self, item: Item, reason: str) -> str | None:
        last = next(
            (
                e
                for e in reversed(self.job.events)
                if e.act in (Act.ANSWERED, Act.CORRECTED)
                and (stands := self.job.answers.get(e.key))
                and stands.seq == e.seq
            ),
            None,
        )
        if last is None:
            self._say(["There is no answer to take back."])
            return None
        self.session.save(actions.withdraw(self.job, last.key, reason or AT_ONCE, self._hand()))
        self._say([f"Taken back: {last.key}, {show(last.data['raw']) or 'not given'}"])
        return last.key

    def _go(self, item: Item, word: str) -> str | None:
        keys = self.job.procedure.items
        found = [word] if word in keys else [k for k in keys if word.casefold() in k]
        found = found if len(found) == 1 else [k for k in found if self.job.applies(k)]
        if len(found) == 1:
            return found[0]
        self._say([f"  {k}, {keys[k].ask}" for k in found[:20]])
        few = "Which of them?" if found else "No item has that in its key; l lists what is left."
        self._say([few])
        return None

    def _list(self, item: Item, rest: str) -> None:
        self._say(said.every_item(self.job) if rest == "all" else said.left(self.job, item.phase))

    def _before(self, item: Item, rest: str) -> str | None:
        earlier = [i for i in self.job.applicable if i.place < item.place]
        if not earlier:
            self._say(["This is the first item."])
            return None
        return earlier[-1].key

    def _skip(self, item: Item, rest: str) -> str:
        self._skipped.add(item.key)
        return ""

    def _quit(self, item: Item, rest: str) -> str:
        raise Leave

    def _take_instrument(self, item: Item, name: str) -> None:
        if name == "new":
            made = new_instrument(item, self.job.header.units, self._line, self._say)
            self.session.save(actions.list_instrument(self.job, made, self._hand()))
            name = made.name
        elif name and name not in self.job.instruments:
            known = ", ".join(map(show, self.job.instruments)) or "none yet"
            raise InputError("instrument", show(name), f"new, or one of the list: {known}")
        elif not name:
            kept = self._tools.get(item.instrument) or self._instrument or "none"
            known = ", ".join(map(show, self.job.instruments)) or "none"
            self._say([f"Now {show(kept)}; listed: {known}. i new lists one."])
            return
        self._tools[item.instrument] = name
        self._say([f"Such readings are with {show(name)}."])
