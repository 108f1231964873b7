//! Finds places for names beside curves, clear of all curves, of each other and of each other's leaders.

use std::ops::Range;

/// A rectangle on the page; y grows downwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rect {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Rect {
    pub(super) fn centered_at((x, y): (f64, f64), half_width: f64, half_height: f64) -> Self {
        Self {
            left: x - half_width,
            top: y - half_height,
            right: x + half_width,
            bottom: y + half_height,
        }
    }

    fn meets(&self, other: &Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn inside(&self, other: &Rect) -> bool {
        self.left >= other.left
            && self.right <= other.right
            && self.top >= other.top
            && self.bottom <= other.bottom
    }

    /// Whether a straight line passes through (Liang and Barsky, ACM Trans. Graphics 3 (1984) 1).
    fn crossed_by(&self, from: (f64, f64), to: (f64, f64)) -> bool {
        // most lines lie wholly to one side
        if from.0.max(to.0) < self.left
            || from.0.min(to.0) > self.right
            || from.1.max(to.1) < self.top
            || from.1.min(to.1) > self.bottom
        {
            return false;
        }
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, from.0 - self.left),
            (dx, self.right - from.0),
            (-dy, from.1 - self.top),
            (dy, self.bottom - from.1),
        ] {
            if step == 0.0 {
                if room < 0.0 {
                    return false;
                }
                continue;
            }
            let at = room / step;
            if step < 0.0 {
                enter = enter.max(at);
            } else {
                leave = leave.min(at);
            }
        }
        enter <= leave
    }
}

/// A place found for a name.
pub(super) struct Place {
    pub(super) rect: Rect,
    /// A thin line from the curve to the name where it stands away from it.
    pub(super) leader: Option<Line>,
}

/// A name to be placed.
pub(super) struct Named<'a> {
    /// The curve or the point that it is of.
    pub(super) points: Vec<(f64, f64)>,
    /// The curves that bear the name.
    pub(super) own: Range<usize>,
    pub(super) label: &'a str,
    /// Width, and height of type.
    pub(super) size: (f64, f64),
    /// On a thin line it stands on the line itself.
    pub(super) is_on: bool,
    /// Whether other points crowd around it.
    pub(super) is_crowded: bool,
}

/// Lines of a part of a curve, at most.
const PART: usize = 12;

/// A part of a curve, and the least rectangle around it: most names stand wholly to one side of
/// most parts.
struct Part<'a> {
    points: &'a [(f64, f64)],
    around: Rect,
}

impl<'a> Part<'a> {
    /// The parts of a curve; each begins where the one before ends.
    fn all(curve: &'a [(f64, f64)]) -> Vec<Self> {
        let last = curve.len().saturating_sub(1);
        let parts = (0..last).step_by(PART);
        parts
            .map(|from| {
                let points = &curve[from..=(from + PART).min(last)];
                let start = Rect {
                    left: f64::INFINITY,
                    top: f64::INFINITY,
                    right: f64::NEG_INFINITY,
                    bottom: f64::NEG_INFINITY,
                };
                let around = points.iter().fold(start, |around, (x, y)| Rect {
                    left: around.left.min(*x),
                    top: around.top.min(*y),
                    right: around.right.max(*x),
                    bottom: around.bottom.max(*y),
                });
                Self { points, around }
            })
            .collect()
    }

    /// Whether it passes through a rectangle.
    fn crosses(&self, rect: &Rect) -> bool {
        let around = &self.around;
        let is_aside = around.right < rect.left
            || around.left > rect.right
            || around.bottom < rect.top
            || around.top > rect.bottom;
        let mut pairs = self.points.windows(2);
        !is_aside && pairs.any(|pair| rect.crossed_by(pair[0], pair[1]))
    }
}

/// What must be kept clear.
pub(super) struct Field<'a> {
    inside: Rect,
    curves: &'a [Vec<(f64, f64)>],
    /// The parts of each curve.
    parts: Vec<Vec<Part<'a>>>,
    taken: Vec<Rect>,
    dots: &'a [(f64, f64)],
    leaders: Vec<Line>,
}

impl<'a> Field<'a> {
    /// A field with its curves and the points that are marked with a dot.
    pub(super) fn new(inside: Rect, curves: &'a [Vec<(f64, f64)>], dots: &'a [(f64, f64)]) -> Self {
        Self {
            inside,
            curves,
            parts: curves.iter().map(|curve| Part::all(curve)).collect(),
            taken: Vec::new(),
            dots,
            leaders: Vec::new(),
        }
    }

    /// Whether a name may stand here as far as dots, other names and their leaders go.
    fn is_free(&self, rect: &Rect) -> bool {
        rect.inside(&self.inside)
            && !self.taken.iter().any(|taken| taken.meets(rect))
            && !self
                .dots
                .iter()
                .any(|dot| Rect::centered_at(*dot, ROOM, ROOM).meets(rect))
            && !self.leaders.iter().any(|one| rect.crossed_by(one.0, one.1))
    }

    fn is_clear(&self, rect: &Rect) -> bool {
        self.is_free(rect) && !self.parts.iter().flatten().any(|part| part.crosses(rect))
    }

    /// Whether a leader passes by every other leader, name and dot. Dots that touch its own cannot be
    /// passed by.
    fn passes_clear(&self, leader: Line) -> bool {
        let (from, to) = leader;
        let seen = (beyond_dot(leader), to);
        let is_apart = |dot: &&(f64, f64)| (dot.0 - from.0).hypot(dot.1 - from.1) > 2.0 * DOT;
        !self.leaders.iter().any(|other| cross(seen, *other))
            && !self
                .taken
                .iter()
                .any(|name| name.crossed_by(seen.0, seen.1))
            && !self
                .dots
                .iter()
                .filter(is_apart)
                .any(|dot| Rect::centered_at(*dot, DOT, DOT).crossed_by(seen.0, seen.1))
    }

    /// A place for a name beside its curve or point. On a thin line it stands on the line itself, if no
    /// foreign curve passes there; else close by if no foreign curve lies between or as close, else
    /// farther away with a leader, at the same distance rather with one that crosses no foreign curve.
    /// A crowded one stands `least` px away. `None` where all is full.
    pub(super) fn place_label(&mut self, named: &Named<'_>, least: f64) -> Option<Place> {
        let own = &named.own;
        let least = if named.is_crowded { least } else { 0.0 };
        let seen = &self.evenly(&named.points)[..];
        if seen.is_empty() {
            return None;
        }
        let half = (named.size.0 / 2.0 + 2.0, named.size.1 / 2.0 + 1.0);
        let stops = |seen: &[(f64, f64)], stop: f64| {
            seen[((seen.len() - 1) as f64 * stop).round() as usize]
        };
        if named.is_on && least == 0.0 {
            let rects = STOPS.map(|stop| Rect::centered_at(stops(seen, stop), half.0, half.1));
            let is_free = |rect: &Rect| self.is_free(rect) && !self.is_beside(rect, NEAR, own);
            if let Some(rect) = rects.into_iter().find(is_free) {
                return Some(self.take(rect, None));
            }
        }
        let around = |distance: f64| {
            // A point has one place to start from, but may have to get out among others.
            let (from, fan) = match seen.len() {
                ..=2 => (&STOPS[..1], FAN),
                _ => (&STOPS[..], 0),
            };
            from.iter().flat_map(move |stop| {
                let at = stops(seen, *stop);
                let beside = SIDES.into_iter().map(move |(right, down)| {
                    let centre = (
                        at.0 + right * (half.0 + distance),
                        at.1 + down * (half.1 + distance),
                    );
                    let rect = Rect::centered_at(centre, half.0, half.1);
                    let end = (
                        at.0.clamp(rect.left, rect.right),
                        at.1.clamp(rect.top, rect.bottom),
                    );
                    (rect, (at, end))
                });
                beside.chain((0..fan).map(move |step| fanned(at, distance, step, half)))
            })
        };
        for distance in CLOSE.into_iter().filter(|one| *one >= least) {
            let is_plain = |(rect, (at, end)): &(Rect, Line)| {
                let away = (at.0 - end.0).hypot(at.1 - end.1);
                self.is_clear(rect)
                    && !self.is_parted(*at, *end, own)
                    && !self.is_beside(rect, away, own)
            };
            if let Some((rect, _)) = around(distance).find(is_plain) {
                return Some(self.take(rect, None));
            }
        }
        for distance in FAR.into_iter().filter(|one| *one >= least) {
            let mut across = None;
            for (rect, leader) in around(distance) {
                if !self.is_clear(&rect) || !self.passes_clear(leader) {
                    continue;
                }
                if !self.is_parted(beyond_dot(leader), leader.1, own) {
                    return Some(self.take(rect, Some(leader)));
                }
                across = across.or(Some((rect, leader)));
            }
            if let Some((rect, leader)) = across {
                return Some(self.take(rect, Some(leader)));
            }
        }
        None
    }

    fn take(&mut self, rect: Rect, leader: Option<Line>) -> Place {
        self.taken.push(rect);
        self.leaders.extend(leader);
        Place { rect, leader }
    }

    /// Points of a curve inside the field, at even distances along it.
    fn evenly(&self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        let is_inside = |at: &(f64, f64)| Rect::centered_at(*at, 0.0, 0.0).inside(&self.inside);
        if let [one] = points {
            return Some(*one).filter(is_inside).into_iter().collect();
        }
        let length = |pair: &[(f64, f64)]| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1);
        let mut found = Vec::new();
        let mut rest = 0.0;
        for pair in points.windows(2) {
            let whole = length(pair);
            let mut along = rest;
            while along < whole {
                let share = along / whole;
                found.push((
                    pair[0].0 + share * (pair[1].0 - pair[0].0),
                    pair[0].1 + share * (pair[1].1 - pair[0].1),
                ));
                along += APART;
            }
            rest = along - whole;
        }
        found.extend(points.last());
        found.retain(is_inside);
        found
    }

    /// Whether a foreign curve passes as close to a name as its own does.
    fn is_beside(&self, rect: &Rect, away: f64, own: &Range<usize>) -> bool {
        let grown = Rect {
            left: rect.left - away,
            top: rect.top - away,
            right: rect.right + away,
            bottom: rect.bottom + away,
        };
        self.parts.iter().enumerate().any(|(index, parts)| {
            !own.contains(&index) && parts.iter().any(|part| part.crosses(&grown))
        })
    }

    /// Whether a foreign curve passes between two points.
    fn is_parted(&self, from: (f64, f64), to: (f64, f64), own: &Range<usize>) -> bool {
        self.curves.iter().enumerate().any(|(index, curve)| {
            !own.contains(&index)
                && curve
                    .windows(2)
                    .any(|pair| cross((from, to), (pair[0], pair[1])))
        })
    }
}

type Line = ((f64, f64), (f64, f64));

/// Whether two straight lines cross: the ends of each lie on either side of the other.
fn cross(first: Line, second: Line) -> bool {
    let side = |(a, b): Line, c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    side(first, second.0) * side(first, second.1) <= 0.0
        && side(second, first.0) * side(second, first.1) <= 0.0
}

/// A leader's beginning as it is seen: where it leaves the dot it starts from.
fn beyond_dot((from, to): Line) -> (f64, f64) {
    let share = DOT / (to.0 - from.0).hypot(to.1 - from.1).max(DOT);
    (
        from.0 + share * (to.0 - from.0),
        from.1 + share * (to.1 - from.1),
    )
}

/// A name at the end of a leader in one of many directions: beside it, or above or below a steep one.
fn fanned(at: (f64, f64), distance: f64, step: usize, half: (f64, f64)) -> (Rect, Line) {
    let (down, right) = (std::f64::consts::TAU * step as f64 / FAN as f64).sin_cos();
    let end = (at.0 + distance * right, at.1 + distance * down);
    let centre = match right.abs() < 0.5 {
        true => (end.0, end.1 + half.1.copysign(down)),
        false => (end.0 + half.0.copysign(right), end.1),
    };
    (Rect::centered_at(centre, half.0, half.1), (at, end))
}

/// Directions in which a leader from a point is tried.
const FAN: usize = 32;

/// How far from its curve a name is tried without a leader and with one, px.
const CLOSE: [f64; 2] = [4.0, 8.0];
const FAR: [f64; 8] = [16.0, 24.0, 34.0, 48.0, 66.0, 90.0, 125.0, 180.0];

/// The radius of the dot at a named point, and half of the room that it keeps, px.
const DOT: f64 = 4.0;
const ROOM: f64 = 5.0;

/// How far apart the points of a curve lie at which a name is tried, and how near a foreign curve may
/// pass by a name that stands on its own line, px.
const APART: f64 = 4.0;
const NEAR: f64 = 1.0;

/// Where along a curve a name is tried. Three quarters up first: there bundles part.
const STOPS: [f64; 20] = [
    0.75, 0.6, 0.85, 0.45, 0.95, 0.3, 0.68, 0.52, 0.38, 1.0, 0.15, 0.0, 0.9, 0.8, 0.72, 0.56, 0.41,
    0.23, 0.08, 0.97,
];

/// Directions from a point of the curve to the middle of its name.
const SIDES: [(f64, f64); 16] = [
    (-1.0, 0.0),
    (1.0, 0.0),
    (0.0, -1.0),
    (0.0, 1.0),
    (-1.0, -1.0),
    (1.0, 1.0),
    (1.0, -1.0),
    (-1.0, 1.0),
    (-0.5, -1.0),
    (0.5, -1.0),
    (-0.5, 1.0),
    (0.5, 1.0),
    (-1.0, -0.5),
    (1.0, -0.5),
    (-1.0, 0.5),
    (1.0, 0.5),
];
