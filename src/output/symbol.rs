//! Black drawings of hazards, our own, with the meaning of ISO 7010: a triangle, a flame or a skull
//! in it. Paths in a square of 100, written as SVG writes them, with `M L C Z` in absolute numbers.

use crate::page::Symbol;
use crate::page::words::{
    Phrase,
    print::{FACE_SYMBOL_FLAMMABLE, FACE_SYMBOL_TOXIC},
};

/// A triangle with round corners, its inside cut out by the other direction of its path.
const TRIANGLE: &str = "M 43 10 C 46 4 54 4 57 10 L 96 82 C 99 88 96 93 89 93 L 11 93 \
    C 4 93 1 88 4 82 Z M 49 18 L 13 83 C 12 85 13 86 14 86 L 86 86 C 87 86 88 85 87 83 L 51 18 \
    C 50.5 17 49.5 17 49 18 Z";

/// A flame over a line.
const FLAME: &str = "M 51 34 C 53 43 63 48 63 60 C 63 68 57 73 50 73 C 43 73 37 68 37 60 \
    C 37 55 39 51 42 48 C 42 53 44 55 46 56 C 44 48 47 39 51 34 Z \
    M 50 70 C 54 70 57 67 57 63 C 57 59 54 57 52 53 C 51 57 48 58 46 60 C 44 62 43 63 43 65 \
    C 44 68 47 70 50 70 Z M 34 77 L 66 77 L 66 81 L 34 81 Z";

/// A skull over crossed bones.
const SKULL: &str = "M 50 35 C 59 35 65 41 65 49 C 65 53 63 56 60 58 L 60 63 L 40 63 L 40 58 \
    C 37 56 35 53 35 49 C 35 41 41 35 50 35 Z \
    M 43.5 46 C 40.5 46 39 48 39 50.5 C 39 53 41 54.5 43.5 54.5 C 46 54.5 48 53 48 50.5 \
    C 48 48 46.5 46 43.5 46 Z M 56.5 46 C 53.5 46 52 48 52 50.5 C 52 53 54 54.5 56.5 54.5 \
    C 59 54.5 61 53 61 50.5 C 61 48 59.5 46 56.5 46 Z M 50 55 L 48 59 L 52 59 Z \
    M 30 65 L 33 63.5 L 70 77.5 L 71 76 L 74 78 L 72.5 80 L 73.5 82.5 L 70 82.5 L 68.5 80.5 \
    L 31.5 67.5 L 29 68.5 L 28 66 Z M 70 65 L 67 63.5 L 30 77.5 L 29 76 L 26 78 L 27.5 80 \
    L 26.5 82.5 L 30 82.5 L 31.5 80.5 L 68.5 67.5 L 71 68.5 L 72 66 Z";

/// The paths of a drawing, each filled by the even-odd rule.
pub(super) const fn paths(symbol: Symbol) -> [&'static str; 2] {
    match symbol {
        Symbol::Flammable => [TRIANGLE, FLAME],
        Symbol::Toxic => [TRIANGLE, SKULL],
    }
}

/// What it shows, for those who do not see it.
pub(super) const fn phrase(symbol: Symbol) -> Phrase {
    match symbol {
        Symbol::Flammable => FACE_SYMBOL_FLAMMABLE,
        Symbol::Toxic => FACE_SYMBOL_TOXIC,
    }
}

/// A step of a path.
#[cfg(feature = "pdf")]
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Step {
    Move([f32; 2]),
    Line([f32; 2]),
    Curve([f32; 6]),
    Close,
}

/// The steps of a path.
#[cfg(feature = "pdf")]
pub(super) fn steps(path: &str) -> Vec<Step> {
    let mut words = path.split_whitespace();
    let mut found = Vec::new();
    while let Some(word) = words.next() {
        let mut next = || words.next().and_then(|one| one.parse().ok()).unwrap_or(0.0);
        found.push(match word {
            "M" => Step::Move([next(), next()]),
            "L" => Step::Line([next(), next()]),
            "C" => Step::Curve([next(), next(), next(), next(), next(), next()]),
            _ => Step::Close,
        });
    }
    found
}
