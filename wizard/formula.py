"""Formulas that can explain themselves.

A formula is a plain function of SI floats. The decorator adds what a reader needs (title,
equation in words, kinds, source) and `work` calls it and keeps the working, so that the number
judged, the number printed and the number taught are one.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from types import CodeType
from typing import Annotated, Any, NamedTuple, ParamSpec, TypeVar, get_args, get_origin

from wizard.quantities import Quantity
from wizard.sources import Source

P = ParamSpec("P")
R = TypeVar("R")


class Parameter(NamedTuple):
    """One input: `kind` is a kind of quantity, or text/flag/date/count for plain values."""

    name: str
    kind: str
    many: bool
    optional: bool
    function: Callable[..., Any]
    default: Any = None
    has_default: bool = False

    @property
    def about(self) -> str:
        """What the docstring of its function says of it."""
        return _abouts(self.function).get(self.name, "")


@dataclass(frozen=True)
class Described:
    """What formulas and checks have in common: a function, its inputs, results and sources."""

    name: str
    title: str
    function: Callable[..., Any]
    results: Mapping[str, str]
    sources: tuple[Source, ...]

    @cached_property
    def parameters(self) -> tuple[Parameter, ...]:
        """The inputs, read from signature, annotations and docstring."""
        return tuple(_parameters(self.function))


@dataclass(frozen=True)
class FormulaSpec(Described):
    """A registered formula; `equation` uses the parameter names.

    `absolute` says that temperatures stand in it as kelvin, not on the scale they are read on.
    """

    equation: str = ""
    absolute: bool = True


FORMULAS: dict[str, FormulaSpec] = {}
"""Every formula by name; filled when the modules of `wizard.calc` are imported."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of working: the formula, what went in, what came out (SI)."""

    formula: str
    equation: str
    inputs: tuple[tuple[str, Quantity | str | bool | tuple[Quantity, ...]], ...]
    results: tuple[tuple[str, Quantity], ...]
    absolute: bool = True


def formula(
    title: str,
    *,
    equation: str,
    results: Mapping[str, str] | str,
    source: Source | tuple[Source, ...],
    absolute: bool = True,
) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Register a function as a formula.

    `results` is the kind of the single result, or name to kind for a NamedTuple result;
    `absolute` is false where the equation takes temperatures in °C or °F.
    """

    def register(function: Callable[P, R]) -> Callable[P, R]:
        name = function.__name__
        named = {name: results} if isinstance(results, str) else dict(results)
        sources = source if isinstance(source, tuple) else (source,)
        if name in FORMULAS and FORMULAS[name].function.__module__ != function.__module__:
            raise ValueError(f"two formulas named {name}")
        FORMULAS[name] = FormulaSpec(name, title, function, named, sources, equation, absolute)
        return function

    return register


def work(function: Callable[..., R], /, **inputs: Any) -> tuple[R, Step]:
    """Call a formula and keep the working.

    Returns the result as the formula gives it, and the step to show.
    """
    spec = FORMULAS[function.__name__]
    value = function(**inputs)
    got: tuple[Any, ...] = tuple(value) if isinstance(value, tuple) else (value,)
    results = tuple(
        (name, Quantity(float(one), kind))
        for (name, kind), one in zip(spec.results.items(), got, strict=True)
    )
    shown = tuple(
        (p.name, _quantity(p, inputs.get(p.name, p.default)))
        for p in spec.parameters
        if inputs.get(p.name, p.default) is not None
    )
    return value, Step(spec.title, spec.equation, shown, results, spec.absolute)


def _quantity(parameter: Parameter, value: Any) -> Quantity | str | bool | tuple[Quantity, ...]:
    if parameter.kind in PLAIN_KINDS:
        return value if isinstance(value, bool) else str(value)
    if isinstance(value, tuple):
        return tuple(Quantity(float(v), parameter.kind) for v in value)
    return Quantity(float(value), parameter.kind)


PLAIN_KINDS = ("text", "flag", "date", "count", "series")
_PLAIN = {"str": "text", "bool": "flag", "date": "date", "int": "count"}


def _parameters(function: Callable[..., Any]) -> Iterator[Parameter]:
    bare: Any = inspect.unwrap(function)
    code, names = bare.__code__, bare.__globals__
    positional = code.co_varnames[: code.co_argcount]
    last = bare.__defaults__ or ()
    defaults = dict(zip(positional[len(positional) - len(last) :], last, strict=True))
    defaults |= bare.__kwdefaults__ or {}
    for name in code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]:
        hint = eval(_compiled(bare.__annotations__[name]), names)
        kind, many, optional = _kind(hint)
        has_default = name in defaults
        default = defaults.get(name)
        yield Parameter(name, kind, many, optional or has_default, function, default, has_default)


@cache
def _compiled(annotation: str) -> CodeType:
    """An annotation to evaluate; the few that there are stand on hundreds of parameters."""
    return compile(annotation, "annotation", "eval")


@cache
def _kind(hint: Any) -> tuple[str, bool, bool]:
    """(kind, many, optional) of an annotation."""
    if get_origin(hint) is Annotated:
        return str(get_args(hint)[1]), False, False
    arguments = get_args(hint)
    if type(None) in arguments:
        kind, many, _ = _kind(next(a for a in arguments if a is not type(None)))
        return kind, many, True
    if get_origin(hint) is tuple:
        inner = arguments[0]
        if get_origin(inner) is tuple:
            return "series", True, False
        return _kind(inner)[0], True, False
    return _PLAIN[getattr(hint, "__name__", str(hint))], False, False


_ENTRY = re.compile(r"^(\w+) :.*$")


@cache
def _abouts(function: Callable[..., Any]) -> dict[str, str]:
    """Parameter descriptions from the Parameters section of a docstring."""
    doc = inspect.getdoc(function) or ""
    found: dict[str, str] = {}
    inside, current = False, ""
    lines = doc.splitlines()
    for line, after in zip(lines, [*lines[1:], ""], strict=True):
        if after.startswith("---"):
            inside = line.strip() == "Parameters"
        elif inside and (entry := _ENTRY.match(line)):
            current = entry[1]
        elif inside and current and line.startswith(" "):
            found[current] = f"{found.get(current, '')} {line.strip()}".strip()
    return found
