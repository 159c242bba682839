"""Frames as they are sent: a place is never shown empty before what belongs into it."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from rich.console import RenderableType
from textual._compositor import CompositorUpdate
from textual.screen import Screen

from tests.demo.maker import commission, scenario
from tests.tui.counting import without
from tests.tui.fake import FakeClock, FakeDrafts, FakeSession
from tests.tui.walk import Walk, arrived
from wizard.job import Job
from wizard.pictures.choice import picture
from wizard.tui.app import WizardApp
from wizard.tui.parts import Parts, dates_of
from wizard.tui.working import WorkScreen

LATER = 0.3
"""Seconds after which every frame of a key has been sent."""


class FilmedApp(WizardApp):
    """Keeps the text of every frame of the working screen."""

    frames: list[str]

    def _display(self, screen: Screen[Any], renderable: RenderableType | None) -> None:
        if isinstance(screen, WorkScreen) and isinstance(renderable, CompositorUpdate):
            strips = screen._compositor.render_strips()
            self.frames.append("\n".join(strip.text.rstrip() for strip in strips))
        super()._display(screen, renderable)


@cache
def job() -> Job:
    """The main job with one reading open."""
    return without(commission("J1", scenario("fifteen_hp")), "supply.voltage")


def filmed(drafts: FakeDrafts) -> tuple[FilmedApp, FakeSession]:
    """An app on the job, its frames kept."""
    session = FakeSession(job())
    parts = Parts(FakeClock(job().events[-1].at), drafts, picture, dates_of)
    app = FilmedApp("Tess Tester", opening=lambda: session, parts=parts)
    app.frames = []
    return app, session


async def test_a_draft_is_offered_under_its_question_from_the_first_frame_on() -> None:
    drafts = FakeDrafts()
    drafts.keep_draft(job().header.uuid, "supply.voltage", "480 4")
    app, session = filmed(drafts)
    async with app.run_test(size=(80, 24)) as pilot:
        await arrived(Walk(app, session, pilot))
        await pilot.pause(LATER)
        assert app.frames
        for frame in app.frames:
            assert "Line voltage, compressor off" in frame and "› 480 4" in frame
            assert "Enter accepts it." in frame and "F10 quit" in frame


@pytest.mark.parametrize(
    ("before", "key", "shown"),
    [
        ((), "f8", "All items"),
        ((), "f9", "Commands"),
        (("f8",), "escape", "Line voltage, compressor off"),
        ((), "f1", "Usual mistake"),
    ],
)
async def test_a_page_comes_in_one_frame(before: tuple[str, ...], key: str, shown: str) -> None:
    app, session = filmed(FakeDrafts())
    async with app.run_test(size=(80, 40)) as pilot:
        walk = Walk(app, session, pilot)
        await arrived(walk)
        await walk.press(*before)
        await pilot.pause(LATER)
        app.frames.clear()
        await walk.press(key)
        await pilot.pause(LATER)
        assert len(app.frames) == 1 and shown in app.frames[0]
