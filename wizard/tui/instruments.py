"""The instruments of a job as rows to pick from."""

from __future__ import annotations

from wizard.instrument import Instrument
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.tui.list_pane import Row
from wizard.tui.spans import line

NEW, NONE = "new", "none"


def instrument_rows(job: Job, item: Item) -> list[Row]:
    """The instruments of the job, those of the kind wanted first, then new and none."""
    listed = sorted(job.instruments.values(), key=lambda i: i.kind != item.instrument)
    rows = [Row(f"={i.name}", line(f"   {i.name}"), line((_about(i), "dim"), " ")) for i in listed]
    rows.append(Row(NEW, line(f"   A new {item.instrument or 'instrument'}"), ()))
    rows.append(Row(NONE, line("   No instrument for this reading"), ()))
    return rows


def _about(instrument: Instrument) -> str:
    due = instrument.calibration_due
    known = "accuracy known" if instrument.accuracy_known else "accuracy not given"
    return f"{instrument.kind}, {known}" + (f", due {due}" if due else "")
