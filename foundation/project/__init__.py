"""The inputs: schema, reading, saving, and what was left out."""

from foundation.project.assumptions import Assumption, assumptions
from foundation.project.blank import FIRST_ENTRIES, blank
from foundation.project.check import check
from foundation.project.schema import Initials, Project
from foundation.project.store import Job, ProjectError, load, read_document, save, set_value

__all__ = [
    "FIRST_ENTRIES",
    "Assumption",
    "Initials",
    "Job",
    "Project",
    "ProjectError",
    "assumptions",
    "blank",
    "check",
    "load",
    "read_document",
    "save",
    "set_value",
]
