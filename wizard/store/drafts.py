"""What was typed at a question and not taken, kept beside the answers: an unfinished line outlives the session."""

from __future__ import annotations

from collections.abc import Mapping

LONGEST = 200  # characters of a line, as the field takes them


def write_drafts(drafts: Mapping[str, str]) -> bytes:
    """The file's bytes."""
    import json

    return json.dumps(dict(sorted(drafts.items())), ensure_ascii=True, indent=0).encode("ascii")


def read_drafts(data: bytes, ids: frozenset[str]) -> dict[str, str]:
    """The lines by question id; those of no question and those of another kind are left out. Raises ValueError for what is no JSON."""
    import json

    found = json.loads(data)
    if not isinstance(found, dict):
        raise ValueError("not a table of lines")
    return {id: text for id, text in found.items() if id in ids and isinstance(text, str) and 0 < len(text) <= LONGEST}
