"""What is slow to import stays out of the way to the first page."""

from __future__ import annotations

import subprocess
import sys

SLOW = (
    *("numpy", "scipy", "pint", "jinja2", "psychrolib", "rich.markdown"),
    *("calc.assess", "calc.choose", "wizard.render", "wizard.preview", "wizard.interview.leverage"),
    *("matplotlib", "tomlkit", "filelock", "importlib.resources", "calc.brief"),  # each a few hundredths of the bare application's start
    *("wizard.backroom", "wizard.screens.interview", "wizard.interview.verdict", "wizard.screens.ask", "wizard.manual", "json"),
)


def test_the_application_is_imported_without_the_calculation() -> None:
    """In a process of its own, because other tests have loaded everything."""
    asked = f"import sys, wizard.cli, wizard.app; print(*[name for name in {SLOW!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ""
