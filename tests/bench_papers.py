"""How long the papers of the demo lot take: python -m tests.bench_papers."""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

from foundation import places
from foundation.handover.papers import make_papers
from foundation.plan import plan
from foundation.plan.floors import floors_of
from foundation.plan.heat import heat_of
from foundation.project import load
from tests.handover.papers import DAY, HASH, signed


def main() -> None:
    job = load(places.data("demo", "fallow-fen.toml"))
    made = plan(job.project, job.survey)
    answer = made.steppings[0].name
    made = signed(made, answer)
    heat, floors = heat_of(made, answer), floors_of(made, answer)
    with tempfile.TemporaryDirectory() as folder:
        for paper in ("letter", "tabloid"):
            for readers in (("set",), ("excavator", "form crew", "plumber", "official", "client", "set")):
                start = time.perf_counter()
                paths = make_papers(
                    made,
                    answer,
                    Path(folder),
                    paper=paper,  # type: ignore[arg-type]
                    readers=readers,
                    heat=heat,
                    floors=floors,
                    printed=DAY,
                    revision=HASH,
                )
                taken = time.perf_counter() - start
                size = sum(path.stat().st_size for path in paths) / 1e6
                print(f"{paper:<8} {len(readers)} files  {taken:5.2f} s  {size:5.2f} MB")


if __name__ == "__main__":
    main()
