"""The register: every trap with its rule, source and mark, and who decides."""

from __future__ import annotations

from foundation.model.caution import Severity, Trap

OFFICE = "the local office"
ENGINEER = "a licensed engineer"
BUILDER = "the builder"

LAYOUT, FOOTING_SHEET, OFFICIAL = "layout", "footings", "official"

MARK_NOT_CHECKED = Trap(
    1, "benchmark-not-checked", Severity.STOP,
    "Levels are carried from a mark checked against a second one [practice].", BUILDER, (LAYOUT,),
)  # fmt: skip
FROST_UNSOURCED = Trap(
    6, "frost-depth-unsourced", Severity.STOP,
    "IRC 2024 R301.2, R403.1.4.1 [read]: the frost line is the local table's.", OFFICE, (FOOTING_SHEET, OFFICIAL),
)  # fmt: skip
COVER_SHORT = Trap(
    6, "frost-cover-short", Severity.STOP,
    "IRC 2024 R403.1.4.1 [read]: footings stand below the frost line, or are frost-protected, or on rock.",
    OFFICE, (LAYOUT, FOOTING_SHEET, OFFICIAL),
)  # fmt: skip
FROST_FROM_SIDE = Trap(
    8, "frost-from-the-side", Severity.WARN,
    "Nearest air at least frost depth × cos(slope) − 1 in [practice].", OFFICE,
)  # fmt: skip
NO_FINISHED_GRADE = Trap(
    7, "no-finished-grade", Severity.WARN,
    "Frost cover is taken from the lowest adjacent finished grade [practice].", OFFICE,
)  # fmt: skip
ROD_TOO_LONG = Trap(
    1, "rod-too-long", Severity.NOTE,
    "A level below the rod's reach is read from a turning point (surveying texts [read]).", BUILDER,
)  # fmt: skip
