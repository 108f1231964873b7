//! Points along a curve, close to each other where it bends.

/// What a straight line between two points may miss, in parts of the field: a tenth of a pixel.
const BEND: f64 = 2e-4;
/// Where the points given bend by no more at both ends of a part, the part is straight: a chord half
/// as long misses by a quarter, and by half as much again where the bend grows.
const STRAIGHT: f64 = BEND * 4.0 / 1.5;
/// How often a part of a curve is halved.
const HALVINGS: usize = 9;

/// A parameter with the point that belongs to it.
type Known<P> = (f64, P);

/// Points in the order of a parameter, at the values given and between them, until straight lines
/// between neighbors lie on the curve; `place` says where a point lies, in parts of the field.
///
/// Where `at` has no answer there is no point; between an answer and none the last answer is looked
/// for by halving.
pub(crate) fn curve<P: Clone>(
    values: &[f64],
    at: impl Fn(f64) -> Option<P>,
    place: impl Fn(&P) -> (f64, f64),
) -> Vec<P> {
    let known: Vec<(f64, Option<P>)> = values.iter().map(|value| (*value, at(*value))).collect();
    let bends = bends(&known, &place);
    let mut points = Vec::new();
    let part = |from: Known<P>, to: Known<P>, points: &mut Vec<P>| {
        refine(&from, &to, HALVINGS, (&at, &place), points);
        points.push(to.1);
    };
    if let Some((_, Some(first))) = known.first() {
        points.push(first.clone());
    }
    for (left, pair) in known.windows(2).enumerate() {
        match (pair[0].clone(), pair[1].clone()) {
            ((_, Some(_)), (_, Some(to))) if bends[left].max(bends[left + 1]) < STRAIGHT => {
                points.push(to);
            }
            ((a, Some(from)), (b, Some(to))) => part((a, from), (b, to), &mut points),
            ((a, Some(from)), (b, None)) => {
                if let Some(last) = last_answer((a, from.clone()), b, &at) {
                    part((a, from), last, &mut points);
                }
            }
            ((a, None), (b, Some(to))) => {
                if let Some(first) = last_answer((b, to.clone()), a, &at) {
                    points.push(first.1.clone());
                    part(first, (b, to), &mut points);
                } else {
                    points.push(to);
                }
            }
            ((_, None), (_, None)) => {}
        }
    }
    points
}

/// How far each point lies from the straight line between its neighbors; infinitely far where one
/// of the three is missing.
fn bends<P>(known: &[(f64, Option<P>)], place: impl Fn(&P) -> (f64, f64)) -> Vec<f64> {
    let places: Vec<Option<(f64, f64)>> = known
        .iter()
        .map(|(_, point)| point.as_ref().map(&place))
        .collect();
    let mut found = vec![f64::INFINITY; known.len()];
    for (own, three) in (1..).zip(places.windows(3)) {
        if let [Some(from), Some(point), Some(to)] = three {
            found[own] = bend(*from, *point, *to);
        }
    }
    found
}

/// The answer farthest on the way from one that is known to a value without one.
fn last_answer<P: Clone>(
    known: Known<P>,
    beyond: f64,
    at: impl Fn(f64) -> Option<P>,
) -> Option<Known<P>> {
    let (mut inside, mut outside) = (known.0, beyond);
    let mut found = None;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (inside + outside);
        match at(middle) {
            Some(point) => {
                inside = middle;
                found = Some((middle, point));
            }
            None => outside = middle,
        }
    }
    found
}

/// Adds the points between two.
fn refine<P: Clone>(
    from: &Known<P>,
    to: &Known<P>,
    left: usize,
    how: (&impl Fn(f64) -> Option<P>, &impl Fn(&P) -> (f64, f64)),
    points: &mut Vec<P>,
) {
    let (at, place) = how;
    let middle = 0.5 * (from.0 + to.0);
    let Some(point) = at(middle) else {
        return;
    };
    let is_bent = bend(place(&from.1), place(&point), place(&to.1)) > BEND;
    let middle = (middle, point);
    if is_bent && left > 0 {
        refine(from, &middle, left - 1, how, points);
    }
    points.push(middle.1.clone());
    if is_bent && left > 0 {
        refine(&middle, to, left - 1, how, points);
    }
}

/// How far a point lies from the straight line between two others.
fn bend(from: (f64, f64), point: (f64, f64), to: (f64, f64)) -> f64 {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (px, py) = (point.0 - from.0, point.1 - from.1);
    let length = dx.hypot(dy);
    match length > 0.0 {
        true => ((px * dy - py * dx) / length).abs(),
        false => px.hypot(py),
    }
}

/// So many equal steps from one value to another.
pub(crate) fn steps(from: f64, to: f64, count: usize) -> Vec<f64> {
    let step = |place: usize| from + (to - from) * place as f64 / count as f64;
    (0..=count).map(step).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A half circle, whose ends stand upright: no point of a chord lies farther from it than the
    /// bend that is let pass.
    #[test]
    fn a_half_circle_is_round() {
        let at = |x: f64| Some((x, (1.0 - x * x).max(0.0).sqrt()));
        let points = curve(&steps(-1.0, 1.0, 8), at, |at| *at);
        let chords = points.windows(2).map(|two| {
            let (x, y) = ((two[0].0 + two[1].0) / 2.0, (two[0].1 + two[1].1) / 2.0);
            1.0 - x.hypot(y)
        });
        assert!(chords.fold(0.0, f64::max) < BEND);
        // a chord of length c misses a unit circle by c^2/8; what passes is halved once more, and
        // halving takes at most twice the points that are needed
        let needed = std::f64::consts::PI / (8.0 * BEND / 4.0).sqrt();
        assert!((points.len() as f64) < 2.0 * needed);
    }

    #[test]
    fn a_curve_ends_where_its_answers_end() {
        let at = |x: f64| (x < 0.4).then_some((x, x));
        let points = curve(&[0.0, 0.5, 1.0], at, |at| *at);
        let is_near = |last: &(f64, f64)| last.0 < 0.4 && last.0 > 0.398;
        assert!(points.last().is_some_and(is_near));
    }
}
