"""The slow work is done once, however many pages want it at the same time."""

from __future__ import annotations

from importlib.resources import files
from threading import Event, Thread

from calc.assess import Assessment
from calc.brief import Brief
from wizard.backroom import Backroom
from wizard.interview.answers_file import read_strictly


def test_two_pages_that_want_the_same_share_one_assessment() -> None:
    answers = read_strictly(files("wizard").joinpath("example.toml").read_text(encoding="utf-8"))
    begun, twice, may_end, worked_on = Event(), Event(), Event(), []

    def assess(brief: Brief) -> Assessment:
        worked_on.append(brief)
        (twice if begun.is_set() else begun).set()
        assert may_end.wait(10.0)
        return f"assessment {len(worked_on)}"  # type: ignore[return-value]

    backroom = Backroom(assess)
    got: list[object] = []
    pages = [Thread(target=lambda: got.append(backroom.assessment(answers))) for _ in range(2)]
    for page in pages:
        page.start()
    assert begun.wait(10.0)
    assert not twice.wait(0.2), "the second page began the same work"
    may_end.set()
    for page in pages:
        page.join(10.0)
    assert got == ["assessment 1", "assessment 1"]
    assert len(worked_on) == 1
    other = answers.with_name("another")
    backroom.assessment(other)
    assert len(worked_on) == 2
