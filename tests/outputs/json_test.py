"""Holds `--format json` against data/schemas/, and those against their own standard:
json_test.py RUNNEL SOURCE_DIR

Looked at: every output is valid; every key that a schema describes is in some output, and none
besides; each key has a title and a description, each number a unit that its key names; figures are
in full precision; documents made wrong are refused.
"""

import copy
import json
import pathlib
import re
import sys
import tempfile

from jsonschema import Draft202012Validator, FormatChecker, RefResolver

from faults import check, ending
from runs import Runs

SCHEMA_OF = {"until": "plan"}  # others are called as their kind
UNITS = {  # by how a key ends
    "mm/d": r"_mm_a_day$", "mm/h": r"_mm_h$", "mm": r"_mm(_by_day)?$",
    "L/d": r"_l_a_day$", "L": r"(^|_)litres$|_l(_by_day)?$",
    "min": r"(^|_)minutes$|_min(_before)?$", "d": r"(^|_)days(_|$)",
    "degC": r"_c$", "%": r"_percent$|_percentage$", "m2": r"_m2$", "m": r"_m$"}
OF_BOTH = "as its key says"  # between: the unit is that of the key around it
ROUND = {  # numbers that have few digits where what is read has: stated so, or reckoned of it
    "by_hand[].litres", "valves[].by_hand_litres", "past[].found_depletion_mm",
    "weather_sum.rain_mm", "advice[].rained_mm", "advice[].rain_expected_mm",
    "away.zones[].chance", "by_can[].x_m", "by_can[].y_m"}


class Schemas:
    def __init__(self, folder):
        self._folder = pathlib.Path(folder).resolve()
        self.all = {path.name.split(".")[0]: json.loads(path.read_text(encoding="utf-8"))
                    for path in sorted(self._folder.glob("*.schema.json"))}

    def validator(self, kind):
        uri = (self._folder / f"{kind}.schema.json").as_uri()
        return Draft202012Validator(self.all[kind], resolver=RefResolver(uri, self.all[kind]),
                                    format_checker=FormatChecker(["date"]))

    def resolved(self, kind, reference):
        """The kind and the schema that a $ref leads to."""
        file, _, pointer = reference.partition("#")
        kind = file.split(".")[0] or kind
        schema = self.all[kind]
        for step in pointer.split("/")[1:]:
            schema = schema[step]
        return kind, schema

    def keys(self, kind, schema=None, path=""):
        """(path, key, its schema) of each key described, `[]` standing for a list's elements."""
        schema = self.all[kind] if schema is None else schema
        if "$ref" in schema:
            other, target = self.resolved(kind, schema["$ref"])
            yield from self.keys(other, target, path)
        for one in schema.get("oneOf", []):
            yield from self.keys(kind, one, path)
        if "items" in schema:
            yield from self.keys(kind, schema["items"], path + "[]")
        for key, one in schema.get("properties", {}).items():
            where = f"{path}.{key}" if path else key
            yield where, key, self.whole(kind, one)
            yield from self.keys(kind, one, where)

    def whole(self, kind, schema):
        """A key's schema with what it refers to; its own words come first."""
        if "$ref" not in schema:
            return schema
        return {**self.resolved(kind, schema["$ref"])[1], **schema}


def keys_in(document, path=""):
    if isinstance(document, dict):
        for key, value in document.items():
            where = f"{path}.{key}" if path else key
            yield where, value
            yield from keys_in(value, where)
    elif isinstance(document, list):
        for value in document:
            yield path + "[]", value
            yield from keys_in(value, path + "[]")


def types_of(schema):
    types = schema.get("type", [])
    types = set([types] if isinstance(types, str) else types)
    return types | (types_of(schema["items"]) if "items" in schema else set())


def unit_of(key):
    return next((unit for unit, ending in UNITS.items() if re.search(ending, key)), "1")


def check_schemas(schemas):
    for kind, schema in schemas.all.items():
        Draft202012Validator.check_schema(schema)
        check(schema.get("$schema") == Draft202012Validator.META_SCHEMA["$id"], kind, "$schema")
        for where, key, one in schemas.keys(kind):
            for words in ("title", "description"):
                check(one.get(words), kind, where, "has no", words)
            number = types_of(one) & {"number", "integer"}
            check(not number or "unit" in one, kind, where, "has no unit")
            if "unit" in one and one["unit"] != OF_BOTH:
                check(one["unit"] == unit_of(key), kind, where, "is named in", unit_of(key),
                      "and described in", one["unit"])


def check_outputs(schemas, documents):
    seen = {kind: set() for kind in schemas.all}
    digits = {}
    for kind, arguments, document in documents:
        for error in schemas.validator(kind).iter_errors(document):
            check(False, arguments, "/".join(map(str, error.absolute_path)), error.message[:200])
        for where, value in keys_in(document):
            seen[kind].add(where)
            if isinstance(value, float):
                significant = len(re.sub(r"e.*|\D", "", repr(value)).strip("0"))
                digits[kind, where] = max(digits.get((kind, where), 0), significant)
    for kind in schemas.all:
        described = {where for where, _, _ in schemas.keys(kind)}
        unseen = {where for where in described - seen[kind]
                  if where.removeprefix("gardens[].") not in seen["plan"]}  # a plan's own
        check(not unseen, kind, "describes what no output has:", sorted(unseen))
    for (kind, where), most in digits.items():
        check(most >= 12 or where in ROUND, kind, where, "has at most", most, "digits")
    print(sum(map(len, seen.values())), "places in", len(documents), "outputs are as described")


def wrong_ones(plan):
    """Documents that are no plan any more, each by one slip."""
    def slip(change):
        document = copy.deepcopy(plan)
        change(document)
        return document

    yield "a key more", slip(lambda d: d.update(colour="blue"))
    yield "a zone's key more", slip(lambda d: d["zones"][0].update(litres_l=1.0))
    yield "a key less", slip(lambda d: d.pop("litres"))
    yield "a zone's key less", slip(lambda d: d["zones"][0]["by_day"][0].pop("use_mm"))
    yield "a text for a number", slip(lambda d: d.update(litres="630"))
    yield "a day that is none", slip(lambda d: d.update({"from": "2027-02-30"}))
    yield "water below nothing", slip(lambda d: d["zones"][0].update(litres=-1.0))
    yield "a time that is none", slip(lambda d: d["runs"][0].update(start="25:00"))
    yield "a source unknown", slip(lambda d: d["weather"][0].update(source="a dream"))


def main(runnel, source):
    schemas = Schemas(pathlib.Path(source) / "data/schemas")
    check_schemas(schemas)
    with tempfile.TemporaryDirectory() as folder:
        runs = Runs(runnel, source, folder)
        documents = [(SCHEMA_OF.get(kind, kind), arguments,
                      json.loads(runs.run([*arguments, "--format", "json"], ends)))
                     for kind, arguments, ends in runs.cases()]
    check_outputs(schemas, documents)
    plan = next(document for kind, _, document in documents if kind == "plan")
    for slip, document in wrong_ones(plan):
        check(not schemas.validator("plan").is_valid(document), "is let through:", slip)
    return ending()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
