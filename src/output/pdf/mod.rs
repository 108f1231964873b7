//! PDF: pages and cards with an embedded typeface, selectable text and tagged tables. The same
//! answer always gives the same bytes.

mod draw;
mod face;
mod flow;
mod picture;
mod place;
mod sign;
mod table;

use super::Exporter;
use crate::page::words::{Words, charts::PAGE_OF};
use crate::page::{Block, Document, Logo};
use crate::page::{Form, Shape};
use crate::{Error, Result};
use draw::{Print, Side};
use face::Faces;
use flow::{Flow, Panel, Rule, Sizes};
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
        let (form, cards) = cards(&answer.blocks);
        let about = answer.about();
        let logo = answer.blocks.iter().find_map(|block| match block {
            Block::Logo(logo) => Some(Sign::read(logo)),
            _ => None,
        });
        let sign = logo.transpose()?;
        let mut laid = Vec::new();
        for card in &cards {
            laid.push(fitted(&faces, &form, (sign.as_ref(), &about.words), card)?);
        }
        let title = answer.blocks.iter().find_map(|block| match block {
            Block::Title(title) => Some(title.as_str()),
            Block::Picture(plot) => Some(plot.title.as_str()),
            _ => None,
        });
        let print = Print {
            faces: &faces,
            sign: sign.as_ref(),
            page: form.page(),
            sides: sides(&form, laid, &faces, &about.words),
            title: title.unwrap_or("zeotrope"),
            about,
        };
        draw::write(print)
    }
}

/// The form, and the blocks of each card: a new one begins wherever paper is named.
fn cards(blocks: &[Block]) -> (Form, Vec<Vec<Block>>) {
    let mut form = Form::default();
    let mut cards = vec![Vec::new()];
    for block in blocks {
        match block {
            Block::Paper(named) => {
                form = *named;
                cards.push(Vec::new());
            }
            other => {
                if let Some(card) = cards.last_mut() {
                    card.push(other.clone());
                }
            }
        }
    }
    let is_told = |block: &Block| !matches!(block, Block::About(_));
    cards.retain(|card| card.iter().any(is_told));
    (form, cards)
}

/// Steps of half a point that are tried to be rid of rows left over.
const SMALLER: usize = 3;

/// One card in the largest type that needs no more panels than are good, else in the largest of
/// those that need the fewest. A little smaller type is better than a few rows left over alone.
fn fitted(
    faces: &Faces,
    form: &Form,
    around: (Option<&Sign>, &Words),
    blocks: &[Block],
) -> Result<Vec<Panel>> {
    let sizes = form.sizes();
    let (good, most) = form.panels();
    let mut best: Option<((usize, usize), Vec<Panel>)> = None;
    let mut smaller = 0;
    let mut refused = None;
    let mut size = sizes.largest;
    while size >= sizes.smallest - 0.01 {
        let mut flow = Flow::new(
            faces,
            around,
            form.panel(),
            Sizes {
                title: size * 1.3,
                table: size,
                words: (size * 0.75).max(sizes.least),
            },
        );
        match flow.lay(blocks) {
            Ok(()) => {
                let worth = (flow.panels.len().max(good), flow.scraps);
                if best.as_ref().is_none_or(|(best, _)| worth < *best) {
                    best = Some((worth, flow.panels));
                }
            }
            Err(error) => refused = Some(error),
        }
        if let Some(((panels, scraps), _)) = best
            && panels <= good
        {
            if scraps == 0 || smaller == SMALLER {
                break;
            }
            smaller += 1;
        }
        size -= 0.5;
    }
    match (best.map(|(_, panels)| panels), refused) {
        (Some(panels), _) if panels.len() <= most => Ok(panels),
        (Some(panels), _) => Err(Error::Value {
            quantity: "form",
            text: form.shape.name().into(),
            problem: format!("would take {} panels, more than {most}", panels.len()),
            hint: "choose fewer refrigerants, fewer rows, shorter words, or a wall chart".into(),
        }),
        (None, Some(error)) => Err(error),
        (None, None) => Ok(Vec::new()),
    }
}

/// Puts panels onto sides of sheets, with the marks to cut and fold at.
fn sides(form: &Form, cards: Vec<Vec<Panel>>, faces: &Faces, words: &Words) -> Vec<Side> {
    if form.shape == Shape::Sheet {
        return eight_up(form, &cards);
    }
    let places = form.places();
    let sides_each = places.iter().map(|place| place.side + 1).max().unwrap_or(1);
    let mut sides = Vec::new();
    for panels in cards {
        for sheet in panels.chunks(places.len()) {
            let mut here: Vec<Side> = (0..sides_each).map(|_| Side::default()).collect();
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
    }
    if form.shape == Shape::Wall && sides.len() > 1 {
        number(form, &mut sides, faces, words);
    }
    sides
}

/// Page numbers below wall charts of several pages.
fn number(form: &Form, sides: &mut [Side], faces: &Faces, words: &Words) {
    let count = sides.len();
    let (width, height) = form.page();
    for (index, side) in sides.iter_mut().enumerate() {
        let (page, count) = ((index + 1).to_string(), count.to_string());
        let text = words.fill(PAGE_OF, &[("page", &page), ("count", &count)]);
        let size = 7.5;
        side.furniture = Some(flow::Run {
            left: width - 34.0 - faces.regular.width(&text, size),
            baseline: height - 20.0,
            size,
            bold: false,
            text,
        });
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

/// Eight cards on a page; each next side of the cards on a page of its own, mirrored, so that the
/// sides meet when the page is turned over its long edge. Few cards are repeated.
fn eight_up(form: &Form, cards: &[Vec<Panel>]) -> Vec<Side> {
    let places: Vec<Place> = form.places();
    let mut sides = Vec::new();
    for sheet in cards.chunks(places.len()) {
        let sides_each = sheet.iter().map(Vec::len).max().unwrap_or(0);
        for side in 0..sides_each {
            let mut here = Side {
                marks: cut_marks(form),
                ..Side::default()
            };
            for (index, place) in places.iter().enumerate() {
                let seen = if side % 2 == 1 { index ^ 1 } else { index };
                if let Some(panel) = sheet[seen % sheet.len()].get(side) {
                    here.panels.push((place.left, place.top, panel.clone()));
                }
            }
            sides.push(here);
        }
    }
    sides
}

fn cut_marks(form: &Form) -> Vec<Rule> {
    let (wide, high) = form.card_size();
    let mut marks = Vec::new();
    for index in 0..8 {
        let (left, top) = form.card(index);
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
