//! How much liquid a cylinder takes by three rules, and what warmth does to a filling.

use crate::equilibrium::Phase;
use crate::numeric::bracketed_root;
use crate::service::facts::Facts;
use crate::units::{Pressure, Temperature};
use crate::{Error, Given, Refrigerant, Result, Zero};

/// Temperature of the guideline's filling.
const FILLED_AT: Temperature = Temperature::celsius(25.0);

/// Share of the volume that liquid may take then.
const LIQUID_SHARE: f64 = 0.80;

/// Temperature to which a cylinder is taken to warm.
pub const WARMED_TO: Temperature = Temperature::celsius(55.0);

/// Up to this critical temperature neither of the two rules by liquid volume has a meaning.
const LEAST_CRITICAL: Temperature = Temperature::celsius(65.0);

/// One rule: the mass that it gives, or why it gives none.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// The rule in words.
    pub name: String,
    /// For programs.
    pub key: &'static str,
    /// Mass, kg, or the reason why there is none.
    pub mass: std::result::Result<f64, String>,
}

/// Masses of a refrigerant for a cylinder, by rule. None of them says that a filling is permitted.
///
/// - 80 % of the volume by liquid at 25 °C, for recovered non-flammable halocarbons: AHRI
///   Guideline K. Its example: 0.80 x 1000 lb of water x 1.197 = 957.6 lb of R-22.
/// - The mass that is just full of liquid at 55 °C, common practice, no source.
/// - The filling ratio of the law that applies, kg a litre of water capacity, if it is given.
///
/// # Units
/// `volume`, the water capacity, in m3; `ratio` in kg/L; masses in kg.
///
/// # Errors
/// [`Error::NoAnswer`] for a volume or ratio not above zero, or a ratio above 2.5 kg/L; what a rule
/// refuses stands in the rule.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::vessel::cylinder::rules;
/// // AHRI Guideline K, worked example: 1000 lb of water capacity, 957.6 lb of R-22. It rounds
/// // the liquid's specific gravity to 1.197; the equation has 1.1907 kg/L, 0.53 % less.
/// let pound = 0.453_592_37;
/// let found = rules(&Refrigerant::named("R-22")?, 1000.0 * pound / 1000.0, None)?;
/// let mass = found[0].mass.clone().unwrap() / pound;
/// assert!((mass / 957.6 - 1.0).abs() < 6e-3, "{mass}");
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn rules(refrigerant: &Refrigerant, volume: f64, ratio: Option<f64>) -> Result<Vec<Rule>> {
    let wrong = |reason: String| Error::NoAnswer {
        reason,
        hint: "read the water capacity (WC) on the cylinder's collar".into(),
    };
    if !(volume > 0.0 && volume.is_finite()) {
        return Err(wrong("the cylinder's capacity is not above zero".into()));
    }
    if let Some(ratio) = ratio
        && !(ratio > 0.0 && ratio <= 2.5)
    {
        return Err(wrong(format!(
            "a filling ratio of {ratio} kg/L is none of a refrigerant's (up to 2.5 kg/L)"
        )));
    }
    let critical = too_low(refrigerant);
    let by_liquid = |at: Temperature, share: f64| match &critical {
        Some(reason) => Err(reason.clone()),
        None => liquid_density(refrigerant, at)
            .map(|density| share * volume * density)
            .map_err(|error| error.to_string()),
    };
    let mut found = vec![
        Rule {
            name: "80 % liquid at 25 °C (AHRI Guideline K)".into(),
            key: "guideline",
            mass: match not_covered(refrigerant) {
                Some(reason) => Err(reason),
                None => by_liquid(FILLED_AT, LIQUID_SHARE),
            },
        },
        Rule {
            name: "just full of liquid at 55 °C".into(),
            key: "liquid_full_at_55C",
            mass: by_liquid(WARMED_TO, 1.0),
        },
    ];
    if let Some(ratio) = ratio {
        found.push(Rule {
            name: format!("filling ratio {ratio} kg/L, as given"),
            key: "filling_ratio",
            mass: Ok(ratio * volume * 1000.0),
        });
    }
    Ok(found)
}

/// The rule of the smallest mass.
pub fn smallest(rules: &[Rule]) -> Option<(&Rule, f64)> {
    rules
        .iter()
        .filter_map(|rule| Some((rule, *rule.mass.as_ref().ok()?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Why the rules by liquid volume have no meaning for a refrigerant.
fn too_low(refrigerant: &Refrigerant) -> Option<String> {
    match refrigerant.critical_point() {
        Some(critical) if critical.temperature <= LEAST_CRITICAL => Some(format!(
            "its critical temperature, {:.1} °C, is not above 65 °C: near it liquid swells out of \
             all proportion",
            critical.temperature.in_celsius()
        )),
        Some(_) => None,
        None => Some("its critical point is not known here".into()),
    }
}

/// Why the guideline does not cover a refrigerant.
fn not_covered(refrigerant: &Refrigerant) -> Option<String> {
    let facts = Facts::of(refrigerant);
    let class = facts
        .safety_class
        .as_ref()
        .map(|class| class.value.as_str());
    // The standard numbers inorganic fluids from R-700.
    let inorganic = refrigerant
        .components()
        .iter()
        .any(|component| component.designation.starts_with("R-7"));
    match class {
        None => Some("its class is not assigned: the guideline cannot be applied".into()),
        Some("A1") if inorganic => {
            Some("not all of it is a halocarbon: the guideline does not cover it".into())
        }
        Some("A1") => None,
        Some(class) => Some(format!(
            "class {class}: the guideline covers recovered halocarbons of class A1 alone here"
        )),
    }
}

fn liquid_density(refrigerant: &Refrigerant, at: Temperature) -> Result<f64> {
    refrigerant
        .saturation_at_temperature(at, Zero::IdealGas)?
        .bubble
        .map(|point| point.liquid.density)
        .ok_or_else(|| Error::NoAnswer {
            reason: format!("no liquid at {:.1} °C", at.in_celsius()),
            hint: "take a lower temperature".into(),
        })
}

/// The temperature at which a filling is just full of liquid; above it the pressure rises steeply.
///
/// Where the density of the liquid at its bubble point has fallen to that of the filling. `None`
/// where this does not happen below the critical temperature.
///
/// # Units
/// `filling` in kg/m3: mass over water capacity.
///
/// # Errors
/// [`Error::NoAnswer`] where the filling does not fit even at the lowest temperature.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, service::vessel::cylinder::liquid_full, units::Temperature};
/// // R-134a, liquid over 80 % of the volume at 25 °C and vapour over the rest (1206.71 and
/// // 32.35 kg/m3): full at 164.9 °F. Computed with a general-purpose open library, a cross-check.
/// let filling = 0.8 * 1206.71 + 0.2 * 32.35;
/// let full = liquid_full(&Refrigerant::named("R-134a")?, filling)?.unwrap();
/// assert!((full.in_fahrenheit() - 164.9).abs() < 0.06);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn liquid_full(refrigerant: &Refrigerant, filling: f64) -> Result<Option<Temperature>> {
    let Some(critical) = refrigerant.critical_point() else {
        return Ok(None);
    };
    let low = refrigerant.limits().temperature_min.in_kelvin();
    let excess = |t: f64| Ok(liquid_density(refrigerant, Temperature::kelvin(t))? - filling);
    // Liquid may have no answer next to the critical point, or in the coldest corner of a blend.
    let value_at = |t: f64| excess(t).ok().map(|value| (t, value));
    let top = critical.temperature.in_kelvin();
    let highest = [0.9995, 0.999, 0.995, 0.99, 0.98]
        .iter()
        .find_map(|part| value_at(part * top));
    let lowest = (0..10).find_map(|step| value_at(low + f64::from(step) * 0.05 * (top - low)));
    let (Some(lowest), Some(highest)) = (lowest, highest) else {
        return Ok(None);
    };
    if lowest.1 < 0.0 {
        return Err(Error::NoAnswer {
            reason: format!(
                "{filling:.0} kg/m3 do not fit as liquid even at {:.0} °C",
                lowest.0 - 273.15
            ),
            hint: "check the mass and the water capacity".into(),
        });
    }
    if highest.1 > 0.0 {
        return Ok(None);
    }
    bracketed_root(excess, lowest.0, highest.0, 1e-9).map(|t| Some(Temperature::kelvin(t)))
}

/// A filling at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filled {
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: Pressure,
    /// Liquid's share of the volume; none above the critical temperature.
    pub liquid_share: Option<f64>,
}

/// Pressure and liquid's share of a filling at a temperature, in a cylinder that does not stretch.
///
/// # Units
/// `filling` in kg/m3.
///
/// # Errors
/// Those of [`Refrigerant::state`].
pub fn filled(refrigerant: &Refrigerant, filling: f64, at: Temperature) -> Result<Filled> {
    let given = Given::TemperatureDensity(at, filling);
    let states = refrigerant.state(given, Zero::IdealGas)?;
    let state = states.first().ok_or_else(|| Error::NoAnswer {
        reason: "no state at this temperature and filling".into(),
        hint: "take another temperature".into(),
    })?;
    let liquid_share = match (&state.liquid, state.quality, state.phase) {
        (Some(liquid), Some(quality), _) => Some((1.0 - quality) * filling / liquid.density),
        (_, _, Phase::Liquid) => Some(1.0),
        (_, _, Phase::Vapor) if at < critical_temperature(refrigerant) => Some(0.0),
        _ => None,
    };
    Ok(Filled {
        temperature: at,
        pressure: state.properties.pressure,
        liquid_share,
    })
}

fn critical_temperature(refrigerant: &Refrigerant) -> Temperature {
    refrigerant
        .critical_point()
        .map_or(Temperature::kelvin(0.0), |critical| critical.temperature)
}
