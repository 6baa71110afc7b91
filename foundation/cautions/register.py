"""The register: every trap with its rule, edition, source and mark, and who decides.

Marks: [read] in a public copy of the source, [memory] remembered and not read again, [derived] computed,
[practice] common practice without a source. Neither [memory] nor [practice] is code text.
"""

from __future__ import annotations

from foundation.model.caution import Severity, Trap

OFFICE = "the local office"
ENGINEER = "a licensed engineer"
BUILDER = "the builder"

LAYOUT, FOOTING_SHEET, WALL_SHEET = "layout", "footings", "walls"
STAGE_SHEET, OFFICIAL, CLIENT = "stages", "official", "client"
FOAM_SHEET = "foam"

STOP, WARN, NOTE = Severity.STOP, Severity.WARN, Severity.NOTE

# fmt: off
# --- levels ---
MARK_NOT_CHECKED = Trap(
    1, "benchmark-not-checked", STOP,
    "Levels are carried from a mark checked against a second one [practice].", BUILDER, (LAYOUT,),
)
TENTHS_AS_INCHES = Trap(
    2, "tenths-read-as-inches", WARN,
    "0.8 ft is 9 5/8 in, not 8 in [derived]: an entry that reads both ways is asked back, shots once per file.",
    BUILDER,
)
DRIVE_FALLS_TO_DOOR = Trap(
    3, "drive-falls-to-door", STOP,
    "A drive whose last 10 ft fall to the garage door needs a drain before it [practice].", OFFICE,
    (LAYOUT, OFFICIAL),
)
GARAGE_LOW = Trap(
    3, "garage-slab-low", WARN, "The garage slab lies at least 6 in above the street [practice].", OFFICE,
)
ROD_TOO_LONG = Trap(
    45, "rod-too-long", NOTE,
    "A level below the rod's reach is read from a turning point (surveying texts [read]).", BUILDER,
)

# --- ground ---
NO_FALL = Trap(
    4, "grade-does-not-fall-away", WARN,
    "IRC R401.3 [read]: grade falls at least 6 in in the first 10 ft, a hard surface at least 2 %.", OFFICE,
)
CONCRETE_LOW = Trap(
    5, "concrete-near-grade", WARN,
    "IRC R404.1.6 [read]: concrete stands at least 6 in above finished grade, 4 in under masonry veneer.", OFFICE,
)
WOOD_NEAR_SOIL = Trap(
    5, "wood-near-soil", WARN, "Untreated wood stays 8 in from soil (IRC R317.1 [memory]).", OFFICE,
)
FRAMING_NEAR_PAVING = Trap(
    5, "framing-near-paving", WARN,
    "IRC R317.1 [read]: siding and framing stay at least 6 in from soil and 2 in from paving.", OFFICE,
)

# --- frost ---
FROST_UNSOURCED = Trap(
    6, "frost-depth-unsourced", STOP,
    "IRC 2024 R301.2, R403.1.4.1 [read]: the frost line is the local table's.", OFFICE, (FOOTING_SHEET, OFFICIAL),
)
COVER_SHORT = Trap(
    6, "frost-cover-short", STOP,
    "IRC 2024 R403.1.4.1 [read]: footings stand below the frost line, or are frost-protected, or on rock.",
    OFFICE, (LAYOUT, FOOTING_SHEET, OFFICIAL),
)
NO_FINISHED_GRADE = Trap(
    7, "no-finished-grade", WARN,
    "Frost cover is taken from the lowest adjacent finished grade [practice].", OFFICE,
)
FILL_NOT_COUNTED = Trap(
    7, "fill-not-counted", WARN,
    "Depth is taken from the lower of existing and proposed grade; fill counts only where the office says so "
    "[practice].", OFFICE,
)
FILL_COUNTED = Trap(
    7, "depth-from-fill", STOP,
    "Depth is taken from the lower of existing and proposed grade; fill counts only where the office says so "
    "[practice].", OFFICE, (FOOTING_SHEET, OFFICIAL),
)
FROST_FROM_SIDE = Trap(
    8, "frost-from-the-side", WARN,
    "Nearest air at least frost depth × cos(slope) − 1 in [practice].", OFFICE,
)
COLD_INSIDE = Trap(
    14, "unheated-space-inside", STOP,
    "The slab of an unheated space inside the wall counts as outdoor grade [practice].", OFFICE,
    (FOOTING_SHEET, OFFICIAL),
)
MELTED_PAVING = Trap(
    16, "snow-free-paving", WARN,
    "Ground kept free of snow freezes deeper: a drive or patio within the frost depth of the wall [practice].", OFFICE,
)
STANDS_WINTER = Trap(
    17, "stands-a-winter", STOP,
    "The inside of a footing has no cover in an open or unheated house; unknown counts as yes [practice]. "
    "IRC 2024 R403.1.4.1 [read]: not on frozen soil.", BUILDER, (FOOTING_SHEET, STAGE_SHEET),
)

# --- steps ---
STEP_OUTSIDE_RULES = Trap(
    9, "step-outside-rules", STOP, "The step rules in force, each from its own source [practice].", OFFICE,
    (FOOTING_SHEET, OFFICIAL),
)
SLOPE_NOT_STEPPED = Trap(
    10, "footing-slope", STOP,
    "IRC 2024 R403.1.5 [read]: the bottom of a footing slopes at most 1 in 10, else it is stepped.", OFFICE,
    (FOOTING_SHEET, OFFICIAL),
)
THIN_LEG = Trap(
    11, "thin-leg", WARN,
    "CMHC [read]: a step's leg is at least 150 mm thick, as wide as the footing, poured with the step.", OFFICE,
)
BARS_STOP = Trap(
    11, "bars-not-through", WARN,
    "Bars by the list of engineer or plan are carried through every step [practice].", ENGINEER,
)

# --- digging and footings beside each other ---
INSIDE_LINE = Trap(
    12, "inside-1-to-1-line", WARN,
    "Separate footings stay outside a 45° line from the other's bottom edge; 2 to 1 for design [practice].", OFFICE,
)
LOOSE_STEP = Trap(
    12, "step-in-loose-soil", NOTE,
    "A step's own leg is cast against its bench and carries it; over-dug in class C soil it does not [practice].",
    BUILDER,
)
OVER_DIG = Trap(
    13, "footing-over-dig", STOP,
    "A footing beside the basement's dig goes down to undisturbed soil, or an engineer carries it over [practice].",
    ENGINEER, (FOOTING_SHEET, OFFICIAL),
)
BESIDE_DIG = Trap(
    13, "footing-beside-dig", STOP,
    "A footing beside the basement's dig goes down to undisturbed soil, or an engineer carries it over [practice].",
    OFFICE, (FOOTING_SHEET,),
)
TRENCH_BELOW = Trap(
    21, "dig-inside-45-line", STOP,
    "Nothing is dug inside a 45° line from a footing's bottom edge [practice].", ENGINEER,
    (FOOTING_SHEET, STAGE_SHEET),
)
DEEP_DIG = Trap(
    41, "deep-dig", STOP,
    "OSHA 1926.651–652 [read]: ladder from 4 ft, protection from 5 ft; slopes A 3/4:1, B 1:1, C 1 1/2:1 to 20 ft. "
    "An agency memo of 30 June 1995 [read] relaxes house basements under listed conditions; it is not applied here.",
    BUILDER, (STAGE_SHEET,),
)
VERY_DEEP_DIG = Trap(
    41, "dig-over-20-ft", STOP, "OSHA 1926.652 [read]: protection of a dig deeper than 20 ft is an engineer's.",
    ENGINEER, (STAGE_SHEET,),
)
PIPE_THROUGH_FOOTING = Trap(
    42, "pipe-through-footing", WARN, "No sleeve, pipe or drain passes through or under a footing [practice].",
    ENGINEER,
)

# --- walls ---
BACKFILL_EARLY = Trap(
    18, "backfill-before-support", STOP,
    "IRC 2024 R404.1.1 [read]: more than 48 in of unbalanced fill without permanent support of top or bottom "
    "→ engineer.", ENGINEER, (STAGE_SHEET,),
)
TALL_WALL = Trap(
    19, "wall-over-10-ft", STOP, "Concrete taller than 10 ft is outside the simple wall [practice].", ENGINEER,
    (WALL_SHEET, OFFICIAL),
)
UNDER_GARAGE_FILL = Trap(
    19, "wall-under-garage-fill", STOP,
    "A wall that holds a garage's fill is outside the simple wall [practice]; IRC 2015 R404.4 [read]: over 24 in "
    "with other lateral load → design.", ENGINEER, (WALL_SHEET, OFFICIAL),
)
BELOW_FLOOR = Trap(
    19, "wall-below-floor", STOP,
    "Concrete that stops below the floor on a filled side has nothing to lean on [practice].", ENGINEER,
    (WALL_SHEET, OFFICIAL),
)
RETAINING = Trap(
    19, "retaining-wall", STOP,
    "IRC 2015 R404.4 [read]: over 48 in of unbalanced fill without top support, or over 24 in with other "
    "lateral load → design.", ENGINEER, (WALL_SHEET, OFFICIAL),
)
STEEP_SLOPE = Trap(
    19, "steep-slope-near", STOP,
    "IRC R403.1.7 text [read]: a slope steeper than 1 in 3 nearby asks for a setback (numbers [memory]).", ENGINEER,
    (FOOTING_SHEET, OFFICIAL),
)
UNEQUAL_WALLS = Trap(
    19, "unequal-walls", STOP,
    "Opposite walls that are loaded unequally push the house sideways: outside the simple wall [practice].", ENGINEER,
    (WALL_SHEET, OFFICIAL),
)
DEEP_FILL = Trap(
    22, "slab-on-deep-fill", WARN, "A slab bears on at most 2 ft of fill inside the walls [practice].", OFFICE,
)
LEDGE_OVER_FILL = Trap(
    22, "ledge-over-fill", WARN,
    "A slab hangs on its ledge while more than 2 ft of fill beside it settles [practice].", OFFICE,
)
LEDGE_MISFIT = Trap(
    23, "ledge-does-not-fit", STOP,
    "Foam and bearing fill the ledge; IRC R404.1 [read second-hand]: the wall left over is not thinner than the "
    "wall it carries (4 in only for a veneer shelf [practice]).", OFFICE, (WALL_SHEET,),
)
BARE_LEDGE = Trap(
    24, "slab-on-bare-ledge", WARN, "Concrete that bears on a bare ledge bypasses the edge foam [practice].", BUILDER,
)
OPENING_AT_CHANGE = Trap(
    42, "opening-at-height-change", WARN,
    "A crack starts at an opening's corner where the wall changes height: keep 12 in between [practice].", ENGINEER,
)

# --- foam ---
STARVED = Trap(
    15, "foam-starves-footing", STOP,
    "A footing above the frost line lives on the building's heat, which foam under the slab cuts off [practice]; "
    "IRC 2024 R403.3 [read]: frost-protected shallow footings need their own foam.", OFFICE,
    (FOOTING_SHEET, FOAM_SHEET, OFFICIAL),
)
EDGE_BARE = Trap(
    25, "edge-left-bare", STOP,
    "IECC/IRC N1102 [read]: the edge of a slab less than 12 in below grade is insulated to the office's R; deeper it "
    "is a basement wall.", OFFICE, (FOAM_SHEET, OFFICIAL),
)
BASEMENT_WALL_BARE = Trap(
    25, "basement-wall-short-of-r", STOP,
    "IECC/IRC N1102 [read]: a basement wall's foam runs from its top to the floor, at most 10 ft below grade; the "
    "office gives its R.", OFFICE, (FOAM_SHEET, OFFICIAL),
)
LINE_BROKEN = Trap(
    26, "insulation-line-broken", WARN,
    "A pencil traces the insulation from the framed wall to the floor without lifting [practice].", BUILDER,
)
SLAB_THROUGH = Trap(
    27, "slab-through-door", WARN,
    "Concrete in one with the slab through an overhead door carries the heat out [practice].", BUILDER,
)
WHEELS_ON_FOAM = Trap(
    27, "wheels-on-foam-break", WARN,
    "Wheels crush a foam break that nothing covers: 2,000 lb on 20 in² (IRC Table R301.5 [memory]).", BUILDER,
)
HEATED_SLAB_SHORT = Trap(
    28, "heated-slab-short-of-r", STOP,
    "A heated slab has R-5 under the whole of it besides its edge (IECC/IRC N1102 [memory]); the office gives its R.",
    OFFICE, (FOAM_SHEET, OFFICIAL),
)
WEAK_FOAM = Trap(
    29, "foam-too-weak", WARN,
    "Foam carries at most a third of its strength standing, a fifth under wheels and people (design guides [read]).",
    ENGINEER,
)
FOAM_UNDER_FOOTING = Trap(
    30, "foam-under-footing", STOP, "No foam under a footing without an engineer [practice].", ENGINEER,
    (FOOTING_SHEET, FOAM_SHEET, OFFICIAL),
)
LABEL_IN_GROUND = Trap(
    31, "label-r-in-ground", WARN,
    "Foam in wet ground keeps less than its label says (design guides [memory], measured [read]); a film or a wrap has "
    "no R of its own [practice].", OFFICE,
)
COUNTED_TWICE = Trap(
    31, "foam-counted-twice", WARN, "One layer of foam counts once [practice].", BUILDER,
)

# --- stages and sheets ---
COLD_POUR = Trap(
    37, "cold-pour", STOP, "ACI 306 [read]: below 40 °F protect; no placing on frozen ground.", BUILDER,
    (STAGE_SHEET,),
)
MIXED_REVISIONS = Trap(
    39, "sheets-of-different-revisions", STOP, "Everybody works from sheets of one revision [practice].", BUILDER,
    (LAYOUT, FOOTING_SHEET, WALL_SHEET, STAGE_SHEET, OFFICIAL, CLIENT),
)
WEAK_MIX = Trap(
    43, "weak-mix", NOTE,
    "IRC Table R402.2 [read], severe weathering: exposed walls 3,000 psi, garage slab and steps 3,500 psi, air 5–7 %; "
    "office and plant decide.", OFFICE,
)
HEATERS = Trap(
    44, "temporary-heaters", NOTE,
    "Heaters in a closed basement need fresh air; wet concrete burns; cutting makes silica dust [practice].", BUILDER,
)
# fmt: on


def all_traps() -> tuple[Trap, ...]:
    """Every entry of the register.

    Returns
    -------
    tuple of Trap
        By number.
    """
    entries = [thing for thing in globals().values() if isinstance(thing, Trap)]
    return tuple(sorted(entries, key=lambda trap: trap.number))
