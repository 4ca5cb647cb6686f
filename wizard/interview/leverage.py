"""Which open question would change the verdict most: found by assessing again with each other answer it could have."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING

from calc.brief import Brief
from calc.unit_format import format_length, format_money
from wizard.interview import engine
from wizard.interview.answers import Answer, Answers
from wizard.interview.question import Kind, Question
from wizard.interview.reading import Problems, as_text
from wizard.interview.to_brief import to_brief

if TYPE_CHECKING:
    from calc.assess import Assessment

# How much of each counts as one step of change. Common practice, no source: 3 dB is a difference one just hears, 1 in of ceiling one
# just notices; a twentieth of the budget one has to find; a stop outweighs them all.
STEP_LEVEL = 3.0  # dB
STEP_HEIGHT = 0.0254  # m
STEP_MONEY = 0.05  # of the budget
STEPS_STOP = 10.0
STEPS_CAUTION = 0.5
SCHEDULE_ONLY = frozenset({"currency", "hours_per_week", "helpers", "start"})  # move the calendar and words, not the verdict
LEAST = 1.0  # a smaller change is not worth a sentence
GREAT = STEPS_STOP  # as much as a stop weighs: once every topic was asked about, nothing greater is looked for
SECONDS = 6.0  # of search; whoever waits longer has answered something meanwhile


@dataclass(frozen=True)
class Leverage:
    """``score`` is the change in steps; ``text`` the other answer that makes it; ``helps``: it does so towards a target that is missed,
    or no target is."""

    question: Question
    sentence: str
    score: float
    text: str
    helps: bool = True


@dataclass(frozen=True)
class _Outcome:
    stops: frozenset[str]
    stop_titles: tuple[tuple[str, str], ...]
    cautions: frozenset[str]
    margin: float | None
    listener: str
    slack: float
    cost: float


def most_telling(answers: Answers, assess: Callable[[Brief], Assessment], seconds: float = SECONDS) -> Leverage | None:
    """The open, defaulted or unknown question whose other answers move the verdict most; None when none moves it by a step.

    Where a target is missed, one that helps goes before any that does not: nobody should be sent to make things worse.
    ``assess`` may raise its own exception to break the search off; after ``seconds`` of it the best found so far is returned, and so is one
    that moves the verdict by ``GREAT`` once every topic was asked about. Raises Problems when the answers make no brief yet.
    """
    left = seconds
    brief = to_brief(answers)
    before = _outcome(assess(brief))
    best: Leverage | None = None
    pairs = list(_candidates(answers))
    topics, asked = {item.topic for item, _ in pairs}, set[str]()
    for item, text in pairs:
        if left < 0.0 or (best is not None and best.helps and best.score >= GREAT and asked == topics):
            break
        asked.add(item.topic)
        begun = time.thread_time()
        after = _with(answers, item, text, assess)
        left -= time.thread_time() - begun
        if after is None:
            continue
        score, helps = _score(before, after, brief.means.budget), _helps(before, after)
        if score >= LEAST and (best is None or (helps, score) > (best.helps, best.score)):
            best = Leverage(item, _sentence(item, text, before, after, answers), score, text, helps)
    return best


def alternatives(item: Question, answers: Answers) -> tuple[str, ...]:
    """The other answers worth trying: every other choice, or the ends of what is usual."""
    values = engine.values_of(answers)
    now = values.value(item.id)
    if item.kind is Kind.MULTI:
        return ()
    if item.kind is Kind.CHOICE:
        return tuple(choice.id for choice in item.choices if choice.id != now)
    if item.typical is None:
        return ()
    ends = sorted(item.typical, key=lambda end: abs(end - now) if isinstance(now, float) else 0.0, reverse=True)
    return tuple(as_text(item, end, answers.units) for end in ends if end != now)


def _candidates(answers: Answers) -> Iterator[tuple[Question, str]]:
    """One alternative of every question, then the second of each, and so on.

    The unknown come first: these are what the person could find out. Then the topics take turns, so that a search cut short has asked
    about each of them.
    """
    items = [
        item
        for item in engine.applicable(answers)
        if item.default is not None and item.id not in SCHEDULE_ONLY and engine.state(item, answers) != "answered"
    ]
    turn = {item.id: sum(other.topic == item.topic for other in items[:place]) for place, item in enumerate(items)}
    items.sort(key=lambda item: (engine.state(item, answers) != "unknown", turn[item.id]))
    for pairs in zip_longest(*([(item, text) for text in alternatives(item, answers)] for item in items)):
        yield from (pair for pair in pairs if pair is not None)


def _with(answers: Answers, item: Question, text: str, assess: Callable[[Brief], Assessment]) -> _Outcome | None:
    """The outcome with another answer; None where it contradicts the rest or cannot be worked out."""
    try:
        return _outcome(assess(to_brief(answers.with_answer(item.id, Answer(text)))))
    except (Problems, ValueError, ArithmeticError, LookupError):
        return None


def _outcome(assessment: Assessment) -> _Outcome:
    index = assessment.isolation.most_critical
    critical = assessment.isolation.listeners[index] if index is not None else None
    return _Outcome(
        stops=frozenset(finding.rule for finding in assessment.stops),
        stop_titles=tuple((finding.rule, finding.title) for finding in assessment.stops),
        cautions=frozenset(finding.rule for finding in assessment.cautions),
        margin=critical.margin if critical else None,
        listener=critical.listener.label if critical else "",
        slack=assessment.headroom.binding.margin,
        cost=assessment.bill.total,
    )


def _score(before: _Outcome, after: _Outcome, budget: float) -> float:
    margin = abs(after.margin - before.margin) / STEP_LEVEL if after.margin is not None and before.margin is not None else 0.0
    return (
        STEPS_STOP * len(before.stops ^ after.stops)
        + STEPS_CAUTION * len(before.cautions ^ after.cautions)
        + margin
        + abs(after.slack - before.slack) / STEP_HEIGHT
        + abs(after.cost - before.cost) / (STEP_MONEY * budget)
    )


def _quieter(before: _Outcome, after: _Outcome) -> float:
    """By how much the most critical listener comes nearer to the target [dB]."""
    return after.margin - before.margin if after.margin is not None and before.margin is not None else 0.0


def _worse(before: _Outcome, after: _Outcome) -> bool:
    return bool(after.stops - before.stops) or _quieter(before, after) <= -STEP_LEVEL / 2 or after.slack < min(before.slack, 0.0)


def _helps(before: _Outcome, after: _Outcome) -> bool:
    """Whether a target that is missed comes nearer, and nothing else is lost; true where none is missed."""
    loud, low = before.margin is not None and before.margin < 0.0, before.slack < 0.0
    if not (before.stops or loud or low):
        return True
    quieter = loud and _quieter(before, after) >= STEP_LEVEL / 2
    higher = low and after.slack - before.slack >= STEP_HEIGHT / 2
    return not _worse(before, after) and (quieter or higher or bool(before.stops - after.stops))


def _sentence(item: Question, text: str, before: _Outcome, after: _Outcome, answers: Answers) -> str:
    said = item.label(text) if item.choices else text
    risk = not _helps(before, after) and _worse(before, after)
    what = "is the greatest risk of what is open" if risk else "would change this most"
    return f"“{item.title}” {what}: if it is “{said}”, {' and '.join(_effects(before, after, answers)[:2])}."


def _effects(before: _Outcome, after: _Outcome, answers: Answers) -> list[str]:
    """What changes, in words, the gravest first."""
    currency = engine.values_of(answers).word("currency")
    out: list[str] = []
    new = [title for rule, title in after.stop_titles if rule not in before.stops]
    gone = [title for rule, title in before.stop_titles if rule not in after.stops]
    out += [f"a stop appears ({new[0]})"] if new else []
    out += [f"a stop goes away ({gone[0]})"] if gone else []
    if after.margin is not None and before.margin is not None and abs(after.margin - before.margin) >= STEP_LEVEL / 2:
        word = "quieter" if after.margin > before.margin else "louder"
        out.append(f"it is {abs(after.margin - before.margin):.0f} dB {word} against its target at the {after.listener}")
    if abs(after.slack - before.slack) >= STEP_HEIGHT / 2:
        word = "more" if after.slack > before.slack else "less"
        out.append(f"the ceiling has {format_length(abs(after.slack - before.slack), answers.units)} {word} over its limit")
    if round(after.cost) != round(before.cost):
        word = "more" if after.cost > before.cost else "less"
        out.append(f"it costs {format_money(abs(after.cost - before.cost), currency)} {word}")
    return out or ["the list of cautions changes"]
