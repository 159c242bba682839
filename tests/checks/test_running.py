"""Running verdicts: sounds and vibration."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.running import running_sound, vibration, vibration_zone
from wizard.errors import InputError
from wizard.finding import Finding, Verdict
from wizard.procedure import procedure
from wizard.tables import table

SOUNDS = tuple(row["sound"] for row in table("running_sounds").rows)


def graded(finding: Finding) -> tuple[str, str]:
    return finding.verdict.value, finding.severity.value


@pytest.mark.parametrize("sound", SOUNDS)
def test_every_sound_says_what_to_do(sound: str) -> None:
    finding = running_sound(sound)
    if sound.startswith("even"):
        assert finding.verdict is Verdict.PASS
    else:
        assert finding.verdict is Verdict.FAIL and len(finding.clears) > 20


def test_knock_stops_the_machine_and_rattle_does_not() -> None:
    assert running_sound("knock at each turn").holds
    assert not running_sound("rattle").holds
    with pytest.raises(InputError, match="sound: given “hum”"):
        running_sound("hum")


@pytest.mark.parametrize(
    ("place", "mm", "expected"),
    [
        ("pump feet", 18.0, ("PASS", "handover")),
        ("pump feet", 18.1, ("ADVISORY", "advisory")),
        ("pump feet", 27.9, ("ADVISORY", "advisory")),
        ("pump feet", 28.0, ("FAIL", "handover")),
        ("tank foot", 7.1, ("PASS", "handover")),
        ("tank foot", 7.2, ("ADVISORY", "advisory")),
        ("tank foot", 11.2, ("FAIL", "handover")),
        ("motor bearing", 11.1, ("ADVISORY", "advisory")),
        ("pipe", 28.5, ("PASS", "handover")),
        ("pipe", 28.6, ("FAIL", "handover")),
    ],
)
def test_vibration(place: str, mm: float, expected: tuple[str, str]) -> None:
    assert graded(vibration(place, mm / 1e3)) == expected


@pytest.mark.parametrize(
    ("mm", "zone", "verdict"),
    [(5.2, "A", "PASS"), (7.9, "B", "PASS"), (8.0, "C", "ADVISORY"), (12.1, "D", "FAIL")],
)
def test_zone_of_the_frame(mm: float, zone: str, verdict: str) -> None:
    finding = vibration_zone("frame", mm / 1e3, rigid=True)
    assert finding.text.startswith(f"Zone {zone}") and finding.verdict.value == verdict
    on_tank = vibration_zone("frame", mm / 1e3)
    assert on_tank.text.startswith(f"Zone {zone}")
    assert on_tank.verdict is Verdict.NOT_APPLICABLE and not on_tank.blocks_handover


@given(st.floats(0.0, 0.09), st.floats(0.0, 0.01))
def test_more_shaking_is_never_judged_better(velocity: float, more: float) -> None:
    rank = ["PASS", "ADVISORY", "FAIL"]
    for place in ("pump feet", "tank foot", "motor bearing", "pipe"):
        one, other = vibration(place, velocity), vibration(place, velocity + more)
        assert rank.index(one.verdict.value) <= rank.index(other.verdict.value)


def test_inches_typed_as_metres_and_unknown_places() -> None:
    assert "rms" in vibration("pump feet", 0.5).ask
    with pytest.raises(InputError, match="vibration: given"):
        vibration("pump feet", -0.001)
    with pytest.raises(InputError, match="place"):
        vibration("roof", 0.001)


@pytest.mark.parametrize("key", ["running.sound", "start.unloaded_sound"])
def test_items_offer_the_sounds_of_the_table(key: str) -> None:
    assert procedure().items[key].options == SOUNDS
