"""What a practice record is given from the papers of the site, so that the learner reads the rest.

Plates of the order, agreements and all that nothing in the simulated machine stands for are
filled in as they are on a sound machine. Invariant: an item that an instrument or an eye can read
is never filled in, and every entry says that it is from the papers.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import timedelta

from wizard import actions
from wizard.actions import Hand
from wizard.errors import WizardError
from wizard.history import FROM_PAPERS
from wizard.job import Job
from wizard.practice.run import Run
from wizard.practice.spots import PAPERS, spots_of, written
from wizard.procedure.item import Item

BEFORE_SITE = 2
"""The last phase that is worked in the office."""
FIRST_TURN = 12
"""The phase from which every step is the learner's."""
VALID_DAYS = 200
"""For which the calibrations of the site's instruments are still good."""


def with_papers(job: Job, run: Run, hand: Hand) -> Job:
    """The job with everything filled in that is from the papers and can be answered now."""
    hand = Hand(FROM_PAPERS, hand.at)
    sound = replace(run, present={})
    for item in job.procedure.items.values():
        if item.key in job.answers or item.key in job.waived or not job.applies(item.key):
            continue
        if item.phase > FIRST_TURN and not job.procedure.phase_of(item.key).strict:
            continue
        if not job.refusal(item.key) and (text := _text(item, sound, hand)) is not None:
            with suppress(WizardError):
                job = actions.answer(job, item.key, text, hand, confirmed=True)
    return job


def _text(item: Item, sound: Run, hand: Hand) -> str | None:
    """What the papers say for the item; None where the learner answers."""
    spots = spots_of(item.key)
    papers = bool(spots) and spots[0].tool == PAPERS
    if spots and not papers and item.phase > BEFORE_SITE:
        return None
    if not spots and item.phase >= FIRST_TURN:
        return None
    with suppress(WizardError):
        if spots and (text := written(sound, item)):
            return text
    return _good(item, sound, hand)


def _good(item: Item, sound: Run, hand: Hand) -> str | None:
    """The answer of a sound job, where nothing is measured."""
    if item.kind == "confirm":
        return "yes"
    if item.kind == "choose":
        return next((o for o in item.options if o not in (*item.bad, *item.advise)), None)
    if item.kind == "date":
        still_to_come = timedelta(days=VALID_DAYS if "due" in item.key else 0)
        return (hand.at.date() + still_to_come).isoformat()
    if item.kind == "write":
        return sound.scenario.plant.title if item.key == "machine.label" else "as ordered"
    return "" if item.optional else None
