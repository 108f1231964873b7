//! A card of what is left after a loss.

use super::{names, percent};
use crate::Warning;
use crate::chart::Chart;
use crate::page::words::shift::*;
use crate::page::{Document, Print, Style, chart};
use crate::process::shift::{Leaving, Shift, Was};

/// The chart of what is left, headed so that nobody takes it for the listed blend's; the print's
/// own title gives way to that.
pub fn card(
    answer: &Shift,
    left: (&Chart, Was),
    print: &Print,
    warnings: &[Warning],
    style: &Style,
) -> Document {
    let (of_left, was) = left;
    let name = answer.identity.refrigerant.as_str();
    let headline = match was {
        Was::Lost(_) => SHIFT_CARD,
        Was::ToppedUp(..) => SHIFT_CARD_TOPPED,
    };
    let mut print = print.clone();
    print.title = Some(style.say(headline, &[("refrigerant", name)]));
    let mut notes = vec![calculated(answer, was, style)];
    notes.extend(uncertain(answer, was, style));
    print.notes.splice(0..0, notes);
    chart(std::slice::from_ref(of_left), &print, warnings, style)
}

fn calculated(answer: &Shift, was: Was, style: &Style) -> String {
    let temperature = style.temperature(answer.temperature);
    let phase = style.word(match answer.phase {
        Leaving::Vapor => SHIFT_CARD_VAPOR,
        Leaving::Liquid => SHIFT_CARD_LIQUID,
        Leaving::Circulating => SHIFT_CARD_CIRCULATING,
    });
    let (phrase, lost, rounds) = match was {
        Was::Lost(lost) => (SHIFT_CARD_OF, lost, 0),
        Was::ToppedUp(lost, rounds) => (SHIFT_CARD_OF_TOPPED, lost, rounds),
    };
    let blanks = [
        ("refrigerant", answer.identity.refrigerant.clone()),
        ("lost", percent(lost, style)),
        ("rounds", rounds.to_string()),
        ("phase", phase),
        ("temperature", temperature),
    ];
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

/// The standard uncertainty of the composition, where pairs were measured.
fn uncertain(answer: &Shift, was: Was, style: &Style) -> Option<String> {
    let row = match was {
        Was::Lost(lost) => answer
            .rows
            .iter()
            .find(|row| row.lost_mass_fraction == lost)?,
        Was::ToppedUp(..) => &answer.rounds.last()?.row,
    };
    let found = row.vapor_uncertainty.as_ref()?;
    let shares = names(answer)
        .into_iter()
        .zip(&found.remaining_mass_fractions)
        .map(|(name, share)| format!("{name} ±{}", percent(*share, style)));
    let shares = shares.collect::<Vec<_>>().join(", ");
    Some(style.say(SHIFT_CARD_UNCERTAIN, &[("shares", &shares)]))
}
