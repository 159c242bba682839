"""Numbers as people type them, turned into SI and back.

Invariant: text from a person never reaches pint; one grammar of our own reads the number and
an allow-list reads the unit. pint is used to convert between two names from that list.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from wizard.errors import QuantityError
from wizard.kinds import KINDS, Kind, Unit

if TYPE_CHECKING:
    import pint

MAX_TEXT = 120
SLACK = 1e-9
"""Relative slack at the end of a limit: exactly on the limit passes."""
LAST_PLACE = 1e-6
"""Of the last figure shown, by which a number may miss it and still be that figure."""

ALSO = 60
"""Characters of other spellings that a refusal lists after the units themselves."""

_DECIMAL = re.compile(r"[+-]?(?:\d{1,15}(?:[.,]\d{0,15})?|[.,]\d{1,15})")
_FRACTION = re.compile(r"([+-]?)(?:(\d{1,6})[ -]+)?(\d{1,4})/(\d{1,4})")
_CLOCK = re.compile(r"(?:(\d{1,4}):)?(\d{1,4}):([0-5]\d(?:[.,]\d{1,3})?)")
_FEET_INCHES = re.compile(r"(\d{1,5})\s*(?:ft|'|′|’)\s*(.+?)\s*(?:in|\"|″|”|'')")
_NUMBER_START = re.compile(r"[+\-−]?\s*(?:\d{1,6}[ -]+\d{1,4}/\d{1,4}|\d{1,4}/\d{1,4}|[\d.,]+)")
_GROUPED = re.compile(r"[+\-−]?[1-9]\d{0,2}(?: \d{3})+(?![\d/])")
_EXPONENT = re.compile(r"[eE][+-]?\d")
_AMBIGUOUS = re.compile(r"[+-]?[1-9]\d{0,2}(?:,\d{3})+(?!\d)")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in the SI base of its kind."""

    value: float
    kind: str


class Reading(NamedTuple):
    """A number as typed: `value` in `unit`, `si` in the base unit of the kind."""

    value: float
    unit: str
    si: float
    kind: str


def kind_of(name: str) -> Kind:
    """The kind with this name; QuantityError if there is none."""
    try:
        return KINDS[name]
    except KeyError:
        raise QuantityError("kind of quantity", name, ", ".join(KINDS)) from None


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint  # deferred: 0.1 s that --help and the first paint do without

    text = Path(__file__).with_name("units.txt").read_text("utf-8")
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    registry.load_definitions(text.splitlines())
    return registry


def _fold(text: str) -> str:
    return text.replace(" ", "").replace("⋅", "·").replace("*", "·").casefold()


@cache
def _names(kind: str) -> tuple[dict[str, Unit], dict[str, Unit]]:
    """Names of the units exactly as written, and folded where folding keeps them apart."""
    exact: dict[str, Unit] = {}
    folded: dict[str, set[Unit]] = {}
    for unit in kind_of(kind).units:
        for name in (unit.symbol, *unit.aliases):
            exact.setdefault(name, unit)
            folded.setdefault(_fold(name), set()).add(unit)
    return exact, {name: units.pop() for name, units in folded.items() if len(units) == 1}


def unit_of(kind: str, text: str) -> Unit:
    """The unit of `kind` that `text` means.

    Case counts only where two units differ by case alone (mohm and Mohm).

    >>> unit_of("torque", "ft-lb").symbol
    'lbf·ft'
    >>> unit_of("gauge pressure", "PSI").symbol
    'psig'
    """
    exact, folded = _names(kind)
    text = text.strip()
    unit = exact.get(text) or folded.get(_fold(text))
    if unit is None:
        raise QuantityError(f"unit of {kind}", show_typed(text), _taken(kind))
    return unit


def _taken(kind: str) -> str:
    """The units of a kind, and what else may be written for them as far as a line has room.

    >>> _taken("rotational speed")
    'rpm, r/s, also r/min, 1/min, min-1, min⁻¹, /min, U/min, tr/min'
    """
    units = kind_of(kind).units
    symbols = ", ".join(u.symbol for u in units if u.symbol) or "no unit"
    also = ""
    for name in (name for u in units for name in u.aliases if not name.isalpha()):
        if len(also) + len(name) > ALSO:
            break
        also += f", {name}" if also else name
    return f"{symbols}, also {also}" if also else symbols


_RECALLED: dict[tuple[str, str], tuple[float, float]] = {}


def recall(conversions: Iterable[tuple[str, str, float, float]]) -> None:
    """Take up what `conversions` gave before, so that pint need not be loaded for it again."""
    for kind, symbol, factor, offset in conversions:
        _RECALLED[kind, symbol] = float(factor), float(offset)


def conversions() -> list[tuple[str, str, float, float]]:
    """(kind, unit, factor, offset) of every unit, from pint: SI = factor * value + offset.

    >>> ("length", "mil", 2.54e-05, 0.0) in conversions()
    True
    """
    return [
        (k.name, u.symbol, *_converted(k.name, u.symbol)) for k in KINDS.values() for u in k.units
    ]


@cache
def _linear(kind: str, symbol: str) -> tuple[float, float]:
    """(factor, offset) such that SI = factor * value + offset."""
    return _RECALLED.get((kind, symbol)) or _converted(kind, symbol)


def _converted(kind: str, symbol: str) -> tuple[float, float]:
    expression = unit_of(kind, symbol).pint
    if not expression or symbol == kind_of(kind).base:
        return 1.0, 0.0
    registry = _registry()
    base = {"temperature": "kelvin"}.get(kind)
    if base:
        offset = float(registry.Quantity(0.0, expression).to(base).magnitude)
        return float(registry.Quantity(1.0, expression).to(base).magnitude) - offset, offset
    return float(
        registry.parse_expression(f"1.0*({expression})").to_base_units().magnitude
        * _base_scale(kind)
    ), 0.0


@cache
def _base_scale(kind: str) -> float:
    """How many SI base units of the kind make one pint root unit (pint's root mass is g)."""
    registry = _registry()
    base = unit_of(kind, kind_of(kind).base).pint
    if not base:
        return 1.0
    root = float(registry.parse_expression(f"1.0*({base})").to_base_units().magnitude)
    return 1.0 / root


def to_si(value: float, kind: str, unit: str) -> float:
    """`value` in `unit` as SI.

    >>> to_si(10.0, "torque", "lbf·ft")
    13.558179483314...
    >>> round(to_si(32.0, "temperature", "°F"), 9)
    273.15
    """
    factor, offset = _linear(kind, unit_of(kind, unit).symbol)
    return value * factor + offset


def from_si(value: float, kind: str, unit: str) -> float:
    """SI `value` in `unit`.

    >>> round(from_si(689475.7293168, "gauge pressure", "psig"), 9)
    100.0
    """
    factor, offset = _linear(kind, unit_of(kind, unit).symbol)
    return (value - offset) / factor


def show_typed(text: str) -> str:
    """Typed text inside a sentence: quoted, cut short."""
    cut = text if len(text) <= 40 else text[:37] + "..."
    return f"“{cut}”" if cut else "nothing"


def parse_number(text: str, what: str = "number") -> float:
    """A finite decimal number with point or comma, or a fraction such as 1 1/2.

    >>> parse_number("4,5"), parse_number("1 1/2"), parse_number("3/8"), parse_number("-2.0")
    (4.5, 1.5, 0.375, -2.0)
    """
    text = text.strip().replace("−", "-")
    if _AMBIGUOUS.fullmatch(text):
        plain, _, tail = text.replace(",", "", text.count(",") - 1).partition(",")
        raise QuantityError(
            what,
            show_typed(text),
            f"{plain}{tail} or {plain}.{tail}, because a comma before three digits can mean either",
        )
    if _DECIMAL.fullmatch(text):
        return float(text.replace(",", "."))
    if (part := _FRACTION.fullmatch(text)) and int(part[4]):
        denominator = int(part[4])
        value = (int(part[2] or 0) * denominator + int(part[3])) / denominator
        return -value if part[1] == "-" else value
    raise QuantityError(what, show_typed(text), "a number such as 4.5, 4,5 or 3/8")


def parse_quantity(text: str, kind: str, unit: str = "", what: str = "value") -> Reading:
    """A number with a unit of `kind`; `unit` is taken where none is typed.

    Lengths may be feet and inches, times may be min:s or h:min:s. A space, also one that does not
    break, may part thousands as in ISO 80000-1: one reading alone cannot be two.

    >>> parse_quantity("4,5 bar", "gauge pressure", "psig")
    Reading(value=4.5, unit='bar(g)', si=450000.0, kind='gauge pressure')
    >>> parse_quantity("4:35", "time").si
    275.0
    >>> round(parse_quantity("5 ft 3 1/2 in", "length").si, 6)
    1.6129
    >>> parse_quantity("1 600 L/min", "flow").value
    1600.0
    """
    text = " ".join(text.replace("\u00a0", " ").split())
    if len(text) > MAX_TEXT:
        raise QuantityError(what, show_typed(text), f"at most {MAX_TEXT} characters")
    if not text:
        raise QuantityError(what, "nothing", f"a number in {unit}" if unit else "a number")
    default = unit_of(kind, unit or kind_of(kind).base)
    if kind == "length" and (part := _FEET_INCHES.fullmatch(text)):
        inches = 12.0 * int(part[1]) + parse_number(part[2], what)
        return Reading(inches, "in", to_si(inches, kind, "in"), kind)
    if kind == "time" and (clock := _CLOCK.fullmatch(text)):
        seconds = float(clock[3].replace(",", ".")) + 60.0 * int(clock[2])
        seconds += 3600.0 * int(clock[1] or 0)
        return Reading(seconds, "s", seconds, kind)
    number, symbol = _split(text)
    if not number:
        raise QuantityError(
            what,
            show_typed(text),
            f"a number in {default.symbol}" if default.symbol else "a number",
        )
    value = parse_number(number, what)
    if _EXPONENT.match(symbol):
        plain = "a number written out, as 0.001 or 1200"
        named = f", in {default.symbol}" if default.symbol else ""
        raise QuantityError(what, show_typed(text), f"{plain}{named}")
    try:
        chosen = unit_of(kind, symbol) if symbol else default
    except QuantityError as problem:
        accepted = f"units {problem.accepted}"
        if symbol[0].isdecimal():
            accepted = "one number; a space inside it parts groups of three digits only, as 1 200"
        raise QuantityError(what, show_typed(text), accepted) from None
    si = to_si(value, kind, chosen.symbol)
    if not math.isfinite(si):
        raise QuantityError(what, show_typed(text), "a finite number")
    return Reading(value, chosen.symbol, si, kind)


def _split(text: str) -> tuple[str, str]:
    """The number and the unit of a typed quantity."""
    if grouped := _GROUPED.match(text):
        text = grouped[0].replace(" ", "") + text[grouped.end() :]
    match = _NUMBER_START.match(text)
    if match is None:
        return "", text
    number = re.sub(r"^([+\-−])\s+", r"\1", match[0])
    return number, text[match.end() :].strip()


def parse_set(
    text: str, kind: str, unit: str, labels: tuple[str, ...], what: str = "readings"
) -> tuple[Reading, ...]:
    """Several readings on one line, in the order of `labels`, parted by spaces, ; or comma-space.

    >>> [r.si for r in parse_set("462 463 455 V", "voltage", "V", ("L1-L2", "L2-L3", "L3-L1"))]
    [462.0, 463.0, 455.0]
    """
    if len(text) > MAX_TEXT:
        raise QuantityError(what, show_typed(text), f"at most {MAX_TEXT} characters")
    if len(labels) == 1 and _GROUPED.match(text.strip()):
        return (parse_quantity(text, kind, unit, f"{what}, {labels[0]}"),)
    words = [w for w in re.split(r"[;\s]+|,(?=\s)", text.strip()) if w]
    groups: list[list[str]] = []
    for word in words:
        if word[0].isdigit() or word[0] in "+-.,−":
            groups.append([word])
        elif groups:
            groups[-1].append(word)
    if not groups or len(groups) != len(labels):
        raise QuantityError(
            what,
            show_typed(text),
            "one number"
            if len(labels) == 1
            else f"{len(labels)} numbers with spaces between: " + ", ".join(labels),
        )
    typed_units = [" ".join(g[1:]) or _split(g[0])[1] for g in groups]
    shared = typed_units[-1] if not any(typed_units[:-1]) else ""
    out = []
    for label, group in zip(labels, groups, strict=True):
        own = " ".join(group)
        if shared and not _split(own)[1]:
            own = f"{own} {shared}"
        out.append(parse_quantity(own, kind, unit, f"{what}, {label}"))
    return tuple(out)


def format_number(value: float, digits: int = 5) -> str:
    """A number with `digits` significant figures, never in exponent form for usual sizes.

    >>> format_number(0.0155), format_number(1650.0), format_number(253.0), format_number(-10.04347)
    ('0.0155', '1650', '253', '-10.043')
    """
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    if not 1e-6 <= abs(value) < 1e12:
        return f"{value:.{digits}g}"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def format_quantity(value: float, kind: str, unit: str, digits: int = 4) -> str:
    """SI `value` shown in `unit`.

    >>> format_quantity(13.5582, "torque", "lbf·ft")
    '10 lbf·ft'
    >>> format_quantity(-0.1004, "ratio", "%")
    '-10.04 %'
    """
    shown = format_number(from_si(value, kind, unit), digits)
    return f"{shown} {unit}".rstrip()


def format_range(low: float, high: float, kind: str, unit: str, digits: int = 4) -> str:
    """SI `low` to `high` shown in `unit`, rounded inwards: both ends as shown lie inside.

    >>> format_range(100.0, 690.0, "voltage", "V")
    '100 V to 690 V'
    >>> format_range(0.1, 1000.0, "force", "lbf")
    '0.02249 lbf to 224.8 lbf'
    """
    shown = []
    for end, inwards in ((low, 1), (high, -1)):
        value = from_si(end, kind, unit) if kind else end
        if value:
            places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
            steps = value * 10.0**places
            value = inwards * math.ceil(inwards * steps - LAST_PLACE) / 10.0**places
        shown.append(f"{format_number(value, digits)} {unit}".rstrip())
    return " to ".join(shown)


def at_most(value: float, limit: float) -> bool:
    """value <= limit, with the slack that lets exactly-on-the-limit pass.

    >>> at_most(253.0, 1.1 * 230), at_most(253.1, 253.0)
    (True, False)
    """
    return value <= limit + SLACK * abs(limit)


def at_least(value: float, limit: float) -> bool:
    """value >= limit, with the same slack."""
    return value >= limit - SLACK * abs(limit)


def is_within(value: float, low: float, high: float) -> bool:
    """low <= value <= high, with the same slack."""
    return at_least(value, low) and at_most(value, high)
