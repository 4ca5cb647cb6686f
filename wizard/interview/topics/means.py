"""Money, labour, and what is bought."""

from __future__ import annotations

from calc.units import COUNT, DATE, DURATION, FORCE, MONEY, SHARE
from wizard.interview.question import Choice, Kind, Question, Unknown, Values


def hired(values: Values) -> bool:
    return values.word("labour") == "hired"


def hangs(values: Values) -> bool:
    """Clips can come into it: something may be fixed to the joists."""
    return values.word("joists_may_be_touched") == "yes"


QUESTIONS = (
    Question(
        id="contingency",
        topic="means",
        title="Reserve for surprises",
        text="What share of the cost do you keep back for surprises?",
        why="Basements hide things. Without a reserve the last tenth of the work is where the quiet is lost.",
        how="10 % where everything is in view, 20 % in an old house.",
        kind=Kind.QUANTITY,
        unit=SHARE,
        low=0.0,
        high=0.6,
        usual="a reserve is usually {} to {}",
        typical=(0.10, 0.25),
        default=0.15,
        unknown=Unknown(0.20, "20 % is assumed."),
    ),
    Question(
        id="labour",
        topic="means",
        title="Who builds",
        text="Who does the building work?",
        why="Hired hands can be half the cost; your own take weeks.",
        how="Wiring, gas and structure stay with licensed trades in either case.",
        kind=Kind.CHOICE,
        choices=(Choice("own", "mostly ourselves"), Choice("hired", "hired builders")),
        default="own",
        unknown=Unknown("hired", "Hired builders are assumed, so the cost is on the high side."),
    ),
    Question(
        id="hourly_rate",
        topic="means",
        title="Price of an hour",
        text="What does an hour of a hired builder cost?",
        why="Labour is counted in hours times this.",
        how="Ask for a quote for one small job and divide it by its hours.",
        kind=Kind.QUANTITY,
        unit=MONEY,
        low=1.0,
        high=1000.0,
        usual="an hour usually costs {} to {}",
        typical=(30.0, 120.0),
        default=60.0,
        unknown=Unknown(80.0, "80 an hour is assumed."),
        applies=hired,
        when="builders are hired",
    ),
    Question(
        id="hours_per_week",
        topic="means",
        title="Hours a week",
        text="How many hours a week will be worked on it, by each person?",
        why="It turns hours into a calendar.",
        how="Honest average: two evenings and a Saturday make about 12; a hired crew works about 40.",
        kind=Kind.QUANTITY,
        unit=DURATION,
        low=1.0,
        high=80.0,
        usual="people usually manage {} to {} a week",
        typical=(6.0, 40.0),
        default=lambda values: 40.0 if hired(values) else 10.0,
        unknown=Unknown(8.0, "Eight hours a week are assumed."),
    ),
    Question(
        id="helpers",
        topic="means",
        title="Helpers",
        text="How many more people can work on it at the same time?",
        why="Boards of 70 lb (32 kg) overhead are not a job for one.",
        how="Beside you, count those who would really come; of a hired crew, all but the first.",
        kind=Kind.COUNT,
        unit=COUNT,
        low=0,
        high=20,
        usual="{} to {} helpers are usual",
        typical=(0.0, 3.0),
        default=1.0,
        unknown=Unknown(0.0, "Nobody is counted on: the plan warns where two are needed."),
    ),
    Question(
        id="clip_rating",
        topic="means",
        title="Rating of one clip",
        text="If the ceiling hangs on isolation clips: how much may hang on one, by its maker's test report?",
        why="Isolation clips are brackets with rubber in them that hold a ceiling off the joists. The weaker the clip, the closer its "
        "rows; a ceiling too heavy for the closest rows is not offered.",
        how="Look for “allowable load” or “working load” per clip in the report of the clip you mean to buy, safety factor in. The "
        "ultimate load, at which it fails, is several times higher: do not use it.",
        kind=Kind.QUANTITY,
        unit=FORCE,
        low=40.0,
        high=900.0,
        usual="one clip is usually rated for {} to {}",
        typical=(130.0, 180.0),
        default="",
        unknown=Unknown("", "150 N (34 lb) is assumed, a common class; check it against the clip you buy."),
        applies=hangs,
        when="something may be fixed to the joists",
    ),
    Question(
        id="start",
        topic="means",
        title="First day",
        text="On which day will the work begin?",
        why="It turns the stages into dates, in the plan and in its calendar file.",
        how="The day you can first measure down there. Permits and letters come later and are counted.",
        kind=Kind.DATE,
        unit=DATE,
        default="",
        unknown=Unknown("", "The first Monday after the plan's date is taken."),
    ),
)
