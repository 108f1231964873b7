//! Which spellings lie near one that is unknown.

use std::collections::BTreeSet;

use super::normal::{natural_order, normal};

/// Letters beyond which a text is not compared: no spelling is as long.
const LONGEST: usize = 60;

/// Letters below which every spelling is as near as any other.
const SHORTEST: usize = 2;

/// How many spellings are proposed at most.
const PROPOSED: usize = 3;

/// The designations nearest to an unknown spelling, best first.
///
/// A spelling that only lacks its end (R-134 for R-134a) is nearest, then those
/// fewest letters away; brackets do not count (r1234zee is R-1234ze(E)).
pub(super) fn nearest<'a>(
    spelling: &str,
    known: impl Iterator<Item = (&'a str, &'a str)>,
) -> Vec<String> {
    let typed = letters(&normal(spelling).key);
    if !(SHORTEST..=LONGEST).contains(&typed.len()) {
        return Vec::new();
    }
    let allowed = 2 * (typed.len() / 3).max(1);
    let mut scored: Vec<(usize, &str)> = known
        .filter_map(|(key, designation)| {
            let key = letters(key);
            if key.len().abs_diff(typed.len()) > allowed {
                return None;
            }
            let mut score = 2 * distance(&typed, &key);
            if score > 0 && key.starts_with(&typed) {
                score -= 1;
            }
            (score <= allowed).then_some((score, designation))
        })
        .collect();
    scored.sort_by_cached_key(|(score, designation)| (*score, natural_order(designation)));
    let best = scored.first().map_or(0, |(score, _)| *score);
    let mut seen = BTreeSet::new();
    scored
        .into_iter()
        .take_while(|(score, _)| *score == best)
        .filter(|(_, designation)| seen.insert(*designation))
        .take(PROPOSED)
        .map(|(_, designation)| designation.to_owned())
        .collect()
}

/// Letters and digits alone.
fn letters(key: &str) -> String {
    key.chars().filter(|c| c.is_alphanumeric()).collect()
}

/// The least number of letters changed, added, dropped or swapped with a neighbour
/// that makes one text the other (Damerau, Commun. ACM 7 (1964) 171, each letter touched once).
pub(super) fn distance(one: &str, other: &str) -> usize {
    let one: Vec<char> = one.chars().collect();
    let other: Vec<char> = other.chars().collect();
    let mut before_last = Vec::new();
    let mut last: Vec<usize> = (0..=other.len()).collect();
    for row in 1..=one.len() {
        let mut this = vec![row];
        for column in 1..=other.len() {
            let changed = usize::from(one[row - 1] != other[column - 1]);
            let mut least = (last[column - 1] + changed)
                .min(last[column] + 1)
                .min(this[column - 1] + 1);
            if row > 1
                && column > 1
                && one[row - 1] == other[column - 2]
                && one[row - 2] == other[column - 1]
            {
                let swapped: usize = before_last[column - 2];
                least = least.min(swapped + 1);
            }
            this.push(least);
        }
        before_last = std::mem::replace(&mut last, this);
    }
    last[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distance_counts_letters() {
        // The pair kitten/sitting is the usual textbook example, 3; a swap counts 1.
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("R134a", "R143a"), 1);
        assert_eq!(distance("", "ab"), 2);
    }
}
