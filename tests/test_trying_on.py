"""Trying on: each word a reading, asked for where it tells more, and whole hats without a tape."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import shapely  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from pattern.forecast.readings_ahead import readings_ahead
from pattern.journal.journal import Journal
from pattern.plan.asking import SETTLED
from pattern.plan.asking_worn import ON_SIDES
from pattern.plan.piece import depth_at, girth_of
from pattern.plan.readings import Reading
from pattern.plan.trying_on import AIM_MM, Head, Means, girth_said_mm
from pattern.session import commands as c
from pattern.session import events as e
from pattern.session.commands import Fit, Kind
from pattern.session.decisions import decide
from pattern.session.history import CODEC
from pattern.session.refusals import Reason
from pattern.session.state import State
from pattern.shape.fits import FINGER_MM, FITS, by_amount
from pattern.shape.reading_kinds import BY_TAPE, TAPE
from pattern.shape.rounds import Stage
from pattern.trade.lengths import Amount, Unit
from pattern.writeup.edition import Edition
from pattern.writeup.plain_text import as_text
from pattern.writeup.readings_tables import measured
from pattern.writeup.writeup import as_made
from tests.command_lines import ended
from tests.hats import at, begun, said, until, why_refused
from tests.properties import thoroughly
from tests.small_hat import SCENARIO
from voice.caller.caller import Caller
from voice.caller.json_reply import asks
from voice.cli.commands.rehearse import MAKER_RATE_WPM
from voice.hearing.listening import Hearing
from voice.rehearsal import scripted
from voice.rehearsal.rehearsal import Rehearsal
from voice.rehearsal.room import Room
from voice.sentences.reply import reply
from voice.speech.delivery import Delivery
from voice.speech.speaker import Renderer

LEARNED = Edition(readings=True)
GIRTHS = [fit for fit, word in FITS.items() if word.kind is Kind.FIT and word.spread_mm]
BRIMS = [fit for fit, word in FITS.items() if word.kind is Kind.WORN]
PLAIN = {"head_mm": 560.0, "yarn": 5, "hook_mm": 6.0, "brim_mm": 60.0}


def on_sides(rounds: int = 2, state: State | None = None) -> State:
    """A hat with so many straight rounds, nothing asked or measured."""
    sides = until(lambda now: now.piece.side_rounds == rounds, state or begun(**PLAIN))
    return replace(sides, want=None)


def around_mm(state: State) -> float:
    return girth_of(state.piece, state.piece.stitches).mean


@given(st.sampled_from(GIRTHS), st.integers(1, 6))
def test_a_word_draws_the_girth_to_what_it_says(fit: Fit, rounds: int) -> None:
    state = on_sides(rounds)
    told = girth_said_mm(state.settings, FITS[fit])
    reading = next(
        event.reading
        for event in decide(state, c.TriedOn(fit))
        if isinstance(event, e.ReadingTaken)
    )
    assert reading.value_mm == pytest.approx(told)
    assert (reading.kind, reading.fit, reading.stitches) == (Kind.FIT, fit, state.piece.stitches)
    stitches = state.piece.stitches
    before = girth_of(state.piece, stitches)
    after = girth_of(said(state, c.TriedOn(fit)).piece, stitches)
    assert abs(after.mean - told) <= abs(before.mean - told) + 1e-6
    assert after.sd <= max(before.sd, FITS[fit].spread_mm)


def test_words_are_ordered_from_tight_to_loose() -> None:
    """Common practice, no source: nobody calls the wider of two hats the tighter one."""
    offsets = [FITS[fit].offset_mm for fit in GIRTHS]
    assert offsets == sorted(offsets)
    assert FITS[Fit.RIGHT].offset_mm == 0
    assert min(FITS[fit].spread_mm for fit in GIRTHS) > 2  # wider than a tape laid by hand


def test_a_word_for_all_that_is_wider_says_nothing_where_more_was_expected() -> None:
    wide = said(on_sides(), c.Measured(Amount(700.0, 1.0, Unit.MM), Kind.AROUND), c.Yes())
    wide = replace(wide, want=None)
    assert around_mm(wide) > girth_said_mm(wide.settings, FITS[Fit.SLIDES])
    assert said(wide, c.TriedOn(Fit.SLIDES)).piece.gauge == wide.piece.gauge
    assert said(wide, c.TriedOn(Fit.LOOSE)).piece.gauge != wide.piece.gauge


def test_a_finger_takes_up_what_a_cord_over_it_is_longer() -> None:
    """Shapely's convex hull of a head's circle and a finger's thickness beside it."""
    head = shapely.Point(0, 0).buffer(90, quad_segs=256)
    over = head.union(shapely.Point(104, 0)).convex_hull
    assert over.length - head.length == pytest.approx(FINGER_MM, abs=1)
    assert by_amount(Fit.FINGERS, 1).offset_mm == 0


@given(st.floats(5, 100))
def test_a_pinch_holds_between_one_and_two_lengths_of_cloth(length_mm: float) -> None:
    """Common practice, no source: a pinch of two centimetres takes up two to four."""
    loose, folded = (by_amount(Fit.PINCH, length_mm, folded=way) for way in (False, True))
    for word in (loose, folded):
        assert length_mm - 10 < word.offset_mm < 2 * length_mm
    assert folded.offset_mm > loose.offset_mm
    assert folded.spread_mm < loose.spread_mm


def test_cotton_is_wanted_a_little_snugger() -> None:
    plain, cotton = on_sides(), on_sides(state=begun(**PLAIN, fibre="cotton"))
    told = girth_said_mm(cotton.settings, FITS[Fit.RIGHT])
    assert told > girth_said_mm(plain.settings, FITS[Fit.RIGHT])
    assert told - girth_said_mm(cotton.settings, FITS[Fit.SNUG]) > told - cotton.settings.girth_mm
    assert AIM_MM < 5  # half of what fits


def test_just_above_the_eyebrows_settles_the_depth_and_the_brim_follows() -> None:
    state = until(lambda now: now.piece.side_rounds >= 4, begun(**PLAIN))
    state = said(replace(state, want=None), c.TriedOn(Fit.RIGHT), c.TriedOn(Fit.DEEP))
    assert state.offered is not None
    assert state.offered.stage is Stage.BRIM
    assert state.settings.depth == pytest.approx(depth_at(state.piece, state.piece.finished).mean)
    assert "depth_mm" not in state.answered


@pytest.mark.parametrize(("fit", "deeper"), [(Fit.HIGH, True), (Fit.BELOW, False)])
def test_where_the_edge_ends_counts_over_the_table(fit: Fit, deeper: bool) -> None:
    state = until(lambda now: now.offered is not None and now.offered.stage is Stage.BRIM, begun())
    state = replace(state, want=None)
    after = said(state, c.TriedOn(fit))
    assert (after.settings.depth > state.settings.depth) is deeper
    assert after.offered is not None
    assert after.offered.stage is (Stage.SIDES if deeper else Stage.BRIM)


def test_a_depth_of_the_makers_own_stays_until_it_is_said_outright() -> None:
    state = on_sides(3, begun(**PLAIN, depth_mm=240.0))
    assert said(state, c.TriedOn(Fit.OVER_EARS)).settings.depth == 240.0
    short = c.TriedOn(Fit.SHORT_BY, Amount(2.0, 1.0, Unit.CM))
    now = depth_at(state.piece, state.piece.finished).mean
    assert said(state, short).settings.depth == pytest.approx(now + 20)


def kinds_asked(*first: c.Command) -> set[Kind]:
    """Everything that is asked for in a whole hat, and left out."""
    state, kinds = said(begun(**PLAIN), *first), set()
    while state.stage is not Stage.DONE:
        if state.want is not None:
            kinds.add(state.want.kind)
            state = said(state, c.Skip())
        else:
            state = said(state, c.Yes() if state.doubt else c.Next())
    return kinds


def test_each_reading_is_asked_for_by_what_there_is() -> None:
    away, here, no_tape = (
        c.HeadThere(there=False),
        c.HeadThere(there=True),
        c.TapeThere(there=False),
    )
    assert not kinds_asked() & BY_TAPE.keys()
    assert not kinds_asked(here, away) & BY_TAPE.keys()
    assert {Kind.EDGE, Kind.AROUND} <= kinds_asked(here)
    assert not kinds_asked(here) & {Kind.DEPTH, Kind.BRIM}
    assert {Kind.FIT, Kind.WORN} <= kinds_asked(no_tape)
    assert not kinds_asked(no_tape) & TAPE
    assert not kinds_asked(no_tape, away) & {*TAPE, *BY_TAPE}


@pytest.mark.parametrize("fit", [Fit.SNUG, Fit.RIGHT, Fit.LOOSE])
def test_a_word_stands_for_the_first_tape_around_and_the_last_one_stays(fit: Fit) -> None:
    """Of a hat with the head at hand: settled sides are tried on, their band is measured."""
    state, kinds = said(begun(**PLAIN), c.HeadThere(there=True)), list[Kind]()
    while state.offered is None or state.offered.stage is not Stage.BRIM:
        if state.want is None or state.want.kind not in {Kind.FIT, Kind.AROUND}:
            state = said(state, c.Skip() if state.want else c.Next())
            continue
        kinds.append(state.want.kind)
        rounds = state.piece.side_rounds
        if state.want.kind is Kind.FIT:
            assert rounds <= SETTLED
            state = said(state, c.TriedOn(fit))
        else:
            assert rounds > SETTLED
            around = Amount(round(around_mm(state)), 1.0, Unit.MM)
            state = said(state, c.Measured(around, Kind.AROUND))
    assert (kinds[0], kinds[-1]) == (Kind.FIT, Kind.AROUND)


def test_what_is_asked_for_changes_hands_with_the_means() -> None:
    wanted = until(
        lambda now: now.want is not None and now.want.kind is Kind.AROUND, begun(**PLAIN)
    )
    wanted = until(lambda now: now.want is not None and now.piece.shaping.straight, wanted)
    assert wanted.want is not None
    assert wanted.want.kind is Kind.AROUND
    worn = said(wanted, c.TapeThere(there=False))
    assert (asks(worn), worn.means) == ("fit", Means(tape=False))
    back = said(worn, c.TapeThere(there=True), c.HeadThere(there=False))
    assert back.means == Means(head=Head.AWAY)
    assert said(worn, c.Measured(Amount(56.0, 0.5, Unit.CM))).taken is not None  # a length will do


def test_who_tries_on_unasked_is_asked_to() -> None:
    state = said(on_sides(), c.TriedOn(Fit.RIGHT))
    assert state.means.head is Head.HERE


def test_a_hat_far_too_wide_is_pinched_before_any_of_it_is_ripped() -> None:
    state = said(on_sides(), c.TriedOn(Fit.SLIDES))
    assert state.want is not None
    assert (state.want.kind, asks(state)) == (Kind.PINCH, "fit")
    finished = state.piece.finished
    pinched = said(state, c.TriedOn(Fit.PINCH, Amount(9.0, 0.5, Unit.CM)))
    assert pinched.piece.finished < finished  # into the crown, as it is wide by a third
    assert pinched.stage is Stage.CROWN


@pytest.mark.parametrize("fit", Fit)
def test_every_word_is_answered_everywhere(fit: Fit) -> None:
    by = Amount(2.0, 1.0, Unit.CM)
    word = c.TriedOn(fit, by if not FITS[fit].spread_mm or fit.value.endswith("length") else None)
    places = (
        until(lambda now: now.piece.finished == 4, begun(**PLAIN)),
        on_sides(),
        until(lambda now: now.piece.brim_rounds == 2, begun()),
        at(Stage.FINISHING, begun()),
        at(Stage.FINISHING, begun(brim_mm=0.0)),
    )
    for state in places:
        turn = decide(state, word)
        after = said(state, word)
        assert reply(state, word, turn, after), (state.stage, fit)


def test_a_piece_that_is_not_worn_is_not_tried_on() -> None:
    bowl = said(begun(shape="bowl"), *[c.Next()] * 9)
    assert why_refused(bowl, c.TriedOn(Fit.RIGHT)) is Reason.NOT_OF_SHAPE
    assert not Means(tape=False, head=Head.AWAY).tries_on


@pytest.mark.parametrize("fit", BRIMS)
def test_words_on_the_brim_say_what_to_change(fit: Fit) -> None:
    state = replace(until(lambda now: now.piece.brim_rounds == 2, begun(**PLAIN)), want=None)
    after = said(state, c.TriedOn(fit))
    if fit in {Fit.WIDE, Fit.HIDES}:
        assert after.stage is Stage.FINISHING
        assert after.settings.brim == pytest.approx(2 * after.piece.gauge.height_mm)
    else:
        assert after.piece == state.piece
    text = as_text(as_made(after, "Hat", LEARNED), 200)
    assert fit.value in text


NO_TAPE = '\n[[say]]\nround = 1\nwords = ["i have no tape"]\n'


@pytest.mark.parametrize("width_mm", [7.0, 8.4, 10.0, 11.5])
def test_a_whole_hat_without_a_tape_fits(width_mm: float, tmp_path: Path) -> None:
    """Typed to a caller, by a maker whose stitch is up to a third off the published one."""
    text = scripted.USUAL.read_text("utf-8").partition("[[say]]")[0] + NO_TAPE
    file = tmp_path / "worn.toml"
    for old, new in (("8.4", f"{width_mm}"), ("9.1", f"{1.1 * width_mm:.2f}"), ("depth_mm", "#")):
        text = text.replace(old, new)
    file.write_text(text, "utf-8")
    maker = scripted.load(file)
    with Journal.open(tmp_path, "worn", CODEC) as journal:
        caller = Caller(journal)
        caller.open()
        asked = set()
        for _ in range(200):
            if caller.state.stage is not Stage.DONE:
                asked.add(asks(caller.state))
                caller.hear(maker.says(caller.state))
    state = caller.state
    assert state.stage is Stage.DONE
    assert not asked & {kind.value for kind in TAPE}
    around = state.piece.edge_stitches * width_mm
    assert -10 <= around - state.settings.girth_mm <= 15


@thoroughly
def test_a_small_hat_without_a_tape_is_rehearsed_by_voice(hearing: Hearing, tmp_path: Path) -> None:
    file = tmp_path / "small.toml"
    small = SCENARIO.partition("[[say]]")[0].replace('depth_mm = "twelve and a half"\n', "")
    file.write_text(small.replace("22.0", "17.0").replace("23.0", "18.0") + NO_TAPE, "utf-8")
    with (
        Renderer(Delivery(MAKER_RATE_WPM)) as maker,
        Renderer() as ours,
        Journal.open(tmp_path, "small", CODEC) as journal,
    ):
        caller = Caller(journal)
        who, lines = scripted.load(file), list[str]()
        tally = Rehearsal(caller, who, hearing, (maker, ours), room=Room(), show=lines.append).run()
    assert tally.ended
    assert tally.misheard == []
    fits = [one.reading.fit for one in caller.state.readings_taken()]
    assert Fit.RIGHT in fits or Fit.SNUG in fits
    assert None not in fits


def test_call_without_a_tape_says_so_and_asks_for_none(tmp_path: Path) -> None:
    options = ["call", "--typed", "--json", "--folder", str(tmp_path), "--no-tape"]
    hat = ["--head", "42cm", "--yarn", "6", "--hook", "9"]
    done = ended([*options, *hat], b"next\n" * 30)
    assert done.code == 0
    assert "I ask for no tape" in done.out.splitlines()[0]
    assert '"asks": "fit"' in done.out
    assert not any(f'"asks": "{kind.value}"' in done.out for kind in TAPE)


def test_every_kind_of_reading_has_words_of_its_own() -> None:
    words = [measured(Reading(kind, 0.0, 1.0, 9.0, 20)) for kind in Kind]
    assert len(set(words)) == len(Kind)
    assert not set(words) & {kind.value for kind in Kind}
    assert measured(Reading(Kind.ALONG, 0.0, 1.0, 9.0, 20)) == "along 20 sts of the edge"
    assert all(
        measured(Reading(kind, 0.0, 1.0, 9.0, 20)).startswith("tried on") for kind in BY_TAPE
    )


@pytest.mark.parametrize(
    ("command", "kinds"),
    [
        (c.TapeThere(there=False), {Kind.FIT, Kind.WORN}),
        (c.HeadThere(there=True), {Kind.EDGE, Kind.FIT}),
    ],
)
def test_the_plan_lists_when_a_piece_is_tried_on(command: c.Command, kinds: set[Kind]) -> None:
    state = said(begun(**PLAIN), command)
    ahead = [event.kind for _, event in readings_ahead(state)]
    assert set(ahead) - TAPE - {Kind.LOOK} == kinds
    assert command != c.TapeThere(there=False) or not TAPE & set(ahead)
    assert ahead.count(Kind.FIT) <= ON_SIDES
    text = as_text(as_made(state, "Hat", LEARNED), 200)
    assert all(measured(Reading(kind, 0.0, 1.0, 9.0, 20)) in text for kind in kinds)


def test_the_gauge_says_that_it_is_known_by_trying_on() -> None:
    after = said(on_sides(), c.TriedOn(Fit.SNUG))
    text = as_text(as_made(after, "Hat", LEARNED), 200)
    assert "Learned from trying it on 1 time, and" in text
    assert "of the tape" not in text
