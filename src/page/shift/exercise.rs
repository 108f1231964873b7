//! A loss as an exercise: what is given, blanks, and the key on a page of its own.

use super::{joined, names, percent, title};
use crate::page::words::shift::*;
use crate::page::{Block, Document, Form, Style, Table};
use crate::process::shift::{Row, Shift};
use crate::service::hazard::hazards::Work;

/// Room for a figure by hand.
const BLANK: &str = "________";

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
        style.word(SHIFT_EXERCISE_BALANCE),
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
        rows: answer.rows.iter().map(row).collect(),
        words: 1,
        strokes: Vec::new(),
    }));
    document.lines(
        [
            SHIFT_EXERCISE_SUPERHEAT,
            SHIFT_EXERCISE_TOP_UP,
            SHIFT_EXERCISE_FLAMMABLE,
        ]
        .map(|question| style.word(question))
        .to_vec(),
    );
    document.hazards();
    // On paper the key has a page of its own, so that it can be kept back.
    document.blocks.push(Block::Paper(form.unwrap_or_default()));
    document.title(style.word(SHIFT_EXERCISE_KEY));
    document.blocks.extend(whole.blocks);
    document
}
