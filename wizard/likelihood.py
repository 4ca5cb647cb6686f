"""A likelihood in words that a person can bet on."""

from __future__ import annotations

ALMOST_CERTAIN = "almost certain"
# The least likelihood of each step. A likelihood is called by the step it reaches, never by the next one up.
STEPS = (
    (9 / 10, "9 in 10"),
    (4 / 5, "4 in 5"),
    (2 / 3, "2 in 3"),
    (1 / 2, "an even bet"),
    (1 / 3, "1 in 3"),
    (1 / 5, "1 in 5"),
    (1 / 10, "1 in 10"),
)
HAIR = 1e-9  # keeps a third that was computed as 0.33333 from falling a step


def in_few_words(likelihood: float) -> str:
    """A likelihood by the highest step it reaches: finer steps would claim what nobody knows. Raises ValueError outside 0..1."""
    if not 0.0 <= likelihood <= 1.0:
        raise ValueError(f"a likelihood lies between 0 and 1, not at {likelihood}")
    if likelihood > 19 / 20:
        return ALMOST_CERTAIN
    return next((words for least, words in STEPS if likelihood >= least - HAIR), "very unlikely")


def in_words(likelihood: float) -> str:
    """The same, with what the strongest word means."""
    words = in_few_words(likelihood)
    return f"{words} (more than 19 in 20)" if words == ALMOST_CERTAIN else words
