"""The command ``stillroom``."""

from __future__ import annotations

import gc
import io
import os
import sys
from collections.abc import Sequence

FAULT = 70  # EX_SOFTWARE of sysexits.h
INTERRUPTED = 130  # as a shell says it
# Objects made before Python looks for circles of garbage among them. It looks after every 700 by itself: of what is loaded at the start
# nearly all stays, and looking took a tenth of the time to the first screen. So many small objects take some 10 MB.
GARBAGE = 100_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; the exit code, one of cli_parser.EXIT_CODES."""
    gc.set_threshold(GARBAGE)
    from wizard.cli import run

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # an old console or code page lacks letters: a question mark is better than nothing at all
            stream.reconfigure(errors="replace")
    try:
        code = run(sys.argv[1:] if argv is None else list(argv))
        sys.stdout.flush()
    except BrokenPipeError:
        # The reader has gone (a pager was closed); point stdout elsewhere so that the interpreter's last flush is silent.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception:  # whatever it is, it must not look like exit 1, which says something about the room
        import traceback

        traceback.print_exc()
        print("stillroom: this is a fault in Stillroom, not in your answers; please report it with the lines above.", file=sys.stderr)
        return FAULT
    return code


if __name__ == "__main__":
    sys.exit(main())
