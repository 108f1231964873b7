"""Reads the tables of `tools/data/`."""

import csv
import os

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(HERE)


def read(name, folder=os.path.join(HERE, "data")):
    """All rows of a table, blanks as empty strings."""
    with open(os.path.join(folder, name), encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))
