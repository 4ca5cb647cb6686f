"""Figures of the plan: an assessment in, SVG drawings out. Drawn to scale from the same numbers that the plan states."""

from wizard.figures.figure import Figure
from wizard.figures.gather import figures

__all__ = ["Figure", "figures"]
