//! Lines of equal value over a triangle of points, straight between them.

/// A point in the numbers of the axes.
pub(super) type Point = (f64, f64);

/// A point with a value.
pub(super) type Valued = (Point, f64);

/// The lines along which the value is `level`, over small triangles that share their corners.
///
/// Inside a triangle the value is linear, so that the line is straight there. Pieces that meet are
/// joined.
pub(super) fn lines(triangles: &[[Valued; 3]], level: f64) -> Vec<Vec<Point>> {
    let mut pieces: Vec<(Point, Point)> = Vec::new();
    for corners in triangles {
        let mut cuts = Vec::with_capacity(2);
        for (a, b) in [(0, 1), (1, 2), (2, 0)] {
            // In one order, so that neighbors cut their common side in the same point.
            let (from, to) = match corners[a].0 < corners[b].0 {
                true => (corners[a], corners[b]),
                false => (corners[b], corners[a]),
            };
            if (from.1 < level) != (to.1 < level) {
                let share = (level - from.1) / (to.1 - from.1);
                let between = |from: f64, to: f64| from + share * (to - from);
                cuts.push((between(from.0.0, to.0.0), between(from.0.1, to.0.1)));
            }
        }
        if let [from, to] = cuts[..]
            && from != to
        {
            pieces.push((from, to));
        }
    }
    let mut lines = Vec::new();
    while let Some((from, to)) = pieces.pop() {
        let mut line = vec![from, to];
        while let Some(next) = taken(&mut pieces, to_end(&line)) {
            line.push(next);
        }
        line.reverse();
        while let Some(next) = taken(&mut pieces, to_end(&line)) {
            line.push(next);
        }
        lines.push(line);
    }
    lines
}

fn to_end(line: &[Point]) -> Point {
    line[line.len() - 1]
}

/// The far end of a piece that begins or ends here, which is taken out.
fn taken(pieces: &mut Vec<(Point, Point)>, end: Point) -> Option<Point> {
    let place = pieces.iter().position(|(a, b)| *a == end || *b == end)?;
    let (a, b) = pieces.swap_remove(place);
    Some(if a == end { b } else { a })
}

/// About so many round levels, 1, 2 or 5 times a power of ten apart, above zero and below `most`.
pub(super) fn levels(most: f64, about: usize) -> Vec<f64> {
    if !(most > 0.0 && most.is_finite()) {
        return Vec::new();
    }
    let rough = most / about as f64;
    let power = 10f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .map(|factor| factor * power)
        .into_iter()
        .find(|step| *step >= rough)
        .unwrap_or(10.0 * power);
    let count = (most / step).ceil() as usize;
    let levels = (1..count).map(|place| place as f64 * step);
    levels.filter(|level| *level < most).collect()
}
