//! Why a chart does not fit its form, and which choice would make it fit.

use super::content::Content;
use super::grid::{Grid, Scale};
use super::layout::{BLOCK_GAP, GAP, ROW};
use crate::Error;
use crate::page::{Form, Shape};

/// Every how many rows one is kept, in the order tried.
const KEPT: [usize; 7] = [2, 3, 4, 5, 6, 8, 10];

/// The error of a chart that does not fit.
pub(super) fn why(content: &Content<'_>) -> Error {
    let scale = Scale {
        size: content.limits.smallest,
        row: ROW,
        gap: GAP,
        block_gap: BLOCK_GAP,
    };
    let (width, _) = content.form.panel();
    for part in &content.parts {
        if let Some(error) = too_wide(content, &part.grid, &scale, width) {
            return error;
        }
    }
    too_long(content)
}

/// The refrigerant whose columns are wider than a panel, how many of them fit, and the paper that
/// holds all.
fn too_wide(content: &Content<'_>, grid: &Grid<'_>, scale: &Scale, width: f32) -> Option<Error> {
    let all = grid.parts(grid.groups());
    let wide = |one: &std::ops::Range<usize>| grid.width(one, 1, scale);
    let widest = all
        .iter()
        .max_by(|one, two| wide(one).total_cmp(&wide(two)))?;
    if wide(widest) <= width {
        return None;
    }
    let form = content.form;
    let (name, count) = grid.named(widest.start);
    let name = name.or_else(|| content.face.names.first().cloned());
    let holds = grid.first_columns(widest.start, scale, width);
    let larger = larger(form);
    let larger = larger.into_iter().find(|(other, _)| {
        let size = other.sizes().smallest;
        wide(widest) * size / scale.size <= other.panel().0
    });
    let mut choices = Vec::new();
    if holds > 0 {
        choices.push(format!(
            "at most {holds} of its {count} columns (fewer lines, one unit, no tolerance)"
        ));
    }
    choices.extend(larger.map(|(_, name)| name));
    if choices.is_empty() {
        choices.push("a shorter name, or another form".into());
    }
    Some(Error::Value {
        quantity: "columns of",
        text: name.unwrap_or_default().chars().take(60).collect(),
        problem: format!(
            "are wider than a panel of the form {} at its smallest type, {} pt",
            form.shape.name(),
            scale.size
        ),
        hint: format!("choose {}", choices.join(", or ")),
    })
}

/// Forms with more room, by name.
fn larger(form: &Form) -> Vec<(Form, String)> {
    let mut found = Vec::new();
    let mut paper = form.paper;
    let wall = Form {
        shape: Shape::Wall,
        landscape: false,
        ..*form
    };
    if form.shape != Shape::Wall {
        found.push((wall, "a wall chart".to_owned()));
    }
    let turned = |form: Form| Form {
        landscape: true,
        ..form
    };
    if form.shape == Shape::Wall && !form.landscape {
        found.push((
            turned(wall),
            "a wall chart on the long side of its paper".into(),
        ));
    }
    while let Some(next) = paper.larger() {
        paper = next;
        let large = Form { paper, ..wall };
        found.push((large, format!("a wall chart on paper {}", paper.name())));
        let words = format!("a wall chart on the long side of paper {}", paper.name());
        found.push((turned(large), words));
    }
    found
}

/// How many rows fit, or what else is too much.
fn too_long(content: &Content<'_>) -> Error {
    let counts = content.parts.iter().map(|part| part.grid.rows());
    let rows = counts.max().unwrap_or(0);
    let (_, panels) = content.form.panels();
    let kept = KEPT.into_iter().find(|every| {
        let mut fewer = content.clone();
        for part in &mut fewer.parts {
            part.grid = part.grid.thinned(*every);
        }
        rows > *every && fewer.fits(panels)
    });
    let mut choices = match kept {
        Some(every) => vec![format!(
            "fewer rows (at most {}, by a larger step)",
            rows.div_ceil(every)
        )],
        None => vec!["less around the table (title, notes, boxes, lines to write on)".into()],
    };
    if content.parts.iter().any(|part| part.grid.groups() > 1) {
        choices.push("fewer refrigerants".into());
    }
    if content.form.shape != Shape::Wall {
        choices.push("a wall chart".into());
    }
    Error::Value {
        quantity: "form",
        text: content.form.shape.name().into(),
        problem: format!(
            "does not hold {rows} rows with their hazards on {panels} sides at {} pt",
            content.limits.smallest
        ),
        hint: format!("choose {}", choices.join(", or ")),
    }
}
