"""`wizard calc`: any formula or check outside a job, with its working and source."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import date
from itertools import pairwise
from typing import Any

from wizard import calc, checks
from wizard.commands.output import GOOD, STATUS_OF_VERDICT, print_json, print_lines
from wizard.errors import InputError
from wizard.finding import Finding
from wizard.formula import PLAIN_KINDS, Described, FormulaSpec, Parameter, work
from wizard.kinds import KINDS
from wizard.memo import warm
from wizard.quantities import Quantity, parse_number, parse_quantity, parse_set, show_typed
from wizard.render import (
    Units,
    finding_lines,
    limit_json,
    quantity_json,
    working_lines,
)
from wizard.text import clean, show


def run(args: argparse.Namespace) -> int:
    """List the calculations, describe one, or calculate."""
    warm()
    if args.list or not args.name:
        return _list({**calc.load(), **checks.load()}, args.json)
    spec = _named(args.name)
    if not args.inputs:
        if args.json:
            print_json(_spec_json(spec))
        else:
            print_lines(_described(spec, Units(args.units)))
        return GOOD
    return _calculate(spec, args)


def _named(name: str) -> Described:
    for package in (calc, checks):
        with suppress(KeyError):
            found: Described = package.named(name)
            return found
    near = [n for n in (*calc.load(), *checks.load()) if name[:4] in n]
    raise InputError(
        "calculation", show_typed(show(name)), ", ".join(near) or "a name from calc --list"
    )


def _list(known: Mapping[str, Described], as_json: bool) -> int:
    ordered = sorted(known.values(), key=lambda s: s.name)
    if as_json:
        print_json({"calculations": [_spec_json(s) for s in ordered]})
    else:
        print_lines(f"{s.name:<32} {s.title}" for s in ordered)
    return GOOD


def _spec_json(spec: Described) -> dict[str, Any]:
    results = dict(spec.results)
    return {
        "name": spec.name,
        "title": spec.title,
        "kind": "formula" if isinstance(spec, FormulaSpec) else "check",
        "parameters": [
            {
                "name": p.name,
                "unit": _unit(p.kind),
                "quantity": p.kind,
                "several": p.many,
                "optional": p.optional,
                "about": p.about,
            }
            for p in spec.parameters
        ],
        "results": [{"name": n, "unit": _unit(k), "quantity": k} for n, k in results.items()],
        "source": {"text": "; ".join(s.text for s in spec.sources), "mark": spec.sources[0].mark},
    }


def _unit(kind: str) -> str | None:
    return KINDS[kind].base if kind in KINDS else None


_TYPED = {
    "text": "words",
    "flag": "yes or no",
    "date": "a date as 2026-03-01",
    "count": "a whole number",
    "series": "time and pressure in pairs, as 0 100; 30 112 psi",
}
_SI = re.compile(r"(?:, )?\[[^\[\]]*\]")


def _described(spec: Described, units: Units) -> Iterator[str]:
    """What a calculation wants, each input with the units that may be typed for it."""
    yield spec.title
    for parameter in spec.parameters:
        need = "optional" if parameter.optional else "needed"
        about = parameter.about
        if parameter.kind in KINDS or parameter.kind in ("series", "flag"):
            about = _SI.sub("", about)
        about = about.replace(", [-]", "")
        yield f"  {parameter.name}=  {about} ({need}: {_typed(parameter, units)})"
    yield from (f"source: {s}" for s in spec.sources)


def _typed(parameter: Parameter, units: Units) -> str:
    """What may be typed, the unit first that is taken where none is."""
    if parameter.kind in _TYPED:
        return _TYPED[parameter.kind]
    first = units.of(parameter.kind)
    symbols = [u.symbol for u in KINDS[parameter.kind].units if u.symbol and u.symbol != first]
    what = "one or more numbers" if parameter.many else "a number"
    if not first:
        return what
    *most, last = (first, *symbols)
    named = f"{', '.join(most)} or {last}" if most else last
    return f"{parameter.kind}, {what} in {named}"


def _calculate(spec: Described, args: argparse.Namespace) -> int:
    inputs, chosen = _inputs(spec, args.inputs, args.units)
    units = Units(args.units, chosen)
    data: dict[str, Any] = {
        "calculation": spec.name,
        "inputs": {n: _input_json(spec, n, v, units) for n, v in inputs.items()},
    }
    if isinstance(spec, FormulaSpec):
        _, step = work(spec.function, **inputs)
        lines = working_lines(step, units)
        results = {n: quantity_json(q, units) for n, q in step.results}
        first = next(iter(results.values()))
        data |= {
            "result": first,
            "limit": None,
            "verdict": None,
            "severity": None,
            "working": lines,
        }
        if len(results) > 1:
            data["results"] = results
        status, shown = GOOD, [*lines, *(f"source  {s}" for s in spec.sources)]
    else:
        finding: Finding = spec.function(**inputs)
        data |= _finding_json(spec, finding, units)
        status = STATUS_OF_VERDICT[finding.verdict.value]
        shown = list(finding_lines(finding, units))
    sources = spec.sources if isinstance(spec, FormulaSpec) else finding.sources
    data["source"] = {"text": "; ".join(s.text for s in sources), "mark": sources[0].mark}
    if args.json:
        print_json(data)
    else:
        print_lines(shown)
    return status


def _finding_json(spec: Described, finding: Finding, units: Units) -> dict[str, Any]:
    results = {
        name: quantity_json(Quantity(value, spec.results[name]), units)
        if spec.results.get(name) in KINDS
        else {"value": value, "unit": None}
        for name, value in finding.results.items()
    }
    data = {
        "result": quantity_json(finding.value, units),
        "limit": limit_json(finding.limit, units),
        "verdict": finding.verdict.value,
        "severity": finding.severity.value,
        "text": finding.text,
        "working": [line for s in finding.working for line in working_lines(s, units)],
    }
    return data | ({"results": results} if results else {})


def _inputs(
    spec: Described, typed: list[str], system: str
) -> tuple[dict[str, Any], dict[str, str]]:
    """Values by parameter, and the unit typed for each kind."""
    parameters = {p.name: p for p in spec.parameters}
    given: dict[str, Any] = {}
    chosen: dict[str, str] = {}
    for word in map(clean, typed):
        name, equals, text = word.partition("=")
        if not equals or name not in parameters:
            raise InputError(spec.name, show_typed(word), ", ".join(f"{n}=" for n in parameters))
        given[name] = _value(parameters[name], text, system, chosen)
    if missing := [p.name for p in parameters.values() if not p.optional and p.name not in given]:
        raise InputError(
            spec.name, f"no {', '.join(missing)}", ", ".join(f"{n}=" for n in parameters)
        )
    return given, chosen


def _value(parameter: Parameter, text: str, system: str, chosen: dict[str, str]) -> Any:
    name, kind = parameter.name, parameter.kind
    if kind == "series":
        return _series(name, text)
    if kind in PLAIN_KINDS:
        return _plain(name, kind, text)
    unit = Units(system, chosen).of(kind)
    if not parameter.many:
        reading = parse_quantity(text, kind, unit, name)
        chosen.setdefault(kind, reading.unit)
        return reading.si
    count = sum(1 for w in text.replace(";", " ").split() if w[0].isdigit() or w[0] in "+-.,−")
    if not count:
        raise InputError(name, show_typed(text), f"one or more numbers in {unit}")
    labels = tuple(str(n) for n in range(1, count + 1))
    readings = parse_set(text, kind, unit, labels, name)
    if readings:
        chosen.setdefault(kind, readings[0].unit)
    return tuple(r.si for r in readings)


def _plain(name: str, kind: str, text: str) -> Any:
    if kind == "flag":
        if text.casefold() not in ("yes", "no", "true", "false"):
            raise InputError(name, text or "nothing", "yes or no")
        return text.casefold() in ("yes", "true")
    if kind == "date":
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise InputError(name, text or "nothing", "a date as 2026-03-01") from None
    if kind == "count":
        value = parse_number(text, name)
        if value != int(value):
            raise InputError(name, text, "a whole number")
        return int(value)
    return text


def _series(name: str, text: str) -> tuple[tuple[float, float], ...]:
    rows = []
    for pair in filter(None, (p.strip() for p in text.split(";"))):
        time, _, reading = pair.partition(" ")
        seconds = parse_quantity(time, "time", "s", name).si
        rows.append((seconds, parse_quantity(reading, "gauge pressure", "psig", name).si))
    if any(after[0] <= before[0] for before, after in pairwise(rows)) or len(rows) < 2:
        raise InputError(
            name, text or "nothing", "pairs with increasing time, as 0 100; 30 112 psi"
        )
    return tuple(rows)


def _input_json(spec: Described, name: str, value: Any, units: Units) -> Any:
    kind = next(p.kind for p in spec.parameters if p.name == name)
    if kind not in KINDS:
        return {"value": value, "unit": None}
    if isinstance(value, tuple):
        return {"value": [units.number(v, kind) for v in value], "unit": units.of(kind)}
    return {"value": units.number(value, kind), "unit": units.of(kind)}
