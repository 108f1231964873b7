//! What several pages share: properties of a phase, what stands below an answer.

use super::style::{Detail, Style};
use super::words::{self, Phrase};
use super::{Document, Figures};
use crate::Warning;
use crate::catalogue::records::{MeasuredDeviation, MeasuredVapors, PairKind};
use crate::refrigerant::{PhaseProperties, ReferenceState, Refrigerant};
use crate::service::deviation::BlendDeviation;
use crate::service::facts::{Facts, PairFact};
use crate::service::reasons::PAIR_NO_PARAMETERS;
use crate::units::{
    Atmosphere, AtmosphereSource, DensityUnit, Pressure, PressureUnit, Temperature, short,
    significant,
};

/// Digits of a property on a page; JSON has them all.
const DIGITS: usize = 5;

/// Metres in a foot.
const METRE_PER_FOOT: f64 = 0.3048;

/// A value as it was asked for, in a title.
pub(crate) fn asked(value: f64, unit: &str, style: &Style) -> String {
    format!("{} {unit}", style.sign(short(value, 7)))
}

/// A number to five digits with its unit; a dash where there is none.
fn property(value: Option<f64>, size: f64, unit: &str, style: &Style) -> String {
    match value {
        Some(value) => format!("{} {unit}", style.sign(significant(value / size, DIGITS)))
            .trim_end()
            .to_owned(),
        None => "-".to_owned(),
    }
}

/// An enthalpy or a heat in J/kg, to five digits.
pub(crate) fn heat(value: f64, style: &Style) -> String {
    let unit = style.units.enthalpy;
    property(Some(value), unit.joule_per_kg(), unit.typed(), style)
}

/// The slope of a line in Pa/K, to five digits.
pub(crate) fn line_slope(value: f64, style: &Style) -> String {
    let (size, unit) = if style.units.feet {
        (1.8 * PressureUnit::PsiAbsolute.pascal(), "psi/°F")
    } else {
        (1e5, "bar/K")
    };
    property(Some(value), size, unit, style)
}

/// A density in kg/m3, to five digits.
pub(crate) fn density(value: f64, molar_mass: f64, style: &Style) -> String {
    let unit = density_unit(style);
    property(Some(unit.read(value, molar_mass)), 1.0, unit.typed(), style)
}

pub(crate) const fn density_unit(style: &Style) -> DensityUnit {
    match style.units.density {
        DensityUnit::PoundPerCubicFoot => DensityUnit::PoundPerCubicFoot,
        _ => DensityUnit::KilogramPerCubicMetre,
    }
}

/// Adds where a point lies: temperature, then gauge and absolute pressure. `path` is the point's
/// field, with a `/` behind it where it is not the answer itself.
pub(crate) fn temperature_and_pressure(
    figures: &mut Figures,
    (temperature, pressure): (Temperature, Pressure),
    path: &str,
    style: &Style,
) {
    use words::properties::{PRESSURE_ABSOLUTE, PRESSURE_GAUGE, TEMPERATURE};
    let field = |key: &str| format!("{path}{key}");
    figures.temperature(style, TEMPERATURE, field("temperature_K"), temperature);
    figures.remark(
        style.word(PRESSURE_GAUGE),
        style.pressure(pressure, style.units.gauge),
    );
    figures.named(
        style,
        PRESSURE_ABSOLUTE,
        style.pressure(pressure, style.units.absolute),
        field("pressure_Pa"),
        pressure,
    );
}

/// Adds the properties of a phase; `path` as in [`temperature_and_pressure`].
pub(crate) fn properties(
    figures: &mut Figures,
    phase: &PhaseProperties,
    path: &str,
    molar_mass: f64,
    style: &Style,
) {
    use words::properties::*;
    let units = &style.units;
    let (heat, content) = (units.entropy, units.enthalpy);
    let (speed_size, speed_unit) = if units.feet {
        (METRE_PER_FOOT, "ft/s")
    } else {
        (1.0, "m/s")
    };
    let (slope_size, slope_unit) = if units.feet {
        (1.0 / 1.8 / PressureUnit::PsiAbsolute.pascal(), "°F/psi")
    } else {
        (1e-5, "K/bar")
    };
    let density = density_unit(style);
    let per_mass = (content.joule_per_kg(), content.typed());
    let per_degree = (heat.joule_per_kg_k(), heat.typed());
    let density_size = phase.density / density.read(phase.density, molar_mass);
    type Row<'a> = (Phrase, &'a str, Option<f64>, (f64, &'a str));
    let derived = &phase.derived;
    let (compress_size, compress_unit, per_kelvin) = if units.feet {
        (
            1.0 / PressureUnit::PsiAbsolute.pascal(),
            "1/psi",
            (1.8, "1/°F"),
        )
    } else {
        (1e-5, "1/bar", (1.0, "1/K"))
    };
    let rows: [Row<'_>; 12] = [
        (
            DENSITY,
            "density_kg_m3",
            Some(phase.density),
            (density_size, density.typed()),
        ),
        (ENTHALPY, "enthalpy_J_kg", Some(phase.enthalpy), per_mass),
        (ENTROPY, "entropy_J_kg_K", Some(phase.entropy), per_degree),
        (
            INTERNAL_ENERGY,
            "internal_energy_J_kg",
            Some(phase.internal_energy),
            per_mass,
        ),
        (CP, "cp_J_kg_K", phase.cp, per_degree),
        (CV, "cv_J_kg_K", phase.cv, per_degree),
        (
            SPEED_OF_SOUND,
            "speed_of_sound_m_s",
            phase.speed_of_sound,
            (speed_size, speed_unit),
        ),
        (
            COMPRESSIBILITY_FACTOR,
            "compressibility_factor",
            phase.compressibility_factor,
            (1.0, ""),
        ),
        (
            JOULE_THOMSON,
            "joule_thomson_K_Pa",
            phase.joule_thomson,
            (slope_size, slope_unit),
        ),
        (
            ISOTHERMAL_COMPRESSIBILITY,
            "isothermal_compressibility_1_Pa",
            derived.isothermal_compressibility,
            (compress_size, compress_unit),
        ),
        (
            THERMAL_EXPANSION,
            "thermal_expansion_1_K",
            derived.thermal_expansion,
            per_kelvin,
        ),
        (
            ISENTROPIC_EXPONENT,
            "isentropic_exponent",
            derived.isentropic_exponent,
            (1.0, ""),
        ),
    ];
    for (label, key, value, (size, unit)) in rows {
        let text = property(value, size, unit, style);
        figures.named(style, label, text, format!("{path}{key}"), value);
    }
}

/// Adds the components' mass shares in a phase, for a blend; `path` as in [`temperature_and_pressure`].
pub(crate) fn shares(
    figures: &mut Figures,
    refrigerant: &Refrigerant,
    phase: &PhaseProperties,
    path: &str,
    style: &Style,
) {
    if refrigerant.is_pure() {
        return;
    }
    let components = refrigerant.components().iter().enumerate();
    for ((place, component), &share) in components.zip(&phase.mass_fractions) {
        figures.add(
            style.say(
                words::properties::SHARE_BY_MASS,
                &[("component", &component.designation)],
            ),
            style.fixed(share * 100.0, 3),
            format!("{path}mass_fractions/{place}"),
            share,
        );
    }
}

/// Every warning once: the standing ones, those of the answer, how the composition was
/// read, and those of the site.
pub fn all_warnings(
    refrigerant: &Refrigerant,
    answer: &[Warning],
    site: &[Warning],
) -> Vec<Warning> {
    let notes = refrigerant.composition().notes().iter().cloned();
    let notes = notes.map(Warning::CompositionRead);
    let standing = refrigerant.warnings().into_iter();
    let all = standing.chain(answer.iter().cloned()).chain(notes);
    let mut known: Vec<Warning> = Vec::new();
    for warning in all.chain(site.iter().cloned()) {
        if !known.contains(&warning) {
            known.push(warning);
        }
    }
    known
}

/// Adds the warnings, a line each.
pub(crate) fn warnings(document: &mut Document, style: &Style) {
    let lines = document.warnings.iter().map(|warning| {
        style.say(
            words::refrigerants::WARNING,
            &[("text", &warning.text), ("code", warning.code)],
        )
    });
    let lines = lines.collect();
    document.lines(lines);
}

/// Adds what stands below an answer about a refrigerant: warnings, notes of the answer, what
/// gauges and enthalpies are relative to, the class, the hazards that apply, the sources.
pub(crate) fn foot(
    document: &mut Document,
    facts: &Facts,
    zero: Option<ReferenceState>,
    notes: Vec<String>,
    style: &Style,
) {
    use words::refrigerants::*;
    warnings(document, style);
    let mut lines = notes;
    lines.push(gauge_reference(&style.site, style));
    lines.extend(
        zero.map(|zero| style.say(REFERENCE_STATE, &[("state", &reference_state(zero, style))])),
    );
    lines.push(style.say(CLASS, &[("class", &class(facts, style))]));
    self::notes(document, lines, style);
    document.hazards();
    self::notes(document, sources_in_short(facts, style), style);
}

/// Adds what explains an answer; left out where the figures alone are wanted.
pub(crate) fn notes(document: &mut Document, lines: Vec<String>, style: &Style) {
    if style.detail != Detail::Brief {
        document.lines(lines);
    }
}

/// What gauge pressures are relative to.
pub(crate) fn gauge_reference(site: &Atmosphere, style: &Style) -> String {
    if let Some(local) = &style.local {
        let texts = [air(site, style), air(local, style)];
        let blanks = [("site", texts[0].as_str()), ("local", &texts[1])];
        return style.say(words::refrigerants::GAUGE_REFERENCE_OWN, &blanks);
    }
    style.say(
        words::refrigerants::GAUGE_REFERENCE,
        &[("site", &air(site, style))],
    )
}

/// The air at a site and where its figure comes from.
pub(crate) fn air(site: &Atmosphere, style: &Style) -> String {
    use words::{AIR_ELEVATION, AIR_SEA_LEVEL, AIR_STATION};
    let pressure = site.pressure();
    let (phrase, metres) = match site.source() {
        AtmosphereSource::SeaLevel => (AIR_SEA_LEVEL, 0.0),
        AtmosphereSource::Elevation(metres) => (AIR_ELEVATION, metres),
        AtmosphereSource::Station => (AIR_STATION, 0.0),
    };
    let blanks = [
        ("kilopascal", style.fixed(pressure.in_kilopascal(), 3)),
        ("psia", style.fixed(pressure.in_psia(), 3)),
        ("metres", style.fixed(metres, 0)),
        ("feet", style.fixed(metres / METRE_PER_FOOT, 0)),
    ];
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

/// The safety class, or the words that none is on record.
pub(crate) fn class(facts: &Facts, style: &Style) -> String {
    use words::refrigerants::{CLASS_NONE, CLASS_UNLISTED};
    match &facts.safety_class {
        Some(class) => class.value.clone(),
        None if facts.listed => style.word(CLASS_NONE),
        None => style.word(CLASS_UNLISTED),
    }
}

/// The components' shares by mass, in one line.
pub(super) fn composition(refrigerant: &Refrigerant, style: &Style) -> String {
    let shares = refrigerant.components().iter().map(|component| {
        let percent = style.sign(short(component.mass_fraction * 100.0, 4));
        let blanks = [
            ("percent", percent.as_str()),
            ("component", &component.designation),
        ];
        style.say(words::charts::CHART_SHARE, &blanks)
    });
    shares.collect::<Vec<_>>().join(", ")
}

/// How many pairs of each kind a blend rests on.
pub(super) fn pairs_counted(facts: &Facts, style: &Style) -> String {
    use words::refrigerants::*;
    let pairs = &facts.model.pairs;
    let count = |kind: PairKind| pairs.iter().filter(|pair| pair.kind == kind).count();
    let refitted = pairs.iter().filter(|pair| pair.refit.is_some());
    let kinds = [
        (count(PairKind::Departure), PAIRS_DEPARTURE),
        (count(PairKind::Reducing), PAIRS_REDUCING),
        (count(PairKind::Estimated), PAIRS_ESTIMATED),
        (refitted.count(), PAIRS_REFITTED),
    ];
    let kinds = kinds.into_iter().filter(|(count, _)| *count > 0);
    let kinds = kinds.map(|(count, phrase)| style.say(phrase, &[("count", &count.to_string())]));
    kinds.collect::<Vec<_>>().join(", ")
}

/// The equations and pairs: in full where that is wanted or no longer, else counted.
pub(crate) fn sources_in_short(facts: &Facts, style: &Style) -> Vec<String> {
    use words::refrigerants::*;
    let (equations, pairs) = (&facts.model.equations, &facts.model.pairs);
    if style.detail == Detail::Sources || pairs.is_empty() {
        return sources(facts, style);
    }
    let names = equations.iter().map(|one| one.refrigerant.as_str());
    let names = names.collect::<Vec<_>>().join(", ");
    let counts = pairs_counted(facts, style);
    let mut lines = vec![style.say(SOURCES_SHORT, &[("names", &names), ("counts", &counts)])];
    let measured = pairs.iter().filter_map(|pair| pair.measured.as_ref());
    let count = measured.clone().count().to_string();
    let worst = measured.max_by(|one, two| one.rms_percent.total_cmp(&two.rms_percent));
    lines.extend(worst.map(|worst| {
        let percent = style.fixed(worst.rms_percent, 1);
        let blanks = [
            ("count", count.as_str()),
            ("percent", &percent),
            ("kelvin", &style.fixed(worst.rms_k, 2)),
        ];
        style.say(SOURCES_MEASURED, &blanks)
    }));
    lines.extend(vapors_in_short(facts, style));
    let published = deviations(&facts.model.deviations, style);
    lines.extend(published.map(|text| style.say(SOURCES_PUBLISHED, &[("text", &text)])));
    lines
}

/// The equations and pairs, a line each.
pub(crate) fn sources(facts: &Facts, style: &Style) -> Vec<String> {
    use words::refrigerants::{EQUATION_OF, PAIR_OF};
    let equations = facts.model.equations.iter().map(|one| {
        let blanks = [
            ("refrigerant", one.refrigerant.as_str()),
            ("source", &one.source),
        ];
        style.say(EQUATION_OF, &blanks)
    });
    let pairs = facts.model.pairs.iter().map(|pair| {
        let known = pair_in_words(pair, style);
        let blanks = [
            ("first", pair.first.as_str()),
            ("second", &pair.second),
            ("known", &known),
        ];
        style.say(PAIR_OF, &blanks)
    });
    equations.chain(pairs).collect()
}

/// How a pair is known, in one line without its names.
pub(crate) fn pair_in_words(pair: &PairFact, style: &Style) -> String {
    use words::refrigerants::{PAIR_DEPARTURE, PAIR_ESTIMATED, PAIR_REDUCING, PAIR_REFIT};
    let none = style.word(PAIR_NO_PARAMETERS);
    let source = pair.source.as_deref().unwrap_or(&none);
    let source = source.trim_end_matches('.');
    let phrase = match pair.kind {
        PairKind::Departure => PAIR_DEPARTURE,
        PairKind::Reducing => PAIR_REDUCING,
        PairKind::Estimated => PAIR_ESTIMATED,
    };
    let source = source.trim_start_matches("Estimated: ");
    let mut text = style.say(phrase, &[("source", source)]);
    if let Some(refit) = &pair.refit {
        let before = style.fixed(refit.rms_before_percent, 1);
        let blanks = [("papers", refit.papers.join(", ")), ("before", before)];
        let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
        text.push_str(&style.say(PAIR_REFIT, &blanks));
    }
    if let Some(measured) = &pair.measured {
        text.push_str("; ");
        text.push_str(&measured_in_words(measured, style));
    }
    if let Some(vapors) = &pair.measured_vapors {
        text.push_str("; ");
        text.push_str(&vapors_in_words(vapors, &pair.first, style));
    }
    text
}

/// A deviation from measured vapors in one line; `first` is whose mole fraction is meant.
fn vapors_in_words(vapors: &MeasuredVapors, first: &str, style: &Style) -> String {
    use words::refrigerants::{VAPORS_ONE_PAPER, VAPORS_PAPERS};
    let phrase = match vapors.papers {
        1 => VAPORS_ONE_PAPER,
        _ => VAPORS_PAPERS,
    };
    let blanks = [
        ("points", vapors.points.to_string()),
        ("papers", vapors.papers.to_string()),
        ("first", first.to_owned()),
        ("rms", style.fixed(vapors.rms_y, 4)),
        ("bias", style.fixed(vapors.bias_y, 4)),
    ];
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

/// The pairs of a blend beside measured vapors, in short; `None` of one component.
pub(crate) fn vapors_in_short(facts: &Facts, style: &Style) -> Option<String> {
    use words::refrigerants::{SOURCES_NO_VAPORS, SOURCES_VAPORS};
    let pairs = &facts.model.pairs;
    if pairs.is_empty() {
        return None;
    }
    let all = pairs.len().to_string();
    let known = pairs
        .iter()
        .filter_map(|pair| pair.measured_vapors.as_ref());
    let count = known.clone().count().to_string();
    let worst = known.map(|one| one.rms_y).reduce(f64::max);
    Some(match worst {
        Some(rms) => {
            let rms = style.fixed(rms, 3);
            let blanks = [("count", count.as_str()), ("all", &all), ("rms", &rms)];
            style.say(SOURCES_VAPORS, &blanks)
        }
        None => style.word(SOURCES_NO_VAPORS),
    })
}

/// A deviation from measured points in one line.
pub(crate) fn measured_in_words(measured: &MeasuredDeviation, style: &Style) -> String {
    use words::refrigerants::{MEASURED_ONE_PAPER, MEASURED_PAPERS};
    let phrase = match measured.papers {
        1 => MEASURED_ONE_PAPER,
        _ => MEASURED_PAPERS,
    };
    let blanks = [
        ("points", measured.points.to_string()),
        ("papers", measured.papers.to_string()),
        ("percent", style.fixed(measured.rms_percent, 1)),
        ("kelvin", style.fixed(measured.rms_k, 2)),
    ];
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

/// The deviations of a blend from its published points in a few words; `None` where there are none.
pub(crate) fn deviations(deviations: &[BlendDeviation], style: &Style) -> Option<String> {
    use words::refrigerants::*;
    let first = deviations.first()?;
    let sizes = deviations.iter().filter_map(BlendDeviation::difference);
    // What was not looked up is not called published.
    let values = style.word(if deviations.iter().all(BlendDeviation::from_memory) {
        VALUES_FROM_MEMORY
    } else if deviations.iter().any(BlendDeviation::from_memory) {
        VALUES_OF_BOTH_KINDS
    } else {
        VALUES_PUBLISHED
    });
    let at = style.sign("101.325 kPa".to_owned());
    let mut text = match sizes.map(f64::abs).reduce(f64::max) {
        // Rounded up, so that "within" is true.
        Some(largest) => {
            let kelvin = style.fixed((largest * 10.0).ceil() / 10.0, 1);
            style.say(
                WITHIN_OF_VALUES,
                &[("pressure", &at), ("kelvin", &kelvin), ("values", &values)],
            )
        }
        None => style.say(OUTSIDE_AT_VALUES, &[("pressure", &at), ("values", &values)]),
    };
    if first.fitted_to_these_values {
        text.push_str(&style.word(FITTED_TO_THEM));
    }
    Some(text)
}

/// A reference state in words.
pub(crate) fn reference_state(zero: ReferenceState, style: &Style) -> String {
    use words::refrigerants::*;
    style.word(match zero {
        ReferenceState::Usual => STATE_USUAL,
        ReferenceState::Published => STATE_PUBLISHED,
        ReferenceState::Iir => STATE_IIR,
        ReferenceState::Ashrae => STATE_ASHRAE,
        ReferenceState::BoilingPoint => STATE_BOILING_POINT,
        ReferenceState::IdealGas => STATE_IDEAL_GAS,
    })
}
