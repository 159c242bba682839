"""The record: one job as one self-contained TOML file, and back."""

from __future__ import annotations

from wizard.record.chain import chains, head
from wizard.record.differences import Problem
from wizard.record.entry import told
from wizard.record.extra import Extra
from wizard.record.migrate import SCHEMA
from wizard.record.name import aside_of, check_id, file_of, id_of
from wizard.record.plan import plan
from wizard.record.read import Loaded, Seen, loads
from wizard.record.summary import Summary, summary
from wizard.record.write import Writer, dumps

__all__ = [
    "SCHEMA",
    "Extra",
    "Loaded",
    "Problem",
    "Seen",
    "Summary",
    "Writer",
    "aside_of",
    "chains",
    "check_id",
    "dumps",
    "file_of",
    "head",
    "id_of",
    "loads",
    "plan",
    "summary",
    "told",
]
