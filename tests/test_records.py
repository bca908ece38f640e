"""Records: every supported field comes back equal and of the same type; anything else is refused.

Property: decode(json(encode(event))) == event, over generated classes. Sources beside the checks.
"""

from __future__ import annotations

import json
import operator
from collections.abc import Callable
from dataclasses import dataclass, field, make_dataclass
from enum import Enum, IntEnum, StrEnum
from functools import reduce
from typing import Any, ClassVar, Optional, cast

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pattern.errors import BadRecord, RoundsAloudError
from pattern.journal.records import Codec

WHOLE_MAX = 9007199254740991
"""RFC 8259, section 6: integers within plus or minus 2**53 - 1 are agreed on exactly."""


class Shade(StrEnum):
    MOSS = "moss"
    SAND = "sand"


class Hook(Enum):
    FINE = 3
    STOUT = 6


@dataclass(frozen=True, slots=True)
class Tape:
    across_mm: float
    counted: tuple[int, ...] = ()
    inner: Tape | None = None


Case = tuple[Any, st.SearchStrategy[Any]]

TAPES = st.builds(
    Tape,
    st.floats(allow_nan=False, allow_infinity=False),
    st.lists(st.integers(-WHOLE_MAX, WHOLE_MAX), max_size=3).map(tuple),
    st.none() | st.builds(Tape, st.just(1.5)),
)
TEXT: Case = (str, st.text())
KINDS: list[Case] = [
    (bool, st.booleans()),
    (int, st.integers(-WHOLE_MAX, WHOLE_MAX)),
    (float, st.floats(allow_nan=False, allow_infinity=False)),
    (Shade, st.sampled_from(Shade)),
    (Tape, TAPES),
    (type(None), st.none()),
]
LEAVES = st.sampled_from([TEXT, (Hook, st.sampled_from(Hook)), *KINDS])


def several(cases: list[Case]) -> Case:
    return reduce(operator.or_, (hint for hint, _ in cases)), st.one_of(*(v for _, v in cases))


def repeated(case: Case) -> Case:
    return tuple.__class_getitem__((case[0], ...)), st.lists(case[1], max_size=3).map(tuple)


def fixed(cases: list[Case]) -> Case:
    return tuple.__class_getitem__(tuple(h for h, _ in cases)), st.tuples(*(v for _, v in cases))


def deeper(inner: st.SearchStrategy[Case]) -> st.SearchStrategy[Case]:
    return inner.map(repeated) | st.lists(inner, max_size=3).map(fixed)


UNIONS = st.lists(st.sampled_from(KINDS), min_size=2, unique_by=lambda case: case[0]).map(several)
CASES = st.recursive(LEAVES | UNIONS, deeper, max_leaves=4)


@settings(suppress_health_check=[HealthCheck.too_slow])  # loads Unicode tables once
@given(st.lists(CASES, max_size=4), st.data())
def test_every_generated_class_comes_back_the_same(cases: list[Case], data: st.DataObject) -> None:
    made = [(f"field_{n}", hint) for n, (hint, _) in enumerate(cases)]
    kind = make_dataclass("Made", made, frozen=True, slots=True)
    event = kind(*(data.draw(values) for _, values in cases))
    codec: Codec[object] = Codec([kind], parts=[Tape])
    back = codec.decode(json.loads(json.dumps(codec.encode(event), allow_nan=False)))
    assert back == event
    assert repr(back) == repr(event)  # tells 1 from 1.0 and True, and 0.0 from -0.0


@dataclass(frozen=True)
class Read:
    mm: float
    note: str = ""


@dataclass(frozen=True)
class Mixed:
    value: int | float | None
    shade: Optional[Shade] = None  # noqa: UP045 (the older spelling is read too)


CODEC: Codec[Read | Mixed | Tape] = Codec([Read, Mixed, Tape])


def test_the_record_is_plain_and_names_its_class() -> None:
    assert CODEC.encode(Read(2.5, "é")) == {"type": "Read", "mm": 2.5, "note": "é"}
    assert CODEC.encode(Mixed(None, Shade.MOSS)) == {
        "type": "Mixed",
        "value": None,
        "shade": "moss",
    }


def test_a_whole_number_may_stand_for_a_float_and_stays_whole_where_both_are_allowed() -> None:
    """Source: PEP 484, the numeric tower."""
    assert repr(CODEC.decode(CODEC.encode(Read(560)))) == "Read(mm=560.0, note='')"
    assert repr(CODEC.decode(CODEC.encode(Mixed(560)))) == "Mixed(value=560, shade=None)"
    optional: Codec[Any] = Codec([make_dataclass("M", [("x", float | None)], frozen=True)])
    assert repr(optional.decode({"type": "M", "x": 5})) == "M(x=5.0)"


BAD_EVENTS: list[object] = [
    Read(float("nan")),
    Read(float("inf")),
    Read(-float("inf")),
    Read(WHOLE_MAX + 1),
    Read(True),
    Read("2"),  # type: ignore[arg-type]
    Read(1.0, "\ud800"),
    Read(1.0, None),  # type: ignore[arg-type]
    Read(1.0, b"x"),  # type: ignore[arg-type]
    Read(1.0, Hook.FINE),  # type: ignore[arg-type]
    Read(1.0, Read),  # type: ignore[arg-type]
    Mixed(True),
    Mixed(Tape(1.0)),  # type: ignore[arg-type]
    Mixed(1, "blue"),  # type: ignore[arg-type]
    Tape(1.0, [1]),  # type: ignore[arg-type]
    Tape(1.0, (1, "2")),  # type: ignore[arg-type]
    Tape(1.0, (WHOLE_MAX + 1,)),
    Tape(1.0, (), Read(1.0)),  # type: ignore[arg-type]
    make_dataclass("Stranger", [], frozen=True)(),
    make_dataclass("Read", [("mm", float), ("note", str)], frozen=True)(1.0, ""),
    "no dataclass",
    None,
]


@pytest.mark.parametrize("event", BAD_EVENTS, ids=repr)
def test_an_event_that_would_not_come_back_is_refused(event: object) -> None:
    with pytest.raises(BadRecord):
        cast(Codec[object], CODEC).encode(event)


BAD_RECORDS: list[tuple[object, str]] = [
    ({"type": "Nothing"}, "record Nothing is no known event"),
    ({"mm": 1.0, "note": ""}, "record None is no known event"),
    ({"type": ["Read"]}, "no known event"),
    ([], "list of version 1"),
    (None, "NoneType of version 1"),
    ({"type": "Read", "mm": 1.0}, "Read with missing or extra note"),
    ({"type": "Read", "mm": 1.0, "note": "", "more": 1}, "missing or extra more"),
    ({"type": "Read", "mm": "1", "note": ""}, "in Read, str is not of type"),
    ({"type": "Read", "mm": True, "note": ""}, "bool is not of type"),
    ({"type": "Read", "mm": float("nan"), "note": ""}, "not finite"),
    ({"type": "Read", "mm": 1e999, "note": ""}, "not finite"),
    ({"type": "Read", "mm": 1.0, "note": 5}, "int is not of type"),
    ({"type": "Read", "mm": 1.0, "note": "\udfff"}, "half a character"),
    ({"type": "Mixed", "value": 1, "shade": "blue"}, "'blue' is no Shade"),
    ({"type": "Mixed", "value": [], "shade": None}, "list is not of type"),
    ({"type": "Tape", "across_mm": 1.0, "counted": 3, "inner": None}, "int is not of type"),
    ({"type": "Tape", "across_mm": 1.0, "counted": [1.0], "inner": None}, "float is not of type"),
    ({"type": "Tape", "across_mm": 1.0, "counted": [], "inner": {"type": "Read"}}, "record Read"),
    (
        {"type": "Tape", "across_mm": 1.0, "counted": [], "inner": {"type": "Tape"}},
        "in Tape, Tape with missing",
    ),
]


@pytest.mark.parametrize(("record", "why"), BAD_RECORDS)
def test_a_record_of_another_shape_is_refused_with_the_reason(record: object, why: str) -> None:
    with pytest.raises(BadRecord, match=why):
        CODEC.decode(record)


def test_a_pair_has_just_two() -> None:
    pair: Codec[Any] = Codec([make_dataclass("Pair", [("both", tuple[int, str])], frozen=True)])
    assert pair.decode({"type": "Pair", "both": [1, "a"]}).both == (1, "a")
    with pytest.raises(BadRecord, match="3 items where 2 belong"):
        pair.decode({"type": "Pair", "both": [1, "a", "b"]})


@dataclass(frozen=True)
class Checked:
    stitches: int
    doubled: int = field(init=False)
    limit: ClassVar[int] = 100

    def __post_init__(self) -> None:
        if self.stitches == 0:
            raise RoundsAloudError("a round needs stitches")
        if self.stitches > self.limit:
            raise ValueError("too many")
        object.__setattr__(self, "doubled", 2 * self.stitches)


def test_an_event_checks_itself_when_read_and_derived_fields_are_not_written() -> None:
    codec: Codec[Checked] = Codec([Checked])
    assert codec.encode(Checked(4)) == {"type": "Checked", "stitches": 4}
    assert codec.decode({"type": "Checked", "stitches": 4}).doubled == 8
    for stitches, why in ((0, "needs stitches"), (101, "too many")):
        with pytest.raises(BadRecord, match=why):
            codec.decode({"type": "Checked", "stitches": stitches})


def test_an_event_without_equality_cannot_be_proved_to_come_back() -> None:
    plain = make_dataclass("Plain", [("x", int)], frozen=True, eq=False)
    with pytest.raises(BadRecord, match="would not come back the same"):
        Codec([plain]).encode(plain(1))


def test_a_part_is_no_event() -> None:
    outer = make_dataclass("Outer", [("tape", Tape)], frozen=True)
    codec: Codec[Any] = Codec([outer], parts=[Tape])
    assert codec.decode(codec.encode(outer(Tape(1.0)))) == outer(Tape(1.0))
    with pytest.raises(BadRecord, match="no known event"):
        codec.encode(Tape(1.0))


class Empty(Enum):
    """No members."""


class Half(Enum):
    A = 0.5


class Both(Enum):
    A = 1
    B = "b"


class Again(StrEnum):
    MOSS = "moss"


class Size(IntEnum):
    SMALL = 1


BAD_HINTS: list[Any] = [
    *(list[int], dict[str, int], bytes, object, Any, tuple, Empty, Half, Both, Tape, complex),
    *(str | Shade, Shade | Again, int | Size, tuple[int, ...] | tuple[str, ...]),
    *(tuple[bytes, ...], int | bytes, Callable[[], None]),
]


@pytest.mark.parametrize("hint", BAD_HINTS, ids=repr)
def test_a_field_type_that_cannot_be_told_back_is_refused_when_the_codec_is_made(
    hint: object,
) -> None:
    with pytest.raises(TypeError, match=r"no type a record can hold|look alike"):
        Codec([make_dataclass("Made", [("value", hint)], frozen=True)])


def test_unfit_classes_and_tables_are_refused_when_the_codec_is_made() -> None:
    with pytest.raises(TypeError, match="not a frozen dataclass"):
        Codec([make_dataclass("Loose", [("x", int)])])
    with pytest.raises(TypeError, match="not a frozen dataclass"):
        Codec([Shade])
    with pytest.raises(TypeError, match="would hide the name"):
        Codec([make_dataclass("Typed", [("type", str)], frozen=True)])
    with pytest.raises(TypeError, match="two classes of one name"):
        Codec([Read, Read])
    for version, steps in ((2, []), (1, [1]), (3, [2]), (3, [1, 2, 3])):
        with pytest.raises(ValueError, match="needs one upcast from each"):
            Codec([Read], version, {step: lambda record: record for step in steps})


def to_two(record: dict[str, object]) -> dict[str, object]:
    return {**record, "mm": 10.0 * float(str(record.pop("cm")))} if "cm" in record else record


def to_three(record: dict[str, object]) -> dict[str, object]:
    record["note"] = str(record["remark"])
    return {key: value for key, value in record.items() if key not in ("remark", "cm")}


def test_older_records_are_brought_up_one_version_at_a_time_and_left_unchanged() -> None:
    codec: Codec[Read] = Codec([Read], 3, {1: to_two, 2: to_three})
    old: dict[str, object] = {"type": "Read", "cm": 2.5, "remark": "loose"}
    assert codec.decode(old, 1) == Read(25.0, "loose")
    assert old == {"type": "Read", "cm": 2.5, "remark": "loose"}
    assert codec.decode({"type": "Read", "mm": 5.0, "remark": ""}, 2) == Read(5.0)
    assert codec.decode({"type": "Read", "mm": 5.0, "note": ""}) == Read(5.0)
    with pytest.raises(BadRecord, match="no way up from version 2: KeyError"):
        codec.decode({"type": "Read", "mm": 5.0}, 2)
    for version in (0, 4, -1):
        with pytest.raises(BadRecord, match=f"of version {version} is not known"):
            codec.decode({"type": "Read", "mm": 5.0, "note": ""}, version)
