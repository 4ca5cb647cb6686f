"""Whether the wheel and the sdist hold all that belongs in them, and nothing else: git ls-files | complete.py DIST"""

from __future__ import annotations

import sys
import tarfile
import zipfile
from pathlib import Path

PACKAGES = ("wizard", "calc", "templates")


def main(dist: Path, tracked: set[str]) -> int:
    (wheel,), (sdist,) = dist.glob("*.whl"), dist.glob("*.tar.gz")
    with zipfile.ZipFile(wheel) as file:
        in_wheel = set(file.namelist())
        (meta,) = [name for name in in_wheel if name.endswith(".dist-info/METADATA")]
        about = file.read(meta).decode()
    with tarfile.open(sdist) as archive:
        in_sdist = {member.name.partition("/")[2] for member in archive.getmembers() if member.isfile()}
    own = {name for name in tracked if name.startswith(tuple(f"{package}/" for package in PACKAGES))}
    info, data = meta.removesuffix("METADATA"), meta.replace(".dist-info/METADATA", ".data/data/")
    beside = {f"{info}{name}" for name in ("METADATA", "WHEEL", "RECORD", "entry_points.txt", "licenses/LICENSE")}
    wanted = {
        "wheel": (own | beside | {f"{data}share/man/man1/stillroom.1"}, in_wheel),
        "sdist": ({name for name in tracked if not name.startswith(".")} | {".gitignore", "PKG-INFO"}, in_sdist),
    }
    faults = [f"{what} lacks {name}" for what, (all_, found) in wanted.items() for name in sorted(all_ - found)]
    faults += [f"{what} should not hold {name}" for what, (all_, found) in wanted.items() for name in sorted(found - all_)]
    faults += [f"{package} has no py.typed" for package in PACKAGES if f"{package}/py.typed" not in in_wheel]
    faults += [f"the metadata lack {line}" for line in ("Requires-Python: >=3.11", "License-Expression: MIT") if line not in about]
    print("\n".join(faults) or f"wheel: {len(in_wheel)} files; sdist: {len(in_sdist)} files; complete")
    return bool(faults)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), set(sys.stdin.read().split("\n")) - {""}))
