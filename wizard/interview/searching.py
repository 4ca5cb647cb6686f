"""Which question typed words mean: the better the place where they stand, the earlier it comes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache

from wizard.interview.question import Question

# Where a word stands, the best place first.
BEGINS_TITLE, BEGINS_WORD_OF_TITLE, IN_TITLE, BEGINS_WORD_OF_TEXT, IN_TEXT, IN_WHY, ELSEWHERE = range(7)


def best_first(questions: Iterable[Question], words: str, also: Callable[[Question], tuple[str, ...]]) -> list[tuple[int, Question]]:
    """Each question that holds every typed word, in any order and case, with the place of the word that stands worst.

    ``also`` gives more words that find a question, as its state: one that is typed whole counts as a title, a part of one stands last.
    All questions, in their own order, for no words.
    """
    ranked = [(place, question) for question in questions if (place := _place(question, words.casefold(), also(question))) is not None]
    return sorted(ranked, key=lambda pair: pair[0])


def _place(question: Question, words: str, also: tuple[str, ...]) -> int | None:
    fields = _fields(question)
    if fields[0].startswith(words.strip()):
        return BEGINS_TITLE
    more = tuple(each.casefold() for each in also)
    places = [_place_of(word, fields, more) for word in words.split()]
    known = [place for place in places if place is not None]
    return max(known) if len(known) == len(places) else None


def _place_of(word: str, fields: tuple[str, str, str, str], also: tuple[str, ...]) -> int | None:
    title, text, why, choices = fields
    begins = re.compile(rf"\b{re.escape(word)}")
    if title.startswith(word) or word in also:
        return BEGINS_TITLE
    if word in title:
        return BEGINS_WORD_OF_TITLE if begins.search(title) else IN_TITLE
    if word in text:
        return BEGINS_WORD_OF_TEXT if begins.search(text) else IN_TEXT
    if word in why:
        return IN_WHY
    return ELSEWHERE if word in choices or any(word in each for each in also) else None


@cache
def _fields(question: Question) -> tuple[str, str, str, str]:
    """Title; id and question; why; choices. In small letters."""
    text = f"{question.id.replace('_', ' ')} {question.id} {question.text}"
    choices = " ".join(choice.label for choice in question.choices)
    return question.title.casefold(), text.casefold(), question.why.casefold(), choices.casefold()
