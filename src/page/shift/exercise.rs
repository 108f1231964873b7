//! A loss as an exercise: what is given, blanks, and the key on a page of its own.

use super::{joined, names, percent, title};
use crate::page::words::Phrase;
use crate::page::words::shift::*;
use crate::page::working::rounded;
use crate::page::{Block, Document, Form, Style, Table};
use crate::process::shift::{Leaving, Row, Shift};
use crate::service::hazard::hazards::Work;

/// Room for a figure by hand.
const BLANK: &str = "________";
/// Steps by hand are asked for as far as they lead to what is calculated without steps, % by mass.
const BY_HAND: f64 = 0.5;
/// Below this no error of a reading is printed, K.
const NO_ERROR: f64 = 0.05;

/// The exercise of a loss in steps, its full page behind it as the key; `whole` is that page.
pub fn exercise(
    answer: &Shift,
    whole: Document,
    work: Work,
    form: Option<Form>,
    style: &Style,
) -> Document {
    let mut document = Document {
        blocks: Vec::new(),
        ..whole.clone()
    };
    document.blocks.push(Block::Paper(form.unwrap_or_default()));
    document.title(style.say(SHIFT_EXERCISE, &[("title", &title(answer, work, style))]));
    let hand = by_hand(answer);
    let whole_mass = if style.units.feet { "100 lb" } else { "100 kg" };
    let of_whole = |phrase: Phrase| style.say(phrase, &[("whole", whole_mass)]);
    let components = names(answer).join("/");
    let blanks = [
        ("components", components.as_str()),
        (
            "listed",
            &joined(&answer.rows[0].remaining_mass_fractions, style),
        ),
    ];
    document.lines(vec![
        style.say(SHIFT_EXERCISE_GIVEN, &blanks),
        of_whole(SHIFT_EXERCISE_BALANCE),
    ]);
    let row = |row: &Row| {
        vec![
            percent(row.lost_mass_fraction, style),
            joined(&row.leaving_mass_fractions, style),
            vec![BLANK; row.remaining_mass_fractions.len()].join("/"),
            BLANK.to_owned(),
        ]
    };
    document.blocks.push(Block::Table(Table {
        groups: Vec::new(),
        heads: [
            SHIFT_LOST,
            SHIFT_LEAVING,
            SHIFT_REMAINING,
            SHIFT_EXERCISE_BUBBLE,
        ]
        .map(|head| style.word(head))
        .to_vec(),
        rows: answer.rows.iter().take(hand.len()).map(row).collect(),
        words: 1,
        strokes: Vec::new(),
    }));
    let mut questions = vec![
        style.word(SHIFT_EXERCISE_SUPERHEAT),
        of_whole(SHIFT_EXERCISE_TOP_UP),
    ];
    if !answer.flammable_components.is_empty() {
        let components = answer.flammable_components.join(", ");
        questions.push(style.say(SHIFT_EXERCISE_FLAMMABLE, &[("components", &components)]));
    }
    document.lines(questions);
    document.hazards();
    // On paper the key has a page of its own, so that it can be kept back.
    document.blocks.push(Block::Paper(form.unwrap_or_default()));
    document.title(style.word(SHIFT_EXERCISE_KEY));
    key(&mut document, answer, &hand, style);
    document.blocks.extend(whole.blocks);
    document
}

/// What is left by the steps of the exercise, % by mass, from its figures as they are printed; as far as
/// that comes near what is calculated without steps.
fn by_hand(answer: &Shift) -> Vec<Vec<f64>> {
    let printed = |shares: &[f64]| -> Vec<f64> {
        let percent = shares.iter().map(|share| rounded(100.0 * share, 2));
        percent.collect()
    };
    let mut found = Vec::new();
    let mut masses = Vec::new();
    for (at, row) in answer.rows.iter().enumerate() {
        let exact = printed(&row.remaining_mass_fractions);
        let Some(before) = at.checked_sub(1).map(|before| &answer.rows[before]) else {
            masses.clone_from(&exact);
            found.push(exact);
            continue;
        };
        let step = 100.0 * (row.lost_mass_fraction - before.lost_mass_fraction);
        let ends = [before, row].map(|row| printed(&row.leaving_mass_fractions));
        for (mass, (first, last)) in masses.iter_mut().zip(ends[0].iter().zip(&ends[1])) {
            *mass -= step / 100.0 * (first + last) / 2.0;
        }
        let whole: f64 = masses.iter().sum();
        let left: Vec<f64> = masses.iter().map(|mass| 100.0 * mass / whole).collect();
        let mut each = left.iter().zip(&exact);
        if !each.all(|(hand, exact)| *hand >= 0.0 && (hand - exact).abs() <= BY_HAND) {
            break;
        }
        found.push(left);
    }
    found
}

/// Answers to each question, ahead of the whole calculation.
fn key(document: &mut Document, answer: &Shift, hand: &[Vec<f64>], style: &Style) {
    let (Some(listed), Some(first)) = (hand.first(), answer.rows.first()) else {
        return;
    };
    let last = &answer.rows[hand.len() - 1];
    document.lines(vec![style.word(SHIFT_KEY_BY_HAND)]);
    let row = |(row, left): (&Row, &Vec<f64>)| {
        let lost = row.lost_mass_fraction;
        let each = left.iter().zip(listed);
        let topped: Vec<f64> = each
            .map(|(left, listed)| (1.0 - lost) * left + lost * listed)
            .collect();
        let text = |percents: &[f64]| {
            let shares: Vec<f64> = percents.iter().map(|percent| percent / 100.0).collect();
            joined(&shares, style)
        };
        vec![percent(lost, style), text(left), text(&topped)]
    };
    document.blocks.push(Block::Table(Table {
        heads: [SHIFT_LOST, SHIFT_KEY_LEFT, SHIFT_KEY_TOPPED]
            .map(|head| style.word(head))
            .to_vec(),
        rows: answer.rows.iter().zip(hand).map(row).collect(),
        words: 1,
        ..Table::default()
    }));
    let change = last.pressure.in_pascal() / first.pressure.in_pascal() - 1.0;
    let pressure = match answer.phase {
        _ if change.abs() < 1e-6 => Some(SHIFT_KEY_STAYS),
        Leaving::Vapor if change < 0.0 => Some(SHIFT_KEY_FALLS),
        _ => None,
    };
    let reading = match (last.superheat_error, last.subcooling_error) {
        (Some(vapor), Some(liquid)) if vapor > NO_ERROR && liquid < -NO_ERROR => SHIFT_KEY_HIGHER,
        (Some(vapor), Some(liquid)) if vapor < -NO_ERROR && liquid > NO_ERROR => SHIFT_KEY_LOWER,
        _ => SHIFT_KEY_SIGNS,
    };
    let larger = first.leaving_flammable_mass_fraction - first.remaining_flammable_mass_fraction;
    let burns = match answer.flammable_components.is_empty() {
        true => None,
        false if larger > 0.0 => Some(SHIFT_KEY_BURNS_LEAVING),
        false => Some(SHIFT_KEY_BURNS_LEFT),
    };
    let said = [pressure, Some(reading), burns].into_iter().flatten();
    document.lines(said.map(|phrase| style.word(phrase)).collect());
}
