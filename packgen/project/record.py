"""What every record of the project file has in common."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from packgen.core.place import NOWHERE, Marks


class Record(BaseModel):
    """A frozen record read from the project file.

    Keys of the file are the field names with blanks for underscores, unless the field has an alias. `marks` says
    where the record and its values stand in the file; it takes no part in comparing.
    """

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=lambda name: name.replace("_", " "),
        populate_by_name=True,
        arbitrary_types_allowed=True,
        defer_build=True,  # the whole project is built once, at its first use, not each record at import
    )

    marks: Marks = Field(default=NOWHERE, alias="(marks)", repr=False, exclude=True)  # no key of the file is so called

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, type(self)):
            return NotImplemented
        mine = {k: v for k, v in self.__dict__.items() if k != "marks"}
        return mine == {k: v for k, v in other.__dict__.items() if k != "marks"}

    __hash__ = None  # type: ignore[assignment]
