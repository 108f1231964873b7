//! The bubble point of a blend whose liquid parts in two: the first vapor stands over both
//! ([`super::three_phases`]).
//!
//! Some published pairs part a hydrocarbon from a fluorocarbon at low temperature, and water parts
//! from most refrigerants.

use super::bubble_dew::{Branch, PhasePair, cold_at_temperature};
use super::one_phase::liquid_density;
use super::split::{Fixed, Sought, Split, split};
use super::stability::Rival;
use super::three_phases::{ThreePhases, amounts};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Shares of the more stable liquid with which the split in two is tried, as parts of the one that
/// leaves nothing of a component: of ammonia beside butane, each liquid holds next to nothing of
/// what the other consists of.
const PARTS: [f64; 10] = [0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.99];
/// Share of a component in a liquid that it hardly dissolves in, where Newton's method starts.
const TRACE: f64 = 1e-5;

/// The bubble point over two liquids, from the bubble point over one and the liquid that is more
/// stable than it.
pub fn bubble_over_two_liquids(
    mixture: &Mixture,
    z: &MoleFractions,
    single: &PhasePair,
    rival: &Rival,
) -> Option<PhasePair> {
    let count = mixture.count();
    let temperature = single.temperature;
    // the two liquids at the pressure of the bubble point over one: the more stable one beside
    // what some share of it leaves of the blend, or beside the blend itself where it is little
    let left = z.iter().zip(rival.x.iter()).map(|(z, x)| z / x);
    let most = left.fold(1.0, f64::min);
    let starts = PARTS
        .into_iter()
        .map(|part| part * most)
        .flat_map(|share| [(share, 0.0), (share, share)]);
    starts.into_iter().find_map(|(share, taken)| {
        let mut rest = [0.0; MAX_COMPONENTS];
        for (rest, (z, x)) in rest.iter_mut().zip(z.iter().zip(rival.x.iter())) {
            *rest = (z - taken * x) / (1.0 - taken);
        }
        if rest[..count].iter().any(|&rest| rest <= 0.0) {
            return None;
        }
        let rest = MoleFractions::new(&rest[..count]);
        // volumes add
        let volume = 1.0 / single.liquid_density - taken / rival.density;
        let density = (1.0 - taken) / volume;
        if density.is_nan() || density <= 0.0 {
            return None;
        }
        let dense_rest = density > rival.density;
        let pair = PhasePair {
            liquid: if dense_rest { rest } else { rival.x },
            vapor: if dense_rest { rival.x } else { rest },
            liquid_density: density.max(rival.density),
            vapor_density: density.min(rival.density),
            ..*single
        };
        let start = Split {
            pair,
            vapor_fraction: if dense_rest || taken == 0.0 {
                share
            } else {
                1.0 - share
            },
        };
        let sought = Sought::TemperaturePressure(temperature, single.pressure);
        let liquids = split(mixture, z, sought, &start)?;
        ThreePhases::over(&liquids, (single.vapor, single.vapor_density)).bubble_point(
            mixture,
            z,
            Fixed::Temperature(temperature),
        )
    })
}

/// The bubble point over two liquids of which one is next to nothing but one component, such as water
/// beside a hydrocarbon: there the blend as one liquid has none that leads to it. The other liquid
/// and the vapor start as a bubble point without that component, which adds its own vapor pressure.
pub fn bubble_beside_one(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
) -> Option<PhasePair> {
    let count = mixture.count();
    let components = mixture.components().iter().enumerate();
    let parts =
        components.filter(|(k, one)| z[*k] > TRACE && temperature < one.critical.temperature);
    parts.into_iter().find_map(|(alone, component)| {
        let mut rest = [0.0; MAX_COMPONENTS];
        let mut nearly_alone = [TRACE; MAX_COMPONENTS];
        rest[..count].copy_from_slice(&z[..count]);
        rest[alone] = TRACE * (1.0 - z[alone]);
        nearly_alone[alone] = 1.0;
        let nearly_alone = MoleFractions::new(&nearly_alone[..count]);
        let rest = MoleFractions::new(&rest[..count]);
        let single = cold_at_temperature(mixture, &rest, Branch::Bubble, temperature)?;
        let mut vapor = amounts(&single.vapor, single.vapor_density);
        let own = component.ancillary.extended_pressure(temperature);
        vapor[alone] = own / (component.record.gas_constant_j_mol_k * temperature);
        let vapor = &vapor[..count];
        let phases = [
            (MoleFractions::new(vapor), vapor.iter().sum()),
            (rest, single.liquid_density),
            (
                nearly_alone,
                liquid_density(mixture, &nearly_alone, temperature),
            ),
        ];
        let place = (temperature, single.pressure);
        ThreePhases::start(place, phases, (0.0, z[alone])).stable_bubble_point(
            mixture,
            z,
            Fixed::Temperature(temperature),
        )
    })
}
