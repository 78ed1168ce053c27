"""Holds `--format csv` against data/docs/csv-columns.md, and every figure against the JSON output of
the same run: csv_test.py RUNNEL SOURCE_DIR

Python's csv module is the reader. Looked at: all columns are documented, in order, and none besides;
figures are the JSON's, as doubles; texts too, the guard against formulas taken off; no cell is a
formula; negative numbers are numbers.
"""

import csv
import datetime
import io
import json
import pathlib
import re
import sys
import tempfile

from faults import check, ending
from runs import Runs

# Headings of the document, by what is run. Columns of several stand one after the other.
HEADINGS = {
    "plan": ["plan GARDEN"], "until": ["plan GARDEN", "plan GARDEN --until DATE"],
    "gardens": ["plan GARDEN GARDEN...", "plan GARDEN"], "doubts": ["plan GARDEN --doubts"],
    "replan": ["replan GARDEN --after PLAN"], "compare": ["compare GARDEN"],
    "between": ["compare GARDEN --between ZONE OTHER"], "audit": ["audit CANS"],
    "et": ["et WEATHER"], "steps": ["et WEATHER", "et WEATHER --steps"], "plants": ["plants"]}
NO_JSON = [
    ("et", ["et", "winter.csv", "--latitude", "50.8", "--elevation", "100 m"]),
    ("steps", ["et", "winter.csv", "--latitude", "50.8", "--elevation", "100 m", "--steps"]),
    ("steps", ["et", "hours.csv", "--latitude", "50.8", "--elevation", "100 m", "--longitude", "4",
               "--utc-offset", "1", "--steps"]),
    ("plants", ["plants"])]
FORMULA = re.compile("'*[=+\\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20].", re.DOTALL)


class Column:
    def __init__(self, row):
        name, says, places = (cell.strip() for cell in row.strip("| \n").split(" | "))
        self.name = name.strip("`")
        self.places = re.findall(r"`([^`]*)`", places)
        check(says, self.name, "is not explained")


def documented(path):
    """The columns under each heading."""
    columns, heading = {}, None
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            heading = line.removeprefix("## runnel ")
        elif line.startswith("| `"):
            columns.setdefault(heading, []).append(Column(line))
    return columns


def unguarded(cell):
    return cell[1:] if cell.startswith("'") and FORMULA.match(cell[1:]) else cell


def number(cell):
    try:
        return float(cell)
    except ValueError:
        return None


class Place:
    """Follows a pointer of the document, such as /zones/[zone]/litres, for one row."""

    def __init__(self, document, row, index):
        self._document, self._row, self._index = document, row, index

    def _step(self, node, step):
        if not step.startswith("["):
            return node.get(step)
        if step == "[row]":
            return node[self._index]
        if step == "[date]":
            day, first = (datetime.date.fromisoformat(text)
                          for text in (self._row["date"], self._document["from"]))
            return node[(day - first).days]
        member, _, column = step.strip("[]").rpartition("=")
        wanted = self._row[column]
        if isinstance(node, dict):
            return node.get(wanted)
        return next((one for one in node if str(one.get(member or column)) == wanted), None)

    def value(self, pointer):
        node = self._document
        for step in pointer.split("/")[1:]:
            node = self._step(node, step)
            if node is None:
                return None
        return node


def same(cell, value):
    """Whether the cell says what the JSON says: an empty one nothing, "0" perhaps nothing too."""
    if value is None:
        return cell in ("", "0")
    if isinstance(value, bool):
        return cell == ("yes" if value else "no")
    if isinstance(value, (int, float)):
        return number(cell) == value
    return cell == value


def rows_of(text, columns, name):
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    header = next(reader)
    check(header == columns, name, "has", header, "documented is", columns)
    for cells in reader:
        check(len(cells) == len(header), name, "row of", len(cells))
        for cell in cells:
            if FORMULA.match(cell) and not cell.startswith("'"):
                check(number(cell) is not None, name, "a formula:", cell)
        yield dict(zip(header, map(unguarded, cells)))


def hourly(name):
    return "time" if name == "date" else name.replace("_mj_m2_d", "_mj_m2_h")


def check_against_json(kind, arguments, text, document, columns):
    compared = 0
    prefix = "/gardens/[file]" if kind == "gardens" else ""
    own = {column.name for column in columns[: 3 if prefix else 0]}
    rows = list(rows_of(text, [column.name for column in columns], arguments))
    check(rows, arguments, "no rows")
    for index, row in enumerate(rows):
        place = Place(document, row, index)
        for column in columns:
            if not column.places:
                continue
            at = [pointer if column.name in own else prefix + pointer for pointer in column.places]
            values = [value for value in map(place.value, at) if value is not None]
            check(same(row[column.name], values[0] if values else None) or
                  (column.name == "figure" and row["figure"] in document),
                  arguments, "row", index, column.name, repr(row[column.name]), values)
            compared += bool(values)
    return compared


def main(runnel, source):
    columns = documented(pathlib.Path(source) / "data/docs/csv-columns.md")
    used = {heading for headings in HEADINGS.values() for heading in headings}
    check(set(columns) == used, "headings", set(columns) ^ used)
    compared, negative = 0, 0
    with tempfile.TemporaryDirectory() as folder:
        runs = Runs(runnel, source, folder)
        for kind, arguments, ends in runs.cases():
            text, document = (runs.run([*arguments, "--format", form], ends)
                              for form in ("csv", "json"))
            compared += check_against_json(kind, arguments, text, json.loads(document),
                                           sum((columns[one] for one in HEADINGS[kind]), []))
        for kind, arguments in NO_JSON:
            names = [column.name for one in HEADINGS[kind] for column in columns[one]]
            if "hours.csv" in arguments:
                names = list(map(hourly, names))
            for row in rows_of(runs.run([*arguments, "--format", "csv"]), names, arguments):
                negative += sum((number(cell) or 0) < 0 for cell in row.values())
        named = runs.run(["plan", "terrace/formulas.yaml", "--format", "csv"])
        for cell in ("\"'=1+1\"", "\"'+x\"", "\"'-x\""):
            check(f",{cell}," in named, "not guarded:", cell)
    check(negative > 0, "no negative number was seen")
    print(compared, "cells are the JSON's,", negative, "negative numbers")
    return ending()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
