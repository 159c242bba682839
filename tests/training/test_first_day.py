"""The first scenario from the choice to the debrief, by keys, at 80 columns and 24 rows."""

from __future__ import annotations

from tests.training.site import Visit, choosing
from wizard.commands.shelf import Shelf
from wizard.tui.practise import PractiseScreen
from wizard.tui.practise_choose import ChooseScreen

LOOKED_AT = (
    "Motor plate",
    "Receiver plate",
    "Stamp on the relief valve",
    "Fittings from tank to relief valve",
    "Under the pump",
    "Oil level",
    "Print along the hose",
    "Disconnect, line side, L1 to L2",
    "Dial of the overload relay",
)


async def up_to_cut_out(visit: Visit) -> None:
    """Stand beside the running machine until the pressure switch stops it."""
    visit.site.pace = 20
    for _ in range(30):
        visit.site._second()
    await visit.settle()
    assert any(e.what == "switch opens" for e in visit.run.log)
    assert "power on, still" in visit.rows[2]


async def test_from_the_choice_to_the_debrief() -> None:
    async with choosing() as visit:
        assert "First day" in visit.text and "The last line" in visit.text
        await visit.pick("First day")
        assert "A tyre shop in Fenmarket" in visit.text
        await visit.press("enter")
        await visit.arrive(PractiseScreen)
        for place in LOOKED_AT:
            await visit.go_to(place)
        await visit.go_to("Stamp on the relief valve")
        await visit.type("1", "enter")
        await visit.type("150", "enter")
        for title in ("Oil below the mark", "Shipping blocks left in"):
            await visit.do("Write on the defect list")
            await visit.pick(title)
            await visit.do("Have it put right")
            await visit.pick(title)
        await visit.go_to("Oil level")
        await visit.do("Take your lock off")
        await visit.do("Switch at the machine: on")
        assert "The contactor pulls in with a clack" in visit.text
        await up_to_cut_out(visit)
        await visit.do("Lock and tag")
        await visit.do("Hand over")
        assert visit.run.ended == "handed over"
        read = await visit.tell("Next")
        assert "Found: Oil below the mark." in read
        assert "Missed" not in read
        assert "Handed over to people with safety items open or failed." in read
        done = Shelf("Ada Prentice").training().runs[-1]
        assert done.total == 50 and sorted(done.found) == ["blocks_in", "oil_low"]
        await visit.press("enter", "enter")
        await visit.arrive(ChooseScreen)
        assert f"best {done.total}" in visit.text
        await visit.press("t")
        assert "Training record of Ada Prentice" in visit.text
        await visit.press("escape")
        assert "What to practise" in visit.text
