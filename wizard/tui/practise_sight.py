"""What is looked at in practice, above the field of the item that is read there.

Invariant: the drawing is what the instrument shows at this moment; no number is told in words.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual import events

from wizard.commands.exercise import Look
from wizard.job import Job
from wizard.practice.see import Sight
from wizard.practice.spots import spots_of
from wizard.procedure.item import Item, Procedure
from wizard.tui.pages import Pages
from wizard.tui.spans import Lines, fitted, line


class SightPane(Pages, can_focus=True):
    """The drawing; it has the keys where no item is read there."""

    def take(self, key: events.Key) -> bool:
        """Scroll; anything else is the screen's."""
        if key.key == "tab":
            self.page_on()
        elif key.key in ("up", "down"):
            self.scroll_by(-1 if key.key == "up" else 1)
        else:
            return False
        return True


def drawn(sight: Sight, width: int) -> Lines:
    """The sight as lines of a screen."""
    return [fitted(line(row.rstrip()), width) for row in sight.lines]


def read_at(procedure: Procedure) -> Mapping[Look, tuple[str, ...]]:
    """The items that are read with an instrument at a place, in the order of the procedure."""
    found: dict[Look, list[str]] = {}
    for item in procedure.items.values():
        for spot in spots_of(item.key):
            found.setdefault(Look(spot.tool, spot.place), []).append(item.key)
    return {look: tuple(keys) for look, keys in found.items()}


def item_for(job: Job, keys: tuple[str, ...], front: Item) -> str:
    """The item to put in front at a place where these are read; empty for none.

    The one in front stays where it is read there; else the first that is open or has failed, of
    its phase. Before the first start the phases are walked through in any order. What comes after
    an item that cannot be answered yet has to wait too.
    """
    if front.key in keys:
        return front.key
    failed = {item.key for item in job.failures()}
    for key in keys:
        if job.applies(key):
            if job.refusal(key):
                break
            if _near(job, key, front) and (key not in job.answers or key in failed):
                return key
    return ""


def elsewhere(job: Job, keys: tuple[str, ...], front: Item) -> str:
    """An open item of another phase that is read there; empty for none."""
    able = (k for k in keys if job.applies(k) and k not in job.answers and not job.refusal(k))
    return next((k for k in able if not _near(job, k, front)), "")


def _near(job: Job, key: str, front: Item) -> bool:
    """Whether an item may take the place of the one in front, where somebody only looks."""
    one, other = job.procedure.phase_of(key), job.procedure.phase_of(front.key)
    if one.number == other.number:
        return True
    first = next((i.phase for i in job.applicable if job.procedure.phase_of(i.key).strict), 0)
    return max(one.number, other.number) < first
