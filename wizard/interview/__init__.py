"""Questions as data, and the engine that asks them. No Textual here."""
