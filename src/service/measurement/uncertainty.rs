//! How sure a superheat or subcooling is, from the limits of error of what it was read with.
//!
//! A limit of error ±a without more is a uniform distribution, u = a/sqrt(3) (JCGM 100:2008, the
//! GUM, 4.3.7), one of unequal sides u = (a_below + a_above)/sqrt(12) (4.3.8). A limit in pressure
//! becomes one in temperature through the branch itself, T(p + a) and T(p - a), whose mean slope
//! is 1/(dp/dT) where the branch is straight. Contributions add as u^2 = sum u_i^2 (GUM eq. 10).
//!
//! The expanded figure is 2 u, and never above the worst case, in which all limits are reached at
//! once: where one limit rules, 2 u = 1.15 a would lie beyond what can occur. Where the two sides
//! of the worst case differ by more than a tenth, at low pressure, the draws of a seeded Monte
//! Carlo give the standard uncertainty and the interval that holds 95 % of them, as much beyond it
//! on either side (JCGM 101:2008, GUM Supplement 1).

use crate::error::{Blank, RangeUnit, Reason};
use crate::service::reasons;
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use serde::{Serialize, Serializer};

use crate::{Error, Result};

/// Draws of the Monte Carlo; its 95 % interval then repeats within about 1 % from seed to seed.
pub const DRAWS: usize = 100_000;

/// Its seed, fixed so that a reading has one answer.
pub const SEED: u64 = 20;

/// Part of the larger side by which the smaller may fall short and still be taken as equal.
const EVEN: f64 = 0.1;

/// Nodes of the branch's interpolation over the pressures drawn, less one.
const NODES: usize = 16;

/// What may be off, as limits of error; `None` is not known and not counted.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct ErrorLimits {
    /// Of the pressure shown, Pa.
    pub pressure: Option<f64>,
    /// Of the air of the site that was added to it, Pa.
    pub site: Option<f64>,
    /// Of the thermometer, K.
    pub clamp: Option<f64>,
    /// Of its contact with the line, K, which manufacturers do not count.
    pub contact: Option<f64>,
    /// Standard uncertainty of the saturation temperature of the equation, K.
    pub equation: Option<f64>,
    /// How far the saturation temperature may lie below and above, K, within the tolerances of a
    /// blend's composition.
    pub composition: Option<[f64; 2]>,
}

impl ErrorLimits {
    /// Whether anything is known of an instrument.
    pub fn any_instrument(&self) -> bool {
        [self.pressure, self.site, self.clamp, self.contact]
            .iter()
            .any(Option::is_some)
    }
}

/// A source of error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// The pressure shown.
    Pressure,
    /// Local atmospheric pressure.
    Site,
    /// The thermometer.
    Clamp,
    /// Its contact with the line.
    Contact,
    /// The equation.
    Equation,
    /// The blend's composition.
    Composition,
}

impl Source {
    /// Whether it acts through the branch and not on the temperature itself.
    const fn is_pressure(self) -> bool {
        matches!(self, Self::Pressure | Self::Site)
    }
}

/// What one source of error does to the result.
#[derive(Debug, Clone, PartialEq)]
pub struct Contribution {
    /// Where it comes from.
    pub source: Source,
    /// Standard uncertainty, K; `None` where it is not known and not counted.
    pub standard: Option<f64>,
    /// How far it can take the result down and up, K.
    pub sides: Option<[f64; 2]>,
}

impl Serialize for Contribution {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys {
            source: Source,
            standard_K: Option<f64>,
            below_K: Option<f64>,
            above_K: Option<f64>,
        }
        Keys {
            source: self.source,
            standard_K: self.standard,
            below_K: self.sides.map(|sides| sides[0]),
            above_K: self.sides.map(|sides| sides[1]),
        }
        .serialize(serializer)
    }
}

/// How the figures were combined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CombinationMethod {
    /// Root of the sum of squares, twice it as the expanded figure.
    Squares,
    /// Seeded Monte Carlo.
    MonteCarlo,
}

/// How sure a result is, K.
#[derive(Debug, Clone, PartialEq)]
pub struct Uncertainty {
    /// Standard uncertainty.
    pub standard: f64,
    /// How far below and above the result the expanded interval reaches.
    pub expanded: [f64; 2],
    /// How far below and above it lies with all limits reached at once.
    pub worst: [f64; 2],
    /// What each source does.
    pub contributions: Vec<Contribution>,
    /// How they were combined.
    pub method: CombinationMethod,
}

impl Uncertainty {
    /// Half of the expanded interval; k = 2 where its sides are even.
    pub fn expanded_half(&self) -> f64 {
        match self.method {
            CombinationMethod::Squares => self.expanded[0].max(self.expanded[1]),
            CombinationMethod::MonteCarlo => 0.5 * (self.expanded[0] + self.expanded[1]),
        }
    }

    /// The larger side of the worst case.
    pub fn worst_case(&self) -> f64 {
        self.worst[0].max(self.worst[1])
    }

    /// The sources that are not known and so not counted.
    pub fn not_counted(&self) -> Vec<Source> {
        self.contributions
            .iter()
            .filter(|one| one.standard.is_none())
            .map(|one| one.source)
            .collect()
    }
}

/// The keys of an uncertainty within an answer; all null where there is none.
#[derive(Debug, Serialize)]
#[allow(non_snake_case)]
pub(crate) struct UncertaintyKeys<'a> {
    standard_uncertainty_K: Option<f64>,
    expanded_uncertainty_K: Option<f64>,
    expanded_below_K: Option<f64>,
    expanded_above_K: Option<f64>,
    worst_case_K: Option<f64>,
    worst_case_below_K: Option<f64>,
    worst_case_above_K: Option<f64>,
    contributions: &'a [Contribution],
    uncertainty_method: Option<CombinationMethod>,
}

impl<'a> From<Option<&'a Uncertainty>> for UncertaintyKeys<'a> {
    fn from(found: Option<&'a Uncertainty>) -> Self {
        Self {
            standard_uncertainty_K: found.map(|one| one.standard),
            expanded_uncertainty_K: found.map(Uncertainty::expanded_half),
            expanded_below_K: found.map(|one| one.expanded[0]),
            expanded_above_K: found.map(|one| one.expanded[1]),
            worst_case_K: found.map(Uncertainty::worst_case),
            worst_case_below_K: found.map(|one| one.worst[0]),
            worst_case_above_K: found.map(|one| one.worst[1]),
            contributions: found.map_or(&[], |one| &one.contributions),
            uncertainty_method: found.map(|one| one.method),
        }
    }
}

/// Whether a result rises or falls with the saturation temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Subcooling.
    Rises,
    /// Superheat.
    Falls,
}

/// A saturation temperature in K at a pressure in Pa, with where and how to read it.
pub struct ReadBranch<'a> {
    /// The temperature of the branch.
    pub temperature: &'a dyn Fn(f64) -> Result<f64>,
    /// The pressure, Pa.
    pub pressure: f64,
    /// The temperature of the branch there, K.
    pub nominal: f64,
    /// How the result goes with it.
    pub direction: Direction,
}

/// The uncertainty of a difference between a line's temperature and a branch's.
///
/// # Errors
/// [`Error::NoState`] where the limits of the pressure reach beyond the branch: then nothing
/// bounds the result.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::uncertainty::{ReadBranch, Direction, ErrorLimits, uncertainty};
/// // A branch of 2 K a bar, read with ±0.5 bar and ±1 K.
/// let straight = |pascal: f64| Ok(200.0 + pascal * 2e-5);
/// let branch = ReadBranch {
///     temperature: &straight,
///     pressure: 1e6,
///     nominal: 220.0,
///     direction: Direction::Falls,
/// };
/// let limits = ErrorLimits { pressure: Some(0.5e5), clamp: Some(1.0), ..ErrorLimits::default() };
/// let found = uncertainty(&branch, &limits)?;
/// assert!((found.standard - (2.0f64 / 3.0).sqrt()).abs() < 1e-9);
/// assert!((found.expanded_half() - 2.0 * (2.0f64 / 3.0).sqrt()).abs() < 1e-9);
/// assert!((found.worst_case() - 2.0).abs() < 1e-9);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn uncertainty(branch: &ReadBranch<'_>, limits: &ErrorLimits) -> Result<Uncertainty> {
    let found = without_draws(branch, limits)?;
    let [below, above] = found.worst;
    if (below - above).abs() <= EVEN * below.max(above) {
        return Ok(found);
    }
    let (standard, expanded) = monte_carlo(branch, limits, &found.contributions)?;
    Ok(Uncertainty {
        standard,
        expanded: [expanded[0].min(below), expanded[1].min(above)],
        method: CombinationMethod::MonteCarlo,
        ..found
    })
}

/// As [`uncertainty`], never by draws: for rows of a log, of which there may be millions. Where the
/// sides differ, each side of the expanded interval is still no longer than that of the worst case.
///
/// # Errors
/// As [`uncertainty`].
pub fn without_draws(branch: &ReadBranch<'_>, limits: &ErrorLimits) -> Result<Uncertainty> {
    let contributions = contributions(branch, limits)?;
    let mut worst = match (limits.pressure, limits.site) {
        (Some(pressure), Some(site)) => branch.sides(pressure + site)?,
        _ => [0.0; 2],
    };
    let together = limits.pressure.is_some() && limits.site.is_some();
    for one in &contributions {
        let counted = together && one.source.is_pressure();
        if let (Some(sides), false) = (one.sides, counted) {
            worst[0] += sides[0];
            worst[1] += sides[1];
        }
    }
    let squares: f64 = contributions
        .iter()
        .filter_map(|one| one.standard)
        .map(|standard| standard * standard)
        .sum();
    let standard = squares.sqrt();
    Ok(Uncertainty {
        standard,
        expanded: worst.map(|side| side.min(2.0 * standard)),
        worst,
        contributions,
        method: CombinationMethod::Squares,
    })
}

fn contributions(branch: &ReadBranch<'_>, limits: &ErrorLimits) -> Result<Vec<Contribution>> {
    // GUM 4.3.8; with even sides a/sqrt(3)
    let uniform = |source, sides: Option<[f64; 2]>| Contribution {
        source,
        standard: sides.map(|[below, above]| (below + above) / 12f64.sqrt()),
        sides,
    };
    let through_branch = |limit: Option<f64>| limit.map(|limit| branch.sides(limit)).transpose();
    let even = |limit: Option<f64>| limit.map(|limit| [limit, limit]);
    let composition = limits
        .composition
        .map(|[below, above]| match branch.direction {
            Direction::Rises => [below, above],
            Direction::Falls => [above, below],
        });
    Ok(vec![
        uniform(Source::Pressure, through_branch(limits.pressure)?),
        uniform(Source::Site, through_branch(limits.site)?),
        uniform(Source::Clamp, even(limits.clamp)),
        uniform(Source::Contact, even(limits.contact)),
        // As a limit, that of the uniform distribution of the same standard uncertainty.
        uniform(
            Source::Equation,
            even(limits.equation.map(|standard| standard * 3f64.sqrt())),
        ),
        uniform(Source::Composition, composition),
    ])
}

impl ReadBranch<'_> {
    /// How far a limit of pressure takes the result down and up, K.
    fn sides(&self, limit: f64) -> Result<[f64; 2]> {
        let up = self.value_at(self.pressure + limit)? - self.nominal;
        let down = self.nominal - self.value_at(self.pressure - limit)?;
        Ok(match self.direction {
            Direction::Rises => [down, up],
            Direction::Falls => [up, down],
        })
    }

    fn value_at(&self, pascal: f64) -> Result<f64> {
        (self.temperature)(pascal).map_err(|_| Error::NoState {
            reason: Reason::with(
                reasons::REASON_LIMITS_REACH,
                "pressure",
                Blank::Quantity(pascal, RangeUnit::Pascal),
            ),
            hint: "nothing bounds the result: read with a more accurate gauge".into(),
        })
    }
}

/// Standard uncertainty and the 95 % interval of the draws, below and above the result.
fn monte_carlo(
    branch: &ReadBranch<'_>,
    limits: &ErrorLimits,
    contributions: &[Contribution],
) -> Result<(f64, [f64; 2])> {
    let sign = match branch.direction {
        Direction::Rises => 1.0,
        Direction::Falls => -1.0,
    };
    let direct: Vec<[f64; 2]> = contributions
        .iter()
        .filter(|one| !one.source.is_pressure())
        .filter_map(|one| one.sides)
        .collect();
    let (gauge, site) = (limits.pressure.unwrap_or(0.0), limits.site.unwrap_or(0.0));
    let line = Interpolated::over(branch, gauge + site)?;
    let mut random = Pcg64Mcg::seed_from_u64(SEED);
    // Uniform in 0 to 1 with the 53 bits of a double.
    let mut uniform = || (random.next_u64() >> 11) as f64 * 2f64.powi(-53);
    let mut results: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let off = gauge * (2.0 * uniform() - 1.0) + site * (2.0 * uniform() - 1.0);
            let through_branch = sign * (line.value_at(branch.pressure + off) - branch.nominal);
            let rest: f64 = direct
                .iter()
                .map(|[below, above]| (below + above) * uniform() - below)
                .sum();
            through_branch + rest
        })
        .collect();
    let count = DRAWS as f64;
    let mean = results.iter().sum::<f64>() / count;
    let variance = results.iter().map(|r| (r - mean).powi(2)).sum::<f64>() / (count - 1.0);
    results.sort_unstable_by(f64::total_cmp);
    let outside = DRAWS / 40;
    Ok((
        variance.sqrt(),
        [-results[outside], results[DRAWS - 1 - outside]],
    ))
}

/// A branch as the polynomial through its values at Chebyshev nodes in ln p.
///
/// Barycentric form, Berrut & Trefethen, SIAM Review 46 (2004) 501, eqs. 4.2 and 5.4.
struct Interpolated {
    nodes: Vec<(f64, f64)>,
}

impl Interpolated {
    fn over(branch: &ReadBranch<'_>, limit: f64) -> Result<Self> {
        if limit == 0.0 {
            // One place alone has no slope to follow.
            let nodes = vec![(branch.pressure.ln(), branch.nominal)];
            return Ok(Self { nodes });
        }
        let low = (branch.pressure - limit).ln();
        let high = (branch.pressure + limit).ln();
        let nodes = (0..=NODES).map(|k| {
            let place = (std::f64::consts::PI * k as f64 / NODES as f64).cos();
            let x = 0.5 * (low + high) + 0.5 * (high - low) * place;
            Ok((x, branch.value_at(x.exp())?))
        });
        Ok(Self {
            nodes: nodes.collect::<Result<_>>()?,
        })
    }

    fn value_at(&self, pascal: f64) -> f64 {
        let x = pascal.ln();
        let (mut above, mut below, mut sign) = (0.0, 0.0, 1.0);
        for (k, &(node, value)) in self.nodes.iter().enumerate() {
            if x == node {
                return value;
            }
            let half = if k == 0 || k == NODES { 0.5 } else { 1.0 };
            let weight = sign * half / (x - node);
            above += weight * value;
            below += weight;
            sign = -sign;
        }
        above / below
    }
}
