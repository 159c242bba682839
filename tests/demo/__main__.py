"""Makes demo_jobs/ anew: python -m tests.demo"""

from __future__ import annotations

import hashlib
from pathlib import Path

from tests.demo.maker import START, Scenario, commission, scenario
from wizard.job import Job
from wizard.procedure import procedure
from wizard.store import create_job

FOLDER = Path(__file__).parents[2] / "demo_jobs"

JOBS = {
    "DEMO-5HP": ("five_hp", ""),
    "DEMO-15HP": ("fifteen_hp_held", "hose.working_pressure"),
    "DEMO-7.5KW": ("metric_7_5_kw", "oil.level_glass"),
    "DEMO-3HP-208V": ("three_hp_208", "supply.voltage_single"),
}
"""Job by id: its scenario, and the item after which the technician stopped."""


def demo_job(job_id: str) -> Job:
    """The demo job with this id."""
    name, until = JOBS[job_id]
    uuid = hashlib.sha256(job_id.encode()).hexdigest()[:32]
    return commission(job_id, scenario(name), until=until, uuid=uuid)


def machine_text(job_id: str, given: Scenario) -> str:
    """The machine file that starts the same machine anew."""
    plates = [
        (k, given.answers[k])
        for k, i in procedure().items.items()
        if i.phase == 1 and given.answers.get(k)
    ]
    lines = "\n".join(f'"{key}" = "{text}"' for key, text in plates)
    return (
        f'format = "wizard-machine"\nabout = "Invented plate data of {job_id}"\n'
        f'units = "{given.units}"\npractice = "{given.practice}"\n\n[answers]\n{lines}\n'
    )


def main() -> None:
    """Write every demo job through the store, and its machine file."""
    (FOLDER / "machines").mkdir(parents=True, exist_ok=True)
    for job_id, (name, _) in JOBS.items():
        job, path = demo_job(job_id), FOLDER / f"{job_id}.toml"
        path.unlink(missing_ok=True)
        with create_job(path, job.header, procedure(), "Tess Example", "demo") as session:
            session.save(job)
        for left in FOLDER.glob(f"{job_id}.toml.bak"):
            left.unlink()
        for left in FOLDER.glob(f".{job_id}.toml.lock"):
            left.unlink()
        machine = FOLDER / "machines" / f"{job_id}.toml"
        machine.write_text(machine_text(job_id, scenario(name)), encoding="utf-8")
        print(f"{path.name}: {job.state}, {len(job.answers)} answers, {START:%Y-%m-%d}")


if __name__ == "__main__":
    main()
