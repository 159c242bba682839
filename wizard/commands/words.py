"""Words to complete with that only the program knows: item keys, calculations, their inputs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress

from wizard import calc, checks
from wizard.memo import warm, warm_procedure


def words_for(kind: str, given: str = "") -> Iterator[str]:
    """The words of a kind; `given` is the calculation whose parameters are wanted."""
    yield from _KINDS.get(kind, _none)(given)


def _keys(given: str) -> Iterator[str]:
    from wizard.procedure import procedure  # deferred: a calculation is completed without it

    warm_procedure()
    yield from (f"{key}=" for key in procedure().items)


def _calculations(given: str) -> Iterator[str]:
    warm()
    yield from sorted({*calc.names(), *checks.names()})


def _parameters(given: str) -> Iterator[str]:
    warm()
    for package in (calc, checks):
        with suppress(KeyError):
            yield from (f"{p.name}=" for p in package.named(given).parameters)
            return


def _guides(given: str) -> Iterator[str]:
    from wizard.guide import names  # deferred, as above

    yield from names()


def _scenarios(given: str) -> Iterator[str]:
    from wizard.practice.scenario import scenario_names  # deferred, as above

    yield from scenario_names()


def _none(given: str) -> Iterator[str]:
    yield from ()


_KINDS: dict[str, Callable[[str], Iterator[str]]] = {
    "keys": _keys,
    "calculations": _calculations,
    "parameters": _parameters,
    "guides": _guides,
    "scenarios": _scenarios,
}
