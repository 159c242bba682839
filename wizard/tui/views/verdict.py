"""Below the field: what was understood, the band with its marker, the verdict, the working.

Invariant: the verdict is in words, and the rows that matter most are the last to be dropped when
the terminal is small.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wizard.errors import InputError
from wizard.finding import Finding, Verdict
from wizard.formula import Step
from wizard.pictures.scale import band_line, ends_line, marker_line, scale_for
from wizard.procedure.item import Item
from wizard.quantities import Quantity
from wizard.render import Units, limit_text, working_lines
from wizard.tui.judged import Judged, band_finding
from wizard.tui.spans import BLANK, Lines, Span, at_most, fitted, line, wrapped
from wizard.tui.views.marks import ROLE_OF_VERDICT, verdict_words
from wizard.tui.views.question import readings

SCALE_WIDTH = 62


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
    """The row under the field: the reading as taken, or what is still missing."""
    if refused is not None:
        return at_most(wrapped(str(refused), width, "error", "", "  "), 3, width)
    if state.problem is not None:
        return [fitted(line(("needs ", "dim"), (state.problem.accepted, "dim")), width)]
    if state.typed and state.parsed is not None:
        return [fitted(line(("= ", "dim"), (readings(state.item, state.parsed), "strong")), width)]
    return []


def band(state: Judged, width: int) -> Lines:
    """The band to scale with a marker for each reading."""
    if state.limit is None:
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
    texts = [
        "" if end is None else units.text(Quantity(end, kind))
        for end in (state.limit.low, state.limit.high)
    ]
    return [
        line((band_line(scale, cells), "band")),
        line((marker_line(scale, cells, values, marks), "mark")),
        line((ends_line(scale, cells, *texts), "dim")),
    ]


def verdict(state: Judged, width: int) -> Lines:
    """The deciding verdict in words, with its limit and its sentence."""
    decided = state.decisive
    if decided is None:
        limit = limit_text(state.limit, state.units)
        return [line(("Limit: ", "dim"), limit)] if limit else []
    role = ROLE_OF_VERDICT[decided.verdict]
    head = [Span(verdict_words(decided), role)]
    if limit := limit_text(decided.limit, state.units):
        head.append(Span(f"   limit {limit}", "text"))
    lines: Lines = [fitted(tuple(head), width)]
    if decided.text not in ("Recorded.", "Confirmed."):
        lines += at_most(wrapped(decided.text, width), 3, width)
    return lines


def working(state: Judged, width: int) -> Lines:
    """One line of working: the numbers and the result."""
    shown = band_finding(state.findings)
    if shown is None or not shown.working:
        return []
    return [fitted(line(("Working: ", "dim"), one_line(shown.working[-1], state.units)), width)]


def one_line(step: Step, units: Units) -> str:
    """The last step on one line."""
    formula, numbers, result = working_lines(step, units)
    name = formula.partition(" = ")[0]
    return f"{name} = {numbers.strip().removeprefix('= ')}; {result.strip().removeprefix('= ')}"


def others(state: Judged, width: int) -> Lines:
    """The other checks of the item, one row together."""
    decided = state.decisive
    rest = [f for f in state.findings if f is not decided]
    if not rest:
        return []
    return [fitted(line(("Also: ", "dim"), *_brief(rest)), width)]


def _brief(findings: Sequence[Finding]) -> list[tuple[str, str]]:
    ordered = sorted(findings, key=lambda f: f.verdict is Verdict.PASS)
    return [(f"{f.verdict} {f.text} ", ROLE_OF_VERDICT[f.verdict]) for f in ordered]


def options(item: Item, state: Judged, width: int, height: int) -> Lines:
    """The choices, numbered, in as many columns as are needed; the chosen one is marked."""
    chosen = state.parsed.value if state.parsed is not None else None
    count = len(item.options)
    columns = 1
    while -(-count // columns) > max(1, height) and columns < 6:
        columns += 1
    rows = -(-count // columns)
    cell = width // columns
    lines: Lines = []
    for row in range(rows):
        spans: list[Span] = []
        for place in range(row, count, rows):
            option = item.options[place]
            here = option == chosen
            text = f"{'►' if here else ' '} {place + 1:>2}  {option}"
            piece = fitted(line((text, "select" if here else "text")), cell - 1)
            spans.extend(piece)
            spans.append(Span(" " * (cell - sum(len(s.text) for s in piece))))
        lines.append(tuple(spans))
    return lines


def below_field(
    state: Judged,
    width: int,
    height: int,
    *,
    refused: InputError | None = None,
    standing: Lines | None = None,
    picture: Lines | None = None,
) -> Lines:
    """All rows below the field, as many as fit."""
    first = understood(state, width, refused) or [*(standing or ())][: max(1, height // 3)]
    item = state.item
    chosen = options(item, state, width, height - len(first) - 3) if item.kind == "choose" else []
    spare: Lines = [BLANK]
    blocks = [
        Block(90, first or spare),
        Block(10, spare),
        Block(70, chosen),
        Block(60, band(state, width)),
        Block(80, verdict(state, width)),
        Block(50, working(state, width)),
        Block(40, others(state, width)),
        Block(5, spare if picture else []),
        Block(45, picture or []),
    ]
    return packed(blocks, height)
