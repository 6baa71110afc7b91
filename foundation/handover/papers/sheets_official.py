"""The official's sheet: depth at every step, undisturbed soil, fill, foam, protection, drains; the rule beside each."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

import numpy as np

from foundation import units
from foundation.drawings.section_words import names_of
from foundation.handover.papers.blocks import (
    Block,
    Cell,
    Sheet,
    beside,
    heading,
    paragraph,
    short_text,
    table,
)
from foundation.handover.papers.content import Content
from foundation.handover.papers.sheets_foam import basis_text, foam_table, telling_sections
from foundation.model.section import BlockKind, Situation
from foundation.plan.sections import sections_along
from foundation.plan.traps import trap

FALL = "A drain falls at least 1/8 in a foot [practice]; IRC R405.1 [memory]: it runs to daylight or a sump."
COVERED = "Foam above grade is covered from sun and knocks, to 6 in below grade [practice]."
INCH = 0.0254
HELD = {True: "yes", False: "no"}


def official_sheet(content: Content) -> Sheet:
    """What the local office looks at.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    blocks = [
        heading("Depth along every footing"),
        depth_table(content),
        beside(
            [
                [heading("Depth at every step"), step_table(content)],
                [heading("Fill against the walls; top / foot held?"), fill_table(content)],
            ],
            (1, 1),
        ),
        heading("Numbers and rules"),
        rule_table(content),
        heading("Foam"),
        foam_table(content),
        paragraph(basis_text(content)),
    ]
    return Sheet(
        "official", "For the local office", "Is every footing deep enough, and by which rule?", tuple(blocks)
    )


def depth_table(content: Content) -> Block:
    """Least frost cover of every run, and where.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    plan, system = content.plan, content.system
    covers = plan.covers[content.stepping.name]
    floors: dict[str, list[str]] = {}
    for placed in sections_along(plan, content.stepping.name):
        kind = (
            "walkout or slab edge"
            if placed.section.situation is Situation.EDGE
            else str(placed.section.situation)
        )
        kinds = floors.setdefault(placed.section.line, [])
        if kind not in kinds:
            kinds.append(kind)
    asked = plan.project.frost.depth
    rows: list[list[Cell]] = []
    for row in plan.schedules[content.stepping.name]:
        cover = covers.get(row.line)
        where, sideways = "–", math.nan
        if cover is not None and math.isfinite(row.least_cover):
            inside = (cover.station >= row.start - 1e-9) & (cover.station <= row.end + 1e-9)
            stations, down = cover.station[inside], cover.straight_down[inside]
            where = f"{content.length(float(stations[np.nanargmin(down)]))} from {row.line.split('-')[0]}"
            sideways = float(np.nanmin(cover.nearest_air[inside]))
        enough = (
            "no frost reaches it" if cover is None else "yes" if row.least_cover >= asked - 5e-5 else "NO"
        )
        rows.append(
            [
                {"text": row.line, "strong": True},
                ", ".join(floors.get(row.line, ())) or "not heated",
                content.length(row.start),
                content.length(row.end),
                content.layout(row.bottom.level, strong=True),
                {"text": short_text(row.least_cover, system), "strong": True},
                where,
                short_text(sideways, system),
                short_text(asked, system) if cover is not None else "–",
                {"text": enough, "strong": True},
            ]
        )
    heads = (
        "Wall",
        "Inside",
        "From",
        "To",
        "Bottom of footing",
        "Least frost cover",
        "Least at",
        "Nearest air",
        "Asked for",
        "Enough",
    )
    return table(heads, rows, right=(2, 3, 5, 7, 8))


def step_table(content: Content) -> Block:
    """Frost cover on both sides of every step.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    plan, system = content.plan, content.system
    covers = plan.covers[content.stepping.name]
    rows: list[list[Cell]] = []
    for step in content.stepping.steps:
        cover = covers.get(step.line)
        sides = ["–", "–"]
        if cover is not None:
            sides = [
                short_text(float(np.interp(step.station + side, cover.station, cover.straight_down)), system)
                for side in (-INCH, INCH)
            ]
        rows.append(
            [
                {"text": str(step.number), "strong": True},
                f"{step.line} at {content.length(step.station)}",
                {"text": content.length(step.before), "small": f"cover {sides[0]}", "strong": True},
                {"text": content.length(step.after), "small": f"cover {sides[1]}", "strong": True},
            ]
        )
    if not rows:
        return paragraph("No step.")
    return table(("Step", "Where", "Bottom before it", "Bottom after it"), rows, (0, 1, 0, 0))


def fill_table(content: Content) -> Block:
    """Most unbalanced fill against each wall.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    walls = content.walls
    if walls is None or not walls.fills:
        return paragraph("No wall of this job holds fill.")
    rows: list[list[Cell]] = []
    for fill in walls.fills:
        worst = int(np.argmax(fill.height))
        rows.append(
            [
                {"text": fill.line, "strong": True},
                {"text": short_text(float(fill.height[worst]), content.system), "strong": True},
                content.length(float(fill.station[worst])),
                *(f"{HELD[each.top]} / {HELD[each.foot]}" for each in fill.supports),
            ]
        )
    stages = [each.stage for each in walls.fills[0].supports]
    return table(("Wall", "Most fill", "At", *stages), rows, right=(1, 2))


def into_undisturbed(content: Content) -> tuple[float, str, float]:
    """How far the bottom of footing is below existing grade where that is least.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    float
        The depth, inf where no existing grade is known. [m]
    str
        Wall line.
    float
        Station on it. [m]
    """
    least, name, station = math.inf, "", 0.0
    for line in content.plan.lines:
        bottom = content.stepping.bottoms[line.wall.name]
        depth = np.minimum(line.existing[:-1], line.existing[1:]) - bottom
        if np.isfinite(depth).any() and not line.wall.beyond and np.nanmin(depth) < least:
            cell = int(np.nanargmin(depth))
            least, name, station = float(depth[cell]), line.wall.name, float(line.node[cell])
    return least, name, station


def rule_table(content: Content) -> Block:
    """Numbers of the job beside what asks for them.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    dict
        The block.
    """
    rows: list[list[Cell]] = [
        [{"text": what, "strong": True}, number, asked, rule] for what, number, asked, rule in _rules(content)
    ]
    return table(
        ("What", "On this job", "Asked for", "Rule, with its edition and mark"), rows, (1.1, 2, 1, 3)
    )


def _rules(content: Content) -> Iterable[tuple[str, str, str, str]]:
    plan, project, system = content.plan, content.plan.project, content.system
    frost, around, stage = project.frost, project.surroundings, project.stage
    who = ", ".join(filter(None, (frost.source, frost.date.isoformat() if frost.date else "")))
    yield (
        "Frost depth",
        f"{short_text(frost.depth, system)} to the {frost.measured_to}{content.assumed('measured_to')}",
        who or "nobody named yet",
        trap("frost-cover-short").rule,
    )
    yield (
        "Fill toward the depth",
        f"{'counts' if frost.fill_counts else 'does not count'}{content.assumed('fill_counts')}",
        "as the office says",
        trap("fill-not-counted").rule,
    )
    depth, line, station = into_undisturbed(content)
    why = type(frost).model_fields["into_undisturbed"].json_schema_extra
    yield (
        "Into undisturbed soil",
        f"{short_text(depth, system)} at least, at {content.length(station)} on {line}"
        if math.isfinite(depth)
        else "existing grade not known",
        f"{short_text(frost.into_undisturbed, system)}{content.assumed('into_undisturbed')}",
        f"{why['assumed'] if isinstance(why, dict) else ''}: bottom of footing below undisturbed ground.",
    )
    rises = [abs(step.after - step.before) for step in content.stepping.steps]
    runs = [run for step in content.stepping.steps for run in (step.run_before, step.run_after)]
    yield (
        "Steps",
        f"rise at most {short_text(max(rises), system)}, run at least {content.length(min(runs))}"
        if rises
        else "none",
        f"rise {_limit(plan.rules.rise, system)}, run {content.length(plan.rules.run)}",
        f"{plan.rules.name}{content.assumed('set')}: {plan.rules.source}",
    )
    yield (
        "Footings and walls",
        _sizes(content),
        "engineer or office",
        "Sizes are not designed by this program.",
    )
    if content.walls is not None and content.walls.fills:
        most = max(content.walls.fills, key=lambda fill: float(fill.height.max()))
        yield (
            "Unbalanced fill",
            f"{short_text(float(most.height.max()), system)} at most, on {most.line}",
            "48 in without support",
            trap("backfill-before-support").rule,
        )
    if plan.falls:
        least = min(plan.falls, key=lambda fall: fall.least)
        way = "falls" if least.least >= 0 else "rises"
        yield (
            "Finished grade",
            f"{way} {short_text(abs(least.least), system)} in the first {content.length(3.048)} at the worst, "
            f"{least.line}",
            "6 in" if system == "us" else _fall_asked(),
            trap("grade-does-not-fall-away").rule,
        )
    asked = project.required
    deep = f", {content.length(asked.edge_depth)} down or inward" if asked.edge_depth is not None else ""
    edge = _foam(content, ("foam at the slab's edge", "foam outside"))
    wall = _foam(content, ("foam outside", "foam inside"))
    yield ("Foam at slab edges", edge, _resistance(asked.edge, system) + deep, trap("edge-left-bare").rule)
    yield (
        "Foam on basement walls",
        wall,
        _resistance(asked.wall, system),
        trap("basement-wall-short-of-r").rule,
    )
    if any(part.floor_heated for part in project.parts):
        under = _foam(content, ("foam under the slab",))
        yield (
            "Foam under heated slabs",
            under,
            _resistance(asked.heated_slab, system),
            trap("heated-slab-short-of-r").rule,
        )
    yield ("Protection of foam", "cover to be shown on site", "the foam's maker", COVERED)
    yield (
        "Winter before it is closed",
        f"{stage.stands_winter}{content.assumed('stands_winter')}",
        "protected, or not standing open",
        trap("stands-a-winter").rule,
    )
    yield (
        "People in the dig",
        f"{stage.dig_protection}{content.assumed('dig_protection')}; class {project.digging.soil_class} soil"
        f"{content.assumed('soil_class')}",
        "by soil class",
        trap("deep-dig").rule,
    )
    drain = "not entered"
    if around.drain_invert is not None and around.drain_outlet is not None:
        fall = around.drain_invert - around.drain_outlet
        drain = (
            f"from {content.length(around.drain_invert)} to daylight at {content.length(around.drain_outlet)}"
        )
        if around.drain_length is not None:
            share = fall / around.drain_length
            per = f"{share * 12:.2f} in/ft" if system == "us" else f"{share * 100:.1f} %"
            drain += f", {per} over {content.length(around.drain_length)}"
    yield ("Footing drain", drain, "1/8 in/ft" if system == "us" else "1 %", FALL)


def _foam(content: Content, names: tuple[str, ...]) -> str:
    """Foam of those names as the sections show it: each of its sizes once, part by part."""
    found: dict[str, dict[str, None]] = {}
    for placed, _ in telling_sections(sections_along(content.plan, content.stepping.name)):
        section = placed.section
        for block, text in zip(section.blocks, names_of(section, content.system), strict=True):
            if block.kind is BlockKind.FOAM and block.name in names and text:
                # How long each piece is stands on the foam sheet.
                found.setdefault(section.inside, {})[re.sub(" × [^,]*", "", text)] = None
    told = "; ".join(f"{part}: {', '.join(texts)}" for part, texts in found.items())
    return f"{told} (R in the ground)" if told else "none"


def _resistance(value: float | None, system: str) -> str:
    return "not entered" if value is None else units.write(value, "resistance", system)


def _fall_asked() -> str:
    return short_text(6 * INCH, "metric")


def _limit(value: float, system: str) -> str:
    return short_text(value, system) if math.isfinite(value) else "not limited"


def _sizes(content: Content) -> str:
    told = [
        f"{part.name}: {'sized by ' + part.sized_by if part.sized_by else 'size to confirm'}"
        for part in content.plan.project.parts
    ]
    return "; ".join(told) + content.assumed("wall_thickness", "footing_width", "footing_thickness")
