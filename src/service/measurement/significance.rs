//! Whether a difference is more than the instruments' limits of error can make.

/// How a difference compares with what the instruments' limits of error make of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Significance {
    /// More than the sum of all limits.
    Significant,
    /// More than the root of the sum of squares, and less than the sum.
    Barely,
    /// No more than the root of the sum of squares.
    NotSignificant,
}

impl Significance {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Significant => "significant",
            Self::Barely => "barely",
            Self::NotSignificant => "not_significant",
        }
    }
}

/// What some limits of error make together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Root of the sum of squares.
    pub usual: f64,
    /// Sum: all errors at their limit, in one direction.
    pub worst: f64,
}

impl Limit {
    /// From the effects of single limits, in one unit.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::significance::{Limit, Significance};
    /// let limit = Limit::from_effects(&[3.0, -4.0]);
    /// assert_eq!((limit.usual, limit.worst), (5.0, 7.0));
    /// assert_eq!(limit.judge(-6.0), Significance::Barely);
    /// ```
    pub fn from_effects(effects: &[f64]) -> Self {
        Self {
            usual: effects
                .iter()
                .map(|effect| effect * effect)
                .sum::<f64>()
                .sqrt(),
            worst: effects.iter().map(|effect| effect.abs()).sum(),
        }
    }

    /// Compares a difference with this limit.
    pub fn judge(&self, difference: f64) -> Significance {
        if difference.abs() > self.worst {
            Significance::Significant
        } else if difference.abs() > self.usual {
            Significance::Barely
        } else {
            Significance::NotSignificant
        }
    }
}
