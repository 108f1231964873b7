"""What has no answer: exceptions for numbers, codes for rows."""

from __future__ import annotations

from enum import IntEnum


class Error(Exception):
    """A question without an answer. `hint` says what to do about it, where there is something to
    say; `row` is the place of the row in a column, from 0, or None."""

    def __init__(self, message: str, hint: str | None = None, row: int | None = None) -> None:
        super().__init__(message, hint, row)
        self.message = message
        self.hint = hint
        self.row = row

    def __str__(self) -> str:
        place = "" if self.row is None else f"row {self.row}: "
        hint = "" if self.hint is None else f"; {self.hint}"
        return f"{place}{self.message}{hint}"


class OutOfRange(Error, ValueError):
    """A value outside the range in which there is an answer."""


class NoState(Error, ValueError):
    """No state has the two properties, or more than one has."""


class NoAnswer(Error, ValueError):
    """The question has no answer, for the reason given."""


class NotConverged(Error, ArithmeticError):
    """A solver ended without an answer."""


class UnknownRefrigerant(Error, LookupError):
    """No refrigerant is known by this name."""


class RefusedRefrigerant(Error, LookupError):
    """The refrigerant is known, but not included."""


class CompositionError(Error, ValueError):
    """A notation or mapping that says no composition."""


class NoReferenceState(Error, ValueError):
    """A reference state of enthalpy and entropy that the refrigerant does not have."""


class Code(IntEnum):
    """Why a row has no answer: the numbers that errors="codes" gives."""

    ANSWERED = 0
    MISSING = 1  # null or NaN was given
    OUT_OF_RANGE = 2
    NO_STATE = 3
    NO_ANSWER = 4
    NOT_CONVERGED = 5
    UNKNOWN_REFRIGERANT = 6
    REFUSED_REFRIGERANT = 7
    COMPOSITION = 8
    NO_REFERENCE_STATE = 9
    OTHER = 10
