"""JSON Schema of the project file as people type it, for editors: the records' own schema with the shorthand put in."""

from __future__ import annotations

from typing import Any

from packgen.project.fit import NOTHING
from packgen.project.model import Project

Schema = dict[str, Any]

_NUMBER_OR_TEXT = ["string", "number"]
_LENGTH = {"type": _NUMBER_OR_TEXT, "pattern": r"^[0-9][0-9.,' ]* ?(mm|cm|m)?$"}
_YES_NO = {"enum": ["yes", "no", "unknown", "not needed", True, False]}
_NOTHING = {"$ref": "#/$defs/nothing"}
_CORNERS = "^([Cc]orner )?[0-9]+ (to|-|and) ([Cc]orner )?[0-9]+$"


def _one_pair(key: str, value: Schema, says: str) -> Schema:
    return {
        "type": "object",
        "description": says,
        "patternProperties": {key: value},
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": 1,
    }


_WALL = _one_pair(
    "^wall [0-9]+$",
    {"type": "string", "pattern": "[ ,;](turns?|turn to|skew|right|left|straight|bearing)"},
    "a wall as walked, left hand on it: 'wall 1: 6200, turn right' (or turn left, straight on, skew, skew left at its "
    "end; 'skew, 84.5 degrees' gives the inside angle, 'bows out 350' or 'curves out, radius 2100' a curved wall, "
    "'bearing 126.5' its bearing)",
)
_OFFSET = _one_pair(
    "^[Cc]orner [0-9]+$",
    {"type": "string", "pattern": "[0-9].* (along|on|back).*(right|left|line)"},
    "a corner by how far along the base line and how far beside it: 'corner 2: 3414 along, 2412 left'",
)
_CORNER = _one_pair(
    "^[Cc]orner [0-9]+$",
    {"type": "array", "items": {"type": _NUMBER_OR_TEXT}, "minItems": 2, "maxItems": 2},
    "a corner by its coordinates, along wall 1 and into the room: 'corner 3: [5300, 4180]'",
)
_BASE_LINE: Schema = {
    "description": "the line offsets are measured from: 'corner 1 to corner 4'",
    "type": "string",
    "pattern": _CORNERS,
}
_TAPE = _one_pair(_CORNERS, _LENGTH, "a check tape: 'corner 1 to corner 3: 6662'")
_LAYER: Schema = {
    "description": "a layer above the rail, from the top: 'oak board: 14'",
    "type": "object",
    "minProperties": 1,
}
_FALL: Schema = {
    "description": "'level', '15 per metre, going down from wall 1 to wall 3' (also '1.5 %' or '1:60'), or "
    "'15 per metre, going down to the drain'",
    "type": "string",
    "pattern": "^([Ll]evel|[Nn]one|[Nn]o fall|[Ff]lat|.*[0-9].* from (wall )?[0-9]+ (down )?to (wall )?[0-9]+"
    "|.*[0-9].* (to|towards?) .*[a-zA-Z].*)$",
}
_FINISHED_LEVEL: Schema = {
    "description": "a level in words: 'same as TBM', '12 above TBM', '50 below TBM at wall 1'; or 'open'",
    "type": "string",
    "pattern": "^(open|to be found|free|.*([Ss]ame as|[Ll]evel with|[Ff]lush with|above|below|at) .+)$",
}
_DRYING: Schema = {
    "description": "{first 40 at: 1 mm per day, rest at: 0.5 mm per day}, one rate for all, or none",
    "anyOf": [
        {"type": "string", "pattern": "mm"},
        {
            "type": "object",
            "patternProperties": {
                "^first [0-9.,]+ ?(mm|cm)? ?at$": {"type": "string"},
                "^rest at$": {"type": "string"},
            },
            "additionalProperties": False,
        },
    ],
}
_BOARD: Schema = {
    "description": "thickness and material: '22 OSB', with its size '22 OSB, 2500 x 1250', or 'none'",
    "type": "string",
    "pattern": "^([0-9][0-9.,]* ?(mm|cm)? .+|none)$",
}
_READINGS: Schema = {
    "description": "a table in a text block: 'readings: |', then 'row A B C' and a line a row; '-' for no reading",
    "type": "string",
}


def json_schema() -> Schema:
    """The schema as a dict, draft 2020-12. Numbers may be typed bare or as texts with a unit."""
    made = Project.model_json_schema(by_alias=True, ref_template="#/$defs/{model}")
    kept = {name: _tidy(d) for name, d in made["$defs"].items() if name not in ("Marks", "Place", "Reading")}
    out = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "packgen project file",
        "description": "One job: a room as measured, its levels, the finish, the kit, the fill and the days.",
        **{key: value for key, value in _tidy(made).items() if key in ("type", "properties", "required")},
        "additionalProperties": False,
        "$defs": kept,
    }
    _put_shorthand(kept)
    kept["nothing"] = {"enum": [*NOTHING, False, None], "description": "there is none, or it is not known"}
    return out


def _tidy(node: Any) -> Any:
    """Without marks, made-up titles and empty defaults; pairs as maps; "or nothing" in the words of the file."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    if node.get("type") == "array" and _is_pair(node.get("items", {})):
        return {"type": "object", "additionalProperties": _tidy(node["items"]["prefixItems"][1])}
    if "anyOf" in node:
        parts = [p for p in node["anyOf"] if p.get("type") != "null"]
        if len(parts) < len(node["anyOf"]):
            one = _tidy(parts[0]) if len(parts) == 1 else {"anyOf": _tidy(parts)}
            return one if one.get("description") == "a text" else {"anyOf": [one, _NOTHING]}
    out = {
        key: _tidy(value)
        for key, value in node.items()
        if key not in ("title", "$defs")
        and not (key == "default" and value in (None, "", [], "unknown"))
        and value != ""
    }
    if isinstance(out.get("properties"), dict):
        for key in ("(marks)", "file name"):
            out["properties"].pop(key, None)
    if "yes" in out.get("enum", ()):
        return {**{k: v for k, v in out.items() if k == "default"}, **_YES_NO}
    if out.get("description") == "a text":
        out["type"] = _NUMBER_OR_TEXT
    if out.get("type") == "array" and node.get("default") == []:
        return {"anyOf": [out, _NOTHING]}
    if "default" in out and not isinstance(out["default"], str | int | float):
        del out["default"]
    return out


def _is_pair(items: Schema) -> bool:
    return len(items.get("prefixItems", ())) == 2 and "$ref" not in items


def _put_shorthand(defs: dict[str, Schema]) -> None:
    words: dict[str, Schema] = {
        "Asbestos": _YES_NO,
        "Engineer": _YES_NO,
        "Waterproofing": _YES_NO,
        "Ceiling": _LENGTH,
        "CoolDown": {"type": _NUMBER_OR_TEXT, "pattern": "^[0-9]"},
        "Water": {"type": "string", "pattern": "^[0-9]"},
        "Packing": {"type": "array", "items": _LENGTH},
    }
    for name, short in words.items():
        defs[name] = {"anyOf": [defs[name], short]}
    damp = defs["DampReading"]
    damp["description"] = "{value: 71 % RH, method: hygrometer box 72 h, date: 2027-03-29}, or a word"
    damp["properties"]["value"] = {"type": "string", "pattern": "^[0-9][0-9.,]* *(%|CM|RH)", "description": "'71 % RH'"}
    for key in ("state", "unit"):
        damp["properties"].pop(key)
    word = {"enum": ["not needed", "unknown", "no", "none", "not done", False]}
    defs["DampReading"] = {"anyOf": [damp, word, damp["properties"]["value"]]}
    night = defs["NightTemperature"]["properties"]
    defs["NightTemperature"] = {"anyOf": [night["always"]["anyOf"][0], night["by night"]]}
    fills, prices = defs["Fills"], defs["Prices"]
    fills["additionalProperties"] = fills["properties"].pop("described")["additionalProperties"]
    prices["additionalProperties"] = prices["properties"].pop("items")["additionalProperties"]
    defs["SetUp"]["properties"]["readings"] = _READINGS
    rail = defs["RailPart"]["properties"]
    for key in ("stock", "offcuts at hand"):
        rail[key] = {"anyOf": [rail[key], _LENGTH]}
    kit = defs["Kit"]["properties"]
    for key, name in (("leg", "LegPart"), ("extension", "Extension")):
        kit[key] = {"anyOf": [{"$ref": f"#/$defs/{name}"}, kit[key]]}
    defs["Levels"]["required"].remove("setups")  # a readings file may hold the whole book
    defs.update(
        BaseLine=_BASE_LINE,
        Corner=_CORNER,
        Offset=_OFFSET,
        Wall=_WALL,
        Tape=_TAPE,
        Layer=_LAYER,
        Fall=_FALL,
        FinishedLevel=_FINISHED_LEVEL,
        Drying=_DRYING,
        BoardOnTop={"anyOf": [defs["BoardOnTop"], _BOARD]},
    )
