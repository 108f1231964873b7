"""Names the paper of an equation: read from the bibliography shipped with the library, completed here."""

import os
import re

import CoolProp

# What that bibliography leaves out or states as "submitted"; from the papers' own title pages as cited elsewhere.
COMPLETED = {
    "Lemmon-JCED-2006": {"volume": "51", "pages": "785-850"},
    "Lemmon-JCED-2016-365227": {"year": 2015, "volume": "60", "pages": "3745-3758"},
    "Younglove-JPCRD-1994": {"authors": "Younglove, B. A.; McLinden, M. O."},
    "TillnerRoth-JPCRD-1994": {
        "title": "An International Standard Formulation for the Thermodynamic Properties of "
        "1,1,1,2-Tetrafluoroethane (HFC-134a) for Temperatures from 170 K to 455 K and Pressures up to 70 MPa"
    },
    "Setzmann-JPCRD-1991": {"pages": "1061-1155"},
    "Marx-BOOK-1992": {
        "title": "Neue Zustandsgleichungen für R 12, R 22, R 11 und R 113: Beschreibung des thermodynamischen "
        "Zustandsverhaltens bei Temperaturen bis 525 K und Drücken bis 200 MPa",
        "journal": "VDI-Fortschritt-Berichte, Series 19, No. 57, VDI Verlag, Düsseldorf",
        "volume": None,
    },
    "Platzer-BOOK-1990": {"journal": "Springer-Verlag, Berlin"},
    "deVries-ICR-1995": {
        "journal": "Proceedings of the 19th International Congress of Refrigeration, The Hague",
        "pages": "582-589",
    },
    "Zhou-IJT-2016-R245ca": {"authors": "Zhou, Y.; Lemmon, E. W.", "pages": "27"},
    "OrtizVega-JPCRD-2019": {
        "title": "Equation of State for Helium-4",
        "journal": "unpublished when it was coded, with the authors' permission",
    },
    "Gao-JPCRD-2020": {
        "year": 2023,
        "volume": "52",
        "pages": "013102",
        "doi": "10.1063/5.0128269",
        "title": "Thermodynamic Properties of Ammonia for Temperatures from the Melting Line to 725 K "
        "and Pressures to 1000 MPa",
    },
    "Thol-JPCRD-2019-Neon": {"year": 2019, "journal": "J. Phys. Chem. Ref. Data (as submitted)"},
    "Gao-JCED-2016": {"volume": "61", "pages": "2859-2872", "doi": "10.1021/acs.jced.6b00195"},
    "Akasaka-IJT-2024-R1132E": {"pages": "174"},
    "Akasaka-IJT-2023-R1224ydZ": {"pages": "166"},
    "Akasaka-JCED-2019": {"year": 2019, "volume": "64", "pages": "4679-4691", "doi": "10.1021/acs.jced.9b00007",
                          "authors": "Akasaka, R.; Lemmon, E. W."},
    "Akasaka-IJT-2025-R1243zf": {"pages": "23"},
    "Akasaka-IJT-2023": {"pages": "50"},
    "Lemmon-PROPYLENE-2013": {
        "journal": "personal communication; not in print when it was coded",
    },
    "Thol-IJT-2016-R1234zeE": {"pages": "28"},
    "Thol-THESIS-2015": {"journal": "Doctoral thesis, Ruhr-Universität Bochum"},
    "Wu-JPCRD-2011": {"pages": "023104"},
    "Gao-2022-CxFy": {"journal": "Ind. Eng. Chem. Res."},
    "Wagner-JPCRD-2002": {"authors": "Wagner, W.; Pruß, A."},
    "Polt-CT-1992": {"journal": "Chem. Technik"},
    "Buecker-JPCRD-2006": {"authors": "Bücker, D.; Wagner, W."},
    "Buecker-JPCRD-2006B": {"authors": "Bücker, D.; Wagner, W."},
}

ACCENTS = {
    '\\"u': "ü", '\\"{u}': "ü", '{\\"u}': "ü", '\\"a': "ä", '{\\"a}': "ä", '\\"{a}': "ä",
    '\\"o': "ö", '{\\"o}': "ö", '\\"{o}': "ö", "\\ss": "ß", "$\\rho$": "rho", "\\&": "&",
}
SHORT_JOURNALS = {
    "International Journal of Thermophysics": "Int. J. Thermophys.",
    "Int. J. Thermophys": "Int. J. Thermophys.",
    "International Journal of Refrigeration": "Int. J. Refrig.",
}


def _plain(tex):
    for mark, letter in ACCENTS.items():
        tex = tex.replace(mark, letter)
    return re.sub(r"\s+", " ", tex.replace("{", "").replace("}", "")).strip()


def _fields(key):
    """The fields of one entry, by matching braces."""
    path = os.path.join(os.path.dirname(CoolProp.__file__), "CoolPropBibTeXLibrary.bib")
    with open(path, encoding="utf-8") as stream:
        library = stream.read()
    at = library.index("{" + key + ",") + len(key) + 2
    fields = {}
    while match := re.compile(r"\s*([A-Za-z0-9]+)\s*=\s*").match(library, at):
        at = match.end()
        if library[at] != "{":
            raise ValueError(f"{key}: a field without braces")
        depth, start = 0, at
        while True:
            depth += {"{": 1, "}": -1}.get(library[at], 0)
            at += 1
            if depth == 0:
                break
        fields[match.group(1).lower()] = _plain(library[start:at])
        while library[at] in ", \n\r\t":
            at += 1
        if library[at] == "}":
            break
    return fields


def _person(name):
    """`Given Names Family` or `Family, Given` to `Family, G. N.`"""
    if "," in name:
        family, given = [part.strip() for part in name.split(",", 1)]
    else:
        words = name.split()
        first = len(words) - 1
        while first > 1 and words[first - 1].islower():
            first -= 1
        family, given = " ".join(words[first:]), " ".join(words[:first])
    initials = []
    for word in re.split(r"[\s.]+", given):
        if word:
            initials.append("-".join((part if part == "Ch" else part[0]) + "." for part in word.split("-")))
    return f"{family}, {' '.join(initials)}"


def reference(keys):
    """The `reference` block for one or several keys, the first one leading."""
    key = keys.split(",")[0]
    fields, done = _fields(key), COMPLETED.get(key, {})
    pick = lambda name, default=None: done[name] if name in done else fields.get(name, default)
    authors = done.get("authors") or "; ".join(_person(p) for p in re.split(r"\s+and\s+", fields["author"]))
    journal = pick("journal") or fields.get("publisher")
    journal = SHORT_JOURNALS.get(journal, journal)
    pages = (pick("pages") or "").replace("--", "-").replace("–", "-")
    where = ", ".join(part for part in (pick("volume"), pages) if part)
    return {
        "authors": authors,
        "title": pick("title").rstrip("."),
        "journal": f"{journal} {where}".strip() if pick("volume") else ", ".join(p for p in (journal, pages) if p),
        "year": int(re.match(r"\d{4}", str(pick("year"))).group()),
        "doi": pick("doi"),
    }
