//! The answer about a loss.

use crate::error::Reason;
use crate::process::reasons;
use serde::Serialize;

use super::book::{Book, Round, Row, follow};
use super::lines::Card;
use super::question::{End, Leaving, LossQuestion};
use super::tolerance::{Corners, corners};
use super::trace::Trace;
use super::uncertainty::{Along, VaporPairs};
use super::{refill, tolerance};
use crate::error::{Error, Result};
use crate::refrigerant::Refrigerant;
use crate::service::facts::{ComponentShare, Facts, Identity, Model};
use crate::units::{Pressure, Temperature};

/// A share that is largest at some moment of the loss.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Peak {
    /// The flammable share by mass.
    pub mass_fraction: f64,
    /// The share of the mass lost by then.
    pub lost_mass_fraction: f64,
}

/// The largest flammable shares along the loss.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[allow(missing_docs)] // the names say it
#[non_exhaustive]
pub struct Peaks {
    pub vapor: Peak,
    pub liquid: Option<Peak>,
    pub leaving: Peak,
    pub remaining: Peak,
}

/// A loss: the blend along it, its end, and what readings by the listed card then miss by.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Shift {
    /// What it is called and made of; components that only a top-up brings have no share.
    #[serde(flatten)]
    pub identity: Identity,
    /// What the numbers rest on.
    pub model: Model,
    /// Temperature of the vessel.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Which phase is lost.
    pub phase: Leaving,
    /// The liquid's share of the volume at the start; none without vapor space.
    pub filled_volume_fraction: Option<f64>,
    /// Mass at the start, where one is given, kg.
    pub mass_kg: Option<f64>,
    /// The vessel's volume, where mass and fill are given, m3.
    pub volume_m3: Option<f64>,
    /// Where glide and superheat are looked at.
    #[serde(rename = "suction_pressure_Pa")]
    pub suction: Option<Pressure>,
    /// Where subcooling is looked at.
    #[serde(rename = "liquid_pressure_Pa")]
    pub liquid: Option<Pressure>,
    /// The rows, the start first.
    pub rows: Vec<Row>,
    /// What ends the loss.
    pub end: End,
    /// The share of the mass lost at the end.
    pub end_lost_mass_fraction: f64,
    /// The share lost where the last liquid goes.
    pub last_liquid_lost_mass_fraction: Option<f64>,
    /// The share lost up to which what leaves stays within the published tolerances; none where
    /// none are published.
    pub leaving_within_tolerance_mass_fraction: Option<f64>,
    /// Components that burn.
    pub flammable_components: Vec<String>,
    /// Those among them that count as flammable because no class is on record.
    pub unclassed_components: Vec<String>,
    /// The largest flammable shares.
    pub largest_flammable: Peaks,
    /// The share lost before each top-up; none where no top-up is asked for.
    pub refill_lost_mass_fraction: Option<f64>,
    /// After each top-up.
    pub rounds: Vec<Round>,
    /// What top-up after top-up tends to; none where no top-up is asked for.
    pub limit: Option<Row>,
    /// Over the corners of the published tolerances.
    pub tolerance: Option<Corners>,
    /// Which pairs the uncertainty of the rows counts.
    pub vapor_pairs: VaporPairs,
    /// Shares asked for that lie beyond the end.
    #[serde(skip)]
    pub beyond: Vec<f64>,
}

/// What a loss does to a blend.
///
/// # Units
/// Shares 0 to 1, by mass where not said otherwise; masses in kg.
///
/// # Errors
/// [`Error::NoAnswer`] for a refrigerant of one component, a vessel whose pressure is not above
/// the site's, and shares outside 0 to 1; [`Error::OutOfRange`] where the blend has no liquid at
/// the temperature; [`Error::NotConverged`] where liquid and vapor were not found.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, units::Temperature};
/// use zeotrope::process::shift::{LossQuestion, loss};
/// let mut question = LossQuestion::vapor(Temperature::fahrenheit(75.0));
/// question.lost = vec![0.3];
/// let found = loss(&Refrigerant::named("R-407C")?, &question)?;
/// // integrated with a general-purpose open library: 19.56 % R-32 of what is left
/// assert!((found.rows[1].remaining_mass_fractions[0] - 0.1956).abs() < 4e-4);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn loss(listed: &Refrigerant, question: &LossQuestion) -> Result<Shift> {
    check(listed, question)?;
    let together = match &question.refill {
        Some(refill) => &refill.together,
        None => listed,
    };
    let card = Card::of(listed, question.suction, question.liquid);
    let mut book = Book::new(together, card, question);
    let shares: Vec<(&str, f64)> = listed
        .components()
        .iter()
        .map(|one| (one.designation.as_str(), one.mass_fraction))
        .collect();
    let (trace, start) = follow(together, question, &book, &shares)?;
    let vessel = &trace.vessel;
    let (end, ended) = trace.end;
    let mut asked = asked(question);
    let beyond: Vec<f64> = asked.iter().copied().filter(|lost| *lost > end).collect();
    asked.retain(|lost| *lost < end);
    asked.push(end);
    let mut rows = Vec::with_capacity(asked.len());
    let mut uncertain = Along::of(together, &trace, &asked)?;
    for &lost in &asked {
        let (amounts, contents) = trace.state(lost)?;
        let moment = trace.holding(lost, amounts, contents.as_ref());
        rows.push(book.row(vessel, &start, &moment));
        if let Some(uncertain) = &mut uncertain {
            uncertain.find(&trace, &mut book, lost, (&amounts, contents.as_ref()))?;
        }
    }
    let largest_flammable = peaks(&trace, &book, &rows)?;
    let leaving_within = tolerance::leaving_within(listed, &trace, &book)?;
    let (mut rounds, limit) = refill::rounds(&trace, &mut book, &start, question)?;
    if let Some(uncertain) = uncertain {
        for (row, own) in rows.iter_mut().zip(uncertain.rows(&asked)) {
            row.vapor_uncertainty = Some(own);
        }
        let of_rounds = uncertain.rounds(&trace, &mut book, question)?;
        for (round, own) in rounds.iter_mut().zip(of_rounds) {
            round.row.vapor_uncertainty = Some(own);
        }
    }
    let corners = if question.tolerance {
        corners(listed, question, &asked)?
    } else {
        None
    };
    let mut identity = Identity::of_refrigerant(listed);
    for one in together
        .components()
        .iter()
        .skip(identity.composition.len())
    {
        identity.composition.push(ComponentShare {
            refrigerant: one.designation.clone(),
            mass_fraction: 0.0,
            mole_fraction: 0.0,
        });
    }
    let volume = vessel.volume.zip(question.mass);
    Ok(Shift {
        identity,
        model: Facts::of_refrigerant(together).model,
        temperature: question.temperature,
        phase: question.leaving,
        filled_volume_fraction: question.filled,
        mass_kg: question.mass,
        volume_m3: volume.map(|(volume, mass)| volume * mass),
        suction: card.suction,
        liquid: card.liquid,
        rows,
        end: ended,
        end_lost_mass_fraction: end,
        last_liquid_lost_mass_fraction: trace.dry.map(|(dry, _)| dry),
        leaving_within_tolerance_mass_fraction: leaving_within,
        flammable_components: book.flammable.flammable.clone(),
        unclassed_components: book.flammable.unclassed.clone(),
        largest_flammable,
        refill_lost_mass_fraction: question.refill.is_some().then(|| refill::share(question)),
        rounds,
        limit,
        tolerance: corners,
        vapor_pairs: VaporPairs::of(together),
        beyond,
    })
}

fn check(listed: &Refrigerant, question: &LossQuestion) -> Result<()> {
    let refused = |reason: Reason, hint: &str| {
        Err(Error::NoAnswer {
            reason,
            hint: hint.into(),
        })
    };
    if listed.is_pure() {
        return refused(
            Reason::of(reasons::LOSS_OF_PURE, "refrigerant", listed.designation()),
            "ask about a blend",
        );
    }
    if question
        .filled
        .is_some_and(|share| !(0.0..1.0).contains(&share) || share == 0.0)
    {
        return refused(
            reasons::LOSS_SHARE_OF_LIQUID.into(),
            "give a share between 0 and 100 %, for example 80 %",
        );
    }
    if question
        .lost
        .iter()
        .any(|share| !(0.0..1.0).contains(share))
    {
        return refused(
            reasons::LOSS_SHARE_LOST.into(),
            "give shares between 0 and 100 %, for example 10 %, 30 %",
        );
    }
    Ok(())
}

/// The shares for rows: those asked for, or every tenth; the start first.
fn asked(question: &LossQuestion) -> Vec<f64> {
    let mut asked = vec![0.0];
    if question.lost.is_empty() {
        asked.extend((1..10).map(|tenth| f64::from(tenth) / 10.0));
    } else {
        asked.extend(&question.lost);
    }
    asked.sort_by(f64::total_cmp);
    asked.dedup();
    asked
}

/// Places at which the largest flammable share is looked for, the rows among them.
const PLACES: usize = 40;

/// Shares this near are one, so that where the largest lies does not depend on rounding.
const EQUAL_SHARES: f64 = 1e-9;

/// The largest flammable shares, over evenly spaced places and the rows.
fn peaks(trace: &Trace<'_>, book: &Book<'_>, rows: &[Row]) -> Result<Peaks> {
    let mut found: [Option<Peak>; 4] = [None; 4];
    let mut look = |slot: usize, share: f64, lost: f64| {
        let own = &mut found[slot];
        if own.is_none_or(|own| share > own.mass_fraction + EQUAL_SHARES) {
            *own = Some(Peak {
                mass_fraction: share,
                lost_mass_fraction: lost,
            });
        }
    };
    for row in rows {
        let lost = row.lost_mass_fraction;
        look(0, row.vapor_flammable_mass_fraction, lost);
        look(2, row.leaving_flammable_mass_fraction, lost);
        look(3, row.remaining_flammable_mass_fraction, lost);
        if let Some(share) = row.liquid_flammable_mass_fraction {
            look(1, share, lost);
        }
    }
    let share = |x: &[f64]| {
        let mass = book.ordered(&trace.vessel.by_mass(x));
        book.flammable.share(&mass)
    };
    for place in 0..=PLACES {
        let lost = trace.end.0 * place as f64 / PLACES as f64;
        let near = |row: &Row| (row.lost_mass_fraction - lost).abs() < 0.5 / PLACES as f64;
        if rows.iter().any(near) {
            continue;
        }
        let moment = trace.moment(lost)?;
        look(0, share(&moment.vapor), lost);
        look(2, share(&moment.leaving), lost);
        look(3, share(&moment.amounts), lost);
        if let Some(liquid) = &moment.liquid {
            look(1, share(liquid), lost);
        }
    }
    let none = Peak {
        mass_fraction: 0.0,
        lost_mass_fraction: 0.0,
    };
    let [vapor, liquid, leaving, remaining] = found;
    Ok(Peaks {
        vapor: vapor.unwrap_or(none),
        liquid,
        leaving: leaving.unwrap_or(none),
        remaining: remaining.unwrap_or(none),
    })
}
