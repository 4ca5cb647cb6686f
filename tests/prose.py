"""What tests of language need: the prose of a Markdown text, section by section, its sentences, words and reading grade."""

from __future__ import annotations

import re
from collections.abc import Iterator

FENCE = re.compile(r"^```.*?^```", re.DOTALL | re.MULTILINE)
NOT_PROSE = re.compile(r"^(?:\||#|!\[|```| {3}Answer:|Answer:|Written by|Date:|Project:|- Uses: |Name, licence|\*\*Assumed)")
LINK = re.compile(r"\[([^\]]*)\]\([^)]*\)")
MARK = re.compile(r"^(?:[-*] |\d+\. )+")
SENTENCE_END = re.compile(r"(?<=[.!?])[*”\"]*\s+(?=[*“\"]*[A-Z0-9])")
WORD = re.compile(r"[A-Za-zé]+(?:['’-][A-Za-z]+)*")
SOURCE = re.compile(r"Source: .*")


def sections(text: str) -> dict[str, str]:
    """The text under each second-level heading."""
    parts = re.split(r"(?m)^## (.*)$", text)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def sentences(text: str) -> list[str]:
    """The sentences of a text's paragraphs and lists. What is no prose is left out: tables, headings, drawings, code, lists of goods, and
    what stands in brackets (a source, or a size in the other system)."""
    return [sentence for line in FENCE.sub("", text).splitlines() if not NOT_PROSE.match(line) for sentence in _of_line(line)]


def _of_line(line: str) -> Iterator[str]:
    line = SOURCE.sub("", LINK.sub(r"\1", MARK.sub("", line.strip())))
    while (less := re.sub(r"\s*\([^()]*\)", "", line)) != line:
        line = less
    for sentence in SENTENCE_END.split(re.sub(r"[*`_\\]", "", line)):
        if WORD.search(sentence):
            yield sentence.strip()


def words(sentence: str) -> list[str]:
    return WORD.findall(sentence)


def syllables(word: str) -> int:
    """Groups of vowels, more where two vowels are spoken apart, less where an e is silent. A rule of thumb (common practice, no source)."""
    return max(1, sum(_spoken(part) for part in re.split(r"['’-]", word.lower()) if part))


def _spoken(part: str) -> int:
    part = re.sub(r"(?<=[^aeiouy])e(?=(?:ment|ments|ly|less|ful|where|one)$)", "", part)
    if not part.endswith(("ses", "zes", "ces", "ges", "xes", "shes", "ches", "ted", "ded")):
        part = re.sub(r"(?<=[^aeiouy])e[sd]$", "", part)
    silent = len(part) > 2 and part.endswith("e") and not re.search(r"[^aeiouy][lr]e$|[ey]e$", part)
    apart = re.findall(r"(?<![tcsg])i[ao]|ie(?=t)|rea(?=[$t])|dea|rea$|eo(?!p)|(?<![qg])ua", part)
    return len(re.findall(r"[aeiouy]+", part)) + len(apart) - silent


def grade(text_sentences: list[str]) -> float:
    """Flesch-Kincaid grade level. Source: Kincaid, Fishburne, Rogers and Chissom, Derivation of new readability formulas for Navy
    enlisted personnel, Research Branch Report 8-75, 1975."""
    told = [words(each) for each in text_sentences]
    count = sum(len(each) for each in told)
    spoken = sum(syllables(word) for each in told for word in each)
    return 0.39 * count / len(told) + 11.8 * spoken / count - 15.59
