"""A review in hand: the rows so far, what of them is shown, and the ways in and out of a job.

Invariant: the screens keep nothing; going into a job and coming back finds everything as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from wizard.commands.people import host
from wizard.commands.site import site
from wizard.job import Job
from wizard.record.summary import HEAD
from wizard.review import training
from wizard.review.compare import Comparison, compare
from wizard.review.folder import Review
from wizard.review.row import Row
from wizard.review.table import BY_NAME, FILTERS, chosen, others_text
from wizard.settings import Settings
from wizard.store import now
from wizard.store.files import Folder

if TYPE_CHECKING:
    from wizard.review.case import Case
    from wizard.review.lead import Lead
    from wizard.tui.doors import Door

ORDERS = ("attention", "day", "job", "machine", "site", "technician", "state", "doubts", "open")


@dataclass
class Reviewing:
    """One folder under review by one person."""

    path: Path
    who: str
    settings: Settings | None = None
    review: Review = field(init=False)
    rows: dict[str, Row] = field(default_factory=dict)
    missing: list[str] = field(default_factory=list)
    only: str = "all"
    word: str = ""
    by: str = "attention"
    picked: str = ""
    done: bool = False
    against: Comparison = field(default_factory=Comparison)
    principal: str = ""
    key: str = ""

    def __post_init__(self) -> None:
        self.review = self._fresh()

    def _fresh(self) -> Review:
        return Review(self.path, now(), self.settings)

    def afresh(self) -> None:
        """Look at the folder again."""
        self.review, self.rows, self.missing, self.done = self._fresh(), {}, [], False

    def run(self) -> Iterator[Row]:
        """Rows as they come: at once what is known, then each as it is verified."""
        for row in self.review.begin():
            self.rows[row.file] = row
            yield row
        for row in self.review.run():
            self.rows[row.file] = row
            yield row
        self.against = compare(self.rows.values(), self.review.cache.measured)
        self.missing = self.review.missing
        self.done = True

    @property
    def verified(self) -> int:
        """How many rows are verified."""
        return len(self.review.rows)

    @property
    def beside_rows(self) -> str:
        """What of the folder has no row, in one line."""
        return others_text(self.review.others, len(self.review.folders))

    def shown(self) -> list[Row]:
        """The rows that are shown, in order."""
        rows = list(self.rows.values())
        return chosen(rows, self.only, self.word, self.by, self.against)

    def next_order(self) -> str:
        """Another order, and its name."""
        self.by = ORDERS[(ORDERS.index(self.by) + 1) % len(ORDERS)]
        return BY_NAME[self.by].title or "what needs attention"

    def show(self, only: str) -> str:
        """Other rows, and what they are in words."""
        self.only = only
        return FILTERS[only][0]

    def case(self, file: str) -> Case:
        """One record of the folder, read."""
        from wizard.memo import warm_apart  # deferred: after the first paint
        from wizard.procedure import procedure
        from wizard.review.case import Case

        warm_apart()
        self.picked = file
        return Case(self.path / file, procedure(), self.review.lens)

    def is_training(self, file: str) -> bool:
        """Whether a file of the folder is a learner's training record."""
        with Folder(self.path) as folder:
            first, _ = folder.read_first(file, HEAD)
        return training.is_training(first)

    def training(self, file: str) -> tuple[str, ...]:
        """A training record of the folder on one page; RecordError where it cannot be used."""
        with Folder(self.path) as folder:
            data, _ = folder.read(file)
        return training.lines(data, file)

    def advice(self, file: str) -> str:
        """What can be done about a file that holds no job to show."""
        from wizard.review.advice import advice  # deferred: most files are sound

        return advice(self.path / file)

    def lead(self) -> Lead:
        """Who writes remarks and signs."""
        from wizard.procedure import procedure  # deferred: after the first paint
        from wizard.review.lead import Lead

        return Lead(self.who, host(), procedure(), self.principal, self.key)

    def wrote(self, case: Case, act: Callable[[Lead], Job]) -> None:
        """Let the lead write something, and bring case and row up to date."""
        act(self.lead())
        self.review.relearn()
        case.refresh()
        self.rows[case.look.row.file] = case.look.row

    def forget(self, files: Sequence[str]) -> None:
        """Miss files no longer that were taken away on purpose."""
        self.review.forget(files)
        self.missing = self.review.missing

    def beside(self, file: str) -> Sequence[Row]:
        """The rows that a job is held against; its own is among them."""
        return list(self.rows.values()) if file in self.rows else []


def folder_door(reviewing: Reviewing, home: Door | None = None, page: Sequence[str] = ()) -> Door:
    """Leads to the screen of a folder, with a page to read before it where there is one."""

    def way() -> Any:
        from wizard.keys import table
        from wizard.tui.review import FolderScreen

        def job(file: str) -> Door:
            return case_door(reviewing, file, home)

        return lambda: FolderScreen(table(site().keys), reviewing, job, home, page)

    return way


def case_door(reviewing: Reviewing, file: str, home: Door | None = None) -> Door:
    """Leads to the screen of one job of the folder, and from there back."""

    def way() -> Any:
        from wizard.keys import table
        from wizard.tui.case import CaseScreen
        from wizard.tui.parts import default_parts

        case = reviewing.case(file)
        parts, back = default_parts(), folder_door(reviewing, home)
        return lambda: CaseScreen(table(site().keys), case, reviewing, parts, back)

    return way


def file_door(reviewing: Reviewing, file: str) -> Door:
    """Leads to what is in one file: a job, or a training record, and from there to the folder."""

    def way() -> Any:
        if not reviewing.is_training(file):
            return case_door(reviewing, file)()
        reviewing.picked = file
        return folder_door(reviewing, page=reviewing.training(file))()

    return way


def review_door(path: Path, who: str, settings: Settings | None = None) -> Door:
    """Leads to a folder that nobody has looked at yet."""
    return lambda: folder_door(Reviewing(path, who, settings))()
