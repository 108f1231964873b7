//! `validate`: the engine against published values.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::args::ValidateArgs;
use super::failure::Failure;
use super::request;
use crate::output::{Answer, Block, Sheet, Table, number, number_cell};
use crate::units::{fixed, significant};
use crate::validation::random::{self, Fault, Report};
use crate::validation::{
    self, AZEOTROPES, AZEOTROPES_REASON, BlendDistance, Comparison, PairDistance, SourceSummary,
    Verdict, exceptions,
};

/// From this distance on a blend is named by itself, K.
const FAR: f64 = 1.0;

/// The answer, and whether a row is outside without a reason.
pub(super) fn answer(args: &ValidateArgs) -> Result<(Answer, bool), Failure> {
    request::check_output(&args.output)?;
    let facts = request::catalogue(&args.data)?;
    let facts = request::with_pairs(&facts, args.pairs);
    if let Some(questions) = args.random {
        let seed = args.seed.unwrap_or(1);
        return Ok((random(&random::ask(&facts, questions, seed), seed), false));
    }
    let comparisons = validation::published_values(&facts)?;
    let sources = validation::by_source(&comparisons);
    let blends = validation::blend_distances(&facts)?;
    let pairs = validation::measured_bubble_points(&facts)?;
    let outside: Vec<&Comparison> = comparisons
        .iter()
        .filter(|one| one.verdict == Verdict::Outside)
        .collect();
    let from_memory = comparisons
        .iter()
        .filter(|one| one.row.note.contains("from memory"))
        .count();

    let mut blocks = vec![
        Block::Title("Published values, by source".into()),
        Block::Table(source_table(&sources)),
        Block::Lines(vec![
            format!(
                "{} rows; 'worst' is the largest deviation as a fraction of the row's tolerance.",
                comparisons.len()
            ),
            format!(
                "A: printed from the equation carried; B: independent equations and \
                 correlations; C: handbooks, textbooks and standards. {from_memory} rows are \
                 quoted from memory, unverified."
            ),
            "The tolerances of B and C were set after seeing what a general-purpose open library \
             gives: passing means no farther off than it."
                .into(),
            format!("Pseudo-pure tables: {}.", exceptions::PSEUDO_PURE_REASON),
        ]),
        Block::Title("Outside or not judged, and why".into()),
        Block::Lines(reasons(&comparisons)),
    ];
    if !outside.is_empty() {
        blocks.push(Block::Title("Outside without a reason".into()));
        blocks.push(Block::Lines(outside.iter().map(|one| line(one)).collect()));
    }
    blocks.push(Block::Title(
        "Listed blends at 101.325 kPa, model less published".into(),
    ));
    let mut lines = vec![table_5(&comparisons)];
    lines.extend(blend_lines(&blends));
    blocks.push(Block::Lines(lines));
    blocks.push(Block::Title(
        "Measured bubble points, model less measured, % of pressure and K".into(),
    ));
    blocks.push(Block::Table(pair_table(&pairs)));
    blocks.push(Block::Lines(vec![
        "No verdict: many pairs were fitted to such points, 'refitted' ones by this project to \
         these very points. 'suspect' points disagree with other papers and are in no figure; \
         'unanswered' ones lie where the model has no bubble point."
            .into(),
        "K: what the deviation in pressure is worth on the bubble line, to first order.".into(),
    ]));
    let unexplained = !outside.is_empty();
    let answer = Answer {
        blocks,
        sheet: sheet(&sources),
        json: json!({
            "rows": comparisons.len(),
            "outside": outside.len(),
            "sources": sources.iter().map(source_json).collect::<Vec<_>>(),
            "not_within": comparisons
                .iter()
                .filter(|one| one.verdict != Verdict::Within)
                .map(comparison_json)
                .collect::<Vec<_>>(),
            "blends": blends.iter().map(blend_json).collect::<Vec<_>>(),
            "measured_bubble_points": pairs.iter().map(pair_json).collect::<Vec<_>>(),
        }),
        warnings: Vec::new(),
    };
    Ok((answer, unexplained))
}

/// What random questions found, class by class.
fn random(report: &Report, seed: u64) -> Answer {
    let mut heads = vec!["class".to_owned(), "questions".into(), "answered".into()];
    heads.extend(["refused".to_owned(), "two_liquids".into()]);
    heads.extend(Fault::ALL.map(|fault| fault.name().replace(' ', "_")));
    let mut rows = Vec::new();
    let mut refusals = Vec::new();
    let mut classes = Vec::new();
    for (class, counts) in &report.counts {
        let mut row = vec![
            class.name().to_owned(),
            counts.questions.to_string(),
            counts.answered.to_string(),
            counts.refused.values().sum::<usize>().to_string(),
            counts.warned.to_string(),
        ];
        row.extend(Fault::ALL.map(|fault| counts.of(fault).to_string()));
        rows.push(row);
        for (reason, count) in &counts.refused {
            refusals.push(format!("{}: {count} refused: {reason}", class.name()));
        }
        let faults = Fault::ALL.map(|fault| (fault.name().replace(' ', "_"), counts.of(fault)));
        classes.push(json!({
            "class": class.name(),
            "questions": counts.questions,
            "answered": counts.answered,
            "refused": counts.refused,
            "two_liquids": counts.warned,
            "faults": faults.into_iter().collect::<BTreeMap<_, _>>(),
        }));
    }
    let finding = |one: &random::Finding| format!("{}: {}", one.fault.name(), one.text);
    let findings: Vec<String> = report.findings.iter().map(finding).collect();
    let shown = if findings.is_empty() {
        vec!["none".to_owned()]
    } else {
        findings.clone()
    };
    let title = format!("{} random questions, seed {seed}", report.questions());
    Answer {
        blocks: vec![
            Block::Title(title),
            Block::Table(Table {
                groups: Vec::new(),
                words: 1,
                heads: heads.iter().map(|head| head.replace('_', " ")).collect(),
                rows: rows.clone(),
            }),
            Block::Title("Refused, by reason".into()),
            Block::Lines(refusals),
            Block::Title("Faults, the first of each kind".into()),
            Block::Lines(shown),
        ],
        sheet: Sheet { heads, rows },
        json: json!({
            "questions": report.questions(),
            "seed": seed,
            "classes": classes,
            "findings": findings,
        }),
        warnings: Vec::new(),
    }
}

/// How a run ends whose table shows rows outside without a reason.
pub(super) fn outside() -> Failure {
    Failure::no_answer(
        "published values lie outside their tolerance without a known reason",
        "the answer names them below 'Outside without a reason'",
    )
}

fn source_cells(source: &SourceSummary) -> Vec<String> {
    vec![
        source.tier.name().into(),
        source.source.clone(),
        source.worst_row.clone(),
        source.rows.to_string(),
        if source.judged > 0 {
            significant(source.worst, 2)
        } else {
            "-".into()
        },
        source.excepted.to_string(),
        source.listed.to_string(),
        source.outside.to_string(),
    ]
}

fn source_table(sources: &[SourceSummary]) -> Table {
    let heads = [
        "tier",
        "source",
        "worst row",
        "rows",
        "worst",
        "excepted",
        "listed",
        "outside",
    ];
    Table {
        groups: Vec::new(),
        words: 3,
        heads: heads.map(str::to_owned).to_vec(),
        rows: sources.iter().map(source_cells).collect(),
    }
}

fn sheet(sources: &[SourceSummary]) -> Sheet {
    let heads = [
        "tier",
        "source",
        "worst_row",
        "rows",
        "worst_of_tolerance",
        "excepted",
        "listed",
        "outside",
    ];
    let rows = sources.iter().map(|source| {
        let mut cells = source_cells(source);
        cells[4] = number_cell((source.judged > 0).then_some(source.worst));
        cells
    });
    Sheet {
        heads: heads.map(str::to_owned).to_vec(),
        rows: rows.collect(),
    }
}

fn line(one: &Comparison) -> String {
    let row = &one.row;
    let computed = match &one.computed {
        Ok(value) => format!(
            "computed {}, {} of the tolerance",
            significant(*value, 7),
            significant(one.deviation, 3)
        ),
        Err(problem) => format!("not answered: {problem}"),
    };
    format!(
        "{}: published {} {}, {computed}",
        row.name(),
        row.value,
        row.unit
    )
}

/// A paragraph a reason, its rows below it.
fn reasons(comparisons: &[Comparison]) -> Vec<String> {
    let mut by_reason: BTreeMap<(&str, &str), Vec<String>> = BTreeMap::new();
    for one in comparisons {
        let key = match one.verdict {
            Verdict::Excepted(reason) => ("outside", reason),
            Verdict::Listed(reason) => ("not judged", reason),
            Verdict::Within | Verdict::Outside => continue,
        };
        by_reason.entry(key).or_default().push(line(one));
    }
    let mut lines = Vec::new();
    for ((kind, reason), rows) in by_reason {
        lines.push(format!("{kind}: {reason}."));
        lines.extend(rows.into_iter().map(|row| format!("- {row}")));
    }
    if lines.is_empty() {
        lines.push("none".into());
    }
    lines
}

/// The blends whose saturation tables the handbook prints to hundredths of a degree.
fn table_5(comparisons: &[Comparison]) -> String {
    let distances: Vec<f64> = comparisons
        .iter()
        .filter(|one| {
            one.row
                .source
                .contains("Handbook Fundamentals, saturation table")
        })
        .filter_map(|one| Some((one.computed.as_ref().ok()? - one.row.value).abs()))
        .collect();
    let largest = distances.iter().copied().fold(0.0, f64::max);
    format!(
        "R-404A, R-407C, R-410A, R-507A in the saturation tables of the handbook: {} points, \
         largest distance {} K.",
        distances.len(),
        fixed(largest, 3)
    )
}

fn blend_lines(blends: &[(BlendDistance, String)]) -> Vec<String> {
    let mut lines = Vec::new();
    for fitted in [false, true] {
        let part: Vec<&(BlendDistance, String)> = blends
            .iter()
            .filter(|(blend, _)| blend.fitted_to_these_values == fitted)
            .collect();
        let sizes = part.iter().filter_map(|(blend, _)| blend.difference());
        let Some(median) = validation::median(sizes) else {
            continue;
        };
        let what = match fitted {
            true => "fitted to these values, no check",
            false => "not fitted to these values",
        };
        let (points, median) = (part.len(), fixed(median, 2));
        lines.push(format!(
            "{what}: {points} points, median distance {median} K; from {FAR} K on, or not answered:"
        ));
        for (blend, reason) in part {
            let place = format!("- {} {}", blend.designation, blend.side);
            let published = blend.published;
            match (&blend.computed, blend.difference()) {
                (Err(problem), _) => lines.push(format!(
                    "{place}: published {published} °C, not answered: {problem}"
                )),
                (_, Some(distance)) if distance.abs() >= FAR => lines.push(format!(
                    "{place}: published {published} °C, {} K; {reason}",
                    fixed(distance, 2)
                )),
                _ => {}
            }
        }
    }
    lines.push(format!("Azeotropes: {AZEOTROPES_REASON}."));
    for (blend, _) in blends {
        if AZEOTROPES.contains(&blend.designation.as_str()) {
            let distance = match (&blend.computed, blend.difference()) {
                (Err(problem), _) => format!("not answered: {problem}"),
                (_, distance) => format!("{} K", fixed(distance.unwrap_or(f64::NAN), 2)),
            };
            lines.push(format!(
                "- {} {}: published {} °C, {distance}",
                blend.designation, blend.side, blend.published
            ));
        }
    }
    lines
}

fn pair_table(pairs: &[PairDistance]) -> Table {
    let heads = [
        "pair",
        "points",
        "papers",
        "bias %",
        "rms %",
        "bias K",
        "rms K",
        "unanswered",
        "suspect",
    ];
    let figure = |value: Option<f64>| value.map_or("-".into(), |value| fixed(value, 2));
    let rows = pairs.iter().map(|pair| {
        vec![
            format!(
                "{} + {}{}",
                pair.first,
                pair.second,
                if pair.refitted { ", refitted" } else { "" }
            ),
            pair.points.to_string(),
            pair.papers.to_string(),
            figure(pair.bias_percent),
            figure(pair.rms_percent),
            figure(pair.bias_kelvin),
            figure(pair.rms_kelvin),
            pair.unanswered.to_string(),
            pair.suspect.to_string(),
        ]
    });
    Table {
        groups: Vec::new(),
        words: 1,
        heads: heads.map(str::to_owned).to_vec(),
        rows: rows.collect(),
    }
}

fn source_json(source: &SourceSummary) -> Value {
    json!({
        "tier": source.tier.name(),
        "source": source.source,
        "rows": source.rows,
        "judged": source.judged,
        "worst_of_tolerance": number(source.worst),
        "worst_row": source.worst_row,
        "excepted": source.excepted,
        "listed": source.listed,
        "outside": source.outside,
    })
}

fn comparison_json(one: &Comparison) -> Value {
    let (verdict, reason) = match one.verdict {
        Verdict::Within => ("within", None),
        Verdict::Excepted(reason) => ("excepted", Some(reason)),
        Verdict::Listed(reason) => ("listed", Some(reason)),
        Verdict::Outside => ("outside", None),
    };
    json!({
        "row": one.row.name(),
        "source": one.row.source,
        "published": number(one.row.value),
        "unit": one.row.unit,
        "computed": one.computed.as_ref().map_or(Value::Null, |value| number(*value)),
        "of_tolerance": number(one.deviation),
        "verdict": verdict,
        "reason": reason,
        "problem": one.computed.as_ref().err(),
    })
}

fn blend_json((blend, reason): &(BlendDistance, String)) -> Value {
    json!({
        "refrigerant": blend.designation,
        "side": blend.side,
        "published_C": number(blend.published),
        "source": blend.source,
        "computed_C": blend.computed.as_ref().map_or(Value::Null, |value| number(*value)),
        "fitted_to_these_values": blend.fitted_to_these_values,
        "problem": blend.computed.as_ref().err(),
        "what_may_be_behind": reason,
    })
}

fn pair_json(pair: &PairDistance) -> Value {
    json!({
        "first": pair.first,
        "second": pair.second,
        "points": pair.points,
        "papers": pair.papers,
        "bias_percent": pair.bias_percent,
        "rms_percent": pair.rms_percent,
        "bias_K": pair.bias_kelvin,
        "rms_K": pair.rms_kelvin,
        "refitted": pair.refitted,
        "unanswered": pair.unanswered,
        "suspect": pair.suspect,
    })
}
