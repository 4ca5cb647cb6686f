"""Every question as data and as text: what ``stillroom questions`` prints."""

from __future__ import annotations

from typing import Any

from calc.units import IMPERIAL, METRIC
from wizard.interview.answers import Answers
from wizard.interview.bounds import ends
from wizard.interview.engine import QUESTIONS, shown_value, topic_label
from wizard.interview.question import Question

DEPENDS = "depends on other answers"


def as_objects() -> list[dict[str, Any]]:
    """An object a question, in the order they are asked."""
    return [_object(item) for item in QUESTIONS]


def as_lines() -> list[str]:
    """A block of lines a question."""
    lines: list[str] = []
    topic = ""
    for item in QUESTIONS:
        if item.topic != topic:
            topic = item.topic
            lines += ["", f"## {topic_label(topic)}"] if lines else [f"## {topic_label(topic)}"]
        lines += _block(item)
    return lines


def _object(item: Question) -> dict[str, Any]:
    return {
        "id": item.id,
        "topic": item.topic,
        "title": item.title,
        "question": item.text,
        "why": item.why,
        "how": item.how,
        "kind": item.kind.value,
        "unit": {IMPERIAL: item.unit.imperial, METRIC: item.unit.metric} if item.unit and item.unit.imperial else None,
        "range": {system: _range(item, system) for system in (IMPERIAL, METRIC)} if item.low is not None else None,
        "choices": [{"id": choice.id, "label": choice.label} for choice in item.choices],
        "default": {system: _default(item, system) for system in (IMPERIAL, METRIC)},
        "unknown": item.unknown.cost if item.unknown else None,
        "applies": item.when,
        "first": item.first,
        "required": item.default is None,
    }


def _range(item: Question, system: str) -> list[str | None]:
    return [end or None for end in ends(item, system)]


def _default(item: Question, system: str) -> str | None:
    if item.default is None:
        return None
    if callable(item.default):
        return DEPENDS
    if isinstance(item.default, tuple):
        return ", ".join(item.default)
    if isinstance(item.default, str):
        return item.default if item.choice(item.default) else "?"
    return shown_value(item, item.default, Answers(units=system))


def _block(item: Question) -> list[str]:
    lines = [f"{item.id}{' (needed)' if item.default is None else ''}: {item.text}"]
    if item.choices:
        many = "one or more of" if item.kind.value == "multi" else "one of"
        lines += [f"    {many}: " + "; ".join(f"{choice.id} ({choice.label})" for choice in item.choices)]
    elif item.low is not None:
        low, high = _range(item, IMPERIAL)
        metric_low, metric_high = _range(item, METRIC)
        metric = "" if (low, high) == (metric_low, metric_high) else f" ({metric_low} to {metric_high})"
        lines += [f"    {item.kind.value}: {low} to {high}{metric}"]
    if item.default is not None:
        lines += [f"    default: {_default(item, IMPERIAL)}"]
    if item.unknown:
        lines += [f"    don't know: {item.unknown.cost}"]
    if item.when != "always":
        lines += [f"    asked when {item.when}"]
    return lines
