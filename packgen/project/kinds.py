"""Kinds of values in the project file: each reads the text as typed, and passes on what the program gives itself."""

from __future__ import annotations

import datetime
import functools
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Annotated, Any, TypeVar

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from packgen.core import lengths
from packgen.core.lengths import NotUnderstood
from packgen.core.place import Place
from packgen.project import amounts, times
from packgen.project.amounts import PersonRate, Price
from packgen.project.tree import Scalar

T = TypeVar("T")


@dataclass(frozen=True)
class SpokenName:
    """A name that a level was measured from; `level` the level's text, `key` what it is the level of."""

    name: str
    place: Place
    level: str
    key: str


@dataclass
class Spoken:
    """What is known while a file is read: the datum's name, and each name that a level was measured from."""

    datum: str = "TBM"
    names: list[SpokenName] = field(default_factory=list)


def _kind(read: Callable[[str], Any], pattern: str, says: str, plain: str = "string") -> tuple[Any, Any]:
    def before(value: Any) -> Any:
        return understood(lambda: read(value), value) if isinstance(value, str) else value

    types: dict[str, Any] = {"type": plain} if plain == "string" else {"type": ["string", plain]}
    return BeforeValidator(before), WithJsonSchema({**types, "pattern": pattern, "description": says})


def understood(read: Callable[[], T], text: Any) -> T:
    """What `read` gives; a text without meaning becomes a fault that carries the text and its guess."""
    try:
        return read()
    except NotUnderstood as why:
        raise PydanticCustomError(
            "not-understood", "{says}", {"says": str(why), "guess": why.guess, "code": why.code, "text": text}
        ) from why


def _level(value: Any, info: ValidationInfo) -> Any:
    if not isinstance(value, str):
        return value
    spoken = info.context if isinstance(info.context, Spoken) else Spoken("")
    mm, name = understood(lambda: lengths.level(value, spoken.datum or "TBM"), value)
    if isinstance(value, Scalar):
        spoken.names.append(SpokenName(name, value.place, str(value), value.label))
    return mm


def _point(value: Any) -> Any:
    if isinstance(value, str) or not isinstance(value, list | tuple):
        return value
    if len(value) != 2:
        return value
    return tuple(understood(functools.partial(amounts.coordinate, v), v) if isinstance(v, str) else v for v in value)


_FIGURE = r"[+-]?[0-9][0-9.,'’ ]*"
_LENGTH = rf"^{_FIGURE} ?(mm|cm|m|milli\w+|centi\w+|met\w+)?$"


def _as_list(value: Any) -> Any:
    if value is None:
        return ()
    return value if isinstance(value, list | tuple) else (value,)


ONE_OR_MANY = BeforeValidator(_as_list)  # a list of records, of which the file may write one alone without a dash
Words = Annotated[str, *_kind(amounts.words, "", "a text")]
Length = Annotated[float, *_kind(amounts.size, _LENGTH, "a length; a bare number is mm", "number")]
Cell = Annotated[float, *_kind(lengths.length, _LENGTH, "a reading or a level, mm", "number")]
Distance = Annotated[float, *_kind(amounts.distance, _LENGTH, "a length on plan; a bare number is mm", "number")]
Coordinate = Annotated[
    float, *_kind(amounts.coordinate, rf"^-?{_FIGURE}", "a length that may lie behind the start", "number")
]
Level = Annotated[
    float,
    BeforeValidator(_level),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": r"^(same as|level with|flush with|at|.+ (above|below)) .+$",
            "description": "a level in words: '12 above TBM', '8 below TBM', 'same as TBM'",
        }
    ),
]
PointMm = Annotated[
    tuple[float, float],
    BeforeValidator(_point),
    WithJsonSchema(
        {
            "type": "array",
            "items": {"type": ["string", "number"], "pattern": rf"^-?{_FIGURE} ?(mm|cm|m)?$"},
            "minItems": 2,
            "maxItems": 2,
            "description": "a place: [along wall 1 from corner 1, from wall 1 into the room], mm",
        }
    ),
]
WallRef = Annotated[int, *_kind(amounts.wall, r"^[Ww]all [0-9]+$", "a wall of the room: 'wall 2'")]
Count = Annotated[int, *_kind(amounts.count, r"^[0-9]+$", "a whole number", "integer")]
Day = Annotated[datetime.date, *_kind(times.day, r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "a day: 2027-04-05")]
Weekday = Annotated[int, *_kind(times.weekday, r"^(Mon|Tue|Wed|Thu|Fri|Sat|Sun)", "a day of the week: Mon")]
Days = Annotated[int, *_kind(times.days, r"^[0-9]+( days?| weeks?)?$", "a number of days: '3 days'", "integer")]
Hours = Annotated[float, *_kind(times.hours, r"^[0-9]", "hours: 8, 7.5 or 7:30", "number")]
Minutes = Annotated[float, *_kind(times.minutes, r"^[0-9].*", "a time: '45 min'")]
Degrees = Annotated[float, *_kind(amounts.degrees, r"^[0-9]", "an angle in degrees", "number")]
Bearing = Annotated[float, *_kind(amounts.bearing, r"^[NSns]? ?[0-9]", "a bearing: '126.5', '126 55 17'", "number")]
Percent = Annotated[float, *_kind(amounts.figure, rf"^{_FIGURE}", "a figure", "number")]
Share = Annotated[float, *_kind(amounts.share, rf"^{_FIGURE}%$", "a share: '5 %'")]
Temperature = Annotated[float, *_kind(amounts.temperature, rf"^{_FIGURE}(°|deg)? ?C", "a temperature: '5 C'")]
Mass = Annotated[float, *_kind(amounts.mass, rf"^{_FIGURE}", "a mass: '25 kg'")]
AreaMass = Annotated[float, *_kind(amounts.area_mass, rf"^{_FIGURE}", "mass on an area: '2.8 kg/m2'")]
Density = Annotated[float, *_kind(amounts.density, rf"^{_FIGURE}", "a density: '2150 kg/m3'")]
Volume = Annotated[float, *_kind(amounts.volume, rf"^{_FIGURE}", "a volume: '12.5 l'")]
Force = Annotated[float, *_kind(amounts.force, rf"^{_FIGURE}", "a force: '2.5 kN'")]
Load = Annotated[float, *_kind(amounts.load, rf"^{_FIGURE}", "a load on an area: '0.60 kN/m2'")]
Resistance = Annotated[float, *_kind(amounts.resistance, rf"^{_FIGURE}", "what a board carries: '30 kPa'")]
Pressure = Annotated[float, *_kind(amounts.pressure, rf"^{_FIGURE}", "a pressure: '4 bar'")]
Conductivity = Annotated[float, *_kind(amounts.conductivity, rf"^{_FIGURE}", "a thermal conductivity: '1.2 W/mK'")]
DryRate = Annotated[float, *_kind(amounts.dry_rate, rf"^{_FIGURE}", "a rate of drying: '1 mm per day'")]
FlowRate = Annotated[float, *_kind(amounts.flow_rate, rf"^{_FIGURE}", "an output: '420 l per hour'")]
CarryRate = Annotated[float, *_kind(amounts.carry_rate, rf"^{_FIGURE}", "a rate: '12 bags per person hour'")]
Rate = Annotated[PersonRate, *_kind(amounts.rate, rf"^{_FIGURE}", "a rate: '3.5 m2 per person hour'")]
Money = Annotated[float, *_kind(amounts.money, rf"^{_FIGURE}$", "an amount of money, without the currency", "number")]
UnitPrice = Annotated[Price, *_kind(amounts.price, rf"^{_FIGURE}", "a price: '24.00 per m2'", "number")]
