"""An honest first day, every item answered by what is read: nothing is left, and it passes."""

from __future__ import annotations

from tests.practice.apprentice import Apprentice, text_for
from wizard import actions
from wizard.commands import exercise
from wizard.commands.exercise import Exercise, Look
from wizard.commands.shelf import Shelf
from wizard.practice.record import PASSED
from wizard.practice.scoring import score
from wizard.practice.spots import PAPERS, spots_of
from wizard.store import now

LEARNER = "Ada Prentice"
WALK = ("plate.tank", "relief.stamp", "relief.path", "hose.print", "overload.dial", "pump.mounts")
THROUGH_THE_GUARD = ("belt.force", "belt.frequency")


class Learner(Apprentice):
    """An apprentice whose deeds are done on an exercise."""

    one: Exercise

    def does(self, verb: str, what: str = "", value: float | None = None) -> None:
        self.one.do(verb, what, value)
        self.run, self.job = self.one.run, self.one.job


def test_an_honest_first_day_leaves_nothing_and_passes() -> None:
    one = exercise.begin(Shelf(LEARNER), "first_day", 1)
    who = Learner(one.job, one.run)
    who.one = one
    for fault in tuple(one.run.present):
        who.does("report", fault)
        who.does("repair", fault)
    for place in WALK:
        one.look(Look("eye", place))
    for key, item in one.job.procedure.items.items():
        if one.job.applies(key) and key not in one.job.answers:
            assert not one.job.refusal(key), key
            who.run, who.job = one.run, one.job
            text = text_for(who, item)
            for spot in spots_of(key):
                if spot.tool != PAPERS and key not in THROUGH_THE_GUARD:
                    one.look(Look(spot.tool, spot.place))
            hand = actions.Hand(LEARNER, now())
            one.save(actions.answer(one.job, key, text, hand, confirmed=True))
    assert one.left_unsafe() == 0 and not one.job.open_items() and not one.job.failures()
    one.do("finish")
    one.close()
    marks = {mark.heading: mark for mark in score(one.run).marks}
    assert marks["Safety"].lines == ("Nobody was put at risk.",)
    assert marks["Readings"].share == 1.0
    assert score(one.run).total >= 90 > PASSED
