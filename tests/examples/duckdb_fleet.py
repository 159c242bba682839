"""A whole fleet in DuckDB: one line a job from `wizard review`, questions in SQL.

    wizard review JOBS --jsonl > fleet.jsonl
    python -m tests.examples.duckdb_fleet fleet.jsonl

Each line of `review --jsonl` is one file: its state, machine, site, technician and day, its holds
and open items, its `metrics` (SI: ratios, kelvin) and its `readings`, a fingerprint of every
measured item by key, so that equal readings can be counted without carrying them. The engine
reads the file as it is; a fleet of any size, or many folders put together with `cat`, is one
table. Unreadable files are lines too, with `state` "unreadable" and a sentence in `error`.

The questions are those of the review itself: what is usual for one machine, which jobs stand out
by the modified z-score (0.6745 (x - median) / MAD beyond 3.5, at least 5 jobs; the mean deviation
times 1.2533 in its place where the MAD is nothing), and whose readings look copied (at least 8
and 70 % of the readings of two jobs of one technician the same).
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

import duckdb

LOAD = """
CREATE TABLE jobs AS
SELECT *, lower(trim(regexp_replace(machine, '\\s+', ' ', 'g'))) AS model
FROM read_json(
    ?,
    format = 'newline_delimited',
    columns = {
        file: 'VARCHAR', job: 'VARCHAR', state: 'VARCHAR', error: 'VARCHAR', uuid: 'VARCHAR',
        practice: 'BOOLEAN', machine: 'VARCHAR', site: 'VARCHAR', technician: 'VARCHAR',
        day: 'DATE', holds: 'VARCHAR[]', open: 'VARCHAR[]', failures: 'VARCHAR[]',
        advisories: 'VARCHAR[]', decision: 'VARCHAR', doubtful: 'INTEGER',
        metrics: 'MAP(VARCHAR, DOUBLE)', readings: 'MAP(VARCHAR, VARCHAR)'
    }
)
"""

METRICS = """
CREATE VIEW metrics AS
SELECT file, job, model, site, unnest(map_keys(metrics)) AS metric,
       unnest(map_values(metrics)) AS value
FROM jobs WHERE state <> 'unreadable' AND NOT practice
"""

USUAL = """
WITH middle AS (
    SELECT model, metric, count(*) AS jobs, median(value) AS middle, min(value) AS least,
           max(value) AS most
    FROM metrics GROUP BY ALL
)
SELECT m.model, m.metric, jobs, least, m.middle, most, median(abs(value - m.middle)) AS mad,
       avg(abs(value - m.middle)) AS mean
FROM middle m JOIN metrics USING (model, metric)
GROUP BY ALL ORDER BY ALL
"""

OUTLIERS = f"""
WITH usual AS ({USUAL})
SELECT file, metric, value, middle,
       CASE WHEN mad > 0 THEN 0.6745 * (value - middle) / mad
            WHEN mean > 0 THEN (value - middle) / (1.253314 * mean)
            ELSE 0 END AS score
FROM metrics JOIN usual USING (model, metric)
WHERE jobs >= 5 AND abs(score) > 3.5
ORDER BY abs(score) DESC, file
"""

COPIED = """
WITH one AS (
    SELECT technician, uuid, file, unnest(map_keys(readings)) AS key,
           unnest(map_values(readings)) AS print
    FROM jobs WHERE state <> 'unreadable' AND NOT practice
)
SELECT a.technician, a.file AS first, b.file AS second,
       count(*) FILTER (a.print = b.print) AS same, count(*) AS shared
FROM one a JOIN one b
  ON a.technician = b.technician AND a.key = b.key AND a.file < b.file AND a.uuid <> b.uuid
GROUP BY ALL
HAVING same >= 8 AND same >= 0.7 * shared
ORDER BY same DESC, first
"""

WAITING = """
SELECT technician, count(*) AS jobs,
       count(*) FILTER (len(holds) > 0) AS held,
       count(*) FILTER (error IS NOT NULL) AS not_sound,
       sum(doubtful) AS doubts
FROM jobs WHERE job IS NOT NULL
GROUP BY technician ORDER BY not_sound DESC, doubts DESC, technician
"""


def load(lines: Path) -> duckdb.DuckDBPyConnection:
    """A database in memory with the jobs of a file of lines."""
    fleet = duckdb.connect()
    fleet.execute(LOAD, [str(lines)])
    fleet.execute(METRICS)
    return fleet


def main(words: Iterable[str]) -> None:
    """Answer the questions for a file of lines."""
    (name,) = words
    fleet = load(Path(name))
    for title, query in (
        ("Usual for a machine", USUAL),
        ("Outliers", OUTLIERS),
        ("Readings that look copied", COPIED),
        ("By technician", WAITING),
    ):
        print(title)
        print(fleet.sql(query))


if __name__ == "__main__":
    main(sys.argv[1:])
