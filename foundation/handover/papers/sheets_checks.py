"""Sheets to tick off: target, actual and difference; what is decided and ordered before each pour."""

from __future__ import annotations

from collections.abc import Iterable

from foundation import units
from foundation.handover.papers.blocks import Block, Cell, Sheet, heading, paragraph, rod_cell, table
from foundation.handover.papers.content import TICK, Content
from foundation.plan.lines import slab_top

Row = tuple[str, str]


def inspection_sheet(content: Content, held: set[str]) -> Sheet:
    """Levels and lengths to be measured, with room for what was found.

    Parameters
    ----------
    content : Content
        What is shown.
    held : set of str
        Sheets that are held back: their targets are left out.

    Returns
    -------
    Sheet
        The sheet.
    """
    plan, system = content.plan, content.system
    blocks: list[Block] = []
    groups: list[tuple[str, str, list[tuple[str, float, bool]]]] = [
        (
            "Layout, before digging",
            "layout",
            [(f"{each.part}, {each.start} to {each.end}", each.length, False) for each in plan.diagonals]
            + [(f"wall {line.wall.name}", line.wall.length, False) for line in plan.lines],
        ),
        (
            "Bottom of footing, before the footing pour",
            "footings",
            [
                (
                    f"{row.line} {content.length(row.start)} to {content.length(row.end)}",
                    row.bottom.level,
                    True,
                )
                for row in plan.schedules[content.stepping.name]
            ]
            + [(f"{each.name}", each.bottom.level, True) for each in plan.extras],
        ),
        (
            "Top of concrete, before and after the wall pour",
            "walls",
            [
                (
                    f"{piece.line} {content.length(piece.start)} to {content.length(piece.end)}",
                    piece.top,
                    True,
                )
                for piece in (content.walls.pieces if content.walls else ())
            ],
        ),
        ("Top of slab", "", _slabs(content)),
    ]
    for title, key, targets in groups:
        blocks.append(heading(title))
        if key in held:
            blocks.append(
                paragraph("Targets are held back with their sheet: its STOPs are not read yet.", strong=True)
            )
            continue
        levels = any(level for *_, level in targets)
        heads = ["What", "Target"] + (["Rod today"] if levels and content.book.set_ups else [])
        heads += ["Actual", "Difference", "Who, when"]
        rows: list[list[Cell]] = []
        for what, value, level in targets:
            cells: list[Cell] = [what, content.layout(value, strong=True)]
            if levels and content.book.set_ups:
                cells.append(rod_cell(content.reading(value), system, content.several) if level else "")
            rows.append([*cells, "", "", ""])
        widths = [2.2, 1.5, *([1.6] if levels and content.book.set_ups else []), 1.2, 1.0, 1.5]
        blocks.append(table(heads, rows, widths, row=6.2, boxed=True))
    blocks += [
        heading("Seen before it is covered"),
        table(("", "What", "Who, when"), _seen(), (0.2, 4, 2), row=6.2, boxed=True),
    ]
    return Sheet("inspection", "Inspection", "Is it where it should be?", tuple(blocks))


def _slabs(content: Content) -> list[tuple[str, float, bool]]:
    project = content.plan.project
    return [(part.name, slab_top(project, part), True) for part in project.parts if part.slab_thickness > 0]


def _seen() -> list[list[Cell]]:
    items = (
        "Bottom of footing on undisturbed, unfrozen soil, no loose soil or water",
        "Steps, legs and bars as on the list by engineer or office",
        "Sleeves, keyway or dowels, grounding bar in the footing",
        "Wall forms plumb, braced; pockets, sleeves, bolts in place",
        "Damp-proofing and footing drain, photographed",
        "Foam on the wall and its cover; edge foam at every door",
        "Stone, radon riser, foam under the slab, retarder with its laps",
        "Tube fixed and under test pressure; photographed",
    )
    return [[TICK, item, ""] for item in items]


def decide_sheet(content: Content) -> Sheet:
    """What is decided and ordered, before which work.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    Sheet
        The sheet.
    """
    blocks: list[Block] = []
    for before, decided, ordered in _stages(content):
        rows: list[list[Cell]] = [
            [TICK, what, {"text": known, "strong": known != OPEN}, ""] for what, known in decided
        ]
        rows += [[TICK, f"order or book: {what}", "", ""] for what in ordered]
        blocks += [
            heading(f"Before {before}"),
            table(("", "What", "As entered", "By, date"), rows, (0, 2.4, 2.6, 1.2)),
        ]
    blocks.append(heading("Pours"))
    blocks += pour_blocks(content)
    return Sheet(
        "decide",
        "Decide by, order by",
        "What has to be settled before which work?",
        ({"kind": "columns", "count": 2, "blocks": blocks},),
    )


OPEN = "open"


def _stages(content: Content) -> Iterable[tuple[str, list[Row], list[str]]]:
    plan, project = content.plan, content.plan.project
    around, stage, frost = project.surroundings, project.stage, project.frost

    def level(value: float | None) -> str:
        return OPEN if value is None else content.length(value)

    def said(value: str, *keys: str) -> str:
        return OPEN if value == "unknown" else f"{value}{content.assumed(*keys)}"

    who = ", ".join(filter(None, (frost.source, frost.date.isoformat() if frost.date else "")))
    book, parts = content.book, project.parts
    marks = (
        f"{book.benchmark} and {book.second}"
        if book.second
        else f"{book.benchmark} alone"
        if book.benchmark
        else OPEN
    )
    sized = [part.sized_by for part in parts if part.sized_by]
    yield (
        "the dig",
        [
            ("frost depth and who said so", f"{content.length(frost.depth)}, {who}" if who else OPEN),
            ("benchmark and a second mark", marks),
            (
                "tops of wall",
                ", ".join(dict.fromkeys(content.length(line.wall.wall_top) for line in plan.lines)),
            ),
            (
                "tops of slab",
                ", ".join(f"{name} {content.length(value)}" for name, value, _ in _slabs(content)),
            ),
            ("sewer outlet", level(around.sewer_outlet)),
            ("drain outlet", level(around.drain_outlet)),
            (
                "build-up over the footing",
                ", ".join(f"{part.name} {content.length(part.build_up)}" for part in parts)
                + content.assumed("slab_thickness", "foam_over_footing", "stone_over_footing"),
            ),
            ("does fill count?", f"{'yes' if frost.fill_counts else 'no'}{content.assumed('fill_counts')}"),
            ("stands a winter unheated?", said(stage.stands_winter, "stands_winter")),
        ],
        ["utility marks", "erosion control", "corner stakes"],
    )
    yield (
        "the footing pour",
        [
            ("footing size", f"by {', '.join(dict.fromkeys(sized))}" if len(sized) == len(parts) else OPEN),
            ("bar list by engineer or office", _bars(content)),
            ("steps", f"{len(content.stepping.steps)}, {content.stepping.name}"),
            ("pads", f"{len(plan.extras)}" if plan.extras else "none entered"),
            ("sleeves; keyway or dowels; grounding bar", OPEN),
        ],
        ["forms", "bars", "concrete", "first inspection"],
    )
    openings = content.walls.openings if content.walls else ()
    yield (
        "the wall pour",
        [
            ("wall heights and top steps", f"{len(content.walls.pieces)} heights" if content.walls else OPEN),
            ("ledge: level and width = sill + foam + bearing", _ledges(content)),
            ("openings, pockets, bolts", f"{len(openings)} entered" if openings else "none entered"),
            ("drop at the garage door", _doors(content)),
            ("mix", _strength(stage.wall_concrete, content)),
        ],
        ["concrete", "pump"],
    )
    yield (
        "backfill",
        [
            ("damp-proofing; drains photographed", OPEN),
            ("outside foam and its cover", "entered" if any(part.foam.outside for part in parts) else OPEN),
            ("deck on or walls braced", said(stage.deck_before_backfill, "deck_before_backfill")),
            ("slab or other support at the foot", said(stage.slab_before_backfill, "slab_before_backfill")),
        ],
        ["stone", "pipe", "framing"],
    )
    zones = project.zones
    yield (
        "the slab",
        [
            ("zones and finishes", ", ".join(zone.name for zone in zones) if zones else "no warm floor"),
            ("manifold place", ", ".join(each.name for each in project.manifolds) or OPEN if zones else "–"),
            ("how the tube is held", f"{project.floors.held}{content.assumed('held')}" if zones else "–"),
            (
                "retarder, joints, strips kept free of tube",
                f"{len(project.joints)} joints entered" if project.joints else OPEN,
            ),
            ("radon riser", OPEN),
            ("what the pressure test uses", OPEN if zones else "–"),
        ],
        ["foam or panels (lead time)", "retarder", "tube, manifold", "concrete, pump"],
    )
    yield ("hand-over", [("final grade, as-built levels, tube photographs", OPEN)], ["final inspection"])


def _bars(content: Content) -> str:
    bars = content.plan.project.bars
    return (
        f"{len(bars)} entries by {', '.join(dict.fromkeys(bar.by or 'nobody named' for bar in bars))}"
        if bars
        else "no steel entered"
    )


def _ledges(content: Content) -> str:
    ledges = content.walls.ledges if content.walls else ()
    return ", ".join(f"{each.line} {content.length(each.level)}" for each in ledges) or "none entered"


def _doors(content: Content) -> str:
    doors = [each for each in content.plan.project.openings if each.kind == "overhead door"]
    return ", ".join(f"{each.name} {content.length(each.bottom)}" for each in doors) or "no such door"


def _strength(pascal: float | None, content: Content) -> str:
    return OPEN if pascal is None else units.write(pascal, "pressure", content.system)


def pour_blocks(content: Content) -> list[Block]:
    """Pours and what is ordered for them.

    Parameters
    ----------
    content : Content
        What is shown.

    Returns
    -------
    list of dict
        The blocks.
    """
    system = content.system
    takeoff = content.takeoff
    if takeoff is None:
        rows: list[list[Cell]] = [
            [
                {"text": pour.name, "strong": True},
                pour.state,
                pour.date.isoformat() if pour.date else "",
                pour.mix,
            ]
            for pour in content.plan.project.pours
        ]
        if not rows:
            return [paragraph("Every pour is planned; none is entered as ordered or poured.")]
        return [table(("Pour", "State", "Since", "Mix"), rows, (1, 0, 0, 1))]

    def volume(value: float) -> str:
        return units.cubic_yards(value) if system == "us" else f"{value:.2f} m³"

    rows = [
        [
            {"text": pour.name, "strong": True},
            pour.state,
            volume(pour.concrete),
            volume(pour.order),
            str(pour.trucks),
            pour.mix or "–",
        ]
        for pour in takeoff.pours
    ]
    blocks = [table(("Pour", "State", "Drawn", "Order", "Trucks", "Mix"), rows, (1, 0, 0, 0, 0, 1))]
    orders: list[list[Cell]] = [
        [TICK, item.what, {"text": item.order_words, "strong": True}, item.pour] for item in takeoff.items
    ]
    blocks += [heading("Orders"), table(("", "What", "Order", "For the pour"), orders, (0, 2, 1.4, 1))]
    return blocks + [paragraph(note) for note in takeoff.notes]
