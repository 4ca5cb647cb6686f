"""Our own commands in the command palette: every question that applies, by its words."""

from __future__ import annotations

from asyncio import sleep
from functools import partial

from textual.command import Hit, Hits, Provider

from wizard.interview import engine
from wizard.session import topic_label

LEAST = 0.01  # the score of words that stand in another order


class QuestionCommands(Provider):
    """On the screen of an interview: "Go to" each question."""

    async def search(self, query: str) -> Hits:
        from wizard.screens.interview import Interview

        if not isinstance(self.screen, Interview):
            return
        matcher, answers, words = self.matcher(query), self.screen.answers, query.casefold().split()
        for question in engine.applicable(answers):
            text = f"Go to: {topic_label(question.topic)}, {question.title}"
            if all(word in text.casefold() for word in words):  # to weigh every question for every letter would hold up the typing
                await sleep(0)
                about = f"{engine.state(question, answers)}. {question.text}"
                score = matcher.match(text) or LEAST
                yield Hit(score, matcher.highlight(text), partial(self.screen.go_to, question.id), text=text, help=about)
