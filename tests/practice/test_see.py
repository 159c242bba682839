"""Instruments: what they show, what goes wrong with them, and that their pictures can be read."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wizard.errors import InputError
from wizard.practice.acts import Act, act
from wizard.practice.draw.dial import EYES, Scale, close_look, dial
from wizard.practice.draw.shapes import (
    belt_and_rule,
    dipstick,
    overload_dial,
    sight_glass,
    torque_scale,
)
from wizard.practice.places import places_of
from wizard.practice.run import Run
from wizard.practice.see import Sight
from wizard.practice.tools import tools
from wizard.practice.view import TRUTHS
from wizard.quantities import from_si

PSI = 6894.757293168


def running(name: str = "the_stamp", seconds: float = 60.0) -> Run:
    """A run of a scenario some seconds after switching on."""
    run = act(Run.new(name, 3), Act("unlock"))
    run = act(run, Act("switch", "on"))
    return act(run, Act("wait", value=seconds))


def _set(run: Run, what: str) -> Run:
    return act(run, Act("set", what))


def _text(sight: Sight) -> str:
    return "\n".join(sight.lines)


@pytest.mark.parametrize("ascii_only", [False, True], ids=["unicode", "ascii"])
@pytest.mark.parametrize("scenario", ["the_stamp", "iec"])
def test_every_sight_fits_80_columns_and_ascii_is_ascii(scenario: str, ascii_only: bool) -> None:
    name = {"the_stamp": "the_stamp", "iec": "which_way_round"}[scenario]
    for run in (Run.new(name, 2), running(name)):
        for place in places_of(run.machine):
            for tool in place.tools:
                lines = run.see(tool, place.name, ascii_only).lines
                assert lines and len(lines) <= 22
                assert all(len(line) <= 80 for line in lines), (tool, place.name)
                if ascii_only:
                    drawn = [x for x in "".join(lines) if ord(x) > 127]
                    assert set(drawn) <= set("°ΩVµ²·"), drawn


def _read_strip(lines: tuple[str, ...], division: float) -> float:
    """The needle read off the close look, as a person does: numbers, ticks, pointer."""
    numbers, ticks, needle = lines[0], lines[1], lines[2]
    column = len(needle) - 1
    first = next(i for i, c in enumerate(ticks) if c in "|┃")
    label = float(numbers[max(0, first - 2) : first + 4].split()[0])
    return label + (column - first) / 5 * division


@pytest.mark.parametrize("value", [0.0, 3.0, 12.0, 61.0, 137.0, 144.4, 288.0])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_close_look_at_a_gauge_reads_to_a_fifth_of_a_division(
    value: float, ascii_only: bool
) -> None:
    scale = Scale(300.0, 5.0, 5, "psi", mirror=True)
    lines = close_look(scale, value, ascii_only=ascii_only)
    assert _read_strip(lines, 5.0) == pytest.approx(value, abs=0.51)


def test_eye_from_the_side_reads_wrong_and_the_mirror_tells() -> None:
    scale = Scale(300.0, 5.0, 5, "psi", mirror=True)
    for eye, divisions in EYES.items():
        lines = close_look(scale, 140.0, eye)
        assert _read_strip(lines, 5.0) == pytest.approx(140.0 + 5 * divisions, abs=0.51)
        assert ("covers its own image" in lines[-1]) == (eye == "square")


def test_needle_of_the_dial_points_at_its_number() -> None:
    scale = Scale(300.0, 10.0, 5, "psi")
    for value, half in ((0.0, "left"), (75.0, "left"), (225.0, "right"), (300.0, "right")):
        rows = dial(scale, value, "Gauge", ascii_only=True)[1:]
        hub = next(r.index("O") for r in rows if "O" in r)
        stars = [i for r in rows for i, c in enumerate(r) if c == "*"]
        mean = sum(stars) / len(stars)
        assert (mean < hub) == (half == "left")


def test_test_gauge_is_true_within_its_class() -> None:
    run = running()
    for seed in range(40):
        shown = replace(run, seed=seed).see("test gauge", "tank.test_port").shown
        assert shown is not None
        assert abs(shown.value - run.gauge) <= 0.005 * 300 * PSI + 0.5 * PSI


def test_instruments_stay_within_their_stated_accuracy_and_repeat_better() -> None:
    for tool in tools().values():
        for units in tool.step:
            truth = tool.full[units].si * 0.6 if units in tool.full else 100 * tool.step[units].si
            width = tool.half_width(truth, units)
            drawn = [tool.shown(truth, units, seed, "x", 0.0) - truth for seed in range(200)]
            assert max(map(abs, drawn)) <= width
            again = [tool.shown(truth, units, 5, "x", float(t)) for t in range(50)]
            assert max(again) - min(again) < 0.45 * width


def test_panel_gauge_that_is_off_differs_from_the_test_gauge() -> None:
    run = running()
    test = run.see("test gauge", "tank.test_port").shown
    panel = run.see("panel gauge", "tank.panel").shown
    assert test and panel
    assert abs(panel.value / test.value - 1) > 0.04


def test_multimeter_on_a_range_too_low_shows_over_range() -> None:
    run = _set(Run.new("the_stamp", 1), "multimeter.range=60 V")
    sight = run.see("multimeter", "supply.L1-L2")
    assert "OL" in _text(sight) and sight.shown is None


@pytest.mark.parametrize("function", ["V=", "A~"])
def test_multimeter_on_a_wrong_function_shows_nothing(function: str) -> None:
    run = _set(Run.new("the_stamp", 1), f"multimeter.function={function}")
    sight = run.see("multimeter", "supply.L1-L2")
    assert "0.0" in _text(sight) and sight.shown is None


def test_multimeter_reads_pairs_and_to_ground() -> None:
    run = Run.new("the_stamp", 1)
    pair = run.see("multimeter", "supply.L2-L3").shown
    ground = run.see("multimeter", "supply.L2-ground").shown
    assert pair and ground
    assert pair.value / ground.value == pytest.approx(3**0.5, rel=0.01)
    assert pair.value == pytest.approx(239.0, rel=0.01)


def test_leads_in_the_current_jack_are_a_short_circuit() -> None:
    run = _set(Run.new("the_stamp", 1), "multimeter.red=10A")
    run, sight = run.look("multimeter", "supply.L1-L2")
    assert "flash" in _text(sight)
    assert run.ended == "amps_jack"


def test_load_side_is_dead_with_the_lock_on_and_live_without() -> None:
    run = Run.new("the_stamp", 1)
    dead = run.see("multimeter", "load.L1-L2").shown
    live = act(run, Act("unlock")).see("multimeter", "load.L1-L2").shown
    assert dead and dead.value < 1.0
    assert live and live.value > 200


def test_clamp_around_all_wires_reads_next_to_nothing_and_ajar_too_little() -> None:
    run = running()
    right = run.see("clamp meter", "lead.L1").shown
    ajar = _set(run, "clamp meter.jaws=not quite closed").see("clamp meter", "lead.L1").shown
    whole = _set(run, "clamp meter.around=all wires").see("clamp meter", "lead.L1").shown
    small = _set(run, "clamp meter.range=4 A").see("clamp meter", "lead.L1")
    assert right and ajar and whole
    assert right.value == pytest.approx(run.view.lines.currents[0], rel=0.02)
    assert ajar.value == pytest.approx(0.82 * right.value, rel=0.02)
    assert whole.value < 0.2
    assert small.shown is None and "OL" in _text(small)


def test_infrared_on_bright_metal_is_far_too_low() -> None:
    run = running(seconds=120.0)
    probe = run.see("thermometer", "pump.discharge").shown
    glance = run.see("infrared thermometer", "pump.discharge").shown
    room = run.site.temperature
    assert probe and glance
    assert glance.value - room < 0.4 * (probe.value - room)


def test_rule_and_force_gauge_agree_on_the_belt() -> None:
    run = act(Run.new("short_of_air", 4), Act("guard", "off"))
    force = run.see("force gauge", "belt.middle").shown
    deep = _set(run, "rule.push=hard").see("rule", "belt.middle").shown
    light = _set(run, "rule.push=light").see("rule", "belt.middle").shown
    sound = replace(run, present={}).see("force gauge", "belt.middle").shown
    assert force and deep and light and sound
    assert deep.value == pytest.approx(3 * light.value, rel=0.12)
    assert force.value < 0.6 * sound.value


@pytest.mark.parametrize("tool", ["rule", "force gauge", "belt frequency meter"])
def test_nothing_is_read_on_the_belt_through_its_guard(tool: str) -> None:
    sight = Run.new("short_of_air", 4).see(tool, "belt.middle")
    assert sight.shown is None and "guard is on" in _text(sight)


def test_ohms_across_a_live_line_cost_the_meter_and_are_remarked() -> None:
    run = _set(Run.new("nothing_wrong", 1), "multimeter.function=ohm")
    run, sight = run.look("multimeter", "supply.L1-L2")
    assert sight.shown is None and "the lines are live" in _text(sight)
    assert [e.what for e in run.log if e.kind == "remark"] == [sight.remark]
    run, sight = run.look("multimeter", "load.L1-L2")
    assert not sight.remark and "OL" in _text(sight)


def test_the_frequency_is_measured_at_the_line_side() -> None:
    shown = Run.new("nothing_wrong", 1).see("frequency meter", "supply.L1-L2").shown
    assert shown and shown.value == pytest.approx(60.0, abs=0.05) and shown.value % 1 != 0.0


def test_torque_wrench_clicks_only_at_its_setting() -> None:
    run = Run.new("the_stamp", 1)
    assert "spins" in _text(run.see("torque wrench", "bolt.1"))
    tight = act(run, Act("tighten", "foot.1"))
    assert "clicks" in _text(tight.see("torque wrench", "bolt.1"))
    higher = _set(tight, "torque wrench.set=20 lbf·ft")
    assert "turns before the click" in _text(higher.see("torque wrench", "bolt.1"))


def test_feeler_finds_no_gap_under_a_bolted_foot() -> None:
    run = Run.new("off_the_truck", 1)
    run = act(run, Act("lift", "skid points"))
    high = run.view.high_foot
    loose = run.see("feeler gauge", f"foot.{high}").shown
    tight = act(run, Act("tighten", f"foot.{high}")).see("feeler gauge", f"foot.{high}").shown
    assert loose and tight
    assert loose.value > 0.0009
    assert tight.value == 0.0


@pytest.mark.parametrize("value", [0.0, 4.4, 11.2, 14.8, 26.0])
def test_rule_on_the_belt_reads_to_a_fifth_of_its_division(value: float) -> None:
    *_, numbers, ticks, arrow = belt_and_rule(value, "mm", 1.0, 5, ascii_only=True)
    label = float(numbers.split()[0])
    assert ticks[0] == "|" and len(arrow) <= 75
    assert label + (len(arrow) - 1) / 5 == pytest.approx(value, abs=0.11)


@pytest.mark.parametrize("level", [0.1, 0.5, 0.65, 0.95])
def test_dipstick_is_wet_up_to_its_level_between_the_marks(level: float) -> None:
    marks, stick = dipstick(level, True)[1:3]
    low, high = marks.index("L"), marks.index("H")
    wet = stick.rindex("#") + 1
    assert (wet - 1 - low) / (high - low) == pytest.approx(level, abs=0.03)


@pytest.mark.parametrize(("level", "rows"), [(0.1, 1), (0.5, 4), (0.62, 5), (1.0, 8)])
def test_sight_glass_shows_the_level_in_its_rows(level: float, rows: int) -> None:
    filled = [line for line in sight_glass(level, True) if "#" in line or "=" in line]
    assert len(filled) == rows


def test_dials_and_scales_point_at_the_value() -> None:
    numbers, _, pointer = overload_dial(9.0, 6.0, 18.0, True)[1:]
    column = pointer.index("^")
    assert numbers.index("8") < column < numbers.index("10")
    assert "[8]" in torque_scale(13.6, "N·m", 0.2)[-1]


def test_stopwatch_reads_machine_time_within_a_thumb() -> None:
    run = act(Run.new("first_day", 1), Act("stopwatch", "start"))
    run = act(run, Act("wait", value=83.0))
    shown = run.see("stopwatch", "stopwatch").shown
    assert shown and shown.value == pytest.approx(83.0, abs=0.5)
    stopped = act(act(run, Act("stopwatch", "stop")), Act("wait", value=60.0))
    later = stopped.see("stopwatch", "stopwatch")
    assert later.shown and later.shown.value == pytest.approx(83.0, abs=0.8)
    assert "1:2" in _text(later)


def test_wrong_names_are_told_with_the_right_ones() -> None:
    run = Run.new("first_day", 1)
    for tool, place, said in (
        ("spirit level", "foot.1", "feeler gauge"),
        ("test gauge", "foot.1", "feeler gauge"),
        ("eye", "the moon", "plate.motor"),
        ("interstage gauge", "pump.interstage", "plate.motor"),
    ):
        with pytest.raises(InputError, match=said):
            run.see(tool, place)


def test_no_reading_shows_the_truth_beyond_the_step_of_its_instrument() -> None:
    for scenario in ("first_day", "the_stamp", "tired_supply", "which_way_round"):
        run = running(scenario)
        for place in places_of(run.machine):
            for tool in (t for t in place.tools if place.name in TRUTHS):
                shown = run.see(tool, place.name).shown
                if shown and shown.kind != "ratio":
                    unit = tools()[tool].step[run.units]
                    steps = from_si(shown.value, shown.kind, unit.unit) / unit.value
                    assert steps == pytest.approx(round(steps), abs=1e-6), (tool, place.name)
