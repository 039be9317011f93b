"""Makes findings by the catalogue: gate and lift come from the code, so that no check can name another."""

from __future__ import annotations

from collections.abc import Sequence

from packgen.core.finding import Finding, Gate, Kind, Lift
from packgen.core.place import Place
from packgen.core.worked import Figure, Source
from packgen.review.codes import CODES


def found(
    kind: Kind,
    code: str,
    says: str,
    *,
    where: str = "",
    number: Figure | None = None,
    limit: Figure | None = None,
    unit: str = "",
    source: Source | str = "",
    cures: Sequence[str] = (),
    place: Place | None = None,
    gate: Gate | None = None,
    lift: Lift | None = None,
    more: tuple[str, ...] = (),
) -> Finding:
    """A finding of a code in the catalogue. `gate` and `lift` overrule the code's where one code has two ways.

    number, limit: figures with where they come from, so that `packgen explain` can tell it

    ValueError where the catalogue does not know the code in this kind, or a stop has no cure.
    """
    row = CODES[code]
    if kind not in row.kinds:
        raise ValueError(f"{code} does not come as {kind}")
    if kind == "stop" and not cures:
        raise ValueError(f"{code}: a stop without a cure")
    return Finding(
        kind,
        code,
        says,
        where,
        number.value if number is not None else None,
        limit.value if limit is not None else None,
        unit,
        gate or row.gate,
        (lift or row.lift) if kind == "stop" else None,
        str(source),
        tuple(cures),
        None,
        place,
        number,
        limit,
        more,
    )
