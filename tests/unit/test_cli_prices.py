"""The command that shows prices and keeps the person's own."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from wizard.__main__ import main


def run(*arguments: str) -> int:
    with pytest.raises(SystemExit) as ended:
        raise SystemExit(main(list(arguments)))
    return int(ended.value.code or 0)


def test_a_price_set_is_listed_as_yours_and_moves_the_total(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = ("--data-dir", str(tmp_path))
    assert run(*data, "prices", "--set", "gypsum_x_159=40..44") == 0
    assert "yours" in capsys.readouterr().out
    assert run(*data, "prices", "--json") == 0
    rows = {row["item"]: row for row in json.loads(capsys.readouterr().out)}
    assert rows["gypsum_x_159"] | {"label": "", "group": "", "package": ""} == {
        "item": "gypsum_x_159", "label": "", "group": "", "package": "", "low": 40.0, "high": 44.0, "own": True,
    }  # fmt: skip
    assert not rows["lumber_89"]["own"] if "lumber_89" in rows else True


def test_a_book_is_started_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = ("--data-dir", str(tmp_path))
    assert run(*data, "prices", "--create", "usd") == 0
    assert (tmp_path / "prices.toml").exists()
    assert run(*data, "prices", "--create", "usd") == 2
    assert "already" in capsys.readouterr().err


@pytest.mark.parametrize("text", ["gypsum_x_159", "gypsum_x_159=cheap", "gypsum_x_159=5..1", "gold_leaf=3", "=3"])
def test_a_wrong_price_is_one_sentence(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("--data-dir", str(tmp_path), "prices", "--set", text) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert not (tmp_path / "prices.toml").exists()
