//! PDF: pages and cards with an embedded typeface, selectable text and tagged tables. The same
//! answer always gives the same bytes.

mod blocks;
mod code;
mod content;
mod draw;
mod element;
mod face;
mod flow;
mod grid;
mod header;
mod layout;
mod pen;
mod picture;
mod place;
mod prose;
mod refused;
mod sign;
mod table;

use super::Exporter;
use crate::page::words::{
    Words,
    charts::PAGE_OF,
    print::{LEGIBLE, TURN_OVER},
};
use crate::page::{Block, Document, Logo};
use crate::page::{Form, Shape};
use crate::{Error, Result};
use content::Content;
use draw::{Print, Side};
use element::{Panel, Rule, Run};
use face::Faces;
use flow::{Flow, Sizes};
use layout::Laid;
use place::Place;
use sign::Sign;

pub(super) struct Pdf;

/// Whether a sign can be printed.
pub(super) fn check(logo: &Logo) -> Result<()> {
    Sign::read(logo).map(drop)
}

impl Exporter for Pdf {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        let faces = Faces::new()?;
        let about = answer.about();
        let logo = answer.blocks.iter().find_map(|block| match block {
            Block::Logo(logo) => Some(Sign::read(logo)),
            _ => None,
        });
        let sign = logo.transpose()?;
        let cards = cards(&answer.blocks);
        let mut runs: Vec<(Form, Vec<Laid>)> = Vec::new();
        for (form, blocks) in &cards {
            let laid = card(&faces, form, (sign.as_ref(), &about.words), blocks)?;
            match runs.last_mut() {
                // Cards of one form share sheets.
                Some((before, all)) if before == form => all.push(laid),
                _ => runs.push((*form, vec![laid])),
            }
        }
        let mut all = Vec::new();
        for (form, laid) in runs {
            all.append(&mut sides(&form, laid, &faces, &about.words));
        }
        let print = Print {
            faces: &faces,
            sign: sign.as_ref(),
            tint: answer.blocks.iter().find_map(|block| match block {
                Block::Face(face) => face.tint,
                _ => None,
            }),
            sides: all,
            title: title(&answer.blocks),
            about,
        };
        draw::write(print)
    }
}

/// The title of the file.
fn title(blocks: &[Block]) -> String {
    let picture = blocks.iter().find_map(|block| match block {
        Block::Picture(plot) => Some(plot.title.clone()),
        _ => None,
    });
    let title = blocks.iter().find_map(|block| match block {
        Block::Face(_) if picture.is_some() => picture.clone(),
        Block::Face(face) => Some(match &face.title {
            Some(title) => title.clone(),
            None => face.names.join(", "),
        }),
        Block::Title(title) => Some(title.clone()),
        Block::Picture(plot) => Some(plot.title.clone()),
        _ => None,
    });
    title.unwrap_or_else(|| "zeotrope".to_owned())
}

/// One card: with a face by the layout for these, else part after part.
fn card(
    faces: &Faces,
    form: &Form,
    (sign, words): (Option<&Sign>, &Words),
    blocks: &[Block],
) -> Result<Laid> {
    if form.places().is_empty() {
        let (wide, high) = form.card.unwrap_or_default();
        return Err(Error::Value {
            quantity: "card size",
            text: format!("{wide} x {high} mm"),
            problem: format!("is larger than a sheet of {}", form.paper.name()),
            hint: "choose a smaller card, a larger paper, or the form wallet".into(),
        });
    }
    match Content::new(faces, sign, form, blocks)? {
        Some(content) => content.laid(),
        None => Ok(Laid {
            panels: fitted(faces, form, (sign, words), blocks)?,
            size: 0.0,
        }),
    }
}

/// How far off print is still read: figures 0.71 of their size high, seen under 16 minutes of arc
/// (DIN 1450 and ISO 9241-303, from memory).
fn legible(size: f32) -> f32 {
    let height = 0.71 * size / 72.0 * 0.0254;
    height / (16.0_f32 / 60.0).to_radians().tan()
}

/// How far off the smallest figures of a chart on paper are read, m; none without a chart.
pub(super) fn legible_to(answer: &Document) -> Result<Option<f64>> {
    let faces = Faces::new()?;
    let words = answer.about().words;
    let mut least: Option<f32> = None;
    for (form, blocks) in cards(&answer.blocks) {
        let size = card(&faces, &form, (None, &words), &blocks)?.size;
        if size > 0.0 {
            least = Some(least.map_or(size, |before| before.min(size)));
        }
    }
    Ok(least.map(|size| f64::from(legible(size))))
}

/// The cards with their forms: a new one begins wherever paper is named.
fn cards(blocks: &[Block]) -> Vec<(Form, Vec<Block>)> {
    let mut cards = vec![(Form::default(), Vec::new())];
    for block in blocks {
        match block {
            Block::Paper(named) => cards.push((*named, Vec::new())),
            other => {
                if let Some((_, card)) = cards.last_mut() {
                    card.push(other.clone());
                }
            }
        }
    }
    let is_told = |block: &Block| !matches!(block, Block::About(_));
    cards.retain(|(_, card)| card.iter().any(is_told));
    cards
}

/// Sizes of type of parts without a face, the largest first.
const FLOW_SIZES: std::ops::RangeInclusive<u8> = 8..=14;

/// A card without a face, part after part, in the largest type that needs no second panel, else in
/// a small one. A little smaller type is better than a few rows left over alone.
fn fitted(
    faces: &Faces,
    form: &Form,
    around: (Option<&Sign>, &Words),
    blocks: &[Block],
) -> Result<Vec<Panel>> {
    let mut best: Option<((usize, usize), Vec<Panel>)> = None;
    let mut refused = None;
    for size in FLOW_SIZES.rev().map(f32::from) {
        let sizes = Sizes {
            title: size * 1.3,
            table: size,
            words: (size * 0.75).max(form.sizes().least),
        };
        let mut flow = Flow::new(faces, around, form.panel(), sizes);
        match flow.lay(blocks) {
            Ok(()) => {
                let worth = (flow.panels.len(), flow.scraps);
                if best.as_ref().is_none_or(|(best, _)| worth < *best) {
                    best = Some((worth, flow.panels));
                }
            }
            Err(error) => refused = Some(error),
        }
    }
    match (best, refused) {
        (Some((_, panels)), _) => Ok(panels),
        (None, Some(error)) => Err(error),
        (None, None) => Ok(Vec::new()),
    }
}

/// Puts panels onto sides of sheets, with the marks to cut and fold at.
fn sides(form: &Form, cards: Vec<Laid>, faces: &Faces, words: &Words) -> Vec<Side> {
    if form.shape == Shape::Sheet {
        return on_sheets(form, &cards, faces, words);
    }
    let places = form.places();
    let sides_each = places.iter().map(|place| place.side + 1).max().unwrap_or(1);
    let mut sides = Vec::new();
    // Strips of several refrigerants are cut from one page.
    let mut cards = cards;
    if form.shape == Shape::Strip {
        let panels = cards.drain(..).flat_map(|card| card.panels).collect();
        cards.push(Laid { panels, size: 0.0 });
    }
    for card in cards {
        let from = sides.len();
        for sheet in card.panels.chunks(places.len()) {
            let mut here: Vec<Side> = (0..sides_each).map(|_| side_of(form)).collect();
            for (panel, place) in sheet.iter().zip(&places) {
                here[place.side]
                    .panels
                    .push((place.left, place.top, panel.clone()));
            }
            for side in &mut here {
                side.marks = marks(form, sheet.len());
            }
            // A second side that bears nothing is no page.
            here.retain(|side| !side.panels.is_empty());
            sides.append(&mut here);
        }
        if form.shape == Shape::Wall {
            below(form, &mut sides[from..], card.size, (faces, words));
        }
    }
    sides
}

/// An empty side of a form's paper.
fn side_of(form: &Form) -> Side {
    Side {
        page: form.page(),
        bleed: form.bleed_points(),
        ..Side::default()
    }
}

/// Below a wall chart: from how far it is read, and the number of each of several pages.
fn below(form: &Form, sides: &mut [Side], size: f32, (faces, words): (&Faces, &Words)) {
    let count = sides.len();
    let (width, height) = form.page();
    for (index, side) in sides.iter_mut().enumerate() {
        let mut parts = Vec::new();
        if size > 0.0 {
            // Rounded down: it says from where it is read.
            let distance = (legible(size) * 10.0).floor() / 10.0;
            let distance = format!("{distance:.1}");
            parts.push(words.fill(LEGIBLE, &[("distance", &distance)]));
        }
        if count > 1 {
            let (page, count) = ((index + 1).to_string(), count.to_string());
            parts.push(words.fill(PAGE_OF, &[("page", &page), ("count", &count)]));
        }
        let text = parts.join(" \u{b7} ");
        let size = 7.5;
        side.furniture.extend((!text.is_empty()).then(|| Run {
            left: width - 34.0 - faces.regular.width(&text, size),
            baseline: height - 20.0,
            size,
            bold: false,
            text,
        }));
    }
}

fn marks(form: &Form, strips: usize) -> Vec<Rule> {
    let (width, height) = form.page();
    let upright = |x: f32, from: f32, to: f32| Rule {
        from: (x, from),
        to: (x, to),
        width: 0.4,
        dashed: true,
    };
    match form.shape {
        Shape::Strip => (0..=strips)
            .map(|index| form.first_strip() + index as f32 * form.strip())
            .map(|x| upright(x, 14.0, height - 14.0))
            .collect(),
        Shape::Folded => vec![
            upright(width / 2.0, 4.0, 16.0),
            upright(width / 2.0, height - 16.0, height - 4.0),
        ],
        Shape::Wall | Shape::Wallet | Shape::Sheet => Vec::new(),
    }
}

/// Cards on pages; the second side of the cards on a page of its own, mirrored, so that the sides
/// meet when the page is turned over its long edge. Few cards are repeated.
fn on_sheets(form: &Form, cards: &[Laid], faces: &Faces, words: &Words) -> Vec<Side> {
    let places: Vec<Place> = form.places();
    let (columns, _) = form.card_grid();
    let mut sides = Vec::new();
    for sheet in cards.chunks(places.len().max(1)) {
        let sides_each = sheet.iter().map(|card| card.panels.len()).max();
        for side in 0..sides_each.unwrap_or(0) {
            let mut here = Side {
                marks: cut_marks(form),
                ..side_of(form)
            };
            let size = 7.0;
            here.furniture.push(Run {
                left: 40.0,
                baseline: 14.0,
                size,
                bold: false,
                text: words.text(TURN_OVER).to_owned(),
            });
            for (index, place) in places.iter().enumerate() {
                let mirrored = index - index % columns + (columns - 1 - index % columns);
                let seen = if side % 2 == 1 { mirrored } else { index };
                if let Some(panel) = sheet[seen % sheet.len()].panels.get(side) {
                    here.panels.push((place.left, place.top, panel.clone()));
                }
            }
            sides.push(here);
        }
    }
    debug_assert!(faces.check(words.text(TURN_OVER)).is_ok());
    sides
}

fn cut_marks(form: &Form) -> Vec<Rule> {
    let (wide, high) = form.card_points();
    let mut marks = Vec::new();
    for index in 0..form.cards_on_a_sheet() {
        let (left, top) = form.card_corner(index);
        for x in [left, left + wide] {
            for (y, away) in [(top, -1.0), (top + high, 1.0)] {
                let short = |from: (f32, f32), to: (f32, f32)| Rule {
                    from,
                    to,
                    width: 0.4,
                    dashed: false,
                };
                let out = if x > left { 1.0 } else { -1.0 };
                marks.push(short((x, y + away * 1.5), (x, y + away * 7.0)));
                marks.push(short((x + out * 1.5, y), (x + out * 7.0, y)));
            }
        }
    }
    marks
}
