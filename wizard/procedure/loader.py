"""Reads the phase files and verifies them.

Invariant: a procedure that loads is sound: every rule exists, every parameter is bound once to
something asked earlier and of the same dimension, every condition can occur, every item says why
and how. Anything else is a ProcedureError that names file and item.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Protocol

import tomli

from wizard import checks
from wizard.errors import ProcedureError, QuantityError
from wizard.finding import WEIGHT, Severity
from wizard.formula import Parameter
from wizard.kinds import KINDS
from wizard.procedure.item import (
    KINDS_OF_ITEM,
    Answered,
    Binding,
    Item,
    Literal,
    Phase,
    Procedure,
    Reference,
    Result,
    Setting,
)
from wizard.quantities import parse_number, parse_quantity, unit_of
from wizard.settings import CHOICES

VERSION = "1.0.0"
_KEY = re.compile(r"[a-z][a-z0-9_]*(\.[a-z0-9_]+)+")
_TEXTS = ("key", "ask", "kind", "severity", "why", "how", "mistake")
_FIELDS = {
    *_TEXTS,
    "quantity",
    "unit",
    "metric",
    "labels",
    "options",
    "bad",
    "advise",
    "accept",
    "likely",
    "words",
    "optional",
    "when",
    "checks",
    "instrument",
    "same_instrument",
    "caution",
    "clears",
    "danger",
}
_PLAIN_OF = {"confirm": "flag", "choose": "text", "write": "text", "date": "date", "count": "count"}


class Shelf(Protocol):
    """Where a verified procedure is kept between two starts."""

    def take(self, sha256: str) -> Procedure | None:
        """The procedure of the files with this digest, if it is there."""

    def put(self, procedure: Procedure) -> None:
        """Keep a procedure."""


_SHELVES: list[Shelf] = []


def keep_on(shelf: Shelf) -> None:
    """Let `procedure` take a verified procedure from a shelf; without one it verifies."""
    _SHELVES[:] = [shelf]


@cache
def procedure() -> Procedure:
    """The procedure that ships with the tool, verified, whenever its files are new."""
    paths = sorted((Path(__file__).parent / "phases").glob("*.toml"))
    files = {p.name: p.read_text("utf-8") for p in paths}
    for shelf in _SHELVES:
        kept = shelf.take(_digest(files))
        if kept is None:
            kept = build(files)
            shelf.put(kept)
        return kept
    return build(files)


def _digest(files: Mapping[str, str]) -> str:
    return hashlib.sha256("\n".join(f"{n}\n{t}" for n, t in files.items()).encode()).hexdigest()


def build(files: Mapping[str, str]) -> Procedure:
    """A verified procedure from phase files, name to text, in order."""
    heads: dict[int, dict[str, Any]] = {}
    rows: dict[int, list[tuple[str, dict[str, Any]]]] = {}
    for name, text in files.items():
        try:
            data = tomli.loads(text)
        except tomli.TOMLDecodeError as problem:
            raise ProcedureError(f"{name}: {problem}") from None
        number = int(name[:2])
        if "phase" in data:
            heads[number] = data["phase"]
        rows.setdefault(number, []).extend((name, row) for row in data.get("item", ()))
    items: dict[str, Item] = {}
    for number in sorted(rows):
        if number not in heads:
            raise ProcedureError(f"phase {number} has items but no [phase]")
        for name, row in rows[number]:
            item = _item(name, row, number, len(items))
            if item.key in items:
                raise ProcedureError(f"{name}: {item.key} is asked twice")
            _verify(name, item, items)
            items[item.key] = item
    phases = tuple(
        _phase(heads[n], n, tuple(i for i in items.values() if i.phase == n)) for n in sorted(heads)
    )
    return Procedure(
        "piston compressor commissioning",
        VERSION,
        _digest(files),
        phases,
        items,
        _dependents(items),
    )


def _phase(head: dict[str, Any], number: int, items: tuple[Item, ...]) -> Phase:
    try:
        if head.pop("number") != number:
            raise ProcedureError(f"phase {number}: [phase] number and file name differ")
        return Phase(number=number, items=items, **head)
    except (TypeError, KeyError) as problem:
        raise ProcedureError(f"phase {number}: {problem}") from None


def _item(name: str, row: dict[str, Any], phase: int, place: int) -> Item:
    where = f"{name}: {row.get('key', 'item without key')}"
    if unknown := set(row) - _FIELDS:
        raise ProcedureError(f"{where}: unknown {', '.join(sorted(unknown))}")
    if missing := [t for t in _TEXTS if not str(row.get(t, "")).strip()]:
        raise ProcedureError(f"{where}: without {', '.join(missing)}")
    given = dict(row)
    quantity = given.get("quantity", "")
    try:
        severity = Severity(given.pop("severity"))
        given["checks"] = tuple(_binding(c) for c in given.get("checks", ()))
        for name_ in ("accept", "likely"):
            if ends := given.get(name_):
                given[name_] = tuple(_limit(e, quantity) for e in ends)
    except (QuantityError, ValueError, KeyError) as problem:
        raise ProcedureError(f"{where}: {problem}") from None
    for many in ("labels", "options", "bad", "advise", "same_instrument"):
        given[many] = tuple(given.get(many, ()))
    given["when"] = {
        k: tuple(v) if isinstance(v, list) else (v,) for k, v in given.get("when", {}).items()
    }
    return Item(severity=severity, phase=phase, place=place, **given)


def _limit(text: Any, quantity: str) -> float:
    if not quantity:
        return float(text)
    return parse_quantity(str(text), quantity).si


def _binding(row: dict[str, Any]) -> Binding:
    rule = row["rule"]
    if rule not in checks.load():
        raise ValueError(f"unknown rule {rule}")
    parameters = {p.name: p for p in checks.load()[rule].parameters}
    given = row.get("with", {})
    if extra := set(given) - set(parameters):
        raise ValueError(f"{rule} has no {', '.join(sorted(extra))}")
    if missing := [p.name for p in parameters.values() if p.name not in given and not p.optional]:
        raise ValueError(f"{rule} wants {', '.join(missing)}")
    return Binding(rule, {n: _reference(t, parameters[n]) for n, t in given.items()})


def _reference(text: str, parameter: Parameter) -> Reference:
    if text.startswith("="):
        return Literal(_literal(text[1:], parameter))
    if text.startswith("settings."):
        return Setting(text.removeprefix("settings."))
    key, _, result = text.partition(":")
    return Result(key, result) if result else Answered(key)


def _literal(text: str, parameter: Parameter) -> Any:
    if parameter.kind in KINDS:
        return parse_quantity(text, parameter.kind).si
    if parameter.kind == "flag":
        return {"true": True, "false": False}[text]
    return int(parse_number(text)) if parameter.kind == "count" else text


def _verify(name: str, item: Item, earlier: Mapping[str, Item]) -> None:
    for problem in _problems(item, earlier):
        raise ProcedureError(f"{name}: {item.key}: {problem}")


def _problems(item: Item, earlier: Mapping[str, Item]) -> Iterator[str]:
    if not _KEY.fullmatch(item.key):
        yield "the key is not lower-case words with dots"
    if item.kind not in KINDS_OF_ITEM:
        yield f"unknown kind {item.kind}"
    if item.measured:
        if item.quantity not in KINDS:
            yield f"unknown quantity {item.quantity!r}"
        for unit in filter(None, (item.unit, item.metric)):
            unit_of(item.quantity, unit)
    elif item.quantity or item.unit or item.labels or item.words:
        yield f"a {item.kind} item has no unit, labels or words"
    if (item.kind == "choose") != bool(item.options):
        yield "choose items, and only they, have options"
    if unknown := {*item.bad, *item.advise} - set(item.options):
        yield f"{', '.join(unknown)} is not an option"
    if unknown := set(item.words.values()) - {"pass", "fail", "advisory"}:
        yield f"a word cannot mean {', '.join(unknown)}"
    yield from _condition_problems(item, earlier)
    for key in item.same_instrument:
        if key not in earlier or earlier[key].instrument != item.instrument:
            yield f"same_instrument: {key} is not read earlier with such an instrument"
    known = {**earlier, item.key: item}
    for binding in item.checks:
        yield from _binding_problems(binding, known)
    if item.checks:
        gravest = max((checks.load()[b.rule].severity for b in item.checks), key=WEIGHT.__getitem__)
        can_fail = item.bad or "fail" in item.words.values() or item.kind == "confirm"
        if WEIGHT[item.severity] < WEIGHT[gravest] or (gravest != item.severity and not can_fail):
            yield f"severity is {item.severity}, its checks say {gravest}"


def _condition_problems(item: Item, earlier: Mapping[str, Item]) -> Iterator[str]:
    for key, values in item.when.items():
        if key.startswith("settings."):
            possible = CHOICES[key.removeprefix("settings.")].values
        elif key not in earlier:
            yield f"when: {key} is not asked earlier"
            continue
        else:
            first = earlier[key]
            possible = first.options or ((True, False) if first.kind == "confirm" else ())
        if impossible := [v for v in values if v not in possible]:
            yield f"when: {key} is never {', '.join(map(str, impossible))}"


def _binding_problems(binding: Binding, known: Mapping[str, Item]) -> Iterator[str]:
    for parameter in checks.load()[binding.rule].parameters:
        reference = binding.inputs.get(parameter.name)
        if reference is None or isinstance(reference, Literal):
            continue
        where = f"{binding.rule}.{parameter.name}"
        if isinstance(reference, Setting):
            if reference.name not in CHOICES:
                yield f"{where}: no setting {reference.name}"
            elif CHOICES[reference.name].kind != parameter.kind:
                yield f"{where} is {parameter.kind}, the setting {CHOICES[reference.name].kind}"
            continue
        if reference.key not in known:
            yield f"{where}: {reference.key} is not asked earlier"
            continue
        found = _kind_of(reference, known[reference.key])
        if not found:
            yield f"{where}: {reference.key} has no result {getattr(reference, 'name', '')}"
        elif found != _wanted(parameter):
            yield f"{where} wants {_wanted(parameter)}, {reference.key} is {found}"


def _wanted(parameter: Parameter) -> str:
    if parameter.kind == "series" or not parameter.many:
        return parameter.kind
    return f"several {parameter.kind}"


def _kind_of(reference: Answered | Result, item: Item) -> str:
    if isinstance(reference, Result):
        for binding in item.checks:
            if kind := checks.load()[binding.rule].results.get(reference.name):
                return kind
        return ""
    if item.kind == "series":
        return "series"
    if item.kind in _PLAIN_OF:
        return _PLAIN_OF[item.kind]
    return f"several {item.quantity}" if item.labels else item.quantity


def _dependents(items: Mapping[str, Item]) -> dict[str, tuple[str, ...]]:
    """For each key, every item to judge again when its answer changes, in order."""
    direct: dict[str, set[str]] = {key: set() for key in items}
    for item in items.values():
        used = {k for b in item.checks for k in b.uses()}
        used |= {*item.when, *item.same_instrument}
        for key in used & set(items) - {item.key}:
            direct[key].add(item.key)
    found: dict[str, tuple[str, ...]] = {}
    for key in reversed(list(items)):
        reached = set(direct[key]).union(*(found[k] for k in direct[key]))
        found[key] = tuple(sorted(reached, key=lambda k: items[k].place))
    return found
