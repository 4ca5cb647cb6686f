"""Writing the plan harms nothing: no file is overwritten unasked, none written through a link, and a full disk leaves the plan before."""

from __future__ import annotations

import errno
import os
import subprocess
from pathlib import Path
from typing import Any

import pytest
from test_export_folder import TODAY, made
from test_store_full import fill

from wizard.export import WouldOverwrite, export

LATER = TODAY.replace(year=2031)


def write(folder: Path, **more: Any) -> None:
    assessment, answers, _ = made()
    export(assessment, folder, answers.without("start"), **{"today": TODAY, "overwrite": False, **more})


def contents(folder: Path) -> dict[str, bytes | str]:
    """Every file, and where every link leads."""
    return {
        path.relative_to(folder).as_posix(): os.readlink(path) if path.is_symlink() else path.read_bytes()
        for path in folder.rglob("*")
        if path.is_symlink() or path.is_file()
    }


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    folder = tmp_path_factory.mktemp("every") / "plan"
    write(folder, html=True)
    return sorted(contents(folder))


def test_every_file_of_the_folder_is_asked_for(tmp_path: Path, names: list[str]) -> None:
    assert {"plan.md", "plan.html", "shopping-list.csv", "tasks.ics", "figures/floor-plan.svg", "handoff/electrician.md"} <= set(names)
    for name in ("plan.md", "plan.html", "shopping-list.csv", "tasks.ics", "figures/floor-plan.svg", "handoff/electrician.md"):
        folder = tmp_path / name.replace("/", "-")
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_text("mine")
        with pytest.raises(WouldOverwrite) as caught:
            write(folder, html=True)
        assert caught.value.names == (name,)
        assert contents(folder) == {name: b"mine"}


def test_the_same_plan_is_written_again_unasked_also_on_another_day(tmp_path: Path) -> None:
    write(tmp_path, html=True)
    first = contents(tmp_path)
    write(tmp_path, today=LATER)  # the page, being there, is kept up to date
    second = contents(tmp_path)
    assert first.keys() == second.keys()
    assert {name for name in first if first[name] != second[name]} >= {"plan.md", "plan.html", "tasks.ics"}


def test_a_figure_of_another_plan_is_taken_away_only_when_asked(tmp_path: Path) -> None:
    (tmp_path / "figures").mkdir()
    old = tmp_path / "figures" / "old.svg"
    old.write_text("<!-- Written by Stillroom -->\n<svg/>")
    with pytest.raises(WouldOverwrite, match=r"figures.old\.svg"):
        write(tmp_path)
    write(tmp_path, overwrite=True)
    assert not old.exists()


@pytest.mark.skipif(os.name == "nt", reason="links and pipes are POSIX")
def test_nothing_is_written_through_a_link(tmp_path: Path) -> None:
    folder, outside = tmp_path / "plan", tmp_path / "outside"
    outside.mkdir()
    (outside / "file").write_text("secret")
    folder.mkdir()
    for name in ("plan.md", "tasks.ics"):
        (folder / name).symlink_to(outside / "file")
    (folder / f".plan.md.{os.getpid()}.part").symlink_to(outside / "file")
    os.mkfifo(folder / "shopping-list.csv")
    with pytest.raises(WouldOverwrite):
        write(folder)
    write(folder, overwrite=True)
    assert not (folder / "plan.md").is_symlink()
    assert (folder / "shopping-list.csv").is_file()
    assert contents(outside) == {"file": b"secret"}

    before = contents(folder)
    for name in ("figures", "handoff"):
        (folder / name).rename(outside / name)
        (folder / name).symlink_to(outside / name)
        with pytest.raises(OSError, match="it is a link") as caught:
            write(folder, overwrite=True)
        assert not isinstance(caught.value, FileExistsError)
        (folder / name).unlink()
        (outside / name).rename(folder / name)
    assert contents(folder) == before


def test_a_folder_in_the_place_of_a_file_is_told_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "tasks.ics").mkdir()
    with pytest.raises(IsADirectoryError, match="a folder stands in its place"):
        write(tmp_path, overwrite=True)
    assert [path.name for path in tmp_path.iterdir()] == ["tasks.ics"]


def test_a_disk_that_fills_up_leaves_the_plan_before_whole(tmp_path: Path) -> None:
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("only root may mount a file system")
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(tmp_path)], capture_output=True, check=False)
    if mounted.returncode:
        pytest.skip("no file system can be mounted here")
    try:
        write(tmp_path)
        before = contents(tmp_path)
        fill(tmp_path / "filler")
        with pytest.raises(OSError, match="No space") as caught:
            write(tmp_path, today=LATER, overwrite=True)
        assert caught.value.errno == errno.ENOSPC
        (tmp_path / "filler").unlink()
        assert contents(tmp_path) == before
    finally:
        subprocess.run(["umount", "-l", str(tmp_path)], check=True)
