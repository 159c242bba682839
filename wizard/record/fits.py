"""Whether what an event or an answer holds is what its act or its item takes.

Invariant: what passes here can be folded and judged; a record made by hand, or under another
version of the procedure, cannot bring a text where a check expects a number.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from itertools import pairwise
from typing import Any

from wizard.answer import Answer
from wizard.errors import QuantityError
from wizard.job import Act
from wizard.procedure.item import Item
from wizard.quantities import unit_of

_NUMBER = (float, int)
_NEEDS: Mapping[Act, Mapping[str, type | tuple[type, ...]]] = {
    Act.ANSWERED: {"raw": str},
    Act.CORRECTED: {"raw": str, "was": str, "reason": str},
    Act.WITHDRAWN: {"was": str, "reason": str},
    Act.NOT_APPLICABLE: {"reason": str},
    Act.NOTED: {"text": str},
    Act.REMARKED: {"text": str},
    Act.REPLIED: {"text": str},
    Act.TIMER_STARTED: {"monotonic": _NUMBER},
    Act.LAP: {"seconds": _NUMBER, "raw": str},
    Act.TIMER_STOPPED: {"seconds": _NUMBER},
    Act.CLOCK_STEPPED: {"from": datetime},
    Act.SIGNED: {
        "role": str,
        "principal": str,
        "decision": str,
        "covers": int,
        "covers_chain": str,
        "signed_at": datetime,
    },
    Act.VISIT: {"visit": int},
}
_TEXTS = frozenset(
    {
        "raw",
        "unit",
        "instrument",
        "confirmed",
        "boot",
        "signature",
        "kind",
        "task",
        "text",
        "reason",
    }
)
_KEYED = (
    Act.ANSWERED,
    Act.CORRECTED,
    Act.WITHDRAWN,
    Act.NOT_APPLICABLE,
    Act.TIMER_STARTED,
    Act.LAP,
    Act.TIMER_STOPPED,
)


def event_problem(act: Act, key: str, data: Mapping[str, Any]) -> str:
    """What an event lacks for its act; empty where it is sound."""
    if (act in _KEYED or (act is Act.VISIT and "raw" in data)) and not key:
        return f"“{act}” without a key"
    for name, kinds in _NEEDS.get(act, {}).items():
        needed = data.get(name)
        if not isinstance(needed, kinds) or isinstance(needed, bool):
            return f"“{act}” without its {name}"
    for name, given in data.items():
        if name in _TEXTS and not isinstance(given, str):
            return f"{name} that is not text"
    if isinstance(data.get("value"), datetime):
        return "a time of day as its value"
    return ""


def answer_fits(item: Item, answer: Answer) -> bool:
    """Whether the value has the type, the number and the unit that the item asks for."""
    value = answer.value
    if value is None:
        return item.optional
    if isinstance(value, str) and value in item.words:
        return True
    if not item.measured:
        return not answer.unit and _plain_fits(item, value)
    if not _is_unit(item.quantity, answer.unit):
        return False
    if item.kind == "series":
        return isinstance(value, tuple) and is_series(value)
    if item.labels:
        numbers = value if isinstance(value, tuple) else ()
        return len(numbers) == len(item.labels) and all(type(v) is float for v in numbers)
    return type(value) is float


def _plain_fits(item: Item, value: object) -> bool:
    if item.kind == "choose":
        return value in item.options
    wanted = {"count": int, "confirm": bool, "write": str, "date": date}[item.kind]
    return type(value) is wanted


def _is_unit(quantity: str, unit: str) -> bool:
    try:
        return unit_of(quantity, unit).symbol == unit
    except QuantityError:
        return False


def is_series(rows: tuple[Any, ...]) -> bool:
    """Whether these are two or more pairs of time and reading, one after the other."""
    pairs = all(
        isinstance(r, tuple) and len(r) == 2 and all(type(v) is float for v in r) for r in rows
    )
    return pairs and len(rows) > 1 and all(after[0] > before[0] for before, after in pairwise(rows))
