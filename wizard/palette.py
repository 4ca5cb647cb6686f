"""Our own commands in the command palette: every question that applies, by its words."""

from __future__ import annotations

from functools import partial

from textual.command import Hit, Hits, Provider

from wizard.interview import engine
from wizard.session import topic_label


class QuestionCommands(Provider):
    """On the screen of an interview: "Go to" each question."""

    async def search(self, query: str) -> Hits:
        from wizard.screens.interview import Interview

        if not isinstance(self.screen, Interview):
            return
        matcher, answers = self.matcher(query), self.screen.answers
        for question in engine.applicable(answers):
            text = f"Go to: {topic_label(question.topic)}, {question.title}"
            score = matcher.match(text)
            if score > 0.0:
                about = f"{engine.state(question, answers)}. {question.text}"
                yield Hit(score, matcher.highlight(text), partial(self.screen.go_to, question.id), text=text, help=about)
