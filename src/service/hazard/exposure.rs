//! Figures about exposure and warming in other units: arithmetic, and no verdict on a room.

use crate::Refrigerant;
use crate::units::{KG_PER_POUND, M3_PER_CUBIC_FOOT};

/// Molar volume of an ideal gas at 25 °C and 101.325 kPa, m3/mol, at which shares by volume count:
/// 8.314462618 J/(mol K) x 298.15 K / 101325 Pa.
pub const MOLAR_VOLUME: f64 = 8.314_462_618 * 298.15 / 101_325.0;

/// A concentration of a refrigerant in air.
///
/// A share by volume becomes a mass in a volume by the ideal gas at 25 °C and 101.325 kPa:
/// rho = x M / 0.024465 m3/mol.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, service::hazard::exposure::Concentration};
/// // ISO 817, from memory: R-32's lower flammability limit, 0.307 kg/m3, is 14.4 % by volume.
/// let r32 = Refrigerant::named("R-32")?;
/// let limit = Concentration::by_mass(0.307);
/// assert!((limit.by_volume(r32.molar_mass()) * 100.0 - 14.4).abs() < 0.05);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Concentration(f64);

impl Concentration {
    /// From kg/m3.
    pub const fn by_mass(kg_m3: f64) -> Self {
        Self(kg_m3)
    }

    /// From a share of the volume, 0 to 1, of a gas of a molar mass in kg/mol.
    pub const fn of_volume(share: f64, molar_mass: f64) -> Self {
        Self(share * molar_mass / MOLAR_VOLUME)
    }

    /// In kg/m3.
    pub const fn in_kg_m3(self) -> f64 {
        self.0
    }

    /// In pounds in a thousand cubic feet.
    pub const fn in_lb_1000ft3(self) -> f64 {
        self.0 / KG_PER_LB_1000FT3
    }

    /// As a share of the volume, 0 to 1.
    pub const fn by_volume(self, molar_mass: f64) -> f64 {
        self.0 * MOLAR_VOLUME / molar_mass
    }
}

/// kg/m3 in a pound in a thousand cubic feet.
pub const KG_PER_LB_1000FT3: f64 = KG_PER_POUND / (1000.0 * M3_PER_CUBIC_FOOT);

/// A global warming potential of a refrigerant.
#[derive(Debug, Clone, PartialEq)]
pub struct Warming {
    /// The report, or what the user named as source.
    pub source: String,
    /// Horizon in years, where it is known.
    pub horizon_years: Option<u16>,
    /// Relative to carbon dioxide, by mass.
    pub value: f64,
    /// True where the figure is an upper bound.
    pub below: bool,
    /// True where it was summed from the components by mass.
    pub summed: bool,
}

impl Warming {
    /// Mass of carbon dioxide that warms as much as a mass of the refrigerant, in the same unit.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::hazard::exposure::potentials;
    /// use zeotrope::Refrigerant;
    /// // Regulation (EU) No 517/2014, Annex IV, by the IPCC's fourth report: R-410A 2088.
    /// let found = potentials(&Refrigerant::named("R-410A")?);
    /// let fourth = found.iter().find(|one| one.source == "IPCC AR4").unwrap();
    /// assert!((fourth.value - 2088.0).abs() < 0.6);
    /// assert!((fourth.carbon_dioxide(10.0) - 20_880.0).abs() < 6.0);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn carbon_dioxide(&self, mass: f64) -> f64 {
        self.value * mass
    }
}

/// The warming potentials on record, by report and horizon; a blend's is the sum of its components'
/// by mass, where one report has them all.
pub fn potentials(refrigerant: &Refrigerant) -> Vec<Warming> {
    let records = refrigerant.records();
    let Some(first) = records.first() else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for potential in &first.gwp {
        let (mut value, mut below, mut complete) = (0.0, false, true);
        for (component, record) in refrigerant.components().iter().zip(&records) {
            let same = record.gwp.iter().find(|other| {
                other.report == potential.report && other.horizon_years == potential.horizon_years
            });
            match same {
                Some(one) => {
                    value += component.mass_fraction * one.value;
                    below |= one.below;
                }
                None => complete = false,
            }
        }
        if complete {
            found.push(Warming {
                source: potential.report.clone(),
                horizon_years: Some(potential.horizon_years),
                value,
                below,
                summed: !refrigerant.is_pure(),
            });
        }
    }
    found
}
