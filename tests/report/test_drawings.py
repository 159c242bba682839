"""The drawings of the sheet: sound, and to scale."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

from tests.demo.fleet import finished
from tests.report.sheets import of
from wizard.report.blocks import (
    Plot,
)
from wizard.report.html import html
from wizard.report.svg import plot_svg


def drawings(page: str) -> Iterator[ET.Element]:
    for found in re.findall(r"<svg.*?</svg>", page, re.DOTALL):
        yield ET.fromstring(found)


def test_every_drawing_is_sound_says_what_it_shows_and_stays_inside() -> None:
    pages = list(drawings(html(of(finished("fifteen_hp")))))
    assert len(pages) >= 3
    for picture in pages:
        _, _, width, height = map(float, picture.attrib["viewBox"].split())
        assert picture.attrib["aria-label"]
        for rect in picture.iter("rect"):
            assert float(rect.attrib["x"]) + float(rect.attrib["width"]) <= width
        for circle in picture.iter("circle"):
            assert 0 <= float(circle.attrib["cx"]) <= width
            assert 0 <= float(circle.attrib["cy"]) <= height


def test_bars_are_as_long_as_the_pressures_are_high() -> None:
    page = html(of(finished("five_hp")))
    ladder = next(d for d in drawings(page) if d.attrib["aria-label"].startswith("Pressures"))
    widths = [float(r.attrib["width"]) for r in ladder.iter("rect")]
    pressures = [float(m) for m in re.findall(r"([\d.]+) psig", ladder.attrib["aria-label"])]
    scale = widths[0] / pressures[0]
    assert all(abs(w - scale * p) < 0.1 for w, p in zip(widths, pressures, strict=True))


def test_every_reading_of_a_run_is_a_point_at_its_time() -> None:
    points = ((0.0, 2.0), (30.0, 20.0), (60.0, 36.0), (120.0, 68.0))
    picture = ET.fromstring(plot_svg(Plot("Run", points, "psig")))
    x = [float(c.attrib["cx"]) for c in picture.iter("circle")]
    assert len(x) == 4
    assert abs((x[1] - x[0]) / (x[3] - x[0]) - 0.25) < 0.001
    assert abs((x[2] - x[0]) / (x[3] - x[0]) - 0.5) < 0.001
