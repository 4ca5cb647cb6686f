"""Our own commands in the command palette: every question that applies, by its words."""

from __future__ import annotations

from asyncio import sleep
from functools import partial

from textual.command import Hit, Hits, Provider

from wizard.interview import engine
from wizard.interview.searching import best_first
from wizard.session import topic_label

WEIGHT = 4.0  # of one letter of a hit that begins a title; the palette's own commands get 3 and a little more where they fit
STEP = 0.001  # keeps equal hits in the order of the questions


class QuestionCommands(Provider):
    """On the screen of an interview: "Go to" each question."""

    async def search(self, query: str) -> Hits:
        from wizard.screens.interview import Interview

        if not isinstance(self.screen, Interview):
            return
        answers = self.screen.answers
        found = best_first(engine.applicable(answers), query, lambda question: (topic_label(question.topic),))
        matcher = self.matcher(query)
        for number, (place, question) in enumerate(found):
            await sleep(0)
            text = f"Go to: {topic_label(question.topic)}, {question.title}"
            about = f"{engine.state(question, answers)}. {question.text}"
            score = len(query) * WEIGHT / (1 + place) - number * STEP
            yield Hit(score, matcher.highlight(text), partial(self.screen.go_to, question.id), text=text, help=about)
