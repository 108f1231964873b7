"""Writes the few YAML shapes that the data files use, always in the same way."""

import math
import re

PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 _,.()/+;&%'~-]*\Z")
RESERVED = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"}


def number(value):
    """The shortest decimal that reads back as the same double, always a float in YAML 1.1 and 1.2."""
    value = float(value)
    if not math.isfinite(value):
        raise ValueError("a number that is not finite")
    text = repr(value)
    mantissa, exponent_mark, exponent = text.partition("e")
    if exponent_mark:
        if "." not in mantissa:
            mantissa += ".0"
        return f"{mantissa}e{int(exponent):+d}"
    return text


def text(value):
    """A string, quoted only where a reader could take it for something else."""
    value = str(value)
    plain = (
        PLAIN.match(value)
        and value.lower() not in RESERVED
        and ": " not in value
        and not value.endswith((" ", ":"))
    )
    return value if plain else '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def flow_text(value):
    """A string inside a flow list, where a comma ends an item."""
    written = text(value)
    if written.startswith('"') or not re.search(r"[,()]", value):
        return written
    return '"' + value + '"'


def scalar(value):
    """One value of any kind on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return number(value)
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(flow_text(v) if isinstance(v, str) else scalar(v) for v in value) + "]"
    return text(value)


def block(mapping, indent=0):
    """A mapping, a key a line; nested mappings indented by two, lists of mappings as flow mappings."""
    lines = []
    pad = " " * indent
    for key, value in mapping.items():
        if value is None:
            continue
        if isinstance(value, dict):
            lines.append(f"{pad}{key}:")
            lines.extend(block(value, indent + 2))
        elif isinstance(value, (list, tuple)) and value and isinstance(value[0], dict):
            lines.append(f"{pad}{key}:")
            for entry in value:
                inner = ", ".join(f"{k}: {flow_scalar(v)}" for k, v in entry.items() if v is not None)
                lines.append(f"{pad}  - {{{inner}}}")
        else:
            lines.append(f"{pad}{key}: {scalar(value)}")
    return lines


def flow_scalar(value):
    """One value inside a flow mapping."""
    return flow_text(value) if isinstance(value, str) else scalar(value)


def document(comment, mapping):
    """A whole file: a comment that says what it is, then the mapping."""
    return "\n".join([f"# {comment}"] + block(mapping)) + "\n"


def listing(comment, mappings):
    """A whole file that is a list of mappings, each begun by its first key."""
    lines = ["# " + comment]
    for mapping in mappings:
        inner = block(mapping, 2)
        lines.append("- " + inner[0].lstrip())
        lines.extend(inner[1:])
    return "\n".join(lines) + "\n"
