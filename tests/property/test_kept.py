"""What is kept between two answers never shows: an assessment that uses it equals one worked out anew."""

from __future__ import annotations

import random
from threading import Thread
from typing import Any

from changes_kit import BASEMENTS, another, answers_of, change
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.assess import assess
from calc.brief import Brief
from calc.kept import Kept, forget
from calc.problem import part_cost, problem
from wizard.as_data import as_data
from wizard.interview import engine
from wizard.interview.to_brief import to_brief


def found(brief: Brief) -> Any:
    return as_data(assess(brief, explain=False))


@settings(max_examples=20)
@given(name=st.sampled_from(BASEMENTS), seed=st.integers(0, 10**6))
def test_a_changed_answer_is_assessed_as_if_it_were_the_first(name: str, seed: int) -> None:
    """Three answers one after another, each assessed on what the ones before left behind."""
    draw, answers = random.Random(seed), answers_of(name)
    found(to_brief(answers))
    for _ in range(3):
        id, text = change(answers, draw)
        answers = engine.accept(engine.question(id), text, answers)
        warm = found(to_brief(answers))
    forget()
    assert warm == found(to_brief(answers))


def test_every_question_reaches_what_depends_on_it() -> None:
    """Each question of the demo answered otherwise, from the same brief: nothing of the first brief may be taken for the second."""
    answers, draw = answers_of("demo"), random.Random("every question")
    warm = {}
    found(to_brief(answers))
    for question in engine.applicable(answers):
        text = another(question, answers, draw)
        if text:
            warm[question.id] = engine.accept(question, text, answers), text
    results = {id: found(to_brief(changed)) for id, (changed, _) in warm.items()}
    assert len(results) > 60
    for id, (changed, text) in warm.items():
        forget()
        assert results[id] == found(to_brief(changed)), f"{id} = {text}"


@settings(max_examples=20)
@given(name=st.sampled_from(BASEMENTS), seed=st.integers(0, 10**6))
def test_what_is_kept_of_costs_is_what_every_part_costs_now(name: str, seed: int) -> None:
    """Changes one after another: the choice may well stay the same where a part's cost is wrong, so each is looked at."""
    draw, answers = random.Random(seed), answers_of(name)
    for _ in range(10):
        id, text = change(answers, draw)
        answers = engine.accept(engine.question(id), text, answers)
        p = problem(to_brief(answers))
        for options in (p.lids, p.floors, p.doors, p.airs):
            assert list(options.cost) == [part_cost(p.brief, p.room, item) for item in options.items], f"{id} = {text}"  # type: ignore[arg-type]
        for kind, options in p.walls:
            assert list(options.cost) == [part_cost(p.brief, p.room, (kind, item)) for item in options.items], f"{id} = {text}"  # type: ignore[arg-type]
        assert p.common == part_cost(p.brief, p.room, None), f"{id} = {text}"


def test_no_more_is_kept_than_was_said_and_the_oldest_goes_first() -> None:
    kept: Kept[int] = Kept(2)
    worked = []

    def get(key: int) -> int:
        return kept.get(key, lambda: worked.append(key) or key)

    assert [get(1), get(2), get(1), get(3), get(1), get(2)] == [1, 2, 1, 3, 1, 2]
    assert worked == [1, 2, 3, 2]


def test_threads_may_share_what_is_kept() -> None:
    kept: Kept[int] = Kept(3)
    wrong: list[tuple[int, int]] = []

    def work(seed: int) -> None:
        draw = random.Random(seed)
        for _ in range(2000):
            key = draw.randrange(8)
            got = kept.get(key, lambda key=key: 10 * key)  # type: ignore[misc]
            if got != 10 * key:
                wrong.append((key, got))

    threads = [Thread(target=work, args=(seed,)) for seed in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong
