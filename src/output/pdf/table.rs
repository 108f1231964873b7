//! Lays a table out: columns as wide as they must be, refrigerants side by side as far as they fit,
//! rows in as many blocks as they need, the heads over each block anew.

use super::element::{Element, Head, Rule, Run};
use super::flow::{Flow, LEADING};
use crate::output::true_minus;
use crate::page::Table;
use crate::{Error, Result};

/// Height of a row, in sizes of type.
const ROW: f32 = 1.28;
/// Room between columns and between blocks, in sizes of type.
const GAP: f32 = 0.9;
const BLOCK_GAP: f32 = 2.2;
/// Rows between two thin rules that guide the eye.
const RULED: usize = 5;
/// Fewer rows than this on a further panel are a scrap.
const SCRAP: usize = 4;
/// And so are refrigerants below the others, so many times fewer than stand side by side there.
const SCRAP_PART: usize = 4;
/// Most lines of a head: as few as let the columns fit.
const HEAD_LINES: [usize; 3] = [3, 5, 9];

/// A column as it must be: its width, and how much of it stands right of the decimal sign.
#[derive(Clone, Copy)]
struct Width {
    whole: f32,
    decimals: f32,
}

/// Columns of one refrigerant, or one column alone.
struct Group {
    name: String,
    columns: std::ops::Range<usize>,
}

pub(super) fn lay(flow: &mut Flow<'_>, table: &Table) -> Result<()> {
    for text in table
        .groups
        .iter()
        .map(|group| &group.0)
        .chain(&table.heads)
    {
        flow.faces.check(text)?;
    }
    for text in table.rows.iter().flatten() {
        flow.faces.check(text)?;
    }
    let groups = groups(table);
    let mut refused = Ok(());
    for lines in HEAD_LINES {
        let mut widths: Vec<Width> = (0..table.heads.len())
            .map(|column| width(flow, table, column))
            .collect();
        for group in &groups {
            make_room(flow, &mut widths, group, table, lines);
        }
        match fitting(&groups, &widths, flow.width, GAP * flow.sizes.table) {
            Ok(parts) => {
                let most = parts.iter().map(|part| part.0.len()).max().unwrap_or(0);
                let is_scrap = |part: &&(Vec<&Group>, f32)| part.0.len() * SCRAP_PART <= most;
                flow.scraps += parts.iter().filter(is_scrap).count();
                for (chosen, total) in parts {
                    part(flow, table, &widths, &chosen, total);
                }
                return Ok(());
            }
            Err(error) => refused = Err(error),
        }
    }
    refused
}

/// The columns that stand side by side, with their width: the labels and as many refrigerants as
/// fit, again and again.
#[allow(clippy::type_complexity)]
fn fitting<'a>(
    groups: &'a [Group],
    widths: &[Width],
    most: f32,
    gap: f32,
) -> Result<Vec<(Vec<&'a Group>, f32)>> {
    let Some((label, rest)) = groups.split_first() else {
        return Ok(Vec::new());
    };
    let wide = |group: &Group| -> f32 {
        widths[group.columns.clone()]
            .iter()
            .map(|width| width.whole + gap)
            .sum::<f32>()
    };
    let label_wide = wide(label) - gap;
    let mut parts = Vec::new();
    let mut next = 0;
    loop {
        let mut total = label_wide;
        let first = next;
        while next < rest.len() && total + wide(&rest[next]) <= most + 0.01 {
            total += wide(&rest[next]);
            next += 1;
        }
        if (next == first && !rest.is_empty()) || total > most + 0.01 {
            let name = rest.get(first).map_or("table", |group| group.name.as_str());
            return Err(too_narrow(name));
        }
        parts.push((
            std::iter::once(label).chain(&rest[first..next]).collect(),
            total,
        ));
        if next >= rest.len() {
            return Ok(parts);
        }
    }
}

/// The error where a column does not fit a form.
fn too_narrow(name: &str) -> Error {
    Error::Value {
        quantity: "form",
        text: name.chars().take(60).collect(),
        problem: "its columns are wider than a panel of this form".into(),
        hint: "choose a wider form, for example a wall chart".into(),
    }
}

fn groups(table: &Table) -> Vec<Group> {
    let mut found = Vec::new();
    if table.groups.is_empty() {
        let label = table.words.max(1).min(table.heads.len());
        found.push(Group {
            name: String::new(),
            columns: 0..label,
        });
        found.extend((label..table.heads.len()).map(|column| Group {
            name: table.heads[column].clone(),
            columns: column..column + 1,
        }));
        return found;
    }
    let mut column = 0;
    for (name, span) in &table.groups {
        found.push(Group {
            name: name.clone(),
            columns: column..column + span,
        });
        column += span;
    }
    found
}

/// Splits a figure before its decimal sign; a word is no figure.
fn split(text: &str) -> Option<(&str, &str)> {
    let figure = text.strip_prefix('\u{2212}').unwrap_or(text);
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    match figure.find(['.', ',']) {
        Some(at) if digits(&figure[..at]) && digits(&figure[at + 1..]) => {
            Some(text.split_at(at + text.len() - figure.len()))
        }
        None if !figure.is_empty() && digits(figure) => Some((text, "")),
        _ => None,
    }
}

fn width(flow: &Flow<'_>, table: &Table, column: usize) -> Width {
    let size = flow.sizes.table;
    let label = column < table.words.max(1);
    let face = flow.faces.weight(label);
    let (mut before, mut after, mut word) = (0.0_f32, 0.0_f32, 0.0_f32);
    for row in &table.rows {
        let text = true_minus(&row[column]);
        match split(&text) {
            Some((whole, decimals)) => {
                before = before.max(face.width(whole, size));
                after = after.max(face.width(decimals, size));
            }
            None => word = word.max(face.width(&text, size)),
        }
    }
    let head = flow.faces.bold.width(&table.heads[column], size);
    // Only under names of refrigerants do heads stay on one line.
    let head = if table.groups.is_empty() { 0.0 } else { head };
    Width {
        whole: (before + after).max(word).max(head),
        decimals: after,
    }
}

/// Widens a group's last column until its name stands in a few lines over it.
fn make_room(
    flow: &Flow<'_>,
    widths: &mut [Width],
    group: &Group,
    table: &Table,
    most_lines: usize,
) {
    let size = flow.sizes.table;
    let names: Vec<(&str, std::ops::Range<usize>)> = if table.groups.is_empty() {
        group
            .columns
            .clone()
            .map(|column| (table.heads[column].as_str(), column..column + 1))
            .collect()
    } else {
        vec![(group.name.as_str(), group.columns.clone())]
    };
    for (name, columns) in names {
        let has = widths[columns.clone()]
            .iter()
            .map(|width| width.whole)
            .sum::<f32>()
            + GAP * size * (columns.len() - 1) as f32;
        let mut needs = has.max(size);
        let whole = flow.faces.bold.width(name, size);
        while needs < whole {
            let lines = flow.faces.bold.wrapped(name, size, needs);
            let words_whole = name
                .split_inclusive([' ', '/'])
                .all(|word| flow.faces.bold.width(word.trim_end(), size) <= needs);
            if lines.len() <= most_lines && words_whole {
                break;
            }
            needs += size * 0.25;
        }
        widths[columns.end - 1].whole += needs.max(has) - has;
    }
}

/// Lays some of the columns with all rows.
fn part(flow: &mut Flow<'_>, table: &Table, widths: &[Width], chosen: &[&Group], total: f32) {
    let size = flow.sizes.table;
    let (head_height, _) = heads(flow, table, widths, chosen, (0.0, 0.0));
    let row_height = ROW * size;
    let blocks_wide =
        (((flow.width + BLOCK_GAP * size + 0.01) / (total + BLOCK_GAP * size)) as usize).max(1);
    let mut first = 0;
    while first < table.rows.len() {
        let left = table.rows.len() - first;
        flow.scraps += usize::from(first > 0 && left < SCRAP);
        let capacity =
            |height: f32| ((height - head_height) / row_height).floor().max(0.0) as usize;
        let least = left.min(6);
        let here = capacity(flow.left_over()) * blocks_wide;
        // What would stand whole on the next panel is not torn apart low on this one.
        let is_torn = here < left && left <= capacity(flow.height) * blocks_wide;
        if (here < least && flow.used > 0.0) || (is_torn && flow.used > flow.height / 2.0) {
            flow.next_panel();
        }
        let room = capacity(flow.left_over()).max(1);
        let blocks = left.div_ceil(room).min(blocks_wide);
        let rows_each = left.div_ceil(blocks).min(room);
        for block in 0..blocks {
            let from = first + block * rows_each;
            let to = (from + rows_each).min(table.rows.len());
            if from >= to {
                break;
            }
            let corner = (block as f32 * (total + BLOCK_GAP * size), flow.used);
            let element = block_of_rows(flow, table, widths, chosen, corner, total, from..to);
            flow.push(element);
        }
        first += rows_each * blocks;
        flow.skip(head_height + rows_each as f32 * row_height + size * 0.8);
    }
}

/// The heads of one block and their height.
fn heads(
    flow: &Flow<'_>,
    table: &Table,
    widths: &[Width],
    chosen: &[&Group],
    (left, top): (f32, f32),
) -> (f32, Vec<Vec<Head>>) {
    let size = flow.sizes.table;
    let line = size * LEADING;
    let mut levels: Vec<Vec<(String, std::ops::Range<usize>)>> = Vec::new();
    if !table.groups.is_empty() {
        levels.push(
            chosen
                .iter()
                .map(|group| (group.name.clone(), group.columns.clone()))
                .collect(),
        );
    }
    levels.push(
        chosen
            .iter()
            .flat_map(|group| group.columns.clone())
            .map(|column| (table.heads[column].clone(), column..column + 1))
            .collect(),
    );
    levels.retain(|level| level.iter().any(|(name, _)| !name.is_empty()));
    let mut found = Vec::new();
    let mut used = 0.0;
    for level in levels {
        let mut cells = Vec::new();
        let mut x = left;
        let mut deepest = 0;
        let mut texts = Vec::new();
        for (name, columns) in level {
            let wide = widths[columns.clone()]
                .iter()
                .map(|width| width.whole + GAP * size)
                .sum::<f32>()
                - GAP * size;
            let lines = flow.faces.bold.wrapped(&name, size, wide + 0.01);
            deepest = deepest.max(lines.len());
            texts.push((x, wide, lines, columns));
            x += wide + GAP * size;
        }
        for (x, wide, lines, columns) in texts {
            // Heads stand on the line below them.
            let drop = (deepest - lines.len()) as f32 * line;
            let words = columns.start < table.words;
            let runs = lines
                .into_iter()
                .enumerate()
                .map(|(index, text)| Run {
                    left: {
                        let free = wide - flow.faces.bold.width(&text, size);
                        // A name over several columns stands over their middle.
                        let share = match columns.len() {
                            _ if words => 0.0,
                            1 => 1.0,
                            _ => 0.5,
                        };
                        x + share * free
                    },
                    baseline: top + used + drop + index as f32 * line + size,
                    size,
                    bold: true,
                    text,
                })
                .collect();
            cells.push(Head {
                lines: runs,
                span: columns.len(),
            });
        }
        used += deepest as f32 * line;
        found.push(cells);
    }
    (used + size * 0.35, found)
}

fn block_of_rows(
    flow: &Flow<'_>,
    table: &Table,
    widths: &[Width],
    chosen: &[&Group],
    (left, top): (f32, f32),
    total: f32,
    rows: std::ops::Range<usize>,
) -> Element {
    let size = flow.sizes.table;
    let (head_height, heads) = heads(flow, table, widths, chosen, (left, top));
    let line = |y: f32, width: f32| Rule {
        from: (left, y),
        to: (left + total, y),
        width,
        dashed: false,
    };
    let mut rules = vec![line(top + head_height - size * 0.1, 0.8)];
    // A thin line ties the columns of one refrigerant together.
    if !table.groups.is_empty() && heads.len() > 1 {
        let lines = heads[0]
            .iter()
            .map(|head| head.lines.len())
            .max()
            .unwrap_or(0);
        let y = top + lines as f32 * size * LEADING + size * 0.05;
        let mut x = left;
        for group in chosen {
            let wide = widths[group.columns.clone()]
                .iter()
                .map(|width| width.whole + GAP * size)
                .sum::<f32>();
            if group.columns.len() > 1 {
                rules.push(Rule {
                    from: (x, y),
                    to: (x + wide - GAP * size, y),
                    width: 0.4,
                    dashed: false,
                });
            }
            x += wide;
        }
    }
    let mut out = Vec::new();
    let count = rows.len();
    for (index, row) in table.rows[rows].iter().enumerate() {
        let y = top + head_height + index as f32 * ROW * size;
        let mut x = left;
        let mut cells = Vec::new();
        for column in chosen.iter().flat_map(|group| group.columns.clone()) {
            let width = widths[column];
            let label = column < table.words.max(1);
            let face = flow.faces.weight(label);
            let text = true_minus(&row[column]);
            let offset = if column < table.words {
                0.0
            } else {
                match split(&text) {
                    Some((whole, _)) => width.whole - width.decimals - face.width(whole, size),
                    None => width.whole - face.width(&text, size),
                }
            };
            cells.push(Run {
                left: x + offset,
                baseline: y + size,
                size,
                bold: label,
                text,
            });
            x += width.whole + GAP * size;
        }
        out.push(cells);
        if (index + 1) % RULED == 0 && index + 1 < count {
            rules.push(line(y + ROW * size + size * 0.04, 0.25));
        }
    }
    rules.push(line(
        top + head_height + count as f32 * ROW * size + size * 0.1,
        0.8,
    ));
    Element::Table {
        heads,
        rows: out,
        rules,
        bands: Vec::new(),
    }
}
