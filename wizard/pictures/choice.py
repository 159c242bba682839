"""Which picture belongs to which item.

Invariant: an item without a picture gets none; a picture never stands for a check.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from wizard.pictures.fastening import foot, two_wrenches
from wizard.pictures.ladder import Rung, ladder
from wizard.pictures.leads import leads
from wizard.pictures.machine import belt, dipstick, lift, oil_glass, wall_gap
from wizard.pictures.plot import curve
from wizard.pictures.scene import Scene
from wizard.pictures.wheel import flywheel
from wizard.quantities import from_si, parse_quantity

PRESSURES = (
    ("cut-in", 1, ("switch.cut_in", "switch.plate_cut_in")),
    ("cut-out", 2, ("switch.cut_out", "switch.plate_cut_out")),
    ("relief valve set", 3, ("relief.set", "relief.plate_set")),
    ("hose rating", 4, ("hose.working_pressure", "hose.plate_pressure")),
    ("receiver limit", 4, ("receiver.mawp",)),
)
LEAST_WALL_GAP = 0.3048
_TO_GROUND = ("supply.to_ground",)
_LEADS = "black in COM, red in V, range above the supply; the electrician measures"
_TESTER = "two-pole tester, proved live before and after; the electrician measures"


def picture(scene: Scene, width: int, height: int) -> list[str]:
    """The picture of the item in at most `height` rows; empty where there is none that fits."""
    for keys, draw in _PICTURES:
        if scene.item.key in keys:
            rows = draw(scene, width, height)
            return rows if len(rows) <= height else []
    if scene.item.kind == "series":
        return _curve(scene, width, height)
    return []


def pressures(scene: Scene, width: int, height: int = 5) -> list[str]:
    """The pressure ladder of the job."""
    rungs = []
    for name, level, keys in PRESSURES:
        known = next((k for k in keys if scene.number(k) is not None), "")
        value = scene.number(known) if known else None
        if value is not None:
            rungs.append(Rung(name, value, scene.text(known), level))
    return ladder(rungs, min(width, 72)) if len(rungs) > 1 else []


def _curve(scene: Scene, width: int, height: int) -> list[str]:
    points = readings(scene)
    if len(points) < 2 or height < 5:
        return []
    answer = scene.answer(scene.item.key)
    unit = answer.unit if answer else scene.item.unit_in(scene.job.header.units)
    return curve(points, min(width, 70), min(height - 2, 8), unit)


def readings(scene: Scene) -> Sequence[tuple[float, float]]:
    """Seconds and readings of a series: as typed, as timed so far, or as recorded."""
    answer, item = scene.answer(scene.item.key), scene.item
    timer = scene.job.timers.get(item.key)
    if scene.trial is None and timer is not None and timer.laps:
        unit = item.unit_in(scene.job.header.units)
        values = [parse_quantity(raw, item.quantity, unit) for _, raw in timer.laps]
        return [
            (seconds, from_si(value.si, item.quantity, unit))
            for (seconds, _), value in zip(timer.laps, values, strict=True)
        ]
    if answer is None or not isinstance(answer.value, tuple):
        return []
    return [(float(t), float(v)) for t, v in answer.value]  # type: ignore[misc]


def _oil(scene: Scene, width: int, height: int) -> list[str]:
    level = scene.number(scene.item.key)
    return dipstick(level) if scene.item.key == "oil.level_dipstick" else oil_glass(level)


def _foot(scene: Scene, width: int, height: int) -> list[str]:
    return foot(scene.text("foot.target"), scene.text("foot.back_off"))


def _wrenches(scene: Scene, width: int, height: int) -> list[str]:
    return two_wrenches()


def _wheel(scene: Scene, width: int, height: int) -> list[str]:
    turns = scene.value("start.rotation")
    return flywheel(turns if isinstance(turns, str) else "")


def _leads(scene: Scene, width: int, height: int) -> list[str]:
    """The pairs that the item names, or each line to ground."""
    item = scene.item
    pairs = [label.replace("L2 or N", "L2/N").replace(" or N", "/N") for label in item.labels]
    if not all("-" in pair for pair in pairs) or not pairs:
        lines = ("L1", "L2", "L3") if scene.value("motor.phases") == "three" else ("L1", "L2/N")
        pairs = [f"{line}-ground" for line in lines] if item.key in _TO_GROUND else ["L1-L2/N"]
    side, meter = "Line terminals of the starter", _LEADS
    if item.key.startswith("energy.dead"):
        side, meter = "Load side of the open disconnect", _TESTER
    elif item.key.startswith("supply."):
        side = "Line side of the open disconnect, live"
    return leads(pairs, scene.each(item.key), side, meter)


def _belt(scene: Scene, width: int, height: int) -> list[str]:
    return belt(scene.text("belt.deflection"), scene.text("belt.span"))


def _wall(scene: Scene, width: int, height: int) -> list[str]:
    least = scene.shown(LEAST_WALL_GAP, "length", 3)
    key = scene.item.key
    fan = key != "place.wall_pump"
    return wall_gap(scene.number(key), scene.text(key), LEAST_WALL_GAP, least, fan=fan)


def _lift(scene: Scene, width: int, height: int) -> list[str]:
    angle = sling_angle(scene)
    if angle is None:
        angle, words = math.radians(60), "60° or more"
    else:
        words = f"{math.degrees(angle):.0f}°"
    pull = scene.result("lift.sling_rating", "tension")
    return lift(angle, words, f"pull {scene.shown(pull, 'mass', 3)} in each leg" if pull else "")


def sling_angle(scene: Scene) -> float | None:
    """The angle of the flattest leg from the horizontal, as read or from the lengths."""
    read, start = scene.number("lift.angle"), scene.value("lift.angle_from")
    if read is not None and start in ("from horizontal", "from vertical"):
        angle = read if start == "from horizontal" else math.pi / 2 - read
        return angle if 0.05 < angle < 1.55 else None
    length, span = scene.number("lift.sling_length"), scene.number("lift.pick_span")
    if length and span and span < 2 * length:
        angle = math.acos(span / (2 * length))
        return angle if 0.05 < angle < 1.55 else None
    return None


_PICTURES: tuple[tuple[tuple[str, ...], Callable[[Scene, int, int], list[str]]], ...] = (
    (("oil.level_glass", "oil.level_dipstick"), _oil),
    (("belt.deflection", "belt.force", "belt.span"), _belt),
    (("place.wall_flywheel", "place.wall_pump"), _wall),
    (
        (
            "foot.target",
            "foot.torque_three",
            "foot.torque_four",
            "foot.relaxed",
            "foot.nut_locked",
            "foot.back_off",
            "foot.locked_all",
        ),
        _foot,
    ),
    (("thread.wrench_turns", "thread.second_wrench"), _wrenches),
    (("flywheel.arrow", "flywheel.fan", "start.rotation"), _wheel),
    (
        (
            *_TO_GROUND,
            "supply.voltage",
            "supply.voltage_single",
            "energy.dead_between",
            "energy.dead_to_ground",
            "energy.dead_single",
            "running.voltage",
            "running.voltage_single",
        ),
        _leads,
    ),
    (
        ("lift.points", "lift.sling_length", "lift.pick_span", "lift.angle", "lift.sling_rating"),
        _lift,
    ),
    (
        (
            "relief.set",
            "hose.working_pressure",
            "switch.plate_cut_in",
            "switch.plate_cut_out",
            "switch.cut_in",
            "switch.cut_out",
            "switch.settings_agreed",
            "receiver.mawp",
        ),
        pressures,
    ),
)
DRAWN = frozenset(key for keys, _ in _PICTURES for key in keys)
"""The items with a drawing of their own."""
