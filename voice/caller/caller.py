"""The caller: words in, words out, and every turn on the disk before its reply."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import UTC, datetime

from pattern.forecast.pace import Pace, pace_of, rest_due
from pattern.journal.journal_errors import (
    JournalError,
    JournalGone,
    JournalReplaced,
    JournalUnwritable,
)
from pattern.session.commands import Another, Ask, Asked, Command
from pattern.session.decisions import decided, opened, taken_up
from pattern.session.events import SpeechChosen
from pattern.session.folding import Turn, Unfolding, fold, unfolding
from pattern.session.history import state_read
from pattern.session.next_piece import another
from pattern.session.refusals import Reason, Refused
from pattern.session.state import State
from pattern.shape.rounds import Stage
from voice.caller import one_breath, unheard
from voice.caller.clock import Clock, now_utc
from voice.caller.keeping import Keeping
from voice.caller.pending import Pending, asked_about, is_let_go
from voice.caller.reply import Reply
from voice.caller.understanding import understood
from voice.caller.unsaid import Unsaid
from voice.sentences import asked_first, due, opening, pace, refusals, reply
from voice.sentences.amounts import joined

NewPiece = Callable[[], Keeping]
"""Opens the journal of a piece that is not there yet."""
TORN = "The last words before I stopped were not kept; say them again."
ALONE = "Here I keep one piece only; begin the next one with a call of its own."


class Caller:
    """One piece in work. Whatever brings the words, they come through here."""

    def __init__(
        self,
        journal: Keeping,
        clock: Clock = now_utc,
        new_piece: NewPiece | None = None,
        *,
        keeps_unheard: bool = False,
    ) -> None:
        """Takes up the piece where its journal ends; `new_piece` opens one for the next.

        With `keeps_unheard`, words that mean nothing here are kept beside the piece.

        Raises: JournalDamaged.
        """
        self._journal, self._clock, self._new_piece = journal, clock, new_piece
        self.state = state_read(journal.path, journal.turns)
        self._unsaid = Unsaid()
        self._unheard = unheard.Keeper(wanted=keeps_unheard)
        self._pending: Pending | None = None
        """The thing that was asked about, and waits for its answer."""

    def open(self, answers: Iterable[Command] = (), carried: Turn = ()) -> Reply:
        """The first words. A piece that has begun goes on, and `answers` do not count.

        `carried` is what an earlier piece taught, see pattern.session.next_piece.

        Raises: Refused for an answer that makes no sense; JournalError when it cannot be kept.
        """
        torn = TORN if self._journal.dropped_tail else ""
        if self._journal.turns:
            taken = taken_up(self.state, self._days_away())
            self._keep(unfolding(self.state, *taken))
            said = opening.opening(self.state, resumed=True, events=taken)
            return Reply(f"{torn} {said}".strip(), self.state, events=taken)
        begun = opened(answers, carried)
        self._keep(begun)
        first = self._opened(None, begun.turn)
        return replace(first, say=f"{torn} {first.say}".strip())

    def _opened(self, command: Command | None, turn: Turn) -> Reply:
        """The first words of a new piece."""
        begun = self.state.question is None
        first = Reply(opening.opening(self.state, resumed=False), self.state, command, turn)
        self._unsaid = Unsaid(opening.rest_of_plan(self.state) if begun else ())
        return first

    def hear(self, words: str) -> Reply:
        """The reply to words that were typed or recognised."""
        before = self._pending
        found = understood(words, self.state, before)
        self._pending = found.pending
        asks = asked_about(found.pending)
        if not found.commands:
            lost = self.missed(words) if found.unheard else ""
            said = joined(found.say, lost) if lost else found.say
            return Reply(said, self.state, asks=asks, unheard=found.unheard)
        state = self.state
        answer = replace(one_breath.taken(found, self.take), asks=asks)
        asked = asked_about(before)
        if not is_let_go(asked, found):
            return answer
        return replace(answer, say=joined(asked_first.left_out(asked, state), answer.say))

    def missed(self, words: str) -> str:
        """Keep words that mean nothing here, where that is wanted; why they cannot be, once."""
        return self._unheard.kept_or_why(self._journal.path, words, self.state, self._at_iso())

    def take(self, command: Command) -> Reply:
        """The reply to a command; nothing is lost when the disk refuses, and nothing changes."""
        if isinstance(command, Another):
            return self._begin(command)
        if (further := self._unsaid.at(command, self.state)) is not None:
            self._unsaid = self._unsaid.gone_on(command)
            return Reply(further, self.state, command)
        before = self.state
        try:
            done = decided(before, command)
            turn = done.turn
            self._keep(done)
        except Refused as refused:
            open_ = refused.reason is Reason.DOUBT_OPEN
            said = due.now(before) if open_ else refusals.refusal(refused, before.settings)
            return Reply(said, before, command, refused=refused)
        except JournalReplaced as replaced:
            return Reply(str(replaced), done.after, command, turn, replaced=True)
        except (JournalUnwritable, JournalGone) as refused_by_disk:
            return Reply(str(refused_by_disk), before, command, unheard=True)
        known = self._pace(command)
        said = reply.reply(before, command, turn, self.state, known)
        finished = before.stage is not Stage.DONE and self.state.stage is Stage.DONE
        done_so = Reply(said, self.state, command, turn, finished=finished)
        left = reply.rest(before, command, turn, self.state, known)
        self._unsaid = self._unsaid.after(done_so, left)
        if turn and rest_due(self._journal.turns, self.state.rest_min):
            return replace(done_so, say=joined(said, pace.rest(self.state)))
        return done_so

    def _begin(self, command: Another) -> Reply:
        """The first words of one more piece; this one stays as it is kept."""
        before = self.state
        try:
            ended = decided(before, command)
            turn = another(before, self._journal.path.stem, command)
        except Refused as refused:
            said = refusals.refusal(refused, before.settings)
            return Reply(said, before, command, refused=refused)
        if self._new_piece is None:
            return Reply(ALONE, before, command)
        try:
            self._keep(ended)
            journal = self._new_piece()
            journal.append(turn, self._at_iso())
        except JournalError as refused_by_disk:
            replaced = isinstance(refused_by_disk, JournalReplaced)
            return Reply(str(refused_by_disk), self.state, command, replaced=replaced)
        self._journal, self.state = journal, fold(State(), turn)
        return self._opened(command, turn)

    def choose(self, speech: SpeechChosen) -> None:
        """Keep how sentences are spoken, chosen otherwise than in words, as if it had been said.

        Raises: JournalError when it cannot be kept.
        """
        if speech != self.state.speech:
            self._keep(unfolding(self.state, speech))

    def preview(self, command: Command) -> str:
        """Reply that a command would get; nothing happens. Empty when it makes no sense now."""
        before = self.state
        if (further := self._unsaid.at(command, before)) is not None:
            return further
        try:
            done = decided(before, command)
        except Refused:
            return ""
        return reply.reply(before, command, done.turn, done.after, self._pace(command))

    def again(self) -> Reply:
        """Repeat what is due now."""
        return self.take(Ask(Asked.AGAIN))

    def _days_away(self) -> float:
        last = datetime.fromisoformat(self._journal.turns[-1].at_iso)
        return (self._clock().astimezone(UTC) - last).total_seconds() / 86400

    def _pace(self, command: Command) -> Pace | None:
        """The maker's pace, where the answer depends on it: it takes a look at every turn."""
        asked = isinstance(command, Ask) and command.what in reply.ABOUT_TIME
        return pace_of(self._journal.turns) if asked else None

    def _keep(self, done: Unfolding) -> None:
        if done.turn:
            self._journal.append(done.turn, self._at_iso())
            self.state = done.after

    def _at_iso(self) -> str:
        return self._clock().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")
