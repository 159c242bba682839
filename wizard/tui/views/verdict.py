"""Below the field: what was understood, the band with its marker, the verdict, the working.

Invariant: the verdict is in words, and the rows that matter most are the last to be dropped when
the terminal is small.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wizard.answer import Answer
from wizard.errors import InputError
from wizard.finding import ORDER, Finding, Limit
from wizard.formula import Step
from wizard.pictures.scale import band_line, ends_line, marker_line, scale_for
from wizard.quantities import format_number, from_si
from wizard.render import Units, limit_ends, limit_text, working_lines
from wizard.tui.judged import Judged
from wizard.tui.spans import BLANK, Line, Lines, Span, at_most, fitted, line, wrapped
from wizard.tui.views.marks import ROLE_OF_VERDICT, verdict_words
from wizard.tui.views.options import in_full, options
from wizard.tui.views.question import answered, readings

SCALE_WIDTH, SMALLEST_SCALE = 52, 20
TALL = 20
WORKING_WIDTH = 48
FULL = 8
"""Rows of a band, a verdict of three rows, the working and the other checks."""


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that are kept or dropped together; the lowest rank goes first."""

    rank: int
    lines: Lines


def packed(blocks: Sequence[Block], height: int) -> Lines:
    """The blocks in order, without the lowest ranks where the height does not suffice."""
    kept = [b for b in blocks if b.lines]
    while kept and sum(len(b.lines) for b in kept) > height:
        kept.remove(min(kept, key=lambda b: b.rank))
    return [spans for block in kept for spans in block.lines]


def understood(state: Judged, width: int, refused: InputError | None) -> Lines:
    """The row under the field: the reading as taken, or what is still missing.

    A choice is marked where the options are listed, and said here only where it is cut there.
    """
    if refused is not None:
        return at_most(wrapped(str(refused), width, "error", "", "  "), 3, width)
    if state.problem is not None:
        if 0 < len(state.readings) < len(state.item.labels):
            return [fitted(_so_far(state), width)]
        return [fitted(line((f"needs {state.problem.accepted}", "dim")), width)]
    if state.typed and state.parsed is not None and state.item.kind != "choose":
        return [fitted(line(("= ", "dim"), (readings(state.item, state.parsed), "strong")), width)]
    return []


def _under(state: Judged, width: int, refused: InputError | None, answer: Answer | None) -> Lines:
    """The rows under the field: what is typed, beside it what the record has; one at the least, so
    that nothing below moves while an answer is typed and taken."""
    typed = understood(state, width, refused)
    if answer is None:
        return typed or [BLANK]
    if not typed:
        return [fitted(answered(state.item, answer), width)]
    if len(typed) == 1 and refused is None:
        recorded = Span(f"   recorded: {readings(state.item, answer)}", "dim")
        return [fitted((*typed[0], recorded), width)]
    return typed


def _so_far(state: Judged) -> Line:
    """A set of readings that is not complete yet, and the label that comes next."""
    labels = state.item.labels
    shown = (
        f"{label} {format_number(from_si(v, state.item.quantity, state.unit), 8)}  "
        for label, v in zip(labels, state.readings, strict=False)
    )
    return line(
        ("= ", "dim"),
        *((s, "strong") for s in shown),
        (f"then {labels[len(state.readings)]}", "dim"),
    )


def band(state: Judged, width: int) -> Lines:
    """The band to scale with a marker for each reading."""
    if state.limit is None or width < SMALLEST_SCALE:
        return []
    cells = min(width, SCALE_WIDTH)
    units, kind = state.units, state.limit.kind
    low, high = (
        None if end is None else units.number(end, kind)
        for end in (state.limit.low, state.limit.high)
    )
    scale = scale_for(low, high)
    values = [units.number(v, kind) for v in state.values]
    marks = ["▲"] if len(values) == 1 else [str(n) for n in range(1, len(values) + 1)]
    first, last = limit_ends(state.limit, units)
    return [
        line((band_line(scale, cells), "band")),
        line((marker_line(scale, cells, values, marks), "mark")),
        line((ends_line(scale, cells, first, "" if last == first else last), "dim")),
    ]


def verdict(state: Judged, width: int, rows: int = 2) -> Lines:
    """The deciding verdict in words, with its limit and as much of its sentence as fits."""
    decided = state.decisive
    if decided is None:
        limit = limit_text(state.limit, state.units)
        if not limit:
            return []
        return [fitted(line(("Limit: ", "dim"), f"{state.of} {limit}".lstrip()), width)]
    head = [Span(verdict_words(decided), ROLE_OF_VERDICT[decided.verdict])]
    limit = limit_text(decided.limit, state.units)
    if limit and decided.limit != state.limit:
        head.append(Span(f"   {_value(state, decided)}limit {limit}", "text"))
    lines: Lines = [fitted(tuple(head), width)]
    if decided.text not in ("Recorded.", "Confirmed."):
        lines += at_most(wrapped(decided.text, width), rows, width, "… F1")
    return lines


def _value(state: Judged, found: Finding) -> str:
    """What the check found, where the band above does not show it."""
    return f"{state.units.text(found.value)}, " if found.value is not None else ""


def working(state: Judged, width: int, typing: bool = False) -> Lines:
    """One line of working: the numbers and the result; its beginning while somebody is typing.

    Numbers that are too many give way to the result.
    """
    shown = state.decisive
    if shown is None or not shown.working:
        return []
    text, cells = one_line(shown.working[-1], state.units), width
    if typing:
        cells = min(width, WORKING_WIDTH)
    elif len(text) > width:
        numbers, _, result = text.rpartition("; ")
        text = f"{numbers[: max(0, width - len(result) - 3)]}…; {result}"
    return [fitted(line(text), cells)]


def one_line(step: Step, units: Units) -> str:
    """The last step on one line."""
    formula, numbers, *results = working_lines(step, units)
    name = formula.partition(" = ")[0]
    result = results[-1].strip().removeprefix("= ")
    return f"{name} = {numbers.strip().removeprefix('= ')}; {result}"


def others(state: Judged, width: int) -> Lines:
    """The other checks of the item, counted by verdict; the explanation has them in full."""
    decided = state.decisive
    rest = [f.verdict for f in state.findings if f is not decided]
    if not rest:
        return []
    counted = ((v, rest.count(v)) for v in ORDER if v in rest)
    pieces = [(f"{count} {verdict}  ", ROLE_OF_VERDICT[verdict]) for verdict, count in counted]
    return [fitted(line(("Others: ", "dim"), *pieces), width)]


@dataclass
class BelowField:
    """Lays out the rows below the field, and remembers what was there.

    A picture stands at the foot, where it does not move while the rows above it come and go.
    While somebody is typing nothing large is brought in: another band, the rest of a sentence and
    a picture come when the keys pause, and a band stays while the text is no number yet. Over a
    slow link a key then costs little.
    """

    key: str = ""
    limit: Limit | None = None
    low: bool = False

    def lines(
        self,
        state: Judged,
        width: int,
        height: int,
        *,
        refused: InputError | None = None,
        answer: Answer | None = None,
        standing: Lines | None = None,
        picture: Lines | None = None,
        place: Lines | None = None,
        typing: bool = False,
    ) -> Lines:
        """All rows, as many as fit."""
        typing = typing and state.item.key == self.key
        state = self._with_band(state, typing)
        banded = band(state, width) if not typing or self.limit is not None else []
        under = _under(state, width, refused, answer)
        if banded and len(under) > 1:
            # A long sentence stands in the place of the band: nothing below it moves.
            banded = [BLANK] * max(0, len(banded) + 1 - len(under))
        least = len(under) if refused else 1 if state.item.options else min(3, height - 2)
        first = [*under, *(standing or ())][: max(1, least, height // 3)]
        room = height - len(first) - (1 if refused else 3)
        said = 1 if typing else max(1, min(2, height - len(first) - 1))
        chosen = options(state.item, state, width, room) if state.item.kind == "choose" else []
        if first == [BLANK]:
            first = [in_full(chosen, state, width)]
        top = [
            Block(90, first),
            Block(10, [BLANK] if height >= TALL else []),
            Block(70, chosen),
            Block(60, banded),
            Block(80, verdict(state, width, said) or [BLANK]),
            Block(50, working(state, width, typing)),
            Block(40, [] if typing else others(state, width)),
        ]
        low = Block(45, picture) if picture else Block(30, place or [])
        if typing:
            low = Block(75, low.lines if self.low else [])
        elif state.typed and len(low.lines) + len(chosen) + len(first) + FULL > height:
            low = Block(0, [])
        rows, self.low = _with_foot(top, low, height)
        self.key, self.limit = state.item.key, state.limit if banded else None
        if typing or self.low or height < TALL:
            return rows
        steps = steps_in_full(state, width)
        return [*rows, BLANK, *steps] if steps and len(steps) < height - len(rows) else rows

    def _with_band(self, state: Judged, typing: bool) -> Judged:
        """The state with the band that is drawn already, where it must not change now."""
        if state.item.key != self.key or self.limit is None:
            return state
        if state.limit is None:
            return replace(state, limit=self.limit) if state.problem is not None else state
        if typing and state.limit.kind != self.limit.kind:
            return replace(state, limit=self.limit, values=())
        return state


def _with_foot(top: Sequence[Block], low: Block, height: int) -> tuple[Lines, bool]:
    """The rows with the last block at the foot, and whether there was room for it."""
    rows = packed([*top, low], height)
    if not low.lines or rows[-len(low.lines) :] != low.lines:
        return rows, False
    gap = [BLANK] * (height - len(rows))
    return [*rows[: -len(low.lines)], *gap, *low.lines], True


def below_field(state: Judged, width: int, height: int, refused: InputError | None = None) -> Lines:
    """The rows of one moment, with nothing before it."""
    return BelowField().lines(state, width, height, refused=refused)


def _in_full(row: str, width: int) -> Lines:
    """A row as it stands; broken, and hanging, where it is too long."""
    if len(row) <= width:
        return [line(row)]
    indent = row[: len(row) - len(row.lstrip())][: width // 4]
    return wrapped(row, width, "text", indent, f"{indent}  ")


def steps_in_full(state: Judged, width: int) -> Lines:
    """Every step of the working of the deciding check, where there is room for it."""
    shown = state.decisive
    if shown is None:
        return []
    lines: Lines = []
    for step in shown.working:
        lines.append(line((step.formula, "dim")))
        for row in working_lines(step, state.units):
            lines += _in_full(f"  {row}", width)
    return lines
