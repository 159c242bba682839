"""Pictures of the screens for README and guides, from the program: python -m tests.shots"""

from __future__ import annotations

import asyncio
import os
import re
import shutil
import tempfile
from pathlib import Path

from wizard.procedure import procedure
from wizard.store import open_job
from wizard.tui.app import WizardApp

ROOT = Path(__file__).parents[1]
GUIDE = ROOT / "wizard" / "guide"

SHOTS = {
    "held": ("DEMO-15HP", (80, 24), ()),
    "explained": ("DEMO-15HP", (120, 40), ()),
    "all_items": ("DEMO-7.5KW", (80, 24), ("f8",)),
}
"""Picture by name: the demo job, the size of the terminal, the keys pressed."""


README = ROOT / "README.md"
SCREEN = re.compile(r"(?<=^```\n)(?= DEMO-15HP ).*?(?=^```$)", re.S | re.M)
"""The first of the pictures as text, in the README."""


async def shot(job: str, size: tuple[int, int], keys: tuple[str, ...]) -> tuple[str, str]:
    """The screen as SVG and as text."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        path = Path(folder) / f"{job}.toml"
        shutil.copy(ROOT / "demo_jobs" / path.name, path)
        app = WizardApp(
            "Tess", opening=lambda: open_job(path, procedure(), "Tess", "demo"), words=job
        )
        async with app.run_test(size=size) as pilot:
            for _ in range(50):
                await pilot.pause(0.1)
                if type(app.screen).__name__ == "WorkScreen":
                    break
            await pilot.press(*keys)
            await pilot.pause(1.0)
            rows = [row.text.rstrip() for row in app.screen._compositor.render_strips()]
            picture = app.export_screenshot(title=f"wizard open {job}.toml")
            return picture, "\n".join([*rows, ""])


def main() -> None:
    """Write the pictures, with names that do not change from one run to the next."""
    for name, (job, size, keys) in SHOTS.items():
        svg, text = asyncio.run(shot(job, size, keys))
        svg = re.sub(r"terminal-\d+", "terminal", svg)
        svg = re.sub(r"@font-face \{.*?\}\s*|<!--.*?-->\s*", "", svg, flags=re.S)
        svg = svg.replace("<text ", '<text xml:space="preserve" ')
        (GUIDE / f"{name}.svg").write_text(svg + "\n", encoding="utf-8")
        if name == "held":
            shown = text.replace("\\", r"\\")
            README.write_text(SCREEN.sub(shown, README.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()
