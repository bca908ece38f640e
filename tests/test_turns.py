"""Whose turn it is: nothing heard of itself, no nagging, doubts settled, trouble told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pattern.session import commands as c
from pattern.session.decisions import decide
from pattern.session.folding import fold
from pattern.session.state import State
from pattern.trade.lengths import Amount, Unit
from voice.dialogue import echo_gate as own
from voice.dialogue import moves as m
from voice.dialogue import turns as t
from voice.dialogue.echo import GAP_S, LONGEST_S
from voice.dialogue.trouble import Trouble
from voice.dialogue.turn_state import Manners, Turns
from voice.hearing.attention import Switch
from voice.hearing.evidence import Action, Context, Evidence, Reader, Reason, Verdict
from voice.hearing.utterance_part import Part
from voice.hearing.verdict import verdict
from voice.recognisers.recogniser import Hypothesis, Opinion
from voice.sentences.hearing import offered
from voice.sound.earcons import Earcon
from voice.words.phrases import read

PLAIN = Manners()
HEADPHONES = Manners(talk_over=True)
TIMES = st.floats(0.0, 1e5)
SIGN = (m.Sign(Earcon.NOT_CAUGHT, c.Signs.SOUNDS),)
REMINDER = (m.Sign(Earcon.READING_WANTED, c.Signs.SOUNDS), m.Remind())
FOURTEEN, FORTY = c.Counted(14), c.Counted(40)


def heard(action: Action, *words: str) -> Opinion:
    """Opinion on words, the likelier first, that leads to this by itself."""
    assert all(read(each) is not None for each in words)
    scores = [0.5, 0.48] if len(words) > 1 else [0.99]
    if action is Action.SILENT:
        scores = [0.02] * len(words)
    offered = tuple(Hypothesis(*each) for each in zip(words, scores, strict=False))
    opinion = Opinion(offered, "test", doubtful=action is Action.ASK)
    assert verdict(Evidence(opinion), Context()).action is action
    return opinion


def on(
    turns: Turns,
    opinion: Opinion,
    part: Part = Part.WHOLE,
    *,
    paused: bool = False,
    reader: Reader = read,
) -> Verdict:
    """The verdict on an utterance in these turns."""
    insists = turns.insists > 0 and turns.speaking
    context = Context(reader=reader, asked=turns.asked, paused=paused, insists=insists)
    return verdict(Evidence(opinion, part), context)


def hears(
    turns: Turns,
    opinion: Opinion,
    manners: Manners,
    now_s: float,
    part: Part = Part.WHOLE,
    *,
    level: Trouble | None = None,
    amid_talk: bool = False,
    paused: bool = False,
) -> t.Step:
    """The turns after an utterance."""
    what = on(turns, opinion, part, paused=paused)
    return t.heard(turns, what, manners, now_s, part, level=level, amid_talk=amid_talk)


def _command(words: str) -> c.Command:
    command = read(words)
    assert command is not None
    return command


ACTS = st.sampled_from(["next", "yes", "undo", "count forty", "forty"])
STATES = st.builds(
    Turns,
    speaking=st.booleans(),
    deaf_until_s=TIMES,
    misses=st.integers(0, 1),
    asked=st.sampled_from([(), (c.Pause(),), (FOURTEEN, FORTY)]),
    quiet_since_s=TIMES,
    reminded=st.booleans(),
)


@given(STATES)
def test_while_it_speaks_it_does_not_listen(turns: Turns) -> None:
    speaking = own.began_speaking(turns)
    assert not own.listens(speaking, PLAIN)
    assert own.listens(speaking, HEADPHONES)
    assert own.listens(own.fell_silent(speaking, 5.0), PLAIN)


@given(TIMES, st.floats(-5.0, LONGEST_S), st.floats(0.0, 5.0))
def test_what_is_over_in_the_time_of_the_echo_is_the_echo(
    silent_s: float, ended_s: float, length_s: float
) -> None:
    turns = own.fell_silent(own.began_speaking(Turns()), silent_s)
    ended_s = min(silent_s + ended_s, turns.deaf_until_s)
    assert own.part_heard(turns, PLAIN, ended_s - length_s, ended_s) is Part.ECHO
    assert own.part_heard(turns, HEADPHONES, ended_s - length_s, ended_s) is Part.WHOLE


@pytest.mark.parametrize(
    ("began_s", "ended_s", "part"),
    [
        (0.0, 0.9, Part.TAIL),
        (0.1, 0.6, Part.TAIL),
        (0.2, 0.6, Part.REST),
        (0.3, 0.45, Part.ECHO),
        (0.29, 0.6, Part.REST),
        (0.31, 0.6, Part.WHOLE),
        (0.45, 2.0, Part.WHOLE),
        (7.0, 7.5, Part.WHOLE),
    ],
)
def test_a_maker_who_begins_early_is_heard_whole_or_not_taken(
    began_s: float, ended_s: float, part: Part
) -> None:
    turns = own.fell_silent(own.began_speaking(Turns()), 10.0)
    assert own.part_heard(turns, PLAIN, 10.0 + began_s, 10.0 + ended_s) is part


@given(TIMES, st.floats(0.0, LONGEST_S), st.floats(0.0, 1.0), st.floats(0.0, 3.0))
def test_what_follows_its_speech_or_a_dropped_sound_at_once_may_be_the_rest_of_more(
    silent_s: float, dropped_s: float, pause_s: float, length_s: float
) -> None:
    turns = own.fell_silent(own.began_speaking(Turns()), silent_s)
    turns = own.echo_ended(turns, silent_s + dropped_s)
    began_s = silent_s + dropped_s + pause_s
    part = own.part_heard(turns, PLAIN, began_s, began_s + length_s)
    assert (part is Part.WHOLE) <= (began_s - silent_s >= GAP_S)
    if pause_s < own.PAUSE_S - 1e-6:
        assert part is not Part.WHOLE
    elif pause_s > own.PAUSE_S + 1e-6 and began_s + length_s > turns.deaf_until_s:
        assert part is Part.WHOLE
    later = own.fell_silent(own.began_speaking(turns), silent_s + 9.0)
    assert own.part_heard(later, PLAIN, silent_s + 9.4, silent_s + 9.9) is Part.WHOLE


@given(STATES, ACTS, st.sampled_from(list(Part)), st.booleans())
def test_no_part_of_an_utterance_is_acted_on(
    turns: Turns, words: str, part: Part, sure: bool
) -> None:
    what = heard(Action.ACT if sure else Action.ASK, words)
    _, out = hears(turns, what, PLAIN, 1.0, part)
    acted = any(isinstance(each, m.Take | m.AskWhich) for each in out)
    assert not acted or part.complete
    if not part.complete:
        tail = part is Part.TAIL
        assert out in (SIGN, (m.TellTrouble(Trouble.EARLY if tail else Trouble.NO_PHRASE),))


@given(STATES, st.sampled_from(["next", "forty"]), st.booleans())
def test_what_is_begun_under_its_sign_is_the_same_miss(
    turns: Turns, words: str, sure: bool
) -> None:
    turns = replace(own.began_speaking(turns, sign=True), misses=1)
    what = heard(Action.ACT if sure else Action.SILENT, words)
    after, out = hears(turns, what, PLAIN, 1.0, Part.TAIL)
    assert (after.misses, out) == (1, SIGN)
    spoken = own.began_speaking(turns)
    assert hears(spoken, what, PLAIN, 1.0, Part.TAIL)[1] == (m.TellTrouble(Trouble.EARLY),)


def around(words: str) -> c.Command | None:
    """A number alone is taken for a reading around."""
    command = read(words)
    return c.Measured(command.amount, c.Kind.AROUND) if isinstance(command, c.Answer) else command


@pytest.mark.parametrize("numbers", [("thirty one",), ("forty", "fourteen")])
def test_a_number_that_may_end_a_count_is_asked_about_as_a_reading(numbers: tuple[str]) -> None:
    opinion = heard(Action.ASK if len(numbers) > 1 else Action.ACT, *numbers)
    whole, rest = (on(Turns(), opinion, part, reader=around) for part in (Part.WHOLE, Part.REST))
    assert whole.reason is not Reason.BARE_REST
    assert offered(whole if len(numbers) > 1 else rest) == [
        each if len(numbers) > 1 else f"{each} around" for each in numbers
    ]
    assert (rest.action, rest.reason) == (Action.ASK, Reason.BARE_REST)
    assert offered(rest) == [f"{each} around" for each in numbers]
    turns, out = t.heard(Turns(), rest, PLAIN, 3.0, Part.REST)
    assert out == (m.AskWhich(rest),)
    assert hears(turns, heard(Action.ACT, "yes"), PLAIN, 9.0)[1] == (m.Take(rest.candidates[0]),)
    counted = heard(Action.ACT, "count thirty one")
    assert hears(turns, counted, PLAIN, 9.0)[1] == (m.Take(c.Counted(31)),)
    asked = replace(Turns(), asked=rest.candidates)
    again = on(asked, opinion, Part.REST, reader=around)
    assert t.heard(asked, again, PLAIN, 9.0, Part.REST)[1] == (m.Take(rest.candidates[0]),)


@given(ACTS, st.booleans())
def test_what_else_may_be_the_rest_of_more_is_taken_as_it_is(words: str, sure: bool) -> None:
    opinion = heard(Action.ACT if sure else Action.ASK, words)
    assert on(Turns(), opinion, Part.REST) == on(Turns(), opinion)


@given(STATES, st.lists(st.floats(0.0, 500.0), max_size=20), st.floats(0.0, 300.0))
def test_time_alone_asks_once_at_most(turns: Turns, waits: list[float], remind_s: float) -> None:
    manners, now_s, asked = Manners(remind_s=remind_s), turns.quiet_since_s, 0
    for wait_s in waits:
        now_s += wait_s
        before, (turns, out) = turns, t.ticked(turns, manners, now_s, wanted=True)
        asked += bool(out)
        if out:
            assert out == REMINDER
            assert remind_s > 0
            assert now_s - before.quiet_since_s >= remind_s
            turns = own.fell_silent(own.began_speaking(turns), now_s + 3.0)
    assert asked <= 1


@pytest.mark.parametrize(
    ("said", "after_s"),
    [
        ("ask again after three minutes", 180),
        ("ask again after one minute", 60),
        ("remind me after forty seconds", 40),
        ("do not ask again", 0),
    ],
)
def test_the_time_of_a_reminder_is_chosen_by_voice(said: str, after_s: int) -> None:
    state = fold(State(), decide(State(), _command(said)))
    assert state.remind_s == after_s
    manners, waited_s = Manners(remind_s=state.remind_s), float(after_s or 7200)
    _, out = t.ticked(Turns(), manners, waited_s, wanted=True)
    assert out == (REMINDER if after_s else ())
    assert t.ticked(Turns(), manners, waited_s - 1.0, wanted=True)[1] == ()


@given(STATES, TIMES)
def test_time_asks_for_nothing_that_is_not_wanted(turns: Turns, now_s: float) -> None:
    after, out = t.ticked(turns, PLAIN, now_s, wanted=False)
    assert (replace(after, asked=turns.asked), out) == (turns, ())
    assert t.ticked(replace(turns, speaking=True), PLAIN, now_s, wanted=True)[1] == ()


@given(STATES, TIMES, st.floats(0.0, 3600.0), st.booleans())
def test_a_question_is_open_for_as_long_as_an_answer_may_take(
    turns: Turns, silent_s: float, later_s: float, wanted: bool
) -> None:
    turns = own.fell_silent(own.began_speaking(replace(turns, reminded=True)), silent_s)
    now_s = silent_s + later_s
    after, _ = t.ticked(turns, PLAIN, now_s, wanted=wanted)
    assert after.asked == (turns.asked if now_s - silent_s < t.ANSWER_S else ())
    speaking = own.began_speaking(turns)
    assert t.ticked(speaking, PLAIN, now_s, wanted=wanted)[0].asked == turns.asked


def test_yes_long_after_a_question_is_no_answer_to_it() -> None:
    asking = heard(Action.ASK, "ripped back two rounds")
    turns, _ = hears(own.fell_silent(Turns(), 0.0), asking, PLAIN, 5.0)
    turns = own.fell_silent(own.began_speaking(turns), 7.0)
    yes = heard(Action.ACT, "yes")
    assert hears(turns, yes, PLAIN, 10.0)[1] == (m.Take(c.RippedBack(2)),)
    for now_s in range(8, 3600):
        turns, _ = t.ticked(turns, PLAIN, float(now_s), wanted=False)
    assert hears(turns, yes, PLAIN, 3600.0)[1] == (m.Take(c.Yes()),)


def test_a_reminder_or_a_loss_ends_a_question() -> None:
    turns = own.fell_silent(Turns(asked=(c.Pause(),), misses=1), 5.0)
    reminded, out = t.ticked(turns, Manners(remind_s=20.0), 25.0, wanted=True)
    assert (reminded.asked, out) == ((), REMINDER)
    assert own.sounds_otherwise(turns).asked == ()


def test_a_question_that_is_talked_over_can_be_answered() -> None:
    turns = own.fell_silent(own.began_speaking(Turns()), 5.0)
    turns, _ = hears(turns, heard(Action.ASK, "pause"), HEADPHONES, 100.0)
    turns, _ = t.maker_speaks(own.began_speaking(turns), HEADPHONES, 101.0)
    turns, _ = t.ticked(turns, HEADPHONES, 101.5, wanted=False)
    assert hears(turns, heard(Action.ACT, "yes"), HEADPHONES, 102.0)[1] == (m.Take(c.Pause()),)


def test_a_reminder_waits_until_the_maker_has_spoken() -> None:
    manners = Manners(remind_s=10.0)
    turns, _ = t.maker_speaks(Turns(), manners, 99.0)
    assert t.ticked(turns, manners, 100.0, wanted=True)[1] == ()
    assert t.ticked(turns, manners, 109.5, wanted=True)[1] == REMINDER


def test_what_is_sure_is_taken_and_what_is_not_is_asked_about() -> None:
    turns, out = hears(Turns(misses=1), heard(Action.ACT, "next"), PLAIN, 3.0)
    assert turns == Turns(quiet_since_s=3.0)
    assert out == (m.Sign(Earcon.HEARD, c.Signs.SOUNDS), m.Take(c.Next()))
    doubt = heard(Action.ASK, "count fourteen", "count forty")
    turns, out = hears(Turns(), doubt, PLAIN, 3.0)
    assert (turns.asked, out) == ((FOURTEEN, FORTY), (m.AskWhich(on(Turns(), doubt)),))


@pytest.mark.parametrize(
    ("answer", "taken"),
    [
        ("yes", FOURTEEN),
        ("forty", FORTY),
        ("fourteen", FOURTEEN),
        ("count forty", FORTY),
        ("measured forty", FORTY),
        ("no forty", FORTY),
        ("no fifty", c.Counted(50)),
        ("undo", c.Undo()),
        ("count sixteen", c.Counted(16)),
        ("ripped back fourteen rounds", c.RippedBack(14)),
    ],
)
def test_a_choice_is_settled(answer: str, taken: c.Command) -> None:
    turns, out = hears(Turns(asked=(FOURTEEN, FORTY)), heard(Action.ACT, answer), PLAIN, 3.0)
    assert out == (m.Take(taken),)
    assert turns.asked == ()


def test_a_reading_asked_about_is_corrected_in_its_kind_and_unit() -> None:
    asked = (c.Measured(Amount(4.0, 1.0, Unit.CM), c.Kind.ALONG, 10),)
    _, out = hears(Turns(asked=asked), heard(Action.ACT, "no five"), PLAIN, 3.0)
    assert out == (m.Take(c.Measured(Amount(5.0, unit=Unit.CM), c.Kind.ALONG, 10)),)


def test_no_to_the_only_candidate_asks_for_the_words_again() -> None:
    turns, out = hears(Turns(asked=(c.Pause(),)), heard(Action.ACT, "no"), PLAIN, 3.0)
    assert (turns.asked, out) == ((), SIGN)


def test_no_to_both_candidates_asks_for_the_words_again() -> None:
    turns, out = hears(Turns(asked=(FOURTEEN, FORTY)), heard(Action.ACT, "no"), PLAIN, 3.0)
    assert (turns.asked, out) == ((), SIGN)


def test_a_doubtful_answer_settles_only_what_was_asked() -> None:
    asking = Turns(asked=(FOURTEEN, FORTY))
    assert hears(asking, heard(Action.ASK, "yes"), PLAIN, 3.0)[1] == (m.Take(FOURTEEN),)
    other = heard(Action.ASK, "undo")
    turns, out = hears(asking, other, PLAIN, 3.0)
    assert (turns.asked, out) == ((c.Undo(),), (m.AskWhich(on(asking, other)),))


@pytest.mark.parametrize(
    ("part", "trouble"),
    [
        (Part.WHOLE, Trouble.NO_PHRASE),
        (Part.TAIL, Trouble.EARLY),
    ],
)
def test_two_misses_in_a_row_tell_the_trouble(part: Part, trouble: Trouble) -> None:
    missed = heard(Action.SILENT, "next")
    turns, out = hears(Turns(), missed, PLAIN, 1.0, part)
    assert out == SIGN
    turns, out = hears(turns, missed, PLAIN, 2.0, part)
    assert out == (m.TellTrouble(trouble),)
    assert hears(turns, missed, PLAIN, 3.0, part)[1] == SIGN
    once, _ = hears(Turns(), missed, PLAIN, 1.0, part)
    between, _ = hears(once, heard(Action.ACT, "next"), PLAIN, 2.0)
    assert hears(between, missed, PLAIN, 3.0, part)[1] == SIGN


@pytest.mark.parametrize("level", [Trouble.CLIPPING, Trouble.TOO_QUIET, Trouble.NOISE, None])
@pytest.mark.parametrize("others", [0, 1, 2])
@pytest.mark.parametrize("amid_talk", [False, True])
def test_the_trouble_told_is_the_one_measured(
    level: Trouble | None, others: int, amid_talk: bool
) -> None:
    turns = Turns()
    for _ in range(others):
        turns, _ = hears(turns, heard(Action.SILENT), PLAIN, 1.0, amid_talk=amid_talk)
    for now_s in (2.0, 3.0):
        turns, out = hears(
            turns, heard(Action.SILENT, "next"), PLAIN, now_s, level=level, amid_talk=amid_talk
        )
    words = Trouble.TALK if others and amid_talk else Trouble.NO_PHRASE
    assert out == (m.TellTrouble(level or words),)
    assert turns.misses == 0


def test_questions_that_lead_to_nothing_end_in_what_is_wrong() -> None:
    doubts = [
        heard(Action.ASK, "undo"),
        heard(Action.ASK, "pause", "full"),
        heard(Action.ASK, "back"),
    ]
    turns, told = Turns(), list[m.Move]()
    for doubt in doubts:
        turns, out = hears(turns, doubt, PLAIN, 1.0, level=Trouble.NOISE)
        told += out
    asked = [m.AskWhich(on(Turns(), doubt)) for doubt in doubts[:2]]
    assert told == [*asked, m.TellTrouble(Trouble.NOISE)]
    assert turns.asked == ()


def test_no_to_a_question_is_a_miss_and_the_second_tells_what_is_wrong() -> None:
    turns, _ = hears(Turns(), heard(Action.SILENT, "next"), PLAIN, 1.0)
    turns, _ = hears(turns, heard(Action.ASK, "undo"), PLAIN, 2.0)
    turns, out = hears(turns, heard(Action.ACT, "no"), PLAIN, 3.0)
    assert out == (m.TellTrouble(Trouble.NO_PHRASE),)


@given(STATES)
def test_talk_that_is_no_phrase_is_only_noted(turns: Turns) -> None:
    after, out = hears(turns, heard(Action.SILENT), PLAIN, 7.0)
    noted = replace(turns.attention, others_s=(7.0,))
    assert (after, out) == (replace(turns, quiet_since_s=7.0, uncaught_s=7.0, attention=noted), ())


@pytest.mark.parametrize("signs", c.Signs)
def test_signs_are_given_as_the_maker_chose(signs: c.Signs) -> None:
    manners = Manners(signs=signs, remind_s=10.0)
    turns, out = hears(Turns(), heard(Action.SILENT, "next"), manners, 1.0)
    assert out == (m.Sign(Earcon.NOT_CAUGHT, signs),)
    turns, out = hears(turns, heard(Action.ACT, "next"), manners, 2.0)
    assert out == (m.Sign(Earcon.HEARD, signs), m.Take(c.Next()))
    _, out = t.ticked(turns, manners, 12.0, wanted=True)
    assert out == (m.Sign(Earcon.READING_WANTED, signs), m.Remind())


@given(STATES, ACTS)
def test_what_is_caught_at_once_gets_its_reply_and_no_sign(turns: Turns, words: str) -> None:
    turns = replace(turns, misses=0, asked=())
    assert hears(turns, heard(Action.ACT, words), PLAIN, 1.0)[1] == (m.Take(_command(words)),)


@given(STATES, TIMES)
def test_only_who_may_be_talked_over_falls_silent(turns: Turns, now_s: float) -> None:
    assert t.maker_speaks(turns, PLAIN, now_s) == (replace(turns, quiet_since_s=now_s), ())
    after, out = t.maker_speaks(turns, HEADPHONES, now_s)
    assert out == ((m.FallSilent(),) if turns.speaking else ())
    assert not after.speaking
    assert t.maker_speaks(after, HEADPHONES, now_s)[1] == ()


@pytest.mark.parametrize(
    ("spoke_s", "now_s", "over"),
    [
        (0.4, 0.5, False),
        (0.4, 0.56, True),
        (0.5, 0.64, False),
        (0.5, 0.66, True),
        (0.52, 0.9, False),
    ],
)
def test_an_echo_that_pauses_is_over_before_the_maker_speaks(
    spoke_s: float, now_s: float, over: bool
) -> None:
    turns = own.fell_silent(own.began_speaking(Turns()), 10.0)
    times = 10.0, 10.0 + spoke_s, 10.0 + now_s
    assert own.echo_over(turns, PLAIN, *times) is over
    assert not own.echo_over(turns, HEADPHONES, *times)


def test_of_a_part_nothing_is_understood() -> None:
    opinion = heard(Action.ASK, "count fourteen", "count forty")
    left = on(Turns(), opinion, Part.TAIL)
    assert (left.action, left.text, left.command, left.candidates) == (Action.SILENT, "", None, ())
    assert (left.reason, left.alternatives) == (Reason.CUT_OFF, opinion.hypotheses)


@given(STATES, st.floats(0.0, 5.0))
def test_what_a_sound_cut_off_is_said_again_and_heard_out(turns: Turns, later_s: float) -> None:
    turns = replace(own.began_speaking(turns), quiet_since_s=90.0, reminded=True)
    cut, out = t.maker_speaks(turns, HEADPHONES, 100.0)
    assert (cut.speaking, out) == (False, (m.FallSilent(),))
    now_s = 100.0 + later_s
    assert own.began_speaking(cut, sign=True).cut, "a sign says nothing of it"
    assert not own.began_speaking(cut).cut
    assert t.ticked(cut, HEADPHONES, now_s, wanted=False, maker_speaks=True)[1] == ()
    after, out = t.ticked(cut, HEADPHONES, now_s, wanted=False)
    assert (out == (m.Repeat(),)) is (now_s - 100.0 >= t.REPEATS_AFTER_S)
    if out:
        again = own.began_speaking(after, insists=1)
        cut, out = t.maker_speaks(again, HEADPHONES, 110.0)
        assert out == (m.FallSilent(),), "it stood out far"
        assert t.ticked(cut, HEADPHONES, 111.0, wanted=False)[1] == (m.Repeat(),)
        assert own.began_speaking(cut, sign=True).insists == cut.insists == 1
        again = own.began_speaking(cut, insists=cut.insists + 1)
        assert t.maker_speaks(again, HEADPHONES, 113.0)[1] == ()
        for missed in (heard(Action.SILENT), heard(Action.SILENT, "next")):
            assert hears(again, missed, HEADPHONES, 111.0)[1] == ()
        assert hears(again, heard(Action.ACT, "next"), HEADPHONES, 111.0)[1][0] == m.FallSilent()


@given(STATES, ACTS)
def test_a_phrase_that_cut_it_off_is_answered_and_nothing_said_again(
    turns: Turns, words: str
) -> None:
    turns, _ = t.maker_speaks(own.began_speaking(replace(turns, asked=())), HEADPHONES, 100.0)
    turns, out = hears(turns, heard(Action.ACT, words), HEADPHONES, 101.0)
    assert m.Take(_command(words)) in out
    turns = own.fell_silent(own.began_speaking(turns), 105.0)
    assert m.Repeat() not in t.ticked(turns, HEADPHONES, 120.0, wanted=False)[1]


@given(STATES, TIMES)
def test_nothing_is_told_while_the_maker_may_be_speaking(turns: Turns, now_s: float) -> None:
    room = replace(turns.attention, on=True, others_s=(0.0,))
    turns = replace(turns, attention=room, cut=True)
    assert t.ticked(turns, PLAIN, now_s, wanted=True, maker_speaks=True)[1] == ()


@given(STATES)
def test_in_a_pause_only_what_may_end_it_is_missed(turns: Turns) -> None:
    for words in ((), ("next",), ("count forty", "next")):
        after, out = hears(turns, heard(Action.SILENT, *words), PLAIN, 1.0, paused=True)
        assert (after.misses, after.attention, out) == (turns.misses, turns.attention, ())
    assert hears(turns, heard(Action.SILENT, "resume"), PLAIN, 1.0, paused=True)[1] != ()
    taken = hears(replace(turns, asked=()), heard(Action.ACT, "next"), PLAIN, 1.0, paused=True)
    assert m.Take(c.Next()) in taken[1]


@given(STATES)
def test_a_phrase_without_the_words_that_are_needed_is_no_talk_of_others(turns: Turns) -> None:
    turns = replace(turns, attention=replace(turns.attention, on=True, others_s=(0.5,)))
    without = heard(Action.ACT, "next")
    context = Context(attention=turns.attention)
    what = verdict(Evidence(heard(Action.SILENT), without_call=without), context)
    assert what.reason is Reason.LEFT_OUT
    after, out = t.heard(turns, what, PLAIN, 1.0)
    assert after.attention == turns.attention
    assert out == (m.TellAttention(Switch.LEFT_OUT),)


@pytest.mark.parametrize("pause_s", [0.0, 0.5, 0.9, 1.1, 3.0])
def test_what_follows_something_uncaught_at_once_may_be_its_rest(pause_s: float) -> None:
    turns, _ = hears(Turns(), heard(Action.SILENT), PLAIN, 50.0)
    part = own.part_heard(turns, PLAIN, 50.0 + pause_s, 52.0 + pause_s)
    assert part is (Part.REST if pause_s < own.REST_S else Part.WHOLE)
    caught, _ = hears(turns, heard(Action.ACT, "next"), PLAIN, 51.0)
    assert own.part_heard(caught, PLAIN, 51.0, 52.0) is Part.WHOLE
    amid, _ = hears(Turns(), heard(Action.SILENT), PLAIN, 50.0, amid_talk=True)
    assert own.part_heard(amid, PLAIN, 50.0 + pause_s, 52.0 + pause_s) is Part.WHOLE
