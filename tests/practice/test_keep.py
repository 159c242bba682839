"""A run left and resumed goes on as if it had not been left; a bad file is one sentence."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from typing import Any

import pytest
import tomli_w

from tests.practice.expert import work
from wizard.errors import RecordDamaged, RecordNewer
from wizard.practice.acts import Act, act
from wizard.practice.keep import kept, resumed
from wizard.practice.run import Run
from wizard.practice.scenario import scenario_names


def _busy(name: str, seed: int = 5) -> Run:
    run = Run.new(name, seed)
    if not run.placed:
        run = act(run, Act("lift", "skid points"))
    run, _ = run.look("eye", "oil.glass")
    for deed in (
        Act("tighten", "foot.2"), Act("set", "multimeter.range=60 V"), Act("stopwatch", "start"),
        Act("report", "oil_over"), Act("unlock"), Act("switch", "on"), Act("wait", value=40.0),
    ):  # fmt: skip
        run = act(run, deed)
    return run


@pytest.mark.parametrize("name", [*scenario_names(), "endless"])
def test_goes_on_exactly_after_toml_and_after_json(name: str) -> None:
    run = _busy(name)
    for back in (tomllib.loads(tomli_w.dumps(kept(run))), json.loads(json.dumps(kept(run)))):
        again = resumed(back)
        assert again == run
        assert again.after(55.0) == run.after(55.0)
        assert again.see("test gauge", "tank.test_port") == run.see("test gauge", "tank.test_port")


def test_ended_run_keeps_its_end() -> None:
    run = work(Run.new("first_day", 2))
    assert resumed(kept(run)).ended == "handed over"


def test_first_words_say_practice() -> None:
    text = tomli_w.dumps(kept(_busy("first_day")))
    assert text.startswith("practice = true\n")


def _with(key: str, value: Any) -> Callable[[dict[str, Any]], None]:
    def change(plain: dict[str, Any]) -> None:
        plain[key] = value

    return change


def _state(key: str, value: Any) -> Callable[[dict[str, Any]], None]:
    def change(plain: dict[str, Any]) -> None:
        plain["state"][key] = value

    return change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_with("practice", False), "not a practice run"),
        (_with("format", "job"), "not a practice run"),
        (_with("scenario", "atlantis"), "scenario"),
        (_with("seed", "x"), "damaged"),
        (_with("present", {"gremlins": 1.0}), "gremlins"),
        (_with("feet", [1.0]), "4 feet"),
        (_with("log", [{"time": 1.0}]), "damaged"),
        (_with("watch", {"colour": 1.0}), "damaged"),
        (_state("y", [1.0, 2.0]), "22 values"),
        (_state("turning", "sideways"), "sideways"),
        (_state("time", None), "damaged"),
        (_state("y", [float("nan")] * 22), "damaged"),
    ],
)
def test_a_damaged_file_is_refused_in_one_sentence(
    change: Callable[[dict[str, Any]], None], said: str
) -> None:
    plain = kept(_busy("first_day"))
    change(plain)
    with pytest.raises(RecordDamaged, match=said):
        resumed(plain)


@pytest.mark.parametrize("gone", ["state", "log", "knobs", "seed", "present", "placed"])
def test_a_missing_part_is_refused(gone: str) -> None:
    plain = kept(_busy("first_day"))
    del plain[gone]
    with pytest.raises(RecordDamaged):
        resumed(plain)


def test_a_newer_file_says_so() -> None:
    plain = kept(_busy("first_day"))
    plain["version"] = 9
    with pytest.raises(RecordNewer, match="newer"):
        resumed(plain)
