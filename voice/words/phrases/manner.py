"""Phrases about the session itself: its words, its pauses, its notes."""

from __future__ import annotations

from collections.abc import Callable

from pattern.session import commands as c
from voice.words.phrases.row import Group, Phrase, Slots, fixed


def _reminder(unit_s: int) -> Callable[[Slots], c.Command]:
    return lambda slots: c.RemindAfter(slots["integer"] * unit_s)


ROWS: tuple[Phrase, ...] = (
    Phrase(
        Group.ALWAYS,
        "resting",
        "a hint to rest your hands in that rhythm",
        (
            "rest every <integer> minutes",
            "rest me every <integer> minutes",
            "remind me to rest every <integer> minutes",
            "a rest every <integer> minutes",
        ),
        lambda slots: c.Rests(slots["integer"]),
    ),
    Phrase(
        Group.ALWAYS,
        "resting",
        "no such hints",
        ("no rest hints", "no hints to rest", "no more rest hints", "don't remind me to rest"),
        fixed(c.Rests(0)),
    ),
    *(
        Phrase(
            Group.ALWAYS,
            "measuring",
            help_,
            (f"ask again after <integer> {unit}", f"remind me after <integer> {unit}"),
            _reminder(unit_s),
        )
        for help_, unit, unit_s in (
            ("after that time I ask once more for a reading", "(minutes | minute)", 60),
            ("the same, in seconds", "seconds", 1),
        )
    ),
    Phrase(
        Group.ALWAYS,
        "measuring",
        "I ask for a reading only once",
        ("do not ask again", "don't ask again", "no reminders"),
        fixed(c.RemindAfter(0)),
    ),
    Phrase(
        Group.CHANGE,
        "notes",
        "your own words for the pattern; typed, they may be any",
        ("note <note_words>", "(make | take) a note <note_words>"),
        lambda slots: c.Note(slots["note_words"]),
    ),
    Phrase(
        Group.CHANGE, "", "how a note is said", ("note", "(make | take) a note"), fixed(c.Note(""))
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "few words from me",
        ("brief", "brief please", "fewer words"),
        fixed(c.Wording(brief=True)),
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "all the words from me",
        ("full", "full please", "more words"),
        fixed(c.Wording(brief=False)),
    ),
    *(
        Phrase(Group.ALWAYS, "speaking", help_, forms, fixed(c.Speak(manner)))
        for manner, help_, forms in (
            (c.Manner.SLOWER, "I speak slower", ("slower", "speak slower")),
            (c.Manner.FASTER, "I speak faster", ("faster", "speak faster")),
            (c.Manner.LOUDER, "I speak louder", ("louder", "speak louder", "speak up")),
            (c.Manner.QUIETER, "I speak more quietly", ("quieter", "speak quieter")),
            (c.Manner.OTHER_VOICE, "I take another voice", ("another voice", "other voice")),
        )
    ),
    *(
        Phrase(Group.ALWAYS, "speaking", help_, forms, fixed(c.Signal(signs)))
        for signs, help_, forms in (
            (
                c.Signs.WORDS,
                "I say in words what a short sound stands for",
                ("say it in words", "words instead of sounds"),
            ),
            (c.Signs.SOUNDS, "short sounds again", ("sounds", "sounds instead of words")),
            (c.Signs.BOTH, "the sound, and what it stands for", ("sounds and words",)),
        )
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "nothing is done until you say resume",
        ("pause", "wait", "stop listening", "stop"),
        fixed(c.Pause()),
    ),
    Phrase(Group.ALWAYS, "", "go on after a pause", ("resume", "i'm back"), fixed(c.Resume())),
    Phrase(
        Group.ALWAYS,
        "",
        "go on after a pause, or with the next round",
        ("go on", "carry on", "ready"),
        fixed(c.GoOn()),
        ("continue", "keep going", "go ahead", "lets go on", "on we go"),
    ),
    Phrase(
        Group.ALWAYS,
        "",
        "put the piece away; everything is kept",
        ("save and leave", "leave", "that's all for now", "goodbye"),
        fixed(c.Leave()),
    ),
)
"""Phrases about the session."""
