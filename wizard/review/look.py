"""One record looked at: judged anew, held against what was seen, its history read.

Invariant: nothing that a record says of its own state is believed; the row is made from its
events alone.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from wizard.errors import RecordError, WizardError
from wizard.history import Doubt, doubts, told
from wizard.job import Act, Job
from wizard.procedure.item import Procedure
from wizard.record import Loaded, loads
from wizard.record.about import about
from wizard.review import training
from wizard.review.copies import grown_apart, not_alone
from wizard.review.decision import decision
from wizard.review.differences import Difference, differences
from wizard.review.last_seen import older_copy, rollback
from wizard.review.metrics import measured_keys, metrics, prints
from wizard.review.row import FEW, Row, bits_of
from wizard.review.trust import Trust
from wizard.settings import Settings
from wizard.signing import Checked, SigningError, check, signoffs
from wizard.text import show

LONGEST = 400
_EVENT = re.compile(r"\bevent (\d{1,9})\b")


@dataclass(frozen=True)
class Lens:
    """What a record is looked at with: whom to believe, what was seen before, which settings.

    `places` is where each history was seen farthest, `folder` where the record is now.
    """

    at: datetime
    trust: Trust = field(default_factory=Trust)
    known: Mapping[str, tuple[int, str]] = field(default_factory=dict)
    settings: Settings | None = None
    places: Mapping[str, str] = field(default_factory=dict)
    folder: str = ""


@dataclass(frozen=True)
class Look:
    """Everything there is to say of one record that can be read."""

    loaded: Loaded
    row: Row
    doubts: tuple[Doubt, ...]
    told: tuple[Doubt, ...]
    differences: tuple[Difference, ...]
    checked: tuple[Checked, ...]
    back: str = ""
    older: str = ""

    @property
    def usable(self) -> bool:
        """Whether a lead may decide on it: sound, or but for a signature that leads can renew."""
        bad = [c for c in self.checked if c.bad]
        mended = all(c.event.data["role"] == "lead" and not c.foreign for c in bad)
        return mended and not self.back and not self.older and not self.loaded.grave

    @property
    def job(self) -> Job:
        """The job."""
        return self.loaded.job


def look(data: bytes, file: str, procedure: Procedure, lens: Lens) -> Look:
    """The record in `data`; RecordError where there is none."""
    loaded = loads(data, procedure, file)
    job = loaded.job
    checked = _checked(loaded, lens)
    found = doubts(job, same=_same(loaded, procedure))
    differing = differences(loaded, lens.settings)
    head = _head(loaded, file)
    apart = grown_apart(head, loaded.chains, lens.known, lens.places, lens.folder)
    older = "" if apart else older_copy(head, lens.known, lens.places, lens.folder)
    if older:
        found = (Doubt("older copy", "", older), *found)
    back = apart or ("" if older else rollback(head, lens.known, _seen_chain(loaded, lens)))
    row = _row(loaded, head, _error(loaded, checked, back), found, differing, checked)
    return Look(loaded, row, found, told(job), differing, checked, back, older)


def alone(found: Look, path: Path) -> Look:
    """The look, with the other copies in its folder read too: one of them may be the true one."""
    job = found.job
    said = "" if found.back else not_alone(path, job.header.uuid, found.loaded.chains)
    if not said:
        return found
    row = replace(found.row, error=found.row.error or said)
    return replace(found, row=row, back=said)


def _same(loaded: Loaded, procedure: Procedure) -> bool:
    """Whether the whole job was done by the procedure as it is today."""
    changed = any(event.act is Act.MIGRATED for event in loaded.job.events)
    return not changed and loaded.procedure[1] == procedure.sha256


def row_for(data: bytes, file: str, procedure: Procedure, lens: Lens) -> Row:
    """The row of a file with these bytes, whatever they are."""
    apart = training.is_training(data)
    try:
        return training.row(data, file) if apart else look(data, file, procedure, lens).row
    except WizardError as problem:
        return replace(unreadable(file, problem), practice=apart)
    except Exception as problem:
        # A record is somebody else's work: whatever it breaks, the other jobs are still looked at.
        said = f"It cannot be judged: {show(repr(problem))[:LONGEST]}."
        return Row(show(file), error=said, practice=apart)


def unreadable(file: str, problem: WizardError) -> Row:
    """The row of a file that holds no job."""
    said = str(problem)
    if isinstance(problem, RecordError):
        said = RecordError(problem.what, "", problem.where).args[0]
    return Row(show(file), error=_sentence(said))


def _sentence(text: str) -> str:
    text = show(text)[:LONGEST].strip()
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "…")) else f"{text}."


def _checked(loaded: Loaded, lens: Lens) -> tuple[Checked, ...]:
    job = loaded.job
    if not signoffs(job):
        return ()
    try:
        return check(job, loaded.chains, lens.trust.allowed, lens.trust.revoked, lens.at)
    except SigningError as problem:
        return tuple(Checked(e, None, str(problem)) for e in signoffs(job))


def _error(loaded: Loaded, checked: tuple[Checked, ...], back: str) -> str:
    """The first thing that keeps the record from being relied on."""
    if loaded.grave:
        said = f"Changed outside the tool: {str(loaded.grave[0]).rstrip('.')}"
        return _sentence(f"{said}{_which(loaded, said)}")
    if bad := next((c for c in checked if c.bad), None):
        return _sentence(bad.text)
    return back


def _which(loaded: Loaded, said: str) -> str:
    """The item of the event that is named."""
    number = _EVENT.search(said)
    seq = int(number[1]) if number else 0
    key = next((event.key for event in loaded.job.events if event.seq == seq), "")
    return f" ({key})" if key and key not in said else ""


def _head(loaded: Loaded, file: str) -> Row:
    job = loaded.job
    seq = job.events[-1].seq if job.events else 0
    head = Row(show(file), show(job.header.id), job.state)
    return replace(head, uuid=job.header.uuid, seq=seq, chain=loaded.chains[seq])


def _seen_chain(loaded: Loaded, lens: Lens) -> str | None:
    seq, _ = lens.known.get(loaded.job.header.uuid, (0, ""))
    return loaded.chains.get(seq)


def _row(
    loaded: Loaded,
    head: Row,
    error: str,
    found: tuple[Doubt, ...],
    differing: tuple[Difference, ...],
    checked: tuple[Checked, ...],
) -> Row:
    job, said = loaded.job, about(loaded.job)
    return replace(
        head,
        error=error,
        units=job.header.units,
        practice=job.header.practice_run,
        revision=loaded.revision,
        machine=show(said.machine),
        site=show(said.site),
        technician=show(said.technician),
        day=said.day,
        holds=tuple(h.key for h in job.holds()),
        failures=tuple(i.key for i in job.failures()),
        advisories=tuple(i.key for i in job.advisories()),
        open_bits=bits_of([i.key for i in job.open_items()], _places(job.procedure)),
        answered=len(job.answers),
        doubts=tuple((d.rule, d.key, show(d.text)[:LONGEST]) for d in found[:FEW]),
        doubtful=len(found),
        differences=len(differing),
        corrected=sum(e.act in (Act.CORRECTED, Act.WITHDRAWN) for e in job.events),
        remarks=len(job.open_remarks()),
        decision=decision(job, checked),
        signed=tuple(_signed(c) for c in checked),
        visits=tuple((v.number, show(v.kind), v.closed is not None) for v in job.visits.values()),
        metrics=metrics(job),
        prints=prints(job, measured_keys(job.procedure)),
    )


def _signed(checked: Checked) -> tuple[str, str, str, bool | None, str]:
    data = checked.event.data
    names = (data["role"], show(data["principal"]), data["decision"])
    return (*names, checked.good, checked.text)


def _places(procedure: Procedure) -> Mapping[str, int]:
    return {item.key: item.place for item in procedure.items.values()}
