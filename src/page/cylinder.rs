//! A cylinder: masses by rule, and what warmth does to one.

use super::warning::told;
use super::words::charts::GAP_NO_ANSWER;
use super::words::pictures::AXIS_TEMPERATURE;
use super::words::vessels_cylinder::*;
use super::{Block, Document, Figures, Sheet, Style, cautions, parts};
use crate::Warning;
use crate::chart::plot::{Axis, Ink, Mark, Plot, PlotCurve, Stroke};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::hazard::hazards::Work;
use crate::service::vessel::cylinder::{
    Cylinder, Filled, Filling, Refusal, Rule, RuleKind, WATER_KG_M3, Warmed,
};
use crate::units::{KG_PER_POUND, Temperature, significant};

/// The page of a cylinder.
pub fn cylinder(
    answer: &Cylinder,
    (refrigerant, facts): (&Refrigerant, &Facts),
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], Some(Work::Cylinder), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let mut notes = Vec::new();
    for one in &answer.rules {
        let Err(refusal) = &one.filling else { continue };
        let (rule, reason) = (rule(one.kind, style), reason(refusal, style));
        let blanks = [("rule", rule.as_str()), ("reason", &reason)];
        notes.push(style.say(CYLINDER_REFUSED, &blanks));
    }
    notes.extend(
        [CYLINDER_NO_VERDICT, CYLINDER_SOURCES, CYLINDER_ASSUMED].map(|one| style.word(one)),
    );
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(CYLINDER_TITLE, &[("refrigerant", name)]));
    let rules = answer.rules.iter().enumerate();
    document.rows(
        1,
        rules
            .map(|(place, one)| of_rule(one, place, style))
            .collect(),
    );
    document.pairs(figures(answer, style));
    let rows = warming(answer, style);
    document.sheet = Sheet::of_rows(rows.iter().map(Figures::as_slice));
    document.rows(0, rows);
    let picture = picture(answer, notes.clone(), style);
    document.blocks.push(Block::Picture(picture));
    parts::foot(&mut document, facts, None, notes, style);
    document
}

/// Why no rule gives a mass, in a line.
pub fn no_filling(refrigerant: &Refrigerant, rules: &[Rule], style: &Style) -> String {
    let reasons = rules.iter().filter_map(|one| {
        let reason = reason(one.filling.as_ref().err()?, style);
        let blanks = [("rule", rule(one.kind, style)), ("reason", reason)];
        let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
        Some(style.say(CYLINDER_REASON, &blanks))
    });
    let reasons = reasons.collect::<Vec<_>>().join("; ");
    let name = refrigerant.designation();
    style.say(
        CYLINDER_NO_FIGURE,
        &[("refrigerant", name), ("reasons", &reasons)],
    )
}

fn rule(kind: RuleKind, style: &Style) -> String {
    match kind {
        RuleKind::Guideline => style.word(CYLINDER_GUIDELINE),
        RuleKind::LiquidFullAt55C => style.word(CYLINDER_FULL_AT_55C),
        RuleKind::FillingRatio(ratio) => {
            style.say(CYLINDER_RATIO, &[("ratio", &style.sign(ratio.to_string()))])
        }
    }
}

fn reason(refusal: &Refusal, style: &Style) -> String {
    match refusal {
        Refusal::NoClass => style.word(CYLINDER_NO_CLASS),
        Refusal::NotHalocarbon => style.word(CYLINDER_NOT_HALOCARBON),
        Refusal::Class(class) => style.say(CYLINDER_CLASS, &[("class", class)]),
        Refusal::CriticalTooLow(critical) => {
            let critical = style.fixed(critical.in_celsius(), 1);
            style.say(CYLINDER_CRITICAL, &[("critical", &critical)])
        }
        Refusal::NoCriticalPoint => style.word(CYLINDER_NO_CRITICAL),
        Refusal::Failed(error) => super::reason::reason(error, style),
    }
}

fn mass(kg: f64, style: &Style) -> String {
    style.sign(match style.units.feet {
        true => format!("{} lb", significant(kg / KG_PER_POUND, 4)),
        false => format!("{} kg", significant(kg, 4)),
    })
}

/// The water capacity; in pounds as the mass of water too.
fn capacity(volume: f64, style: &Style) -> String {
    let litres = style.sign(format!("{} L", significant(volume * 1e3, 4)));
    if !style.units.feet {
        return litres;
    }
    let water = mass(volume * WATER_KG_M3, style);
    let blanks = [("mass", water.as_str()), ("volume", &litres)];
    style.say(CYLINDER_OF_WATER, &blanks)
}

fn full(full: Option<Temperature>, style: &Style) -> String {
    full.map_or_else(
        || style.word(CYLINDER_NEVER_FULL),
        |at| style.temperature(at),
    )
}

fn warmed(warmed: Option<Filled>, style: &Style) -> String {
    let Some(warmed) = warmed else {
        return style.word(CYLINDER_BEYOND);
    };
    let pressure = style.pressure(warmed.pressure, style.units.gauge);
    match warmed.liquid_share {
        Some(1.0) => style.say(CYLINDER_AND_FULL, &[("pressure", &pressure)]),
        _ => pressure,
    }
}

/// A row of the masses by rule.
fn of_rule(one: &Rule, place: usize, style: &Style) -> Figures {
    let filling = one.filling.as_ref().ok();
    let at_full = filling.map(|filling| &filling.full);
    let hot = filling.and_then(|filling| filling.warmed);
    let field = |key: &str| format!("figures/{place}/{key}");
    let mut row = Figures::default();
    row.named(
        style,
        CYLINDER_FIGURE,
        rule(one.kind, style),
        field("figure"),
        one.kind.key(),
    );
    row.named(
        style,
        CYLINDER_MASS,
        filling.map_or_else(
            || style.word(CYLINDER_WITHOUT),
            |filling| mass(filling.mass, style),
        ),
        field("mass_kg"),
        filling.map(|filling| filling.mass),
    );
    row.named(
        style,
        CYLINDER_FULL,
        match at_full {
            None => "-".to_owned(),
            Some(Ok(at)) => full(*at, style),
            Some(Err(_)) => style.word(CYLINDER_DOES_NOT_FIT),
        },
        field("liquid_full_K"),
        filling.and_then(Filling::full_at),
    );
    row.named(
        style,
        CYLINDER_WARMED,
        filling.map_or_else(|| "-".to_owned(), |_| warmed(hot, style)),
        field("pressure_at_55C_Pa"),
        hot.map(|hot| hot.pressure),
    );
    row
}

fn figures(answer: &Cylinder, style: &Style) -> Figures {
    let least = answer
        .rules
        .iter()
        .find(|one| Some(one.kind) == answer.smallest);
    let least = least.and_then(|one| Some((one.kind, one.filling.as_ref().ok()?.mass)));
    let contents = &answer.contents;
    let mut list = Figures::default();
    list.named(
        style,
        CYLINDER_CAPACITY,
        capacity(answer.volume, style),
        "volume_m3",
        answer.volume,
    );
    list.named(
        style,
        CYLINDER_SMALLEST,
        match least {
            None => style.word(CYLINDER_NONE),
            Some((kind, kg)) => {
                let blanks = [("mass", &*mass(kg, style)), ("rule", &rule(kind, style))];
                style.say(CYLINDER_SMALLEST_OF, &blanks)
            }
        },
        "smallest",
        least.map(|(kind, _)| kind.key()),
    );
    list.named(
        style,
        match answer.is_given {
            true => CYLINDER_CONTENTS_GIVEN,
            false => CYLINDER_CONTENTS_ASSUMED,
        },
        mass(contents.mass, style),
        "contents_kg",
        contents.mass,
    );
    list.named(
        style,
        CYLINDER_FULL,
        full(answer.full, style),
        "liquid_full_K",
        answer.full,
    );
    list.named(
        style,
        CYLINDER_WARMED,
        warmed(contents.warmed, style),
        "pressure_at_55C_Pa",
        contents.warmed.map(|one| one.pressure),
    );
    list
}

/// What warmth does to the mass, a row a temperature.
fn warming(answer: &Cylinder, style: &Style) -> Vec<Figures> {
    let percent = |share: Option<f64>| {
        share.map_or_else(|| "-".to_owned(), |share| style.fixed(share * 100.0, 1))
    };
    let row = |(place, one): (usize, &Warmed)| {
        let field = |key: &str| format!("warming/{place}/{key}");
        let mut row = Figures::default();
        row.temperature(
            style,
            CYLINDER_TEMPERATURE,
            field("temperature_K"),
            one.temperature,
        );
        row.named(
            style,
            CYLINDER_PRESSURE,
            one.pressure.map_or_else(
                || style.word(GAP_NO_ANSWER),
                |pressure| style.pressure(pressure, style.units.gauge),
            ),
            field("pressure_Pa"),
            one.pressure,
        );
        for (label, key, share) in [
            (CYLINDER_LIQUID, "liquid_share", one.liquid_share),
            (CYLINDER_SPACE, "space_share", one.space_share),
        ] {
            row.named(style, label, percent(share), field(key), share);
        }
        row
    };
    answer.warming.iter().enumerate().map(row).collect()
}

/// Free space against temperature.
fn picture(answer: &Cylinder, notes: Vec<String>, style: &Style) -> Plot {
    let unit = style.units.temperature;
    let name = &answer.identity.refrigerant;
    let points: Vec<(f64, f64)> = answer
        .curve
        .iter()
        .filter_map(|one| Some((unit.read(one.temperature), one.space_share? * 100.0)))
        .collect();
    let marks = answer.full.map(|full| Mark {
        label: style.say(
            CYLINDER_FULL_MARK,
            &[("temperature", &style.temperature(full))],
        ),
        at: (unit.read(full), 0.0),
    });
    let across = points.iter().map(|point| point.0);
    let up = points.iter().map(|point| point.1).chain([0.0]);
    let blanks = [
        ("mass", &*mass(answer.contents.mass, style)),
        ("refrigerant", name),
        ("capacity", &capacity(answer.volume, style)),
    ];
    Plot {
        title: style.say(CYLINDER_PICTURE, &blanks),
        x: Axis::spanning(
            style.say(AXIS_TEMPERATURE, &[("unit", unit.symbol())]),
            across.chain([unit.read(answer.curve_end)]),
        ),
        y: Axis::spanning(style.word(CYLINDER_AXIS), up),
        curves: vec![PlotCurve {
            label: name.clone(),
            points,
            stroke: Stroke::Solid,
            ink: Ink::Black,
        }],
        marks: marks.into_iter().collect(),
        notes,
    }
}
