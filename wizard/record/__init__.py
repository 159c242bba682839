"""The record: one job as one self-contained TOML file, and back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wizard.modules import export
from wizard.record.chain import chains, head
from wizard.record.differences import Problem
from wizard.record.entry import told
from wizard.record.extra import Extra
from wizard.record.migrate import SCHEMA
from wizard.record.name import aside_of, check_id, file_of, id_of
from wizard.record.read import Loaded, Seen, loads

if TYPE_CHECKING:
    from wizard.record.write import Writer, dumps

__all__ = [
    "SCHEMA",
    "Extra",
    "Loaded",
    "Problem",
    "Seen",
    "Writer",
    "aside_of",
    "chains",
    "check_id",
    "dumps",
    "file_of",
    "head",
    "id_of",
    "loads",
    "told",
]
_HOMES = {"write": ("Writer", "dumps")}


def __getattr__(name: str) -> Any:
    return export(__name__, _HOMES, name)
