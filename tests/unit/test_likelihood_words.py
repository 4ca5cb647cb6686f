"""A likelihood in words never claims more than the number does."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.likelihood import STEPS, in_few_words, in_words

SAID = {"almost certain": 0.95, "very unlikely": 0.0} | {words: least for least, words in STEPS}


@pytest.mark.parametrize(
    ("likelihood", "words"),
    [
        (1.0, "almost certain (more than 19 in 20)"),
        (0.951, "almost certain (more than 19 in 20)"),
        (0.95, "9 in 10"),
        (0.899, "4 in 5"),
        (0.8, "4 in 5"),
        (0.799, "2 in 3"),
        (2 / 3, "2 in 3"),
        (0.666, "an even bet"),
        (0.5, "an even bet"),
        (0.499, "1 in 3"),
        (0.3333333333, "1 in 3"),
        (0.33, "1 in 5"),
        (0.19, "1 in 10"),
        (0.0999, "very unlikely"),
        (0.0, "very unlikely"),
    ],
)
def test_a_likelihood_is_called_by_the_step_it_has_reached(likelihood: float, words: str) -> None:
    assert in_words(likelihood) == words


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_words_never_claim_more_and_never_fall_as_the_likelihood_rises(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert SAID[in_few_words(low)] <= low + 1e-6
    assert SAID[in_few_words(low)] <= SAID[in_few_words(high)]


@pytest.mark.parametrize("likelihood", [-0.01, 1.01, float("nan")])
def test_what_is_no_likelihood_is_refused(likelihood: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        in_few_words(likelihood)
