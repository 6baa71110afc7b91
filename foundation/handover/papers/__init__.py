"""Papers: one PDF for each reader and one set, drawn to true scales and set from data by Typst."""

from foundation.handover.papers.making import READERS, make_papers

__all__ = ["READERS", "make_papers"]
