//! A picture as numbers: axes with their ticks, curves, points. A format draws it.

use crate::units::{fixed, short};

/// How an axis counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Equal lengths for equal differences.
    Linear,
    /// Equal lengths for equal ratios; both ends lie above zero.
    Logarithmic,
}

/// An axis of a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// What it shows, with its unit.
    pub label: String,
    /// The number at its left or lower end.
    pub from: f64,
    /// The number at its right or upper end.
    pub to: f64,
    /// How it counts.
    pub scale: Scale,
}

/// A mark at an axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// The number it stands for.
    pub at: f64,
    /// That number as text.
    pub text: String,
}

/// How a curve is drawn. Black on white: a curve is told by its stroke and its label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    /// A full line.
    Solid,
    /// A line of dashes.
    Dashed,
    /// A line of dots.
    Dotted,
    /// A thin grey line that stands behind the others.
    Faint,
}

/// The ink of a curve, dark enough on white to be read without colors. Curves are told by stroke and
/// label; a color helps the eye along a line.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Ink {
    /// Black.
    #[default]
    Black,
    /// Dark blue.
    Blue,
    /// Dark red.
    Red,
    /// Dark green.
    Green,
    /// Violet.
    Violet,
    /// Brown.
    Brown,
}

impl Ink {
    /// Every ink, in the order in which lines of one picture take them.
    pub const ALL: &'static [Ink] = &[
        Ink::Black,
        Ink::Blue,
        Ink::Red,
        Ink::Green,
        Ink::Violet,
        Ink::Brown,
    ];

    /// Red, green, blue.
    pub const fn rgb(self) -> [u8; 3] {
        match self {
            Ink::Black => [0, 0, 0],
            Ink::Blue => [0x0b, 0x4a, 0x9c],
            Ink::Red => [0xa4, 0x1e, 0x10],
            Ink::Green => [0x12, 0x62, 0x2e],
            Ink::Violet => [0x6a, 0x22, 0x8c],
            Ink::Brown => [0x73, 0x4a, 0x00],
        }
    }
}

/// A curve through points.
#[derive(Debug, Clone, PartialEq)]
pub struct PlotCurve {
    /// Its name, written beside it; none where empty.
    pub label: String,
    /// Points in the numbers of the axes, in order.
    pub points: Vec<(f64, f64)>,
    /// How it is drawn.
    pub stroke: Stroke,
    /// Its color.
    pub ink: Ink,
}

/// A point with a name.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its name, written beside it.
    pub label: String,
    /// Its place in the numbers of the axes.
    pub at: (f64, f64),
}

/// A picture: what it shows, as numbers and as text rounded once.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// The title.
    pub title: String,
    /// The horizontal axis.
    pub x: Axis,
    /// The vertical axis.
    pub y: Axis,
    /// The curves.
    pub curves: Vec<PlotCurve>,
    /// The points with names.
    pub marks: Vec<Mark>,
    /// Lines of text below: what the strokes mean, what it rests on.
    pub notes: Vec<String>,
}

impl Axis {
    /// A linear axis over the numbers given, with a little room at both ends.
    pub fn spanning(label: impl Into<String>, numbers: impl IntoIterator<Item = f64>) -> Self {
        let (low, high) = ends(numbers);
        let room = (high - low).max(1e-9) * 0.03;
        Self {
            label: label.into(),
            from: low - room,
            to: high + room,
            scale: Scale::Linear,
        }
    }

    /// A logarithmic axis over the numbers given; those at or below zero are left out.
    pub fn logarithmic_around(
        label: impl Into<String>,
        numbers: impl IntoIterator<Item = f64>,
    ) -> Self {
        let (low, high) = ends(numbers.into_iter().filter(|number| *number > 0.0));
        let room = (high / low).max(1.001).powf(0.03);
        Self {
            label: label.into(),
            from: low / room,
            to: high * room,
            scale: Scale::Logarithmic,
        }
    }

    /// Where a number lies: 0 at the axis' start, 1 at its end; `None` where it has no place.
    pub fn share_along(&self, number: f64) -> Option<f64> {
        let share = match self.scale {
            Scale::Linear => (number - self.from) / (self.to - self.from),
            Scale::Logarithmic => (number / self.from).ln() / (self.to / self.from).ln(),
        };
        share.is_finite().then_some(share)
    }

    /// Marks at round numbers, at most about `most` of them.
    ///
    /// Linear: multiples of 1, 2 or 5 times a power of ten. Logarithmic: those numbers
    /// themselves, more of them where the axis spans little, fewer where it spans much.
    ///
    /// # Example
    /// ```
    /// use zeotrope::chart::plot::{Axis, Scale};
    /// let axis = Axis { label: "°C".into(), from: -41.0, to: 62.0, scale: Scale::Linear };
    /// let texts: Vec<String> = axis.ticks(7).into_iter().map(|tick| tick.text).collect();
    /// assert_eq!(texts, ["-40", "-20", "0", "20", "40", "60"]);
    /// let axis = Axis { label: "bar".into(), from: 0.4, to: 30.0, scale: Scale::Logarithmic };
    /// let texts: Vec<String> = axis.ticks(7).into_iter().map(|tick| tick.text).collect();
    /// assert_eq!(texts, ["0.5", "1", "2", "5", "10", "20"]);
    /// ```
    pub fn ticks(&self, most: usize) -> Vec<Tick> {
        let most = most.max(2);
        if !(self.from.is_finite() && self.to.is_finite() && self.to > self.from) {
            return Vec::new();
        }
        match self.scale {
            Scale::Linear => self.linear_ticks(most),
            Scale::Logarithmic if self.from > 0.0 => self.logarithmic_ticks(most),
            Scale::Logarithmic => Vec::new(),
        }
    }

    fn linear_ticks(&self, most: usize) -> Vec<Tick> {
        let least = (self.to - self.from) / most as f64;
        let decade = least.log10().floor();
        let (factor, decade) = [1.0, 2.0, 5.0]
            .into_iter()
            .find(|factor| factor * 10f64.powf(decade) >= least * (1.0 - 1e-9))
            .map_or((1.0, decade + 1.0), |factor| (factor, decade));
        let step = factor * 10f64.powf(decade);
        let decimals = (-decade).max(0.0) as usize;
        let first = (self.from / step - 1e-9).ceil() as i64;
        let last = (self.to / step + 1e-9).floor() as i64;
        (first..=last)
            .map(|count| count as f64 * step)
            .map(|at| Tick {
                at,
                text: fixed(at, decimals),
            })
            .collect()
    }

    fn logarithmic_ticks(&self, most: usize) -> Vec<Tick> {
        const STEPS: [&[f64]; 4] = [
            &[1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0],
            &[1.0, 2.0, 3.0, 4.0, 6.0, 8.0],
            &[1.0, 2.0, 5.0],
            &[1.0],
        ];
        let (first, last) = (
            self.from.log10().floor() as i32,
            self.to.log10().ceil() as i32,
        );
        let mut fewest = Vec::new();
        for factors in STEPS {
            let ticks: Vec<Tick> = (first..=last)
                .flat_map(|decade| {
                    factors
                        .iter()
                        .map(move |factor| factor * 10f64.powi(decade))
                })
                .filter(|at| *at >= self.from * (1.0 - 1e-9) && *at <= self.to * (1.0 + 1e-9))
                .map(|at| Tick {
                    at,
                    text: short(at, 3),
                })
                .collect();
            // Less than two ticks tell no scale: the finer set stays.
            if ticks.len() < 2 && fewest.len() >= 2 {
                break;
            }
            let enough = ticks.len() <= most;
            fewest = ticks;
            if enough {
                break;
            }
        }
        fewest
    }
}

fn ends(numbers: impl IntoIterator<Item = f64>) -> (f64, f64) {
    let (low, high) = numbers
        .into_iter()
        .filter(|number| number.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| {
            (low.min(number), high.max(number))
        });
    if low <= high { (low, high) } else { (0.0, 1.0) }
}
