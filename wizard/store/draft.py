"""The text of the field that is open, kept while it is typed.

Invariant: a draft is offered when the job is opened again and is never an answer by itself; it
lives with the user, not with the job.
"""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import dataclass

import tomli_w

from wizard.answer import clean
from wizard.errors import RecordError, StoreError
from wizard.record.guard import parse
from wizard.store.files import sentence
from wizard.store.state import state_folder

MAX_DRAFT = 20_000
_UUID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class Draft:
    """What was being typed, and for which item."""

    key: str
    text: str


def keep_draft(uuid: str, key: str, text: str) -> None:
    """Keep the text of the open field of the job with this uuid, durably."""
    data = tomli_w.dumps({"key": key, "text": clean(text)[:MAX_DRAFT]}).encode()
    with state_folder("drafts") as folder:
        try:
            folder.replace(_file(uuid), data, None)
        except OSError as problem:
            raise StoreError(f"The text being typed is not kept: {sentence(problem)}.") from None


def read_draft(uuid: str) -> Draft | None:
    """The draft of a job; None where there is none that can be read."""
    with state_folder("drafts") as folder:
        folder.sweep(_file(uuid))
        try:
            tables = parse(folder.read(_file(uuid), 4 * MAX_DRAFT + 1000)[0], "draft")
        except RecordError:
            return None
    key, text = tables.get("key"), tables.get("text")
    if not isinstance(key, str) or not isinstance(text, str):
        return None
    return Draft(clean(key), clean(text))


def drop_draft(uuid: str) -> None:
    """Forget the draft of a job."""
    with state_folder("drafts") as folder, suppress(OSError):
        folder.remove(_file(uuid))


def _file(uuid: str) -> str:
    if not _UUID.fullmatch(uuid):
        raise StoreError("A draft belongs to a job with a uuid of 32 hexadecimal digits.")
    return f"{uuid}.toml"
