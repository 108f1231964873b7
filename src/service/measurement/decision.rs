//! Whether a result lies within a band around its target, given how sure it is.
//!
//! JCGM 106:2012: within where the whole expanded interval lies in the band, outside where none of
//! it does, else not decidable.

use serde::{Serialize, Serializer};

use crate::Result;
use crate::service::measurement::uncertainty::{ErrorLimits, ReadBranch, Uncertainty, uncertainty};

/// Halvings in the search for an accuracy that decides: three digits.
const HALVINGS: usize = 12;

/// A wanted value and how far from it is still right, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// The wanted superheat or subcooling.
    pub value: f64,
    /// How far from it is still within the band.
    pub band: f64,
}

/// What is known of a result and its band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The whole expanded interval lies in the band.
    Within,
    /// None of it does.
    Outside,
    /// It reaches over an edge of the band.
    NotDecidable,
}

impl Target {
    /// Whether a result lies in the band, whatever its uncertainty.
    pub fn holds(&self, result: f64) -> bool {
        (result - self.value).abs() <= self.band
    }

    /// Judges a result by its expanded interval, `[below, above]`, K.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::decision::{Target, Verdict};
    /// let target = Target { value: 5.0, band: 1.5 };
    /// assert_eq!(target.judge(4.5, [0.5, 0.5]), Verdict::Within);
    /// assert_eq!(target.judge(4.5, [1.2, 1.2]), Verdict::NotDecidable);
    /// assert_eq!(target.judge(2.0, [0.5, 0.5]), Verdict::Outside);
    /// ```
    pub fn judge(&self, result: f64, [below, above]: [f64; 2]) -> Verdict {
        // Far below any thermometer: keeps 10 °F ± 3 °F from excluding 13 °F by rounding.
        let band = self.band + 1e-9;
        let error = result - self.value;
        if error - below >= -band && error + above <= band {
            Verdict::Within
        } else if error - below > band || error + above < -band {
            Verdict::Outside
        } else {
            Verdict::NotDecidable
        }
    }
}

/// Accuracies of which each alone, all else as it is, would have decided.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Deciding {
    /// Limit of the gauge, Pa.
    pub gauge: Option<f64>,
    /// Limit of the clamp and its contact together, K.
    pub clamp: Option<f64>,
    /// Where neither alone would: to which part both limits would have to come down.
    pub both: Option<f64>,
}

impl Deciding {
    /// The gauge's limit as a share of its span in Pa.
    pub fn gauge_share(&self, span: f64) -> Option<f64> {
        self.gauge.map(|limit| limit / span)
    }
}

/// The accuracies that would have decided a reading that is not decidable.
///
/// All are `None` where no accuracy would: the result lies on the band's edge, or what is left
/// (site, equation, composition) is too unsure by itself.
///
/// # Errors
/// As [`uncertainty`].
pub fn deciding(
    branch: &ReadBranch<'_>,
    limits: &ErrorLimits,
    result: f64,
    target: &Target,
) -> Result<Deciding> {
    let decided =
        |found: &Uncertainty| target.judge(result, found.expanded) != Verdict::NotDecidable;
    // The largest part of some limits with which the reading is decided.
    let part = |with: &dyn Fn(f64) -> ErrorLimits| -> Result<Option<f64>> {
        if !decided(&uncertainty(branch, &with(0.0))?) {
            return Ok(None);
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if decided(&uncertainty(branch, &with(middle))?) {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok((low > 0.0).then_some(low))
    };
    let scaled = |gauge: f64, clamp: f64| ErrorLimits {
        pressure: limits.pressure.map(|limit| limit * gauge),
        clamp: limits.clamp.map(|limit| limit * clamp),
        contact: limits.contact.map(|limit| limit * clamp),
        ..*limits
    };
    let at_clamp = match (limits.clamp, limits.contact) {
        (None, None) => None,
        (clamp, contact) => Some(clamp.unwrap_or(0.0) + contact.unwrap_or(0.0)),
    };
    let gauge = match limits.pressure {
        Some(limit) => part(&|share| scaled(share, 1.0))?.map(|share| share * limit),
        None => None,
    };
    let clamp = match at_clamp {
        Some(limit) => part(&|share| scaled(1.0, share))?.map(|share| share * limit),
        None => None,
    };
    let both = match (gauge, clamp) {
        (None, None) => part(&|share| scaled(share, share))?,
        _ => None,
    };
    Ok(Deciding { gauge, clamp, both })
}

/// A verdict with what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Decision {
    /// The wanted value and its band.
    pub target: Target,
    /// `None` where nothing is known of the gauge's accuracy.
    pub verdict: Option<Verdict>,
    /// What would have decided, where it is not decidable.
    pub deciding: Option<Deciding>,
    /// Span of the gauge, Pa, where it is known.
    pub span: Option<f64>,
}

impl Serialize for Decision {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys {
            target_K: f64,
            band_K: f64,
            verdict: Option<Verdict>,
            deciding_gauge_limit_Pa: Option<f64>,
            deciding_clamp_limit_K: Option<f64>,
            deciding_part_of_both: Option<f64>,
        }
        let deciding = self.deciding.unwrap_or_default();
        Keys {
            target_K: self.target.value,
            band_K: self.target.band,
            verdict: self.verdict,
            deciding_gauge_limit_Pa: deciding.gauge,
            deciding_clamp_limit_K: deciding.clamp,
            deciding_part_of_both: deciding.both,
        }
        .serialize(serializer)
    }
}
