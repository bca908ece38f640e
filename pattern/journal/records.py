"""Converts frozen dataclasses to plain dicts and back, by their fields and type hints."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from types import MappingProxyType, NoneType, UnionType
from typing import Any, Generic, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from pattern.errors import BadRecord, RoundsAloudError

E = TypeVar("E")
Record = dict[str, object]
Upcast = Callable[[Record], Record]
"""Converts an event's record from version n to version n + 1."""
_NO_UPCASTS: Mapping[int, Upcast] = MappingProxyType({})
_LEAVES = (str, int, float, bool, NoneType)
# Range of integers on which JSON readers agree: RFC 8259, section 6.
_MAX = {bool: 1, int: 2**53 - 1, float: sys.float_info.max}


def _kind(value: object) -> str:
    return f"record {value.get('type')}" if isinstance(value, dict) else type(value).__name__


def _write(value: object) -> object:
    if isinstance(value, Enum):
        return _write(value.value)
    if type(value) is tuple:
        return [_write(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        kept = {item.name: _write(getattr(value, item.name)) for item in fields(value) if item.init}
        return {"type": type(value).__name__, **kept}
    return _sound(value)


def _sound(value: object) -> object:
    if type(value) not in _LEAVES:
        raise BadRecord(f"{_kind(value)} is nothing a record can hold")
    if isinstance(value, int | float) and not abs(value) <= _MAX[type(value)]:
        raise BadRecord(f"{_kind(value)} that is not finite, or beyond what JSON holds exactly")
    if isinstance(value, str) and any("\ud800" <= letter <= "\udfff" for letter in value):
        raise BadRecord("text with half a character in it")
    return value


class Codec(Generic[E]):
    """Writes events of the given classes as dicts for JSON, and reads them back.

    `parts` are dataclasses nested in events; `upcasts` has one step for each earlier version. Field
    types may be str, int, float, bool, None, enums of str or int, the given dataclasses, tuples,
    and unions whose members differ when written. Raises: TypeError, ValueError for others.
    """

    def __init__(
        self,
        classes: Iterable[type[E]],
        version: int = 1,
        upcasts: Mapping[int, Upcast] = _NO_UPCASTS,
        parts: Iterable[type] = (),
    ) -> None:
        """Check every field of every class, so that an unsupported one is refused here."""
        if sorted(upcasts) != list(range(1, version)):
            raise ValueError(f"version {version} needs one upcast from each of 1..{version - 1}")
        self.version, self._upcasts = version, dict(upcasts)
        self._events: tuple[type, ...] = tuple(classes)
        known = (*self._events, *parts)
        self._classes = {kind.__name__: kind for kind in known}
        if len(self._classes) != len(known):
            raise TypeError("two classes of one name")
        self._seen: dict[object, dict[str, Any]] = {}
        self._hints = {kind: self._field_hints(kind) for kind in known}

    def _field_hints(self, kind: type) -> dict[str, object]:
        if not is_dataclass(kind) or not cast(Any, kind).__dataclass_params__.frozen:
            raise TypeError(f"{kind.__name__} is not a frozen dataclass")
        every = get_type_hints(kind)
        hints = {item.name: every[item.name] for item in fields(kind) if item.init}
        if "type" in hints or not all(map(self._arms, hints.values())):
            raise TypeError(f"{kind.__name__}.type would hide the name of the class")
        return hints

    def _arms(self, hint: object) -> dict[str, Any]:
        """The possible written kinds of a value (see `_kind`), each with its Python type.

        Each hint is resolved only once: a long journal repeats a few hints, and resolving them took
        most of the time of reading it.
        """
        if (known := self._seen.get(hint)) is None:
            known = self._seen[hint] = self._look_at(hint)
        return known

    def _look_at(self, hint: object) -> dict[str, Any]:
        if get_origin(hint) in (Union, UnionType):
            arms = [self._arms(arg) for arg in get_args(hint)]
            merged = {kind: arm for each in arms for kind, arm in each.items()}
            if len(merged) != sum(map(len, arms)):
                raise TypeError(f"{hint} has members that look alike when written")
            return merged
        if get_origin(hint) is tuple and all(a is ... or self._arms(a) for a in get_args(hint)):
            return {"list": hint}
        if isinstance(hint, type) and issubclass(hint, Enum):
            if len(kinds := {type(member.value) for member in hint}) == 1 and kinds <= {str, int}:
                return {kinds.pop().__name__: hint}
        elif isinstance(hint, type) and self._classes.get(hint.__name__) is hint:
            return {f"record {hint.__name__}": hint}
        elif isinstance(hint, type) and hint in _LEAVES:
            return {hint.__name__: hint}
        raise TypeError(f"{hint} is no type a record can hold")

    def _read(self, hint: object, value: Any) -> Any:  # noqa: ANN401 (typed by the hint)
        arms, kind = self._arms(hint), _kind(value)
        if kind == "int":  # accepted where a float is declared: PEP 484, the numeric tower
            arms = {"int": arms.get("float"), **arms}
        if (arm := arms.get(kind)) is None:
            raise BadRecord(f"{kind} is not of type {hint}")
        if kind == "list":
            args = get_args(arm)
            if len(hints := args[:1] * len(value) if ... in args else args) != len(value):
                raise BadRecord(f"{len(value)} items where {len(hints)} belong")
            return tuple(map(self._read, hints, value))
        if isinstance(value, dict):
            return self._read_record(arm, value)
        if issubclass(arm, Enum) and value not in {member.value for member in arm}:
            raise BadRecord(f"{value!r} is no {arm.__name__}")
        return None if _sound(value) is None else arm(value)

    def _read_record(self, kind: type, record: Record) -> object:
        hints = self._hints[kind]
        if odd := record.keys() ^ hints.keys() ^ {"type"}:
            raise BadRecord(f"{kind.__name__} with missing or extra {', '.join(sorted(odd))}")
        try:
            return kind(**{name: self._read(hint, record[name]) for name, hint in hints.items()})
        except (ValueError, TypeError, ArithmeticError, RoundsAloudError) as refusal:
            why = refusal.why if isinstance(refusal, BadRecord) else refusal
            raise BadRecord(f"in {kind.__name__}, {why}") from refusal

    def encode(self, event: E) -> Record:
        """The event as a record. Raises: BadRecord if it would not read back as equal."""
        if self.decode(record := cast(Record, _write(event))) != event:
            raise BadRecord(f"{type(event).__name__} would not come back the same")
        return record

    def decode(self, record: object, version: int | None = None) -> E:
        """The event of a record in this version (default: the newest). Raises: BadRecord."""
        version = self.version if version is None else version
        if not 1 <= version <= self.version or not isinstance(record, dict):
            raise BadRecord(f"{_kind(record)} of version {version} is not known here")
        try:
            for step in range(version, self.version):
                record = self._upcasts[step](dict(record))
        except (LookupError, TypeError, ValueError) as refusal:
            raise BadRecord(f"no way up from version {version}: {refusal!r}") from refusal
        kind = self._classes.get(str(record.get("type")))
        if kind not in self._events:
            raise BadRecord(f"{_kind(record)} is no known event")
        return cast(E, self._read(kind, record))
