"""A folder under review: one row a job, what stands above them, and what there is to read.

Invariant: what cannot be relied on says so in words, and a row that is not verified yet is told
from one that is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rich.cells import cell_len, set_cell_size

from wizard.keys import Command, key_text
from wizard.render import Units
from wizard.review.compare import Comparison, lines
from wizard.review.inspection import Section
from wizard.review.row import Row
from wizard.review.table import doubts_of, waits
from wizard.tui.list_pane import Row as ListRow
from wizard.tui.spans import BLANK, Line, Lines, between, line, wrapped
from wizard.tui.views.marks import BAD, DONE, HOLD, NONE, PART

NARROW, WIDE = 72, 100
COUNTS = ("H", "F", "A", "O", "D")
MEANINGS = (
    (BAD, "not sound: it cannot be relied on"),
    (HOLD, "held by a safety item"),
    ("?", "something to doubt"),
    (PART, "in progress"),
    (DONE, "finished, or accepted"),
)
LEGEND = " H holds  F failed  A advisories  O open  D doubts"
COUNT_CELLS = (3, 3, 3, 4, 3)
JOB, STATE, BROAD_STATE = 13, 11, 15


def columns(width: int) -> dict[str, int]:
    """The columns on a screen of this width, and their cells; a narrow one has fewer."""
    if width < NARROW:
        room = width - 3 - 10 - STATE - sum(COUNT_CELLS) - 5
        return {"Job": 10, "Machine": room - 6, "By": 6, "State": STATE}
    date = 10 if width >= WIDE else 5
    room = width - 3 - JOB - BROAD_STATE - date - sum(COUNT_CELLS) - 8
    machine, place = room * 2 // 5, room * 7 // 20
    told = {"Job": JOB, "Machine": machine, "Place": place, "By": room - machine - place}
    return {**told, "Date": date, "State": BROAD_STATE}


def heading(width: int) -> Line:
    """The names of the columns."""
    names = " ".join(_cell(name, cells) for name, cells in columns(width).items())
    counts = "".join(f"{n:>{w}}" for n, w in zip(COUNTS, COUNT_CELLS, strict=True))
    return line((f"   {names}{counts}", "key"))


def list_rows(rows: Iterable[Row], width: int, against: Comparison) -> list[ListRow]:
    """A row a file."""
    return [_row(row, width, against) for row in rows]


def _row(row: Row, width: int, against: Comparison) -> ListRow:
    shown = columns(width)
    mark, role = mark_of(row, against)
    texts = {
        "Job": row.job or row.file,
        "Machine": row.machine,
        "Place": row.site,
        "By": row.technician,
        "Date": row.day if shown.get("Date", 0) > 5 else row.day[5:],
    }
    cells = [_cell(texts[name], shown[name]) for name in shown if name != "State"]
    ink = "text" if row.verified else "dim"
    return ListRow(
        row.file,
        line(
            (f" {mark} ", role),
            (f"{' '.join(cells)} ", ink),
            (_cell(state_word(row), shown["State"]), role),
            (_counts(row, against), ink),
        ),
        (),
    )


def _counts(row: Row, against: Comparison) -> str:
    if not row.is_job:
        return ""
    doubtful = len(doubts_of(row, against))
    counts = (len(row.holds), len(row.failures), len(row.advisories), row.open, doubtful)
    return "".join(f"{n or '·':>{w}}" for n, w in zip(counts, COUNT_CELLS, strict=True))


def mark_of(row: Row, against: Comparison) -> tuple[str, str]:
    """The mark of a row and its role."""
    if not row.verified:
        return NONE, "dim"
    if row.error:
        return BAD, "fail"
    if row.is_training:
        return " ", "text"
    if row.holds:
        return HOLD, "fail"
    if doubts_of(row, against):
        return "?", "advise"
    if row.decision == "accepted":
        return DONE, "pass"
    return (DONE, "text") if row.state == "finished" else (PART, "text")


def state_word(row: Row) -> str:
    """The state in one or two words; what is held says so, whatever else there is to say."""
    if row.is_training:
        return "training"
    if not row.is_job:
        return row.state if row.verified else "not read"
    decided = "replied to" if row.decision == "answered" else row.decision
    said = "NOT SOUND" if row.error else "practice" if row.practice else decided
    if row.holds:
        return f"HELD, {said}" if said else "HELD"
    return said or row.state


def masthead(
    path: str,
    rows: Sequence[Row],
    missing: int,
    others: str,
    shown: int,
    told: str,
    progress: str,
    width: int,
) -> Lines:
    """The folder, how far the look over it is, which rows are shown, and their columns."""
    bad = sum(1 for r in rows if r.verified and r.error)
    held = sum(1 for r in rows if r.holds)
    waiting = sum(1 for r in rows if waits(r))
    counts = f"{len(rows)} files  {bad} not sound  {held} held  {waiting} waiting "
    counts += f" {missing} missing " if missing else ""
    top = between(line(" ", ("Review ", "strong"), path), line((counts, "text")), width)
    beside = f"; {others}" if others else ""
    seen = line(f" {shown} shown: {told}{beside}")
    below = between(seen, line((f"{progress} ", "strong")), width)
    return [top, below, heading(width)]


def about(row: Row, against: Comparison) -> tuple[str, str]:
    """What to say of the row that is marked, and its role."""
    if row.error:
        return row.error, "error"
    if row.practised:
        return f"Training record: {row.practised}.", "dim"
    said = doubts_of(row, against)
    if said:
        return said[0] + (f"  and {len(said) - 1} more" if len(said) > 1 else ""), "caution"
    if row.remarks:
        many = "remarks wait" if row.remarks > 1 else "remark waits"
        return f"{row.remarks} {many} for an answer.", "dim"
    return "", "dim"


def nothing(filtered: bool, done: bool, key: str) -> tuple[str, str]:
    """What to say where no row is shown, and its role; `key` shows all rows again."""
    if filtered:
        return f"Nothing is shown; {key} or Esc shows all files again.", "caution"
    return ("There is no file in this folder.", "dim") if done else ("", "dim")


def compared(rows: Sequence[Row], mine: Row, against: Comparison, width: int) -> Lines:
    """The job among the others: same machine, same site, and whose readings are alike."""
    last = line(("Esc goes back.", "dim"))
    if not mine.is_job:
        return [*wrapped("There is no job in this file to hold beside others.", width), BLANK, last]
    out: Lines = [line((f"{mine.job}  ", "strong"), f"{mine.machine}, {mine.site}"), BLANK]
    for by in ("model", "site"):
        for text in lines(rows, mine, by, Units(mine.units or "us")):
            odd = text.rstrip().endswith("OUTLIER") or "; OUTLIER" in text
            out += (
                [line((text, "advise" if odd else "text"))]
                if cell_len(text) <= width
                else (wrapped(text, width, "advise" if odd else "text"))
            )
        out.append(BLANK)
    alike = [d for d in doubts_of(mine, against) if "readings are the same" in d]
    for text in alike or ["No other job of this technician has the same readings."]:
        out += wrapped(text, width, "advise" if alike else "text")
    return [*out, BLANK, last]


def problem_page(row: Row, advice: str, width: int) -> Lines:
    """What is wrong with a file that holds no job, and what to do about it."""
    out: Lines = [line((row.file, "strong")), BLANK, *wrapped(row.error, width, "fail"), BLANK]
    out += wrapped(f"There is no job to show. {advice}", width)
    return [*out, BLANK, line(("Esc goes back.", "dim"))]


def keys_page(commands: Iterable[Command], width: int) -> Lines:
    """What the marks and letters of the list mean, and what its keys do."""
    out: Lines = []
    for mark, means in MEANINGS:
        out.append(line((f" {mark}  ", "strong"), means))
    out += [line(LEGEND), BLANK]
    for command in commands:
        keys = " ".join(map(key_text, command.keys))
        if keys:
            said = f"{command.label}: {command.about}"
            out += wrapped(said, width, "text", f" {keys:<10} ", 12 * " ")
    return [*out, BLANK, line(("Esc goes back.", "dim"))]


def training_page(told: Iterable[str], width: int) -> Lines:
    """A learner's training record."""
    out: Lines = []
    for text in told:
        out += [line(text)] if cell_len(text) <= width else wrapped(text, width)
    return [*out, BLANK, line(("Esc goes back.", "dim"))]


def sections_page(sections: Iterable[Section], width: int) -> Lines:
    """What there is to say of one job."""
    return [*_sections(sections, width), line(("Esc goes back.", "dim"))]


def _sections(sections: Iterable[Section], width: int) -> Iterator[Line]:
    for section in sections:
        warning = "  DO NOT RELY ON IT" if section.grave else ""
        yield line((section.title, "key"), (warning, "fail"))
        for text in section.lines:
            yield from wrapped(text, width, "fail" if section.grave else "text", "  ", "  ")
        yield BLANK


def _cell(text: str, cells: int) -> str:
    """A text in so many cells."""
    if cell_len(text) > cells:
        return set_cell_size(text, cells - 1) + "…"
    return text + " " * (cells - cell_len(text))
