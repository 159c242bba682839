"""Words to complete with that only the program knows: item keys, calculations, their inputs,
roles, kinds of visit, tasks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from wizard import calc, checks
from wizard.memo import warm, warm_procedure
from wizard.text import show


def words_for(kind: str, given: str = "") -> Iterator[str]:
    """The words of a kind; `given` is the calculation whose parameters, the folder whose missing
    files, or the job whose tasks are wanted."""
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
    from wizard.practice.scenario import ENDLESS, scenario_names  # deferred, as above

    yield from (*scenario_names(), ENDLESS)


def _roles(given: str) -> Iterator[str]:
    from wizard.signing import ROLES  # deferred, as above

    yield from ROLES


def _decisions(given: str) -> Iterator[str]:
    from wizard.signing import DECISIONS  # deferred, as above

    yield from dict.fromkeys(word for words in DECISIONS.values() for word in words)


def _settings(given: str) -> Iterator[str]:
    from wizard.settings import CHOICES  # deferred, as above

    yield from (f"{name}=" for name in CHOICES)


def _visits(given: str) -> Iterator[str]:
    from wizard.procedure.visits import visit_kinds  # deferred, as above

    yield from visit_kinds()


def _tasks(given: str) -> Iterator[str]:
    from wizard.errors import WizardError  # deferred, as above
    from wizard.procedure import procedure
    from wizard.service import due
    from wizard.store import read_job

    warm_procedure()
    with suppress(WizardError):
        yield from (task.key for task in due(read_job(Path(given), procedure()).job))


def _missing(given: str) -> Iterator[str]:
    from wizard.errors import StoreError  # deferred, as above
    from wizard.review.last_seen import LastSeen
    from wizard.store.files import Folder

    path = Path(given or ".")
    with suppress(StoreError), Folder(path) as folder:
        there = [show(name) for name in folder.names()]
        yield from LastSeen.load().missing(str(path.resolve()), there)


def _none(given: str) -> Iterator[str]:
    yield from ()


_KINDS: dict[str, Callable[[str], Iterator[str]]] = {
    "keys": _keys,
    "calculations": _calculations,
    "parameters": _parameters,
    "guides": _guides,
    "scenarios": _scenarios,
    "missing": _missing,
    "roles": _roles,
    "decisions": _decisions,
    "settings": _settings,
    "visits": _visits,
    "tasks": _tasks,
}
