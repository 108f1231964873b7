//! The blend that a lens is asked about: its bubble and its dew point, the glide between them, and
//! halfway the tie line with the lever rule.

use super::super::{Name, Part, Trace};
use super::lines::{Pair, Point};
use super::{Lever, Scales};
use crate::chart::plot::Stroke;
use crate::equilibrium::bubble_dew::Branch;
use crate::process::azeotrope::{AzeotropeAt, azeotropes};
use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::units::{Pressure, Temperature};

/// A shorter tie line, in percent, is not drawn.
const SHORTEST: f64 = 1.5;

/// How far from the line an azeotrope of it may lie, in parts of the value.
const OFF: f64 = 1e-3;

type Marks = Vec<(Name, (f64, f64))>;

/// What is drawn of a blend.
#[derive(Default)]
pub(super) struct Drawn {
    pub(super) curves: Vec<Trace>,
    pub(super) marks: Marks,
    pub(super) lever: Option<Lever>,
}

/// A blend on its lens at one pressure or temperature.
pub(super) fn blend(blend: &Refrigerant, pair: &Pair<'_>, scales: &Scales) -> Drawn {
    let one = blend.exact();
    let zero = ReferenceState::IdealGas;
    let found = match pair.at {
        AzeotropeAt::Pressure(at) => one.saturation_at_pressure(at, zero),
        AzeotropeAt::Temperature(at) => one.saturation_at_temperature(at, zero),
    };
    let mut drawn = Drawn::default();
    let Ok(found) = found else {
        return drawn;
    };
    let moles: Vec<f64> = blend
        .components()
        .iter()
        .map(|one| one.mole_fraction)
        .collect();
    let x = pair.part(&moles);
    let value = |temperature: Temperature, pressure: Pressure| match pair.at {
        AzeotropeAt::Pressure(_) => temperature.in_kelvin(),
        AzeotropeAt::Temperature(_) => pressure.in_pascal(),
    };
    let ends = [(Part::Bubble, &found.bubble), (Part::Dew, &found.dew)];
    let ends = ends.map(|(part, point)| {
        let point = point.as_ref()?;
        Some((part, scales.read(value(point.temperature, point.pressure))))
    });
    let name = blend.designation();
    for (part, read) in ends.into_iter().flatten() {
        let named = Name::Point(name.to_owned(), part, read);
        drawn.marks.push((named, (100.0 * x, read)));
    }
    let [Some((_, bubble)), Some((_, dew))] = ends else {
        return drawn;
    };
    let at = 100.0 * x;
    let size = (dew - bubble).abs();
    if size > 0.0 {
        let name = Name::Glide(size);
        let glide = Trace::new(name, Part::Glide, vec![(at, bubble), (at, dew)]);
        drawn.curves.push(glide.stroke(Stroke::Faint));
    }
    let halfway = 0.5 * (bubble + dew);
    let state = match pair.at {
        AzeotropeAt::Pressure(at) => Given::TemperaturePressure(scales.temperature(halfway), at),
        AzeotropeAt::Temperature(at) => Given::TemperaturePressure(at, scales.pressure(halfway)),
    };
    let states = one.state(state, zero).unwrap_or_default();
    let phases = states
        .first()
        .and_then(|state| state.liquid.as_ref().zip(state.vapor.as_ref()));
    if let Some((liquid, vapor)) = phases {
        let [liquid, vapor] = [liquid, vapor].map(|phase| 100.0 * pair.part(&phase.mole_fractions));
        // Of an azeotrope both phases are the blend: there is no lever to read.
        if (vapor - liquid).abs() > SHORTEST {
            let points = vec![(liquid, halfway), (at, halfway), (vapor, halfway)];
            let tie = Trace::new(Name::None, Part::Tie, points);
            drawn.curves.push(tie.stroke(Stroke::Faint));
            drawn
                .marks
                .push((Name::Share(Part::Bubble, liquid), (liquid, halfway)));
            drawn
                .marks
                .push((Name::Share(Part::Dew, vapor), (vapor, halfway)));
            drawn.lever = Some(Lever {
                at: pair.at,
                halfway,
                liquid,
                blend: at,
                vapor,
                share: (at - liquid) / (vapor - liquid),
            });
        }
    }
    drawn
}

/// The azeotropes of the two components, each as a part of the axis and the value there.
pub(super) fn azeotropes_on(pair: &Pair<'_>) -> Vec<Point> {
    let found = azeotropes(pair.mixtures.equal(), pair.at).unwrap_or_default();
    let names = pair.mixtures.equal().components();
    let own = found.iter().filter_map(|azeotrope| {
        // the components of the mixture in equal masses stand in the order asked
        debug_assert_eq!(names.len(), azeotrope.mole_fractions.len());
        let value = match pair.at {
            AzeotropeAt::Pressure(_) => azeotrope.temperature.in_kelvin(),
            AzeotropeAt::Temperature(_) => azeotrope.pressure.in_pascal(),
        };
        // one that lies off the line belongs to a liquid that parts
        let masses = pair.mixtures.masses_of(&azeotrope.mole_fractions);
        let dew = pair.mixtures.by_refrigerant(&masses, Branch::Dew, pair.at);
        if dew.is_some_and(|dew| (pair.value(&dew) / value - 1.0).abs() > OFF) {
            return None;
        }
        Some((pair.part(&azeotrope.mole_fractions), value))
    });
    own.collect()
}
