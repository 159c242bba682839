"""Choices between codes that a site may make; none of them can loosen a safety limit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any, NamedTuple

from wizard.errors import InputError
from wizard.text import show


@dataclass(frozen=True, slots=True)
class Settings:
    """The rules a job is judged with; the record carries them."""

    practice: str = "US"
    sling_legs_credited: int = 2
    overload_dial: str = "ask"
    noise_trigger: float = 85.0
    derate_at_3_percent: float = 0.89
    ampacity_cool_credit: bool = False
    voltage_drop_strict: bool = False
    impedance_method: str = "R cos + X sin"
    nrr_derating: str = "half"


class Choice(NamedTuple):
    """One setting: its kind for binding, the accepted values and what it decides."""

    kind: str
    values: tuple[Any, ...]
    about: str


CHOICES: dict[str, Choice] = {
    "practice": Choice("text", ("US", "IEC"), "electrical practice for wiring and protection"),
    "sling_legs_credited": Choice(
        "count", (2, 3), "legs credited in a four-leg sling; 3 if a qualified rigger equalises"
    ),
    "overload_dial": Choice(
        "text", ("ask", "motor current"), "what an overload dial is taken to read"
    ),
    "noise_trigger": Choice("sound level", (85.0, 90.0), "level that requires hearing protection"),
    "derate_at_3_percent": Choice("ratio", (0.89, 0.88), "derating curve at 3 % voltage unbalance"),
    "ampacity_cool_credit": Choice("flag", (False, True), "credit a cool room in ampacity"),
    "voltage_drop_strict": Choice("flag", (False, True), "3 % branch drop must be fixed"),
    "impedance_method": Choice(
        "text", ("R cos + X sin", "printed"), "effective impedance for voltage drop"
    ),
    "nrr_derating": Choice("text", ("half", "full"), "field derating of hearing protectors"),
}


def usual_practice(units: str) -> str:
    """The electrical practice that goes with the units of a job, as long as nobody says another."""
    return "IEC" if units == "metric" else "US"


def one_of(what: str, typed: str, accepted: tuple[str, ...]) -> str:
    """The accepted word that is typed, or begun; InputError for anything else.

    >>> one_of("units", "M", ("us", "metric")), one_of("practice", "iec", ("US", "IEC"))
    ('metric', 'IEC')
    """
    word = typed.strip().casefold()
    found = [a for a in accepted if word and a.casefold().startswith(word)]
    if len(found) != 1:
        given = f"“{show(typed.strip())[:20]}”" if word else "nothing"
        raise InputError(what, given, " or ".join(accepted))
    return found[0]


def settings_from(values: Mapping[str, Any]) -> Settings:
    """Settings from a mapping; InputError names the first entry that is not accepted."""
    known = {f.name for f in fields(Settings)}
    chosen: dict[str, Any] = {}
    for name, value in values.items():
        if name not in known:
            raise InputError("setting", name, ", ".join(sorted(known)))
        accepted = CHOICES[name].values
        match = [a for a in accepted if a == value and (type(a) is bool) == (type(value) is bool)]
        if not match:
            listed = ", ".join(f"{a:g}" if type(a) is float else str(a) for a in accepted)
            raise InputError(f"setting {name}", str(value), listed)
        chosen[name] = match[0]
    return Settings(**chosen)


def as_mapping(settings: Settings) -> dict[str, Any]:
    """The settings as plain values."""
    return asdict(settings)
