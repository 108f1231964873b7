//! Bubble and dew at a temperature or a pressure.

use super::style::Detail;
use super::warning::told;
use super::words::hazards::HAZARD_NO_SUBSTITUTE;
use super::words::properties::*;
use super::{Document, Figures, Style, cautions, parts, raoult, tolerance, working};
use crate::Warning;
use crate::refrigerant::{Refrigerant, Saturation, SaturationPoint};
use crate::service::facts::Facts;
use crate::service::saturation::{SaturationAnswer, SaturationAt};
use crate::service::sheet::{Value, saturation_keys, saturation_values};

/// What a page of bubble and dew is made with, next to its answer.
#[derive(Debug, Clone, Copy)]
pub struct SaturationParts<'a> {
    /// The refrigerant and what is known of it.
    pub subject: (&'a Refrigerant, &'a Facts),
    /// What to know about the site.
    pub site: &'a [Warning],
    /// Whether the working is shown.
    pub explain: bool,
    /// Whether other refrigerants are shown next to it.
    pub is_one_of_several: bool,
}

/// The page of bubble and dew.
pub fn saturation(answer: &SaturationAnswer, with: SaturationParts<'_>, style: &Style) -> Document {
    let (refrigerant, facts) = with.subject;
    let found = &answer.saturation;
    let all = parts::all_warnings(refrigerant, &found.warnings, with.site);
    let mut all = told(&all, style);
    let bands = answer.tolerance.as_ref();
    all.extend(bands.map_or_else(Vec::new, |bands| {
        tolerance::warnings(bands, refrigerant, style)
    }));
    let ideal = answer.ideal.as_ref();
    all.extend(ideal.map_or_else(Vec::new, |ideal| raoult::warnings(ideal, style)));
    let mut hazards = cautions(&[refrigerant], None, style);
    if with.is_one_of_several {
        let before_last = hazards.len().saturating_sub(1);
        hazards.insert(before_last, style.word(HAZARD_NO_SUBSTITUTE));
    }
    let mut document = Document::new(answer, all, hazards);
    let asked = match answer.at {
        SaturationAt::Temperature(typed) => {
            parts::asked(typed.unit.read(typed.value), typed.unit.symbol(), style)
        }
        SaturationAt::Pressure(typed) => {
            let figure = typed.unit.read(typed.value, &style.site);
            parts::asked(figure, typed.unit.words(), style)
        }
    };
    let name = refrigerant.designation();
    let blanks = [("refrigerant", name), ("asked", &asked)];
    document.title(style.say(SATURATION_TITLE, &blanks));
    points(&mut document, refrigerant, found, style);
    if style.detail != Detail::Brief {
        phases(&mut document, refrigerant, found, style);
    }
    if let Some(bands) = bands {
        tolerance::table(&mut document, bands, refrigerant, style);
    }
    if let Some(ideal) = ideal {
        raoult::table(&mut document, ideal, refrigerant, style);
    }
    if with.explain {
        let mut lines = Vec::new();
        if let SaturationAt::Pressure(typed) = answer.at {
            lines.extend(working::absolute(typed, style));
        }
        lines.extend(working::saturation(refrigerant, found, style));
        lines.extend(ideal.map_or_else(Vec::new, |one| raoult::working(one, refrigerant, style)));
        document.title(style.word(WORKING));
        document.working("", lines);
    }
    parts::foot(&mut document, facts, Some(found.zero), Vec::new(), style);
    document.sheet.heads = vec!["refrigerant".to_owned()];
    document.sheet.heads.extend(saturation_keys());
    let mut row = vec![name.to_owned()];
    let mut values = Vec::new();
    saturation_values(found, &mut values);
    row.extend(values.iter().map(Value::text));
    if let Some(bands) = bands {
        document.sheet.heads.extend(tolerance::heads());
        row.extend(tolerance::cells(bands));
    }
    document.sheet.rows = vec![row];
    document
}

/// The points that there are: name, field, point.
type Named<'a> = (String, &'static str, &'a SaturationPoint);

fn named<'a>(refrigerant: &Refrigerant, found: &'a Saturation, style: &Style) -> Vec<Named<'a>> {
    let mut all: Vec<Named<'a>> = [
        (BUBBLE, "bubble", &found.bubble),
        (DEW, "dew", &found.dew),
        (RETROGRADE_DEW, "retrograde", &found.retrograde),
    ]
    .into_iter()
    .filter_map(|(name, key, point)| Some((style.word(name), key, point.as_ref()?)))
    .collect();
    if refrigerant.is_pure() {
        all.truncate(1);
    }
    all
}

/// Where the points lie.
fn points(document: &mut Document, refrigerant: &Refrigerant, found: &Saturation, style: &Style) {
    let columns = named(refrigerant, found, style);
    let mut columns: Vec<(String, Figures)> = columns
        .into_iter()
        .map(|(name, key, point)| {
            let mut figures = Figures::default();
            let at = (point.temperature, point.pressure);
            parts::temperature_and_pressure(&mut figures, at, &format!("{key}/"), style);
            figures.named(
                style,
                LATENT_HEAT,
                parts::heat(point.latent_heat, style),
                format!("{key}/latent_heat_J_kg"),
                point.latent_heat,
            );
            if let Some(slope) = point.slope {
                let text = parts::line_slope(slope, style);
                let field = format!("{key}/dp_dT_line_Pa_K");
                figures.named(style, LINE_SLOPE, text, field, slope);
            }
            for (place, component) in refrigerant.components().iter().enumerate() {
                let (k, field) = (point.k_values[place], format!("{key}/k_values/{place}"));
                let blanks = [("component", component.designation.as_str())];
                if !refrigerant.is_pure() {
                    figures.add(style.say(K_VALUE_OF, &blanks), style.fixed(k, 4), field, k);
                }
            }
            (name, figures)
        })
        .collect();
    if refrigerant.is_pure() {
        if let Some((_, figures)) = columns.pop() {
            document.pairs(figures);
        }
        return;
    }
    document.columns(Vec::new(), columns);
    let missing = [(NO_BUBBLE, &found.bubble), (NO_DEW, &found.dew)];
    let missing = missing.into_iter().filter(|(_, point)| point.is_none());
    document.lines(missing.map(|(phrase, _)| style.word(phrase)).collect());
    if let Some(kelvin) = found.glide {
        let text = style.degrees(kelvin, 2);
        let line = style.say(GLIDE_HERE, &[("glide", &text)]);
        let mut figures = Figures::default();
        figures.add("", text, "glide_K", kelvin);
        let mut lines = vec![line];
        if let Some(heat) = found.heat_bubble_to_dew {
            let text = parts::heat(heat, style);
            lines.push(style.say(HEAT_BUBBLE_TO_DEW, &[("heat", &text)]));
            figures.add("", text, "heat_bubble_to_dew_J_kg", heat);
        }
        document.figures.extend(figures.0);
        document.lines(lines);
    }
}

/// The properties of each point's phases.
fn phases(document: &mut Document, refrigerant: &Refrigerant, found: &Saturation, style: &Style) {
    let mut groups = vec![(String::new(), 1)];
    let mut columns = Vec::new();
    for (name, key, point) in named(refrigerant, found, style) {
        let mut sides = vec![
            (LIQUID, "liquid", &point.liquid),
            (VAPOR, "vapor", &point.vapor),
        ];
        if let Some([first, second]) = point.liquids.as_deref() {
            sides.extend([
                (FIRST_LIQUID, "liquids/0", first),
                (SECOND_LIQUID, "liquids/1", second),
            ]);
        }
        groups.push((name, sides.len()));
        for (head, side, phase) in sides {
            let path = format!("{key}/{side}/");
            let mut figures = Figures::default();
            parts::properties(&mut figures, phase, &path, refrigerant.molar_mass(), style);
            parts::shares(&mut figures, refrigerant, phase, &path, style);
            columns.push((style.word(head), figures));
        }
    }
    if refrigerant.is_pure() {
        groups.clear();
    }
    document.columns(groups, columns);
}
