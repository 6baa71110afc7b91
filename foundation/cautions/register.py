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
FOAM_SHEET, FLOOR_SHEET = "foam", "floors"

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

# --- warm floors ---
DOWNWARD_LOSS = Trap(
    28, "downward-loss", NOTE,
    "Some designers aim at a downward loss of no more than a tenth of what the floor gives [practice].", BUILDER,
)
RETARDER = Trap(
    32, "vapor-retarder", NOTE,
    "IRC R506 [read]: a vapor retarder of 6 mil with 6 in laps under the slab; whether a panel's film counts is the "
    "office's matter.", OFFICE,
)
FLOOR_TOO_HOT = Trap(
    33, "floor-too-hot", STOP,
    "EN 1264-2 and ISO 11855 [read]: floors are at most 29 °C (84 °F) where people stay, 35 °C (95 °F) at the edge, "
    "33 °C (91 °F) in a bath.", BUILDER, (FLOOR_SHEET, CLIENT),
)
FLOOR_FALLS_SHORT = Trap(
    33, "floor-falls-short", WARN,
    "A floor carries its load within the comfort that is wished for and the water that the slab takes [practice].",
    BUILDER,
)
SAW_MEETS_TUBE = Trap(
    34, "saw-cut-meets-tube", STOP, "A saw cut stays 1/2 in above the tube [practice].", BUILDER, (FLOOR_SHEET,),
)
BEND_TOO_TIGHT = Trap(
    34, "bend-too-tight", WARN, "Tube is bent to 8 times its diameter or more [read]; other lists have 6 [memory].",
    BUILDER,
)
LOOP_TOO_LONG = Trap(
    34, "loop-too-long", WARN, "CSA B214-12 [read]: 250, 300, 400 and 500 ft for 3/8, 1/2, 5/8 and 3/4 in tube.",
    BUILDER,
)
LOOPS_UNEQUAL = Trap(
    34, "loops-unequal", WARN, "Loops of a zone are about as long as each other [practice].", BUILDER,
)
TUBE_SHALLOW = Trap(
    34, "tube-near-surface", WARN,
    "California Mechanical Code 1217.5 [read]: 2 in of concrete over the tube of a structural slab.", OFFICE,
)
GARAGE_WITH_LIVING = Trap(
    35, "garage-with-living", WARN,
    "Garage and living have a zone and a slab of their own, with foam between (IRC M2103.2.1 [read]).", BUILDER,
)
FREEZES_IN_POUR = Trap(
    36, "water-in-freezing-weather", STOP, "No water stands in tube that may freeze [practice].", BUILDER,
    (FLOOR_SHEET, STAGE_SHEET),
)
NO_PRESSURE = Trap(
    36, "no-pressure-in-pour", STOP,
    "IRC 2018 M2103.4 [read]: at least 100 psi for 30 minutes before the pour; held during it [practice].", BUILDER,
    (FLOOR_SHEET, STAGE_SHEET),
)
AIR_NOT_ALLOWED = Trap(
    36, "air-test-not-allowed", STOP,
    "IRC 2018 M2101.10 exception [read]: plastic tube is tested with air only where its maker and the office allow it.",
    OFFICE, (FLOOR_SHEET, STAGE_SHEET),
)
AIR_TEST = Trap(
    36, "air-test-hazard", NOTE, "Compressed air stores what water does not [practice].", BUILDER,
)
TEST_OPEN = Trap(
    36, "pressure-test-open", NOTE,
    "IRC 2018 M2103.4 [read]: at least 100 psi for 30 minutes before the pour.", BUILDER,
)
NO_BARRIER = Trap(
    46, "no-oxygen-barrier", WARN, "Tube of plastic lets oxygen through unless it has a barrier [practice].", BUILDER,
)
BARRIER_OPEN = Trap(
    46, "oxygen-barrier-open", NOTE, "Tube of plastic lets oxygen through unless it has a barrier [practice].", BUILDER,
)
WATER_TOO_HOT = Trap(
    47, "water-too-hot", WARN, "Water in a cement slab is at most 55 °C, 131 °F (EN 1264-4 [memory]).", BUILDER,
)
SCALD = Trap(
    47, "scald", NOTE, "Metal that people can touch is no hotter than 120 °F [practice].", BUILDER,
)
TWO_SUPPLIES = Trap(
    48, "two-supply-temperatures", NOTE, "One mixing valve gives one supply temperature [practice].", BUILDER,
)
FLUID_FREEZES = Trap(
    49, "fluid-freezes", WARN,
    "Slabs that may get cold are filled with a mixture that does not freeze (Lange's Handbook 15th ed. Table 5.13 "
    "[read]).", BUILDER,
)
NO_THERMAL_BREAK = Trap(
    50, "no-thermal-break", WARN,
    "IRC M2103.2.1 [read]: a thermal break where a heated slab meets a wall or another slab.", OFFICE,
)
FIRST_HEAT = Trap(
    51, "first-heat", NOTE,
    "Concrete cures before heat runs, 28 days [practice]; then 25 °C for three days (EN 1264-4 [memory]).", BUILDER,
)

# --- money ---
DRAIN_STUCK = Trap(
    20, "drain-cannot-run-out", WARN, "A footing drain runs to daylight below its low corner, or to a pump [practice].",
    BUILDER,
)
DRAIN_FLAT = Trap(
    20, "drain-too-flat", WARN, "A footing drain falls at least 1/8 in/ft on its way out [practice].", BUILDER,
)
DRAIN_HIGH = Trap(
    20, "drain-above-slab", WARN,
    "A footing drain lies below the slab that it keeps dry (IRC R405.1 [memory]).", OFFICE,
)
WATER_NEAR = Trap(
    20, "water-near-slab", WARN, "Ground water stays at least 3 ft under a slab [practice].", OFFICE,
)
STALE_PRICE = Trap(
    38, "price-stale", NOTE, "A quote holds for 90 days [practice].", BUILDER,
)
ONE_FUEL_PRICE = Trap(
    38, "payback-on-one-price", NOTE, "Nobody knows a fuel's price in years: a payback is a range [practice].", BUILDER,
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
