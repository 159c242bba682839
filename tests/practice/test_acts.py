"""What people do: order, refusals, and the acts that end a run."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from tests.practice.expert import work
from wizard.errors import InputError, Refused
from wizard.practice.acts import VERBS, Act, act, reported
from wizard.practice.dangers import dangers
from wizard.practice.run import Run
from wizard.practice.story import story


def after(name: str, *deeds: Act, seed: int = 3, holds: Sequence[str] = ()) -> Run:
    """A run of a scenario after some acts."""
    run = Run.new(name, seed)
    for deed in deeds:
        run = act(run, deed, holds)
    return run


START = (Act("unlock"), Act("switch", "on"))
PRESSED = (*START, Act("wait", value=60.0), Act("switch", "off"), Act("lock"))


@pytest.mark.parametrize(
    ("deeds", "ending"),
    [
        ((*PRESSED, Act("undo", "joint.2")), "joint_under_pressure"),
        ((*PRESSED, Act("report", "joint_leaks"), Act("repair", "joint_leaks")),
         "joint_under_pressure"),
        ((Act("open panel"),), "live_panel"),
        ((Act("unlock"), Act("guard", "off")), "hands_in_drive"),
        ((*START, Act("guard", "off")), "hands_in_drive"),
        ((Act("unlock"), Act("report", "belt_loose"), Act("repair", "belt_loose")),
         "hands_in_drive"),
        ((Act("guard", "off"), Act("unlock")), "guard_off_start"),
        ((Act("unlock"), Act("turn")), "hands_in_drive"),
    ],
)  # fmt: skip
def test_dangerous_acts_end_the_run_and_are_told_soberly(
    deeds: tuple[Act, ...], ending: str
) -> None:
    run = after("nothing_wrong", *deeds)
    assert run.ended == ending
    danger = dangers()[ending]
    assert danger.happened and danger.instead
    assert "!" not in danger.happened + danger.instead
    with pytest.raises(Refused, match="ended"):
        act(run, Act("wait", value=1.0))


def test_the_flywheel_is_turned_by_hand_and_what_is_felt_is_told() -> None:
    run = after("nothing_wrong", Act("turn"))
    assert not [e for e in run.log if e.kind == "remark"]
    assert any("free, no tight spot" in line for line in story(run))


@pytest.mark.parametrize("deed", [Act("tighten", "foot.1"), Act("turn")])
def test_hands_on_a_machine_with_pressure_in_the_tank_are_remarked(deed: Act) -> None:
    run = after("nothing_wrong", *PRESSED, deed)
    remarks = [e.what for e in run.log if e.kind == "remark"]
    assert any("pressure in the tank" in what for what in remarks)


def test_what_is_put_right_is_not_put_right_twice() -> None:
    run = after("first_day", Act("report", "oil_low"), Act("repair", "oil_low"))
    with pytest.raises(Refused, match="already"):
        act(run, Act("repair", "oil_low"))
    again = act(act(run, Act("withdraw", "oil_low")), Act("report", "oil_low"))
    assert act(again, Act("repair", "oil_low")).minutes > again.minutes


@pytest.mark.parametrize(("at", "ending"), [("motor eye bolt", "lifted_by_eye_bolt"),
                                            ("pump", "lifted_by_pump")])  # fmt: skip
def test_lifting_at_the_wrong_point_ends_the_run(at: str, ending: str) -> None:
    assert after("off_the_truck", Act("lift", at)).ended == ending


def test_lifting_at_the_skid_places_it_and_before_that_nothing_is_done() -> None:
    run = Run.new("off_the_truck", 1)
    with pytest.raises(Refused, match="truck"):
        act(run, Act("unlock"))
    placed = act(run, Act("lift", "skid points"))
    assert placed.placed and not placed.ended
    with pytest.raises(Refused, match="already"):
        act(placed, Act("lift", "skid points"))


@pytest.mark.parametrize(
    "deed", [Act(n, v.whats[0] if v.whats else "") for n, v in VERBS.items() if v.energises]
)
def test_energising_under_a_hold_ends_the_run(deed: Act) -> None:
    before = after("nothing_wrong", *([] if deed.verb == "unlock" else [Act("unlock")]))
    assert act(before, deed, ["relief valve"]).ended == "energised_under_hold"
    assert not act(before, deed).ended


@pytest.mark.parametrize(
    "deeds",
    [
        (Act("switch", "on"),),
        (Act("bump"),),
        (Act("unlock"), Act("switch", "off")),
        (Act("unlock"), Act("switch", "on"), Act("switch", "on")),
        (Act("unlock"), Act("switch", "on"), Act("switch", "off"), Act("lock")),
    ],
    ids=lambda deeds: " ".join(f"{d.verb} {d.what}".strip() for d in deeds),
)
def test_a_start_tried_under_the_lock_and_switching_off_are_no_power(
    deeds: tuple[Act, ...],
) -> None:
    *earlier, last = deeds
    assert not act(after("nothing_wrong", *earlier), last, ["relief valve"]).ended


def test_natural_ends_have_their_words_too() -> None:
    run = after("the_last_line", *START, Act("wait", value=3600.0))
    assert run.ended in dangers()
    two = after("two_for_one", *START, Act("wait", value=3600.0))
    assert two.ended == "motor burnt" and two.ended in dangers()


def test_start_with_the_lock_on_moves_nothing() -> None:
    run = after("nothing_wrong", Act("switch", "on"), Act("wait", value=30.0))
    assert run.gauge < 1.0 and not run.view.turning
    assert any("nothing moves" in e.what for e in run.log)


def test_bump_turns_for_a_moment_and_the_eye_sees_which_way() -> None:
    right = after("nothing_wrong", Act("unlock"), Act("bump"))
    assert not right.view.turning
    assert "same way" in "\n".join(right.see("eye", "flywheel").lines)
    wrong = after("which_way_round", Act("unlock"), Act("bump"))
    assert "against" in "\n".join(wrong.see("eye", "flywheel").lines)
    later = act(wrong, Act("wait", value=20.0))
    assert "stands still" in "\n".join(later.see("eye", "flywheel").lines)


def test_repairs_want_the_defect_list_a_lock_and_an_empty_tank() -> None:
    run = after("tired_supply")
    with pytest.raises(Refused, match="defect list"):
        act(run, Act("repair", "low_supply"))
    live = act(act(run, Act("unlock")), Act("report", "low_supply"))
    with pytest.raises(Refused, match="lock"):
        act(live, Act("repair", "low_supply"))
    done = act(act(live, Act("lock")), Act("repair", "low_supply"))
    assert "low_supply" not in done.present
    volts = done.see("multimeter", "supply.L1-L2").shown
    assert volts and volts.value > 390


def test_a_false_repair_changes_nothing_and_gives_nothing_away() -> None:
    run = after("nothing_wrong", Act("report", "oil_over"), Act("repair", "oil_over"))
    true = after("first_day", Act("report", "oil_low"), Act("repair", "oil_low"))
    assert run.log[-1].kind == true.log[-1].kind == "repair"
    assert run.present == {}


def test_defect_list_takes_back() -> None:
    run = after("nothing_wrong", Act("report", "oil_low"), Act("report", "blocks_in"))
    run = act(run, Act("withdraw", "oil_low"))
    assert reported(run) == ("blocks_in",)
    with pytest.raises(Refused):
        act(run, Act("withdraw", "oil_low"))


def test_relief_ring_blows_with_pressure_and_is_remarked_below_three_quarters() -> None:
    run = after("nothing_wrong", *START, Act("wait", value=60.0))
    low = act(run, Act("ring"))
    assert any("blows freely" in e.what for e in low.log)
    assert any("below 75 %" in e.what for e in low.log)
    assert low.gauge < run.gauge + 1e4
    while run.gauge < 0.76 * run.machine.protection.relief_set:
        run = act(run, Act("wait", value=5.0))
    high = act(run, Act("ring"))
    assert not any("below 75 %" in e.what for e in high.log)


def test_relief_ring_behind_a_shut_valve_does_nothing() -> None:
    run = after("the_last_line", Act("report", "oil_low"), Act("repair", "oil_low"), *START,
                Act("wait", value=90.0), Act("ring"))  # fmt: skip
    assert any(e.what == "nothing blows" for e in run.log)


def test_drain_empties_the_tank_and_unlocked_work_is_remarked() -> None:
    run = after("nothing_wrong", *PRESSED, Act("drain", "open"), Act("wait", value=900.0))
    assert run.gauge < 2000
    assert "nothing comes out" in "\n".join(run.see("eye", "tank.drain").lines)
    loose = after("nothing_wrong", Act("unlock"), Act("tighten", "foot.1"))
    assert any(e.kind == "remark" for e in loose.log)


def test_tightening_a_stressed_foot_or_far_too_hard_is_remarked() -> None:
    run = after("off_the_truck", Act("lift", "skid points"))
    pulled = act(run, Act("tighten", f"foot.{run.view.high_foot}"))
    assert any("stands clear" in e.what for e in pulled.log)
    hard = act(act(run, Act("set", "torque wrench.set=30 lbf·ft")), Act("tighten", "foot.1"))
    assert any("far beyond snug" in e.what for e in hard.log)


def test_a_foot_is_backed_off_only_after_it_was_snug() -> None:
    run = after("nothing_wrong")
    with pytest.raises(Refused, match="loose"):
        act(run, Act("back off", "foot.2"))
    snug = act(run, Act("tighten", "foot.2"))
    assert act(snug, Act("back off", "foot.2")).backed_off == 2


@pytest.mark.parametrize(
    ("deed", "said"),
    [
        (Act("dance"), "lift"),
        (Act("switch", "maybe"), "on, off"),
        (Act("wait", value=-1.0), "0 s"),
        (Act("wait", value=1e9), "4 h"),
        (Act("wait"), "0 s"),
        (Act("set", "multimeter.range=9 V"), "600 V"),
        (Act("set", "hammer.size=9"), "multimeter"),
        (Act("report", "gremlins"), "oil_low"),
        (Act("note", "running.pressure"), "a number"),
    ],
)
def test_bad_input_is_one_sentence_that_says_what_is_accepted(deed: Act, said: str) -> None:
    with pytest.raises(InputError, match=said):
        after("nothing_wrong", deed)


def test_a_refused_act_leaves_the_run_as_it_was() -> None:
    run = after("tired_supply")
    before = run
    with pytest.raises(Refused):
        act(run, Act("repair", "low_supply"))
    assert run == before


def test_hands_take_time_beside_the_machine() -> None:
    run = work(Run.new("first_day", 5))
    assert run.minutes > run.state.time / 60
    assert run.ended == "handed over"
