"""The reply to a command: what happened, read back; then what is to be done now."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from pattern import commands as c
from pattern import events as e
from pattern.pace import Pace
from pattern.rounds import Round, Stage
from pattern.session import State
from voice.sentences import finishing, help, lost, pace, places, questions, readings, rounds, yarn
from voice.sentences.amounts import counted, joined, with_unit
from voice.spoken_numbers import say_integer


def reply(before: State, command: c.Command, events: Sequence[e.Event], after: State,
          known: Pace | None = None) -> str:  # fmt: skip
    """What is said after a command that made sense; `known` is the maker's pace."""
    if isinstance(command, c.Help):
        return help.topic(command.topic) if command.topic else help.overview(after)
    if isinstance(command, c.LostAt):
        return lost.answer(after, command)
    if isinstance(command, c.Ask):
        return told(after, command.what, known)
    happened = [_happened(event, before, after) for event in events]
    return joined(*happened, _due(before, events, after))


def now(state: State) -> str:
    """What the maker is to do or to answer now, as said by "again"."""
    if state.paused:
        return "Paused. Say resume to go on."
    if state.doubt is not None:
        return readings.doubted(state.doubt, state)
    if state.question is not None:
        return questions.question(state.question, state.settings, state.brief)
    if state.stage is Stage.FINISHING:
        return finishing.step(state)
    if state.offered is None:
        return finishing.done(state)
    wanted = readings.asked(state.want, state.piece, state.brief) if state.want else ""
    return joined(wanted, rounds.called(state.offered, state.settings, state.brief, state.sets))


_TOLD: dict[c.Asked, Callable[[State], str]] = {
    c.Asked.AGAIN: now,
    c.Asked.WHERE: lambda state: joined(places.where(state), now(state)),
    c.Asked.HOW_MANY: places.how_many,
    c.Asked.STITCHES: places.stitches,
    c.Asked.ROUNDS: places.rounds,
    c.Asked.READING: places.next_reading,
    c.Asked.WHAT_NEXT: places.what_next,
    c.Asked.YARN: yarn.needed,
    c.Asked.ENOUGH: yarn.enough,
}


_TIMES: dict[c.Asked, Callable[[State, Pace | None], str]] = {
    c.Asked.TIME_LEFT: pace.left,
    c.Asked.CROWN_TIME: pace.crown,
}
ABOUT_TIME = frozenset(_TIMES)
"""Questions whose answer depends on the maker's pace."""


def told(state: State, what: c.Asked, known: Pace | None = None) -> str:
    """The answer to something that only asks; `known` is the maker's pace."""
    if what in _TIMES:
        return _TIMES[what](state, known)
    return joined(_TOLD[what](state))


def opening(state: State, *, resumed: bool, events: Sequence[e.Event] = ()) -> str:
    """The first words of a call; `events` are those of taking it up."""
    if resumed:
        days = next((event.days for event in events if isinstance(event, e.LeftAlone)), 0.0)
        return joined("welcome back.", readings.left_alone(days, state) if days else "",
                      places.where(state), now(state))  # fmt: skip
    like = "I begin with the stitch I learned on your other piece." if state.known else ""
    if state.stage is Stage.SETUP:
        return joined("a new hat.", like, "Skip takes the usual answer, begin skips the rest.",
                      now(state))  # fmt: skip
    return joined("a new hat.", like, plan(state), now(state))


def plan(state: State) -> str:
    """The plan in short, said when the interview is over."""
    settings = state.settings
    yarn, hook = questions.value("yarn", settings), questions.value("hook_mm", settings)
    brim = questions.value("brim_mm", settings)
    around = f"{with_unit(settings.girth_mm, settings, 8)} around"
    return joined(f"{around}, {questions.value('depth_mm', settings)}, {brim}.",
                  f"You need yarn of {yarn}, {hook}, a marker, a tape and a needle.",
                  f"{places.rounds(state)}", finishing.child(settings))  # fmt: skip


def _happened(event: e.Event, before: State, after: State) -> str:
    """What an event is told as; nothing where what is due next tells it."""
    match event:
        case e.QuestionAnswered("age_years", _) | e.QuestionAnswered("unit", _) if (
            before.question not in {"unit", "age_years"}
        ):
            return ""
        case e.QuestionAnswered(key, _):
            return questions.answered(key, after.settings)
        case e.QuestionSkipped(key):
            return "" if before.brief else questions.answered(key, after.settings)
        case e.SetupDone():
            return plan(after)
        case e.SetsWorked(sets):
            return _sets(sets, after)
        case e.ReadingTaken(reading):
            return readings.taken(reading, after)
        case e.CountTaken(count):
            return readings.count_taken(count, before, after)
        case e.LookTaken(look):
            return readings.look_taken(look, after)
        case e.YarnWeighed(grams, _, fresh):
            return yarn.stash(after) if fresh and after.last == "stash_g" else (
                yarn.weighed(grams, after))  # fmt: skip
        case e.ReadingSkipped():
            return "No reading."
        case e.DoubtDropped():
            kept = before.doubt is not None and (before.doubt.reading or before.doubt.count)
            return "Not kept." if kept else "Going on."
        case e.RoundsTakenBack(count, ripped):
            return f"{counted(count, 'round')} out." if ripped else "One round back."
        case e.WordingChosen(brief):
            return "Few words." if brief else "All the words."
        case e.SpeechChosen():
            return "Like this."
        case e.TensionChanged():
            return "I trust the readings so far less."
        case e.NoteTaken(text, number):
            return places.noted(text, number)
        case e.RestsChosen(every_min):
            return pace.rests(every_min)
        case e.Paused():
            return "Paused. Say resume to go on."
        case e.Resumed():
            return joined("going on.", places.where(after))
        case e.Left():
            return joined("saved.", places.where(after), "Goodbye.")
        case e.Undone():
            return "Taken back."
        case e.StageStarted(stage):
            return _stage_started(stage, before, after)
    return ""


def _sets(sets: int, after: State) -> str:
    all_ = after.offered.sets if after.offered else sets
    left = all_ - sets
    said = f"{say_integer(sets)} of {counted(all_, 'set')}."
    if after.want is not None:
        return joined(said, readings.asked(after.want, after.piece, after.brief), "Or go on.")
    if left:
        return joined(said, f"{say_integer(left)} to go.")
    return joined(said, "Then to the end of the round.")


def _stage_started(stage: Stage, before: State, after: State) -> str:
    if stage is Stage.FINISHING:
        last = before.piece if before.offered is None else after.piece
        brim = readings.one_more_row(last) if last.brim_rounds else ""
        return joined("that was the last round.", brim)
    return ""


_NEEDS_NO_CALL = (e.Left, e.Paused, e.SetsWorked, e.WordingChosen, e.RestsChosen,
                  e.SpeechChosen)  # fmt: skip
"""After these nothing is called again."""
_BESIDE = (e.YarnWeighed, e.NoteTaken)
"""After these the round is not called again, but an open question is asked again."""


def _due(before: State, events: Sequence[e.Event], after: State) -> str:
    """What is to be done now, where this turn changed it."""
    if any(isinstance(event, _NEEDS_NO_CALL) for event in events) and not _offers(events):
        return ""
    offered = after.offered
    if not _offers(events) or offered is None:
        beside = any(isinstance(event, _BESIDE) for event in events)
        return "" if beside and offered is not None else now(after)
    return joined(_passage(before, offered, after), _call(offered, after))


def _offers(events: Sequence[e.Event]) -> bool:
    return any(isinstance(event, e.RoundOffered) for event in events)


def _passage(before: State, offered: Round, after: State) -> str:
    """What is said where one part of the hat ends and the next begins."""
    came_from = before.offered.stage if before.offered else before.stage
    if after.sets or came_from is offered.stage or after.brief:
        return ""
    piece = after.piece
    if offered.stage is Stage.SIDES and piece.side_rounds == 0:
        deep = with_unit(piece.settings.depth, piece.settings, 8)
        return joined(readings.crown_ends(piece, piece.stitches, piece.finished),
                      f"now the sides, until they are {deep} from the centre.")  # fmt: skip
    if offered.stage is Stage.BRIM and piece.brim_rounds == 0:
        return joined(f"the sides are {readings.depth_so_far(piece)}.", readings.brim_begins(piece))
    return ""


def _call(offered: Round, after: State) -> str:
    """The offered round, with the reading wanted before it."""
    if after.sets:
        return _cut(offered, after)
    lies = readings.brim_lies(after.piece, offered) if offered.stage is Stage.BRIM else ""
    wanted = readings.asked(after.want, after.piece, after.brief) if after.want else ""
    if wanted and not after.brief:
        wanted = joined(wanted, "Or go on.")
    said = rounds.called(offered, after.settings, after.brief)
    return joined(wanted, said, lies)


def _cut(offered: Round, after: State) -> str:
    """What is left of a round in work whose increases end early."""
    total = counted(offered.after, "stitch", "stitches")
    if after.sets < offered.sets:
        more = counted(offered.sets - after.sets, "more set")
        return joined(f"{more}, then plain to the end of the round.", f"{total}.")
    part = offered.worked_after(after.sets) / offered.before
    rounds_now = after.piece.finished + part
    return joined("stop increasing here: plain to the end of the round.",
                  readings.crown_ends(after.piece, offered.after, rounds_now))  # fmt: skip
