"""What must hold for the stages of any scheme."""

from __future__ import annotations

from build_parts import builds
from hypothesis import given, settings

from calc.geometry import inner_room
from calc.materials.cost import bill
from calc.materials.takeoff import lines
from calc.schedule import schedule


@settings(max_examples=40, deadline=None)
@given(builds())
def test_every_task_follows_its_predecessors_and_every_line_has_its_task(build) -> None:  # type: ignore[no-untyped-def]
    brief, scheme = build
    room = inner_room(brief, scheme)
    found = lines(brief, room, scheme)
    made = schedule(brief, scheme, room, bill(brief, found), ())
    number = {task.id: task.number for task in made.tasks}
    assert [task.number for task in made.tasks] == list(range(1, len(made.tasks) + 1))
    finish = {task.id: task.finish + task.wait_days / 7.0 for task in made.tasks}
    for task in made.tasks:
        assert task.hours > 0.0
        assert task.finish > task.start
        for before in task.after:
            assert number[before] < task.number
            assert finish[before] <= task.start + 1e-9
    # Work that no task takes would vanish from hours and shopping by stage.
    assert {line.task for line in found} <= set(number)
    # Nothing is closed in before the rough inspection.
    assert all(number[task] > number["inspect_rough"] for task in ("insulate", "boards_first", "boards_last") if task in number)
    assert number["inspect_final"] > max(number[task] for task in ("door", "finish", "air_start"))
