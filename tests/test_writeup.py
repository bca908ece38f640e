"""The write-up against the session: read back, its rounds are the rounds that were made."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.forecast.rest_of_piece import planned_end, rounds_made
from pattern.gauge.prior import prior
from pattern.plan.piece import depth_at
from pattern.session import commands as c
from pattern.session.decide_interview import ADULT_YEARS
from pattern.session.state import State
from pattern.shape.rounds import Round, Stage, spaced_round
from pattern.trade.cautions import CAUTIONS
from pattern.trade.head_medians import Sex
from pattern.trade.lengths import Amount, Unit
from pattern.trade.stitches import Stitch, Terms
from pattern.writeup.cautions import CAUTION_TEXTS
from pattern.writeup.document import (
    Facts,
    Figure,
    Items,
    Paragraph,
    Section,
    Step,
    Steps,
    Table,
    Writeup,
    as_json,
    blocks_of,
)
from pattern.writeup.edition import Edition
from pattern.writeup.measure_text import trade_length
from pattern.writeup.measures import measures
from pattern.writeup.plain_text import as_text
from pattern.writeup.without_slips import without_slips
from pattern.writeup.writeup import as_made, as_planned
from pattern.writeup.written_rounds import Written, short_name, written_lines
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples
from tests.test_rounds import cut
from tests.written_parser import Read, read_line


def section(writeup: Writeup, *headings: str) -> Section | None:
    return next((one for one in writeup.sections if one.heading in headings), None)


def lines(writeup: Writeup) -> list[tuple[str, str]]:
    """Heading and text of every line of the rounds."""
    rounds = section(writeup, "Rounds")
    assert rounds is not None
    return [
        (part.heading, step.text)
        for part in rounds.sections
        for block in part.blocks
        if isinstance(block, Steps)
        for step in block.steps
    ]


def table(writeup: Writeup, caption: str) -> Table:
    blocks = [block for one in writeup.sections for block in blocks_of(one)]
    return next(one for one in blocks if isinstance(one, Table) and one.caption == caption)


def facts(writeup: Writeup) -> dict[str, str]:
    """The facts on the first sheet."""
    first = writeup.sections[0].blocks
    return dict(next(block for block in first if isinstance(block, Facts)).facts)


AS_WORKED, LEARNED = Edition(as_worked=True), Edition(readings=True)


def short_of(state: State) -> str:
    return short_name(state.settings.stitch, state.settings.terms)


def read(writeup: Writeup, short: str) -> list[tuple[str, Read]]:
    return [(part, one) for part, line in lines(writeup) for one in read_line(line, short)]


def same(found: Read, round_: Round) -> bool:
    before = round_.before if found.before is None else found.before
    return (found.number, before, found.after, found.places) == (
        round_.number,
        round_.before,
        round_.after,
        round_.places,
    )


@given(stories())
def test_rounds_read_back_as_worked_are_the_rounds_made(story: Story) -> None:
    """Every stitch placed in the session is the stitch that the text places, and no other."""
    state = story.state
    writeup, short = as_made(state, "Test", AS_WORKED), short_of(state)
    made = rounds_made(state)
    found = read(writeup, short)[: len(made)]
    before = 0
    counts = [one.counted for one in state.rounds_made()][::-1]
    for (part, one), round_, count in zip(found, made, counts, strict=True):
        called = [part.called for part in state.settings.shape.parts]
        assert part == called[round_.part].capitalize()
        assert same(one, round_)
        assert one.before in {None, before}
        assert (count is None or count == round_.after) == (one.counted is None)
        before = one.counted or one.after
        assert before == (round_.after if count is None else count)


@given(stories())
def test_each_round_of_the_pattern_is_worked_into_the_one_before(story: Story) -> None:
    """No slip stands in it, whatever was counted; at its end are the stitches that were made."""
    state = story.state
    end = planned_end(state)
    found = read(as_made(state, "Test"), short_of(state))
    assert [one.number for _, one in found] == list(range(1, end.piece.finished + 1))
    if any(one.counted for _, one in found):  # one that no round can mend stands as it was made
        assert state.slips_found
        return
    before = 0
    for _, one in found:
        assert one.before in {None, before}
        before = one.after
    assert before == end.piece.stitches or not found


def slipped(counted: int, then: int, change: int) -> list[Written]:
    """A crown round of 48 stitches that was counted otherwise, and the round after it."""
    first = spaced_round(7, Stage.CROWN, 42, 6)
    return [
        Written(spaced_round(6, Stage.CROWN, 0, 0)),
        Written(first, counted),
        Written(spaced_round(8, Stage.CROWN, then, change)),
    ]


def test_a_slip_that_was_mended_is_gone_and_one_that_stands_is_a_round_of_its_own() -> None:
    """48 called, 47 counted: seven increases to 54 mend it, a plain round of 47 leaves it."""
    ring = Written(Round(1, Stage.RING, 0, 42))
    mended = without_slips([ring, *slipped(47, 47, 7)[1:]])
    assert [one.round.after for one in mended] == [42, 48, 54]
    assert [one.round.sets for one in mended[1:]] == [6, 6]
    left = without_slips([ring, *slipped(47, 47, 0)[1:]])
    assert [one.round.after for one in left] == [42, 47, 47]
    assert all(one.counted is None for one in (*mended, *left))


@given(stories())
def test_rounds_ahead_are_those_that_going_on_makes(story: Story) -> None:
    """Followed to the end without another reading, the plan that was written is what is made."""
    state = story.state
    writeup = as_made(state, "Test", AS_WORKED)
    finished = state.piece.finished
    state = told(state, c.Resume())
    while state.stage not in {Stage.FINISHING, Stage.DONE}:
        state = told(state, c.Skip()) if state.doubt else state
        state = told(state, NEXT)
    made = rounds_made(state)
    found = [one for _, one in read(writeup, short_of(state))]
    assert len(found) == len(made)
    assert all(
        same(one, round_) for one, round_ in zip(found[finished:], made[finished:], strict=True)
    )


@given(st.lists(cut(), min_size=1, max_size=4), st.sampled_from(Stitch), st.sampled_from(Terms))
def test_any_round_reads_back(rounds: list[Round], stitch: Stitch, terms: Terms) -> None:
    """Two repeat lengths, shifted leads, decreases, and rounds stopped after any repeat."""
    short = short_name(stitch, terms)
    for round_ in rounds:
        (line,) = written_lines([Written(round_)], short)
        (found,) = read_line(line.text, short)
        assert same(found, round_)


def test_like_rounds_share_a_line_and_a_count_breaks_it() -> None:
    def plain(number: int, counted: int | None = None) -> Written:
        return Written(spaced_round(number, Stage.SIDES, 72, 0), counted)

    def text(rounds: list[Written]) -> tuple[str, ...]:
        return tuple(step.text for step in written_lines(rounds, "sc"))

    rounds = [plain(number) for number in range(13, 22)]
    assert text(rounds) == ("Rounds 13 to 21: sc in each st around (72 sts)",)
    rounds[4] = plain(17, 70)
    assert text(rounds) == (
        "Rounds 13 to 16: sc in each st around (72 sts)",
        "Round 17: sc in each st around (72 sts, counted 70 sts)",
        "Rounds 18 to 21: sc in each st around (72 sts)",
    )
    eight = spaced_round(7, Stage.CROWN, 48, 8)
    assert text([Written(eight)]) == (
        "Round 7: [2 sc in next st, sc in next 5 sts] 8 times (56 sts)",
    )
    twice = spaced_round(2, Stage.CROWN, 6, 6)
    assert text([Written(twice)]) == ("Round 2: 2 sc in each st around (12 sts)",)


@pytest.mark.parametrize(
    ("stitch", "us", "uk"),
    [
        ("single", "sc", "dc"),
        ("half double", "hdc", "htr"),
        ("double", "dc", "tr"),
        ("treble", "tr", "dtr"),
    ],
)
def test_terms_are_printed_and_the_other_dialect_named(stitch: str, us: str, uk: str) -> None:
    """Source: a trade council's booklet of terms, from a copy."""
    american = as_text(as_planned(begun(stitch=stitch), "Test"), 200)
    british = as_text(as_planned(begun(stitch=stitch, terms="uk"), "Test"), 200)
    assert f"[2 {us} in next st" in american
    assert f"[2 {uk} in next st" in british
    assert "This pattern uses US terms." in american
    assert "This pattern uses UK terms." in british
    assert re.search(rf"^{us}: {stitch} crochet$", american, re.M)
    assert as_made(begun(terms="uk"), "Test").language == "en-GB"


def test_a_plan_begins_again_with_what_was_learned() -> None:
    state = told(begun(), *[NEXT] * 9, c.Measured(Amount(13.0, 0.5, Unit.CM), c.Kind.ACROSS))
    state = told(state, *[NEXT] * 8)
    writeup = as_planned(state, "Blue hat", LEARNED)
    assert (writeup.title, writeup.kind) == ("Blue hat", "Crochet pattern as planned")
    assert read(writeup, "sc")[0][1].number == 1
    assert table(writeup, "Readings by tape and by trying on").rows == (
        ("Round 9 of an earlier start", "across the crown", "13 cm (5 1/8 in)"),
    )
    gauge = table(writeup, "Gauge in rounds").rows
    assert gauge == table(as_made(state, "Blue hat", LEARNED), "Gauge in rounds").rows
    assert gauge != table(as_planned(begun(), "Blue hat", LEARNED), "Gauge in rounds").rows
    assert "Gauge in rounds" not in as_text(as_made(state, "Blue hat"))


def test_a_plan_before_the_interview_is_over_uses_its_defaults() -> None:
    assert lines(as_planned(State(), "Test")) == lines(as_made(State(), "Test"))
    assert len(lines(as_made(State(), "Test"))) > 10


def test_gauge_says_where_it_is_known_from() -> None:
    tables = "From the published gauge of the yarn"
    fresh = begun()
    assert fresh.piece.gauge == prior(fresh.settings)
    assert tables in as_text(as_made(fresh, "Test", LEARNED), 200)
    looked = told(fresh, *[NEXT] * 5, c.Lies(c.Look.RIPPLES))
    assert "from how the piece lay" in as_text(as_made(looked, "Test", LEARNED), 200)
    read_once = told(looked, c.Measured(Amount(9.0, 0.5, Unit.CM), c.Kind.ACROSS), c.Yes())
    assert "Learned from 1 reading of" in as_text(as_made(read_once, "Test", LEARNED), 200)


def test_measures_of_a_whole_piece_are_near_what_was_wanted() -> None:
    """Girth to half a stitch, depth and brim to half a round: the roundings of the plan."""
    end = planned_end(begun(brim_mm=60.0))
    found, gauge, wanted = measures(end.piece), end.piece.gauge, end.settings
    assert found.girth.mean == pytest.approx(wanted.girth_mm, abs=gauge.width_mm / 2)
    assert found.depth.mean == pytest.approx(wanted.depth, abs=gauge.height_mm / 2)
    assert found.brim is not None
    assert found.brim.mean == pytest.approx(60, abs=gauge.height_mm / 2)
    assert measures(planned_end(begun(brim_mm=0.0)).piece).brim is None


def test_a_disc_that_was_ended_early_has_its_own_edge() -> None:
    state = told(begun(), *[NEXT] * 5, c.FinishNow(), c.Yes())
    assert measures(state.piece).girth.mean == pytest.approx(30 * state.piece.gauge.width_mm)


def test_readings_of_rounds_taken_out_are_said_to_be_so() -> None:
    across = c.Measured(Amount(14.0, 0.5), c.Kind.ACROSS)
    around = c.Measured(Amount(41.0), c.Kind.AROUND)
    depth = c.Measured(Amount(7.0), c.Kind.DEPTH)
    state = told(begun(unit="centimeter"), *[NEXT] * 9, across, around, depth, c.RippedBack(4))
    rows = table(as_made(state, "Test", LEARNED), "Readings by tape and by trying on").rows
    assert [row[0] for row in rows] == ["Round 9, since taken out"] * 3
    assert rows[0][2] == "14 cm (5 1/2 in)"


def test_sets_worked_in_the_open_round_are_told() -> None:
    state = told(begun(), *[NEXT] * 6, c.Sets(2))
    assert "Of round 7, 2 of 6 repeats are worked already." in as_text(as_made(state, "Test"), 99)


def test_every_caution_of_the_tables_has_its_words() -> None:
    assert {caution.key for caution in CAUTIONS} - {"shade"} == set(CAUTION_TEXTS)


@pytest.mark.parametrize(
    ("age", "brim", "said", "left_out"),
    [
        (
            None,
            60.0,
            [
                "under 7 years: no cords",
                "under 3 years: no buttons",
                "under 18 months: no hat",
                "gives shade",
                "Rest your",
            ],
            [],
        ),
        (0.5, 0.0, ["No cords", "No buttons", "No hat while", "Rest"], ["shade", "For a child"]),
        (2.0, 50.0, ["No cords", "No buttons", "gives shade"], ["No hat while", "60"]),
        (5.0, 50.0, ["No cords", "5 cm"], ["buttons", "asleep"]),
        (40.0, 60.0, ["gives shade", "6 cm", "Rest"], ["cords", "buttons", "asleep"]),
    ],
)
def test_cautions_by_age(
    age: float | None, brim: float, said: list[str], left_out: list[str]
) -> None:
    """Ages of EN 14682 (7 years), US 16 CFR 1501 (3 years) and the cancer councils' widths."""
    writeup = as_planned(begun(age_years=age, brim_mm=brim), "Test")
    part = section(writeup, "Cautions")
    assert part is not None
    text = as_text(Writeup("", Terms.US, (part,)), 500)
    assert "local rules" in text
    assert all(words in text for words in said)
    assert not any(words in text for words in left_out)


def test_a_head_from_a_table_is_said_to_be_one() -> None:
    words = "measure the head if you can"
    assert words not in as_text(as_planned(begun(), "Test"), 200)
    for command in (c.HeadOf(), c.HeadOf(6.0), c.HeadOf(3.0, Sex.FEMALE)):
        state = told(State(), command)
        assert words in as_text(as_planned(state, "Test"), 200)
        measured = told(state, c.Change("head_mm", Amount(54.5, unit=Unit.CM)))
        assert words not in as_text(as_planned(measured, "Test"), 200)
    assert words not in as_text(as_planned(begun(age_years=ADULT_YEARS), "Test"), 200)


def test_a_joined_hat_says_how_and_a_springy_one_how_much_smaller() -> None:
    text = as_text(as_planned(begun(joined=True, stitch="double", ease_mm=-25.4), "Test"), 300)
    assert "Begin each round, also round 1, with ch 3, which counts as its first st" in text
    assert "1 in (2.5 cm) smaller" in text
    assert "spiral" not in text
    assert "spiral" in as_text(as_planned(begun(), "Test"), 300)


@settings(max_examples=examples(30))
@given(stories(), st.integers(20, 100))
def test_text_keeps_its_width_and_every_word(story: Story, width: int) -> None:
    state = story.state
    writeup = as_made(state, "Test")
    text = as_text(writeup, width)
    assert all(len(line) <= width for line in text.split("\n"))
    assert not any(line != line.rstrip() for line in text.split("\n"))
    flat = re.sub(r"\s+", "", text)
    assert all(re.sub(r"\s+", "", item) in flat for _, item in lines(writeup))


def test_a_line_can_be_too_short() -> None:
    with pytest.raises(ValueError, match="too few"):
        as_text(as_planned(begun(), "Test"), 19)


@settings(max_examples=examples(30))
@given(stories())
def test_json_holds_the_whole_tree(story: Story) -> None:
    state = story.state
    writeup = as_made(state, "Ä hat", Edition(readings=True, as_worked=True))
    data = json.loads(as_json(writeup))
    assert (data["title"], data["language"]) == (writeup.title, writeup.language)
    assert (data["kind"], data["about"]) == (writeup.kind, writeup.about)

    def check(part: Section, found: dict[str, object]) -> None:
        assert found["heading"] == part.heading
        blocks = found["blocks"]
        assert isinstance(blocks, list)
        for block, one in zip(part.blocks, blocks, strict=True):
            assert one["kind"] == type(block).__name__.lower()
            if isinstance(block, Table):
                assert [tuple(row) for row in one["rows"]] == list(block.rows)
            elif isinstance(block, Items):
                assert tuple(one["items"]) == block.items
            elif isinstance(block, Facts):
                assert [tuple(pair) for pair in one["facts"]] == list(block.facts)
            elif isinstance(block, Steps):
                assert tuple(Step(**step) for step in one["steps"]) == block.steps
            elif isinstance(block, Figure):
                assert one["description"] == block.picture.description
            else:
                assert isinstance(block, Paragraph)
                assert one["text"] == block.text
        inner = found["sections"]
        assert isinstance(inner, list)
        for section_, one in zip(part.sections, inner, strict=True):
            check(section_, one)

    for part, one in zip(writeup.sections, data["sections"], strict=True):
        check(part, one)


FEW_ROUNDS = begun(yarn=7, hook_mm=15.0, brim_mm=0.0)
"""A piece that is soon written down."""


@given(st.text())
def test_any_name_makes_a_one_line_title(name: str) -> None:
    title = as_planned(FEW_ROUNDS, name).title
    assert title.isprintable()
    assert title


def test_the_gauge_is_written_as_the_trade_does() -> None:
    """To half a stitch over 10 cm, and in the maker's unit first. Common practice, no source."""
    state = begun(unit="centimeter", stitch="half double", terms="uk")
    gauge = state.piece.gauge
    stitches, rounds = (round(200 / mm) / 2 for mm in (gauge.width_mm, gauge.height_mm))
    assert facts(as_made(state, "Test"))["Gauge"] == (
        f"{stitches:g} sts and {rounds:g} rounds = 10 cm (4 in) in half treble crochet, "
        "worked in rounds"
    )


def test_the_first_sheet_has_what_one_buys() -> None:
    """5 mm is H-8 in the US (common practice, no source); the balls hold more than is needed."""
    state = begun(unit="centimeter", ball_g=50.0, ball_m=85.0, fibre="cotton")
    found = facts(as_made(state, "Test"))
    assert found["Hook"] == "5 mm (US H-8)"
    assert found["Size"] == "For a head of 56 cm (22 in), US hat size 7"
    yarn = re.fullmatch(
        r"Medium \(class 4\), cotton: about (\d+) m \((\d+) yd\) or \d+ g; "
        r"to be safe, (\d+) balls of 50 g, 85 m \(93 yd\)",
        found["Yarn"],
    )
    assert yarn
    metres, yards, balls = map(int, yarn.groups())
    assert yards == pytest.approx(metres / 0.9144, abs=0.5)
    assert 85 * balls > metres
    assert list(found) == ["Size", "Finished", "Yarn", "Hook", "Gauge", "Notions", "Skill"]


@given(stories())
def test_checks_are_the_measures_of_the_piece_at_that_round(story: Story) -> None:
    """Across is twice the depth along the cloth, for a flat part."""
    state = story.state
    end = planned_end(state)
    rounds = section(as_made(state, "Test"), "Rounds")
    assert rounds is not None
    said = [
        text
        for block in blocks_of(rounds)
        if isinstance(block, Facts)
        for name, text in block.facts
        if name == "Check"
    ]
    for text in said:
        found = re.findall(r"fter round (\d+) about (.+?) (across|from the centre)", text)
        assert found or "wide" in text
        for number, length, way in found:
            by = 2 if way == "across" else 1
            mm = by * depth_at(end.piece, int(number)).mean
            assert length == trade_length(mm, end.settings.unit)


def test_one_length_is_written_one_way() -> None:
    """Half a centimetre, a quarter of an inch, an eighth below 10 cm; never nothing."""
    assert [trade_length(mm, Unit.CM) for mm in (561, 563, 1)] == ["56 cm", "56.5 cm", "0.5 cm"]
    assert [trade_length(mm, Unit.INCH) for mm in (565, 60)] == ["22 1/4 in", "2 3/8 in"]


@pytest.mark.parametrize(("brim_mm", "called"), [(0.0, "A hat with"), (60.0, "A brimmed hat with")])
def test_a_hat_that_has_no_brim_is_not_called_a_brimmed_one(brim_mm: float, called: str) -> None:
    text = " ".join(as_text(as_planned(begun(brim_mm=brim_mm), "Test")).split())
    assert called in text
    assert ("brimmed" in text) == (brim_mm > 0)
