//! What a picture says around its field: title, axes, and the notes of what is drawn.

use super::super::parts;
use super::super::words::pictures::*;
use super::super::words::refrigerants::REFERENCE_STATE;
use super::names::Names;
use crate::catalogue::Basis;
use crate::chart::picture::{
    Approach, AxisQuantity, FluidKind, Isoline, Lever, Name, OpenEnd, Part, PictureSubject, Plane,
    SecondFluid, Trace,
};
use crate::process::azeotrope::AzeotropeAt;
use crate::process::coil::CoilKind;
use crate::units::{Pressure, Temperature};

/// The words around a field.
pub(super) struct Said {
    pub(super) title: String,
    pub(super) across: String,
    pub(super) up: String,
    pub(super) notes: Vec<String>,
}

pub(super) fn said(names: &Names<'_>) -> Said {
    let (answer, style) = (names.answer, names.style);
    let (title, notes) = match &answer.subject {
        PictureSubject::Curves { has_blend } => {
            let strokes = has_blend.then(|| style.word(PICTURE_CURVES_STROKES));
            let absolute = style.word(PICTURE_ABSOLUTE_LOGARITHMIC);
            let notes = strokes.into_iter().chain([absolute]);
            (style.word(PICTURE_CURVES), notes.collect())
        }
        PictureSubject::Lens { .. } => lens(names),
        PictureSubject::Triangle {
            first,
            second,
            third,
            pressure,
        } => {
            let at = names.pressure(*pressure);
            let blanks = [
                ("first", first.as_str()),
                ("second", second),
                ("third", third),
                ("pressure", &at),
            ];
            let tie = names.has(Part::Tie).then_some(PICTURE_TIE_LINE);
            let notes = [PICTURE_TRIANGLE_LINES].into_iter().chain(tie);
            let notes = notes.chain([PICTURE_LENS_CLASS]);
            let notes = notes.map(|note| style.say(note, &blanks)).collect();
            (style.say(PICTURE_TRIANGLE, &blanks), notes)
        }
        PictureSubject::Coil { .. } => coil(names),
        PictureSubject::Dome { .. } => dome(names),
    };
    Said {
        title,
        across: axis(names, &answer.across),
        up: axis(names, &answer.up),
        notes,
    }
}

/// The label of an axis.
fn axis(names: &Names<'_>, quantity: &AxisQuantity) -> String {
    let style = names.style;
    let unit = |phrase, unit: &str| style.say(phrase, &[("unit", unit)]);
    match quantity {
        AxisQuantity::Temperature(own) => unit(AXIS_TEMPERATURE, own.symbol()),
        AxisQuantity::Pressure(own) => unit(AXIS_PRESSURE, own.typed()),
        AxisQuantity::Enthalpy(own) => unit(AXIS_ENTHALPY, own.typed()),
        AxisQuantity::Entropy(own) => unit(AXIS_ENTROPY, own.typed()),
        AxisQuantity::MassFraction(name) => style.say(AXIS_BY_MASS, &[("first", name)]),
        AxisQuantity::MoleFraction(name) => style.say(AXIS_BY_MOLE, &[("first", name)]),
        AxisQuantity::HeatShare => style.word(match &names.answer.subject {
            PictureSubject::Coil {
                kind: CoilKind::Condenser,
                ..
            } => AXIS_HEAT_FROM_DEW,
            PictureSubject::Coil {
                liquid: Some(_), ..
            } => AXIS_HEAT_FROM_INLET,
            _ => AXIS_HEAT_FROM_BUBBLE,
        }),
    }
}

impl Names<'_> {
    /// Whether a line of this kind is drawn.
    fn has(&self, part: Part) -> bool {
        self.answer.curves.iter().any(|curve| curve.part == part)
    }
}

type Words = (String, Vec<String>);

fn lens(names: &Names<'_>) -> Words {
    let (answer, style) = (names.answer, names.style);
    let PictureSubject::Lens {
        first,
        second,
        basis,
        levers,
        open,
    } = &answer.subject
    else {
        return Words::default();
    };
    let is_temperature = matches!(answer.up, AxisQuantity::Temperature(_));
    let blanks = [("first", first.as_str()), ("second", second)];
    let title = match is_temperature {
        true => PICTURE_LENS,
        false => PICTURE_LENS_PRESSURE,
    };
    let glide = match is_temperature {
        true => PICTURE_GLIDE,
        false => PICTURE_GLIDE_PRESSURE,
    };
    let has_azeotrope = |(name, _): &(Name, _)| matches!(name, Name::Azeotrope(..));
    let ideal = || {
        answer
            .curves
            .iter()
            .filter(|one| one.part == Part::IdealBubble)
    };
    let is_whole = |one: &Trace| {
        let end = |at: Option<&(f64, f64)>| at.is_some_and(|at| at.0 == 0.0 || at.0 == 100.0);
        end(one.points.first()) && end(one.points.last())
    };
    let legend = [
        (true, PICTURE_BUBBLE_AND_DEW),
        (ideal().any(is_whole), PICTURE_IDEAL),
        (
            ideal().next().is_some() && !ideal().any(is_whole),
            PICTURE_IDEAL_AS_FAR,
        ),
        (names.has(Part::Glide), glide),
        (
            answer.marks.iter().any(has_azeotrope),
            PICTURE_AZEOTROPE_NOTE,
        ),
    ];
    let drawn = legend.into_iter().filter(|(is_drawn, _)| *is_drawn);
    let mut notes = vec![
        drawn
            .map(|(_, note)| style.word(note))
            .collect::<Vec<_>>()
            .join(" "),
    ];
    notes.extend(levers.iter().map(|one| lever(names, first, (*basis, one))));
    notes.extend(open.iter().map(|one| open_end(names, first, one)));
    if !is_temperature {
        notes.push(style.word(PICTURE_ABSOLUTE));
    }
    notes.push(style.word(PICTURE_LENS_CLASS));
    (style.say(title, &blanks), notes)
}

/// The lever rule in figures that lead to the share that is printed.
fn lever(names: &Names<'_>, first: &str, (basis, lever): (Basis, &Lever)) -> String {
    let style = names.style;
    let figures = [lever.liquid, lever.blend, lever.vapor];
    let share = |decimals: usize| {
        let round = |value: f64| super::super::working::rounded(value, decimals);
        let [liquid, blend, vapor] = figures.map(round);
        (blend - liquid) / (vapor - liquid)
    };
    let decimals = super::super::working::decimals(lever.share, 3, 1, share);
    let [liquid, blend, vapor] = figures.map(|value| names.fixed(value, decimals));
    let blanks = [
        ("halfway", names.upward(lever.halfway)),
        ("first", first.to_owned()),
        ("liquid", liquid),
        ("blend", blend),
        ("vapor", vapor),
        ("share", names.fixed(lever.share, 3)),
        (
            "basis",
            style.word(match basis {
                Basis::Mass => PICTURE_BY_MASS,
                Basis::Mole => PICTURE_BY_MOLE,
            }),
        ),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    style.say(PICTURE_LEVER, &blanks)
}

fn open_end(names: &Names<'_>, first: &str, open: &OpenEnd) -> String {
    let style = names.style;
    let (at, own, other) = match open.at {
        AzeotropeAt::Pressure(at) => (
            names.pressure(at),
            PICTURE_QUANTITY_PRESSURE,
            PICTURE_QUANTITY_TEMPERATURE,
        ),
        AzeotropeAt::Temperature(at) => (
            names.temperature(at),
            PICTURE_QUANTITY_TEMPERATURE,
            PICTURE_QUANTITY_PRESSURE,
        ),
    };
    let Some(critical) = open.critical else {
        let blanks = [("refrigerant", open.refrigerant.as_str()), ("at", &at)];
        return style.say(PICTURE_OPEN_OTHER, &blanks);
    };
    let critical = match open.at {
        AzeotropeAt::Pressure(_) => names.pressure(Pressure::pascal(critical)),
        AzeotropeAt::Temperature(_) => names.temperature(Temperature::kelvin(critical)),
    };
    let (own, other) = (style.word(own), style.word(other));
    let blanks = [
        ("refrigerant", open.refrigerant.as_str()),
        ("at", &at),
        ("quantity", &own),
        ("critical", &critical),
    ];
    let mut told = style.say(PICTURE_OPEN_CRITICAL, &blanks);
    if let Some(tip) = open.tip {
        let tip = names.fixed(tip, 1);
        let blanks = [
            ("tip", tip.as_str()),
            ("first", first),
            ("quantity", &other),
        ];
        told.push(' ');
        told.push_str(&style.say(PICTURE_OPEN_TIP, &blanks));
    }
    told
}

fn coil(names: &Names<'_>) -> Words {
    let style = names.style;
    let PictureSubject::Coil {
        pressure,
        kind,
        liquid,
        fluid,
        approaches,
    } = &names.answer.subject
    else {
        return Words::default();
    };
    let (alone, at) = match kind {
        CoilKind::Evaporator => (PICTURE_COIL, PICTURE_COIL_AT),
        CoilKind::Condenser => (PICTURE_CONDENSER, PICTURE_CONDENSER_AT),
    };
    let title = match pressure {
        Some(pressure) => style.say(at, &[("pressure", &names.pressure(*pressure))]),
        None => style.word(alone),
    };
    let mut notes = vec![style.word(PICTURE_COIL_NOTE)];
    match (kind, liquid) {
        (CoilKind::Condenser, _) => {}
        (CoilKind::Evaporator, None) => notes.push(style.word(PICTURE_COIL_FROM_BUBBLE)),
        (CoilKind::Evaporator, Some(liquid)) => {
            let temperature = names.temperature(liquid.temperature);
            let blanks = [("temperature", temperature.as_str())];
            notes.push(style.say(PICTURE_COIL_FROM_INLET, &blanks));
        }
    }
    let mut notes = vec![notes.join(" ")];
    if let Some(fluid) = fluid {
        notes.extend(second(names, fluid, approaches));
    }
    (title, notes)
}

/// The fluid on the other side, and how near it comes.
fn second(names: &Names<'_>, fluid: &SecondFluid, approaches: &[Approach]) -> Vec<String> {
    let style = names.style;
    let kind: FluidKind = fluid.kind;
    let name = names.fluid(kind);
    let (entering, leaving) = (
        names.temperature(fluid.entering),
        names.temperature(fluid.leaving),
    );
    let blanks = [
        ("fluid", name.as_str()),
        ("entering", &entering),
        ("leaving", &leaving),
    ];
    let mut notes = vec![style.say(PICTURE_COIL_FLUID, &blanks)];
    notes.extend(approaches.iter().map(|one| {
        let phrase = match one.least.in_kelvin() > 0.0 {
            true => PICTURE_COIL_APPROACH,
            false => PICTURE_COIL_CROSSED,
        };
        let (least, share) = (
            names.difference(one.least),
            names.fixed(100.0 * one.share, 0),
        );
        let blanks = [
            ("refrigerant", one.refrigerant.as_str()),
            ("fluid", &name),
            ("least", &least),
            ("share", &share),
        ];
        style.say(phrase, &blanks)
    }));
    notes
}

fn dome(names: &Names<'_>) -> Words {
    let (answer, style) = (names.answer, names.style);
    let PictureSubject::Dome {
        refrigerants,
        plane,
        zeros,
    } = &answer.subject
    else {
        return Words::default();
    };
    let all = refrigerants.join(", ");
    let title = match plane {
        Plane::PressureEnthalpy => PICTURE_DOME,
        Plane::TemperatureEntropy => PICTURE_DOME_TS,
    };
    let mut notes = vec![
        style.word(PICTURE_BUBBLE_AND_DEW),
        style.word(PICTURE_DOME_CRITICAL),
    ];
    let units = answer.units();
    let kinds = [
        (Isoline::Temperature, PICTURE_ISOTHERMS, ""),
        (Isoline::Pressure, PICTURE_ISOBARS, ""),
        (
            Isoline::Enthalpy,
            PICTURE_ISENTHALPS,
            units.enthalpy.typed(),
        ),
        (Isoline::Entropy, PICTURE_ISENTROPES, units.entropy.typed()),
        (Isoline::Quality, PICTURE_QUALITIES, ""),
        (Isoline::Density, PICTURE_ISOCHORES, units.density.typed()),
    ];
    let drawn = kinds
        .into_iter()
        .filter(|(kind, ..)| names.has(Part::Isoline(*kind)));
    let drawn: Vec<String> = drawn
        .map(|(_, phrase, unit)| style.say(phrase, &[("unit", unit)]))
        .collect();
    if !drawn.is_empty() {
        notes.push(style.say(PICTURE_THIN_LINES, &[("lines", &drawn.join(", "))]));
    }
    let mut notes = vec![notes.join(" ")];
    if *plane == Plane::PressureEnthalpy {
        notes.push(style.word(PICTURE_ABSOLUTE_LOGARITHMIC));
    }
    let zeros = zeros
        .iter()
        .map(|zero| parts::reference_state(*zero, style));
    let zeros = zeros.collect::<Vec<_>>().join("; ");
    notes.push(style.say(REFERENCE_STATE, &[("state", &zeros)]));
    (style.say(title, &[("refrigerants", &all)]), notes)
}
