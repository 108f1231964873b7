//! How much liquid a cylinder takes by three rules, and what warmth does to a filling.

use crate::service::reasons;
use serde::{Serialize, Serializer};

use crate::equilibrium::Phase;
use crate::error::{Blank, RangeUnit, Reason};
use crate::numeric::bracketed_root;
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{
    Atmosphere, Pressure, Temperature, TemperatureDifference, parse_mass, parse_volume,
};
use crate::{Error, Given, ReferenceState, Refrigerant, Result};

/// Temperature of the guideline's filling.
const FILLED_AT: Temperature = Temperature::celsius(25.0);

/// Share of the volume that liquid may take then.
const LIQUID_SHARE: f64 = 0.80;

/// Temperature to which a cylinder is taken to warm.
pub const WARMED_TO: Temperature = Temperature::celsius(55.0);

/// Kilograms of water in a cubic metre, by which a capacity in mass becomes a volume.
pub const WATER_KG_M3: f64 = 1000.0;

/// What is read on a cylinder's collar.
const COLLAR: &str = "read the water capacity (WC) on the cylinder's collar and write 47.7lb, 21.6kg or 21.6L; \
                      never fill a cylinder of unknown capacity";

/// A cylinder's water capacity as its collar says it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct WaterCapacity {
    /// m3.
    pub volume: f64,
    /// Whether it is said in the inch-pound system.
    pub in_pounds: bool,
}

/// Reads a water capacity, a mass of water or a volume.
///
/// # Errors
/// [`Error::Value`] where it is neither.
///
/// # Example
/// ```
/// use zeotrope::service::vessel::cylinder::parse_water_capacity;
/// let capacity = parse_water_capacity("21.6kg")?;
/// assert!(capacity.volume == 0.0216 && !capacity.in_pounds);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_water_capacity(text: &str) -> Result<WaterCapacity> {
    let in_pounds = text.to_ascii_lowercase().contains("lb");
    let (volume, in_pounds) = match (parse_mass(text), parse_volume(text)) {
        (Ok(mass), _) => (mass / WATER_KG_M3, in_pounds),
        (_, Ok(volume)) => (volume, text.contains("ft") || text.contains("in")),
        _ => {
            return Err(Error::Value {
                quantity: "water capacity",
                text: text.to_owned(),
                problem: "is neither a mass of water nor a volume".into(),
                hint: COLLAR.into(),
            });
        }
    };
    Ok(WaterCapacity { volume, in_pounds })
}

/// Where the curve of a filling begins.
const COLDEST: Temperature = Temperature::celsius(-20.0);

/// Up to this critical temperature neither of the two rules by liquid volume has a meaning.
const LEAST_CRITICAL: Temperature = Temperature::celsius(65.0);

/// Which rule gives a mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RuleKind {
    /// 80 % of the volume by liquid at 25 °C.
    Guideline,
    /// Just full of liquid at 55 °C.
    LiquidFullAt55C,
    /// A filling ratio in kg/L, as given.
    FillingRatio(f64),
}

impl RuleKind {
    /// Its name for programs.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Guideline => "guideline",
            Self::LiquidFullAt55C => "liquid_full_at_55C",
            Self::FillingRatio(_) => "filling_ratio",
        }
    }
}

impl Serialize for RuleKind {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_str(self.key())
    }
}

/// Why a rule gives no mass.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// The guideline: no safety class is assigned.
    NoClass,
    /// The guideline: a component is no halocarbon.
    NotHalocarbon,
    /// The guideline: a safety class other than A1.
    Class(String),
    /// Liquid volume: the critical temperature is too low.
    CriticalTooLow(Temperature),
    /// Liquid volume: no critical point is known.
    NoCriticalPoint,
    /// The density of the liquid has no answer.
    Failed(Error),
}

/// A mass in a cylinder, and what warmth does to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Filling {
    /// Mass, kg.
    pub mass: f64,
    /// Temperature at which it is full of liquid, as [`liquid_full`].
    pub full: Result<Option<Temperature>>,
    /// The filling at [`WARMED_TO`]; none beyond the equation.
    pub warmed: Option<Filled>,
}

impl Filling {
    /// What warmth does to a mass in kg in a volume in m3.
    pub fn for_mass(refrigerant: &Refrigerant, mass: f64, volume: f64) -> Self {
        Self {
            mass,
            full: liquid_full(refrigerant, mass / volume),
            warmed: filled(refrigerant, mass / volume, WARMED_TO).ok(),
        }
    }

    /// Temperature at which it is full of liquid; none where that is not known.
    pub fn full_at(&self) -> Option<Temperature> {
        self.full.as_ref().ok().copied().flatten()
    }

    fn warmed_pressure(&self) -> Option<Pressure> {
        self.warmed.map(|warmed| warmed.pressure)
    }
}

/// One rule: the filling that it gives, or why it gives none.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Which rule.
    pub kind: RuleKind,
    /// The filling, or the reason why there is none.
    pub filling: std::result::Result<Filling, Refusal>,
}

/// Masses of a refrigerant for a cylinder, by rule. None of them says that a filling is permitted.
///
/// - 80 % of the volume by liquid at 25 °C, for recovered non-flammable halocarbons: AHRI
///   Guideline K. Its example: 0.80 x 1000 lb of water x 1.197 = 957.6 lb of R-22.
/// - The mass that is just full of liquid at 55 °C, common practice, no source.
/// - The filling ratio of the law that applies, kg per litre of water capacity, if it is given.
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
/// let mass = found[0].filling.as_ref().unwrap().mass / pound;
/// assert!((mass / 957.6 - 1.0).abs() < 6e-3, "{mass}");
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn rules(refrigerant: &Refrigerant, volume: f64, ratio: Option<f64>) -> Result<Vec<Rule>> {
    let wrong = |reason: Reason, hint: &str| Error::NoAnswer {
        reason,
        hint: hint.into(),
    };
    if !(volume > 0.0 && volume.is_finite()) {
        return Err(wrong(
            reasons::CYLINDER_NO_CAPACITY.into(),
            "read the water capacity (WC) on the cylinder's collar",
        ));
    }
    if let Some(ratio) = ratio
        && !(ratio > 0.0 && ratio <= 2.5)
    {
        return Err(wrong(
            Reason::with(
                reasons::CYLINDER_RATIO_OUTSIDE,
                "ratio",
                Blank::Quantity(ratio, RangeUnit::None),
            ),
            "take the filling ratio of the law that applies, in kg per litre of water capacity",
        ));
    }
    let of = |mass: f64| Filling::for_mass(refrigerant, mass, volume);
    let low = too_low(refrigerant);
    let by_liquid = |at: Temperature, share: f64| match &low {
        Some(refusal) => Err(refusal.clone()),
        None => liquid_density(refrigerant, at)
            .map(|density| of(share * volume * density))
            .map_err(Refusal::Failed),
    };
    let mut found = vec![
        Rule {
            kind: RuleKind::Guideline,
            filling: match not_covered(refrigerant) {
                Some(refusal) => Err(refusal),
                None => by_liquid(FILLED_AT, LIQUID_SHARE),
            },
        },
        Rule {
            kind: RuleKind::LiquidFullAt55C,
            filling: by_liquid(WARMED_TO, 1.0),
        },
    ];
    found.extend(ratio.map(|ratio| Rule {
        kind: RuleKind::FillingRatio(ratio),
        filling: Ok(of(ratio * volume * 1000.0)),
    }));
    Ok(found)
}

/// The rule of the smallest mass.
pub fn smallest(rules: &[Rule]) -> Option<(RuleKind, &Filling)> {
    rules
        .iter()
        .filter_map(|rule| Some((rule.kind, rule.filling.as_ref().ok()?)))
        .min_by(|a, b| a.1.mass.total_cmp(&b.1.mass))
}

/// Why the rules by liquid volume have no meaning for a refrigerant.
fn too_low(refrigerant: &Refrigerant) -> Option<Refusal> {
    match refrigerant.critical_point() {
        Some(critical) if critical.temperature <= LEAST_CRITICAL => {
            Some(Refusal::CriticalTooLow(critical.temperature))
        }
        Some(_) => None,
        None => Some(Refusal::NoCriticalPoint),
    }
}

/// Why the guideline does not cover a refrigerant.
fn not_covered(refrigerant: &Refrigerant) -> Option<Refusal> {
    // The standard numbers inorganic fluids from R-700.
    let inorganic = refrigerant
        .components()
        .iter()
        .any(|component| component.designation.starts_with("R-7"));
    match refrigerant.safety_class().as_deref() {
        None => Some(Refusal::NoClass),
        Some("A1") if inorganic => Some(Refusal::NotHalocarbon),
        Some("A1") => None,
        Some(class) => Some(Refusal::Class(class.to_owned())),
    }
}

fn liquid_density(refrigerant: &Refrigerant, at: Temperature) -> Result<f64> {
    refrigerant
        .saturation_at_temperature(at, ReferenceState::IdealGas)?
        .bubble
        .map(|point| point.liquid.density)
        .ok_or_else(|| Error::NoAnswer {
            reason: Reason::with(
                reasons::REASON_NO_LIQUID,
                "temperature",
                Blank::Quantity(at.in_kelvin(), RangeUnit::Kelvin),
            ),
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
            reason: Reason::with(
                reasons::REASON_DOES_NOT_FIT,
                "filling",
                Blank::Quantity(filling.round(), RangeUnit::KilogramPerCubicMetre),
            )
            .and("temperature", Blank::Quantity(lowest.0, RangeUnit::Kelvin)),
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
    let states = refrigerant.state(given, ReferenceState::IdealGas)?;
    let state = states.first().ok_or_else(|| Error::NoAnswer {
        reason: reasons::REASON_NO_STATE_OF_FILLING.into(),
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

/// What is asked of a cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderQuestion {
    /// Water capacity, m3.
    pub volume: f64,
    /// Mass in the cylinder, kg; without it the smallest that a rule gives.
    pub contents: Option<f64>,
    /// Whether temperatures go by tens of °F, else of °C.
    pub fahrenheit: bool,
    /// The air that gauges read against.
    pub atmosphere: Atmosphere,
}

/// A filling at one temperature; pressure and shares of the volume where there is an answer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Warmed {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Option<Pressure>,
    /// Liquid's share of the volume; none above the critical temperature.
    pub liquid_share: Option<f64>,
    /// The rest of the volume.
    pub space_share: Option<f64>,
}

impl Warmed {
    fn for_filling(refrigerant: &Refrigerant, filling: f64, at: Temperature) -> Self {
        let found = filled(refrigerant, filling, at).ok();
        let share = found.and_then(|found| found.liquid_share);
        Self {
            temperature: at,
            pressure: found.map(|found| found.pressure),
            liquid_share: share,
            space_share: share.map(|share| 1.0 - share),
        }
    }
}

/// A cylinder: the masses by rule, and what warmth does to one mass.
#[derive(Debug, Clone, PartialEq)]
pub struct Cylinder {
    /// What it is called and made of.
    pub identity: Identity,
    /// The rules.
    pub rules: Vec<Rule>,
    /// Water capacity, m3.
    pub volume: f64,
    /// The rule of the smallest mass, where one gives a mass.
    pub smallest: Option<RuleKind>,
    /// Whether the mass was given; else it is the smallest.
    pub is_given: bool,
    /// The mass that is warmed.
    pub contents: Filling,
    /// Temperature at which it is full of liquid; none below the critical temperature.
    pub full: Option<Temperature>,
    /// The mass at temperatures in steps of ten degrees.
    pub warming: Vec<Warmed>,
    /// The mass from -20 °C up to where it is full of liquid, else to [`WARMED_TO`].
    pub curve: Vec<Warmed>,
    /// Where that curve ends.
    pub curve_end: Temperature,
    /// The air that gauges read against.
    pub atmosphere: Pressure,
    /// What its numbers rest on.
    pub model: Model,
}

impl Cylinder {
    /// What warmth does to a mass in a cylinder, beside what [`rules`] gives.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where no mass is given and no rule gives one; those of [`liquid_full`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::vessel::cylinder::{Cylinder, CylinderQuestion, rules};
    /// use zeotrope::{Refrigerant, service::facts::Facts, units::Atmosphere};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let question = CylinderQuestion {
    ///     volume: 0.0272,
    ///     contents: None,
    ///     fahrenheit: false,
    ///     atmosphere: Atmosphere::SEA_LEVEL,
    /// };
    /// let rules = rules(&r134a, question.volume, None)?;
    /// let found = Cylinder::for_question(&r134a, &Facts::of_refrigerant(&r134a), rules, &question)?;
    /// // 80 % of the volume by liquid of 1206.71 kg/m3 at 25 °C. Density computed with a
    /// // general-purpose open library, a cross-check.
    /// assert!((found.contents.mass / (0.8 * 0.0272 * 1206.71) - 1.0).abs() < 1e-4);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn for_question(
        refrigerant: &Refrigerant,
        facts: &Facts,
        rules: Vec<Rule>,
        question: &CylinderQuestion,
    ) -> Result<Self> {
        let volume = question.volume;
        let least = smallest(&rules);
        let contents = match question.contents {
            Some(mass) => Some(Filling::for_mass(refrigerant, mass, volume)),
            None => least.map(|(_, filling)| filling.clone()),
        };
        let contents = contents.ok_or_else(|| Error::NoAnswer {
            reason: reasons::CYLINDER_NO_MASS.into(),
            hint: "give the mass in the cylinder".into(),
        })?;
        let full = contents.full.clone()?;
        let warmed = |at| Warmed::for_filling(refrigerant, contents.mass / volume, at);
        let tens = |step: i32| 10.0 * f64::from(step);
        let steps = match question.fahrenheit {
            true => 0..=15,
            false => -2..=7,
        };
        let warming = steps.map(|step| match question.fahrenheit {
            true => warmed(Temperature::fahrenheit(tens(step))),
            false => warmed(Temperature::celsius(tens(step))),
        });
        // Down to no space at all, where that is in sight, and no farther.
        let end = full.filter(|full| *full > COLDEST).unwrap_or(WARMED_TO);
        let curve = (0..=45).map(|step| {
            let along = f64::from(step) / 45.0 * (end - COLDEST).in_kelvin();
            warmed(COLDEST + TemperatureDifference::kelvin(along))
        });
        Ok(Self {
            identity: facts.identity.clone(),
            smallest: least.map(|(kind, _)| kind),
            volume,
            is_given: question.contents.is_some(),
            full,
            warming: warming.collect(),
            curve: curve.collect(),
            curve_end: end,
            atmosphere: question.atmosphere.pressure(),
            model: facts.model.clone(),
            contents,
            rules,
        })
    }
}

impl Serialize for Refusal {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        serializer.serialize_str(match self {
            Self::NoClass => "no_class",
            Self::NotHalocarbon => "not_halocarbon",
            Self::Class(_) => "class",
            Self::CriticalTooLow(_) => "critical_too_low",
            Self::NoCriticalPoint => "no_critical_point",
            Self::Failed(_) => "failed",
        })
    }
}

impl Serialize for Rule {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            figure: RuleKind,
            mass_kg: Option<f64>,
            refused: Option<&'a Refusal>,
            liquid_full_K: Option<Temperature>,
            pressure_at_55C_Pa: Option<Pressure>,
        }
        let filling = self.filling.as_ref();
        Keys {
            figure: self.kind,
            mass_kg: filling.ok().map(|filling| filling.mass),
            refused: filling.err(),
            liquid_full_K: filling.ok().and_then(Filling::full_at),
            pressure_at_55C_Pa: filling.ok().and_then(Filling::warmed_pressure),
        }
        .serialize(serializer)
    }
}

impl Serialize for Cylinder {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            figures: &'a [Rule],
            volume_m3: f64,
            smallest: Option<RuleKind>,
            contents_kg: f64,
            liquid_full_K: Option<Temperature>,
            pressure_at_55C_Pa: Option<Pressure>,
            warming: &'a [Warmed],
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        Keys {
            identity: &self.identity,
            figures: &self.rules,
            volume_m3: self.volume,
            smallest: self.smallest,
            contents_kg: self.contents.mass,
            liquid_full_K: self.full,
            pressure_at_55C_Pa: self.contents.warmed_pressure(),
            warming: &self.warming,
            atmosphere_Pa: self.atmosphere,
            model: &self.model,
        }
        .serialize(serializer)
    }
}
