"""The command line: demo, plan, check, handover, dashboard, doctor."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from foundation import __version__

if TYPE_CHECKING:
    from foundation.plan import Plan
    from foundation.project.store import Job

DEFAULT_PORT = 8866


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    arguments : sequence of str, optional
        The command and its arguments; the process's own when left out.

    Returns
    -------
    int
        Exit code: 0 well, 1 an unread STOP, 2 something that a sentence on standard error names. [-]
    """
    # Small systems of equations are solved many at a time: threads inside each would only wait for each other.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    parser = _parser()
    chosen = parser.parse_args(arguments)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    if chosen.command is None:
        parser.print_help()
        return 0
    try:
        return int(chosen.run(chosen))
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        return 0
    except (ValueError, OSError, RuntimeError) as error:
        print(str(error) or type(error).__name__, file=sys.stderr)
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="foundation",
        description="Plans frost-depth foundations: steps the footings along the grade. Not engineering advice; "
        "local code and licensed practice decide.",
    )
    parser.add_argument("--version", action="version", version=f"foundation {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="command")

    demo = commands.add_parser("demo", help="write the demo project into a folder")
    demo.add_argument("folder", type=Path)
    demo.set_defaults(run=_demo)

    plan = commands.add_parser("plan", help="plan a project file and print the schedule")
    plan.add_argument("file", type=Path)
    plan.add_argument(
        "--json", action="store_true", help="print the whole plan as JSON, each quantity with its unit"
    )
    plan.add_argument(
        "--size-foam", action="store_true", help="with --json: also how much foam is worth it (15 s)"
    )
    plan.add_argument("--answer", default="", help="which answer: least cost, fewest steps, no fillers")
    plan.set_defaults(run=_plan)

    check = commands.add_parser("check", help="list every caution; exit 1 while a STOP is unread")
    check.add_argument("file", type=Path)
    check.set_defaults(run=_check)

    handover = commands.add_parser("handover", help="make papers, workbook, tables, points and drawings")
    handover.add_argument("file", type=Path)
    handover.add_argument("--out", type=Path, required=True, help="folder for the files")
    handover.add_argument("--answer", default="", help="which answer is built; the first when left out")
    handover.add_argument(
        "--paper", choices=("letter", "tabloid"), default="letter", help="tabloid is 11 × 17"
    )
    handover.set_defaults(run=_handover)

    dashboard = commands.add_parser("dashboard", help="open the planner in the browser")
    dashboard.add_argument("file", type=Path, nargs="?", help="project file; an empty project when left out")
    dashboard.add_argument("--demo", action="store_true", help="open the demo lot")
    dashboard.add_argument("--client", action="store_true", help="show the client's screen instead")
    dashboard.add_argument(
        "--port", type=int, default=DEFAULT_PORT, help=f"port on 127.0.0.1 (default {DEFAULT_PORT})"
    )
    dashboard.add_argument("--no-browser", action="store_true", help="print the address only")
    dashboard.set_defaults(run=_dashboard)

    doctor = commands.add_parser(
        "doctor", help="say what this machine has: versions, browser, fonts, folder, port"
    )
    doctor.set_defaults(run=_doctor)
    return parser


def _demo(chosen: argparse.Namespace) -> int:
    from foundation import files, places

    folder: Path = chosen.folder
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for source in sorted(places.data("demo").iterdir()):
        target = folder / source.name
        if target.exists():
            raise ValueError(
                f"{target} is there already: choose an empty folder, so that nothing is overwritten."
            )
        written.append((target, source.read_text(encoding="utf-8")))
    for target, text in written:
        files.write_atomically(target, text)
    project = next(target for target, _ in written if target.suffix == ".toml")
    print(f"Wrote {', '.join(str(target) for target, _ in written)}")
    print(f"Next: foundation plan {project}")
    return 0


def _plan(chosen: argparse.Namespace) -> int:
    from foundation.plan import plan
    from foundation.project import load

    job = load(chosen.file)
    result = plan(job.project, job.survey)
    if chosen.json:
        from foundation.handover.as_json import plan_as_json

        print(plan_as_json(result, _beside(result, job, chosen)))
        return 0
    from foundation.handover.as_text import plan_as_text

    try:
        print(plan_as_text(result, chosen.answer))
    except KeyError as error:
        raise ValueError(str(error.args[0])) from None
    return 0


def _beside(result: Plan, job: Job, chosen: argparse.Namespace) -> dict[str, object]:
    """What the JSON carries beside the plan."""
    from foundation.plan.climate import climate_of
    from foundation.plan.floors import floors_of
    from foundation.plan.frost_check import frost_check
    from foundation.plan.heat import heat_of

    answer = chosen.answer or result.steppings[0].name
    climate = climate_of(job.project, job.weather)
    beside: dict[str, object] = {
        "heat": heat_of(result, answer, job.weather),
        "frost_check": frost_check(job.project, climate, job.weather) if climate is not None else None,
        "foam_sizing": None,
        "floors": floors_of(result, answer, job.weather) if job.project.zones else None,
    }
    if chosen.size_foam:
        from foundation.studies.foam_sizing import size_foam

        beside["foam_sizing"] = size_foam(result, answer, weather=job.weather)
    return beside


def _handover(chosen: argparse.Namespace) -> int:
    import datetime

    from foundation.handover.bundle import hand_over
    from foundation.plan import plan
    from foundation.project import load

    job = load(chosen.file)
    result = plan(job.project, job.survey)
    made = hand_over(
        result,
        chosen.answer or result.steppings[0].name,
        chosen.out,
        typed=job.project,
        survey=job.survey,
        weather=job.weather,
        paper=chosen.paper,
        today=datetime.date.today(),
    )
    for path in made.files:
        print(path)
    for note in made.notes:
        print(f"notice: {note}")
    print(f"{len(made.files)} files, revision {job.project.revision}, {made.revision}.")
    return 0


def _check(chosen: argparse.Namespace) -> int:
    from foundation.handover.as_text import cautions_as_text, initialled
    from foundation.model.caution import Severity
    from foundation.plan import plan
    from foundation.project import load

    job = load(chosen.file)
    result = plan(job.project, job.survey)
    cautions = result.cautions[result.steppings[0].name]
    for line in cautions_as_text(cautions, job.project):
        print(line)
    for notice in result.notices:
        print(f"notice: {notice.sentence}")
    unread = [c for c in cautions if c.trap.severity is Severity.STOP and not initialled(c, job.project)]
    print(f"{len(unread)} STOP unread of {len(cautions)} cautions." if cautions else "No caution.")
    return 1 if unread else 0


def _dashboard(chosen: argparse.Namespace) -> int:
    from foundation import places
    from foundation.serve import serve

    if chosen.file is not None and not chosen.file.is_file():
        raise ValueError(f"{chosen.file} is not a file: give a project file, or none for an empty project.")
    if chosen.demo:
        os.environ["FOUNDATION_DEMO"] = "1"
    # One kernel kept ready makes the page open sooner.
    serve(
        chosen.file,
        notebook=places.notebooks("client.ipynb") if chosen.client else None,
        port=chosen.port,
        open_browser=not chosen.no_browser,
        preheat=1,
    )
    return 0


def _doctor(chosen: argparse.Namespace) -> int:
    from foundation.doctor import report

    lines, sound = report(DEFAULT_PORT)
    print("\n".join(lines))
    return 0 if sound else 2


if __name__ == "__main__":
    sys.exit(main())
