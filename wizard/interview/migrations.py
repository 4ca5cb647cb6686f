"""From an older schema of the answers file to today's, one step a schema.

To change the form of the file: raise SCHEMA, and add to MIGRATIONS what turns the schema before into it. A migration changes the
document in place; it gets plain data when a file is read, and tomlkit's document, which keeps remarks, when it is written again.
The file on the disk stays in its old form, also in the history, until something is saved.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping
from typing import Any

Document = MutableMapping[str, Any]
Migration = Callable[[Document], None]

SCHEMA = 1
MIGRATIONS: dict[int, Migration] = {}  # the schema it starts from: what makes it one higher


def migrate(document: Document, schema: int, to: int, migrations: Mapping[int, Migration]) -> None:
    """Raises KeyError where a step is missing."""
    for number in range(schema, to):
        migrations[number](document)
        document["schema"] = number + 1


def rename_answer(document: Document, old: str, new: str) -> None:
    """A question got another id. An answer that stands under the new one already wins."""
    answers = document.get("answers")
    if isinstance(answers, MutableMapping) and old in answers:
        value = answers.pop(old)
        answers.setdefault(new, value)
