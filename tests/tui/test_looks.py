"""The looks: readable in each, and without any meaning that hangs on colour."""

from __future__ import annotations

import pytest
from rich.color import Color
from rich.style import Style

from tests.small import hand, new_job
from tests.tui.fake import FakeSession
from tests.tui.walk import Walk, walking
from wizard import actions
from wizard.pictures.plain import plain
from wizard.tui.look import LOOKS
from wizard.tui.painter import PALETTE
from wizard.tui.views.marks import LEGEND
from wizard.tui.views.review import MEANINGS

LEAST_CONTRAST = 4.5


def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2 defines it."""
    shares = [v / 255 for v in color.get_truecolor()]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(style: Style) -> float:
    """Contrast of ink and ground."""
    assert style.color is not None and style.bgcolor is not None
    light, dark = sorted((luminance(style.color), luminance(style.bgcolor)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("name", ["default", "contrast"])
def test_every_role_can_be_read_on_its_ground(name: str) -> None:
    for role, style in LOOKS[name].styles.items():
        assert contrast(style) >= LEAST_CONTRAST, role


def test_high_contrast_has_more_of_it() -> None:
    least = min(contrast(s) for s in LOOKS["contrast"].styles.values())
    assert least >= 7.0


@pytest.mark.parametrize("name", ["default", "contrast"])
def test_colours_are_of_the_palette_that_takes_half_the_bytes(name: str) -> None:
    for role, style in LOOKS[name].styles.items():
        for color in (style.color, style.bgcolor):
            assert color is not None and color.triplet in PALETTE, role


def test_the_terminals_own_look_names_no_colour_but_red() -> None:
    for style in LOOKS["terminal"].styles.values():
        assert style.bgcolor is None
        assert style.color is None or style.color.name == "red"


def test_the_plain_look_has_no_colour_and_still_marks_hold_field_and_choice() -> None:
    styles = LOOKS["plain"].styles
    assert all(s.color is None and s.bgcolor is None for s in styles.values())
    for role in ("hold", "field", "select", "cursor"):
        assert styles[role] != styles["text"], role


def test_all_looks_know_the_same_roles() -> None:
    roles = {frozenset(look.roles) for look in LOOKS.values()}
    assert len(roles) == 1


async def rendered(walk: Walk) -> list[float]:
    """The contrast of every piece of text as it is on the screen."""
    found = []
    for strip in walk.screen._compositor.render_strips():
        for text, style, _ in strip:
            if text.strip() and style is not None and not style.reverse:
                found.append(contrast(style))
    return found


@pytest.mark.parametrize("look", ["default", "contrast"])
@pytest.mark.parametrize("keys", [(), ("f1",), ("f8",), ("f9",), ("f3",)])
async def test_what_is_on_the_screen_can_be_read(look: str, keys: tuple[str, ...]) -> None:
    job = new_job()
    for minute, (key, text) in enumerate({"motor.phases": "single", "lock.on": "no"}.items()):
        job = actions.answer(job, key, text, hand(minute))
    async with walking(FakeSession(job), look=look) as walk:
        await walk.press(*keys)
        assert min(await rendered(walk)) >= LEAST_CONTRAST


async def test_the_next_look_is_taken_while_working_and_says_the_same() -> None:
    async with walking() as walk:
        before = walk.text
        for name in ("contrast", "terminal", "default"):
            walk.screen.run_command("look")
            await walk.settle()
            assert walk.app.look.name == name
            assert walk.text == before


SIDE_BY_SIDE = {
    "items and phases": "".join(c for c in LEGEND if not c.isalpha() and c != " "),
    "jobs of a folder": "".join(mark for mark, _ in MEANINGS),
    "places of the site, levels of a scenario": "●·",
    "a band": "├─·",
    "the readings under a band": "▲►◄+123",
    "a curve and its axes": "●▄│├─",
    "a measuring lead": "●─",
    "a row of a list: chosen, and its mark": "►■!○●·",
}


@pytest.mark.parametrize("where", SIDE_BY_SIDE)
def test_marks_that_stand_side_by_side_are_told_apart_in_ascii(where: str) -> None:
    marks = SIDE_BY_SIDE[where]
    shown = [plain(mark) for mark in marks]
    assert "".join(shown).isascii() and " " not in shown
    same = {mark: seen for mark, seen in zip(marks, shown, strict=True) if shown.count(seen) > 1}
    assert not same
