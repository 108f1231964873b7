//! What a record must fulfil beyond its shape.

use super::literal::is_literal;
use super::reading::SourceText;
use super::records::{
    AncillaryRecord, AncillarySeries, DepartureRecord, IdealGasRecord, PairKind, PairRecord,
    PureRecord, ResidualRecord,
};
use crate::Result;

/// Checks a pure refrigerant.
pub(super) fn pure(source: &SourceText<'_>, record: &PureRecord) -> Result<()> {
    source.all_finite("", record)?;
    for (path, text) in [
        ("designation", &record.designation),
        ("name", &record.name),
        ("formula", &record.formula),
        ("reference.authors", &record.reference.authors),
        ("reference.journal", &record.reference.journal),
    ] {
        not_blank(source, path, text)?;
    }
    no_literal(source, "designation", &record.designation)?;
    no_literal(source, "name", &record.name)?;
    for (number, spelling) in record.spellings.iter().enumerate() {
        no_literal(source, &format!("spellings[{number}]"), spelling)?;
    }
    let published = &record.critical_point.published;
    let mut positive = vec![
        ("molar_mass_kg_mol", record.molar_mass_kg_mol),
        ("gas_constant_J_mol_K", record.gas_constant_j_mol_k),
        (
            "critical_point.published.temperature_K",
            published.temperature_k,
        ),
        (
            "critical_point.published.pressure_Pa",
            published.pressure_pa,
        ),
        (
            "critical_point.published.density_mol_m3",
            published.density_mol_m3,
        ),
        ("range.temperature_min_K", record.range.temperature_min_k),
        ("range.temperature_max_K", record.range.temperature_max_k),
        ("range.pressure_max_Pa", record.range.pressure_max_pa),
        ("reducing.temperature_K", record.reducing.temperature_k),
        ("reducing.density_mol_m3", record.reducing.density_mol_m3),
    ];
    if let Some(equation) = &record.critical_point.equation {
        positive.extend([
            (
                "critical_point.equation.temperature_K",
                equation.temperature_k,
            ),
            (
                "critical_point.equation.density_mol_m3",
                equation.density_mol_m3,
            ),
        ]);
    }
    if let Some(limit) = &record.lfl_kg_m3 {
        positive.push(("lfl_kg_m3.value", limit.value));
    }
    for (path, value) in positive {
        above_zero(source, path, value)?;
    }
    // No refrigerant comes near 1 kg/mol: such a number was written in g/mol.
    if record.molar_mass_kg_mol > 1.0 {
        let problem = format!(
            "{} kg/mol is no molar mass of a refrigerant; is it in g/mol?",
            record.molar_mass_kg_mol
        );
        return Err(source.error("molar_mass_kg_mol", problem));
    }
    // 8.31446 since 2019; old papers rounded it to 8.31434 or 8.3143.
    if !(8.2..8.4).contains(&record.gas_constant_j_mol_k) {
        return Err(source.error(
            "gas_constant_J_mol_K",
            "the gas constant lies near 8.314 J/(mol K)",
        ));
    }
    if record.range.temperature_min_k >= record.range.temperature_max_k {
        return Err(source.error(
            "range.temperature_min_K",
            "the lowest temperature is not below the highest",
        ));
    }
    ideal_gas(source, &record.ideal_gas)?;
    residual(source, &record.residual)?;
    ancillary(source, &record.ancillary)?;
    for (number, check) in record.check_values.iter().enumerate() {
        let path = format!("check_values[{number}]");
        above_zero(
            source,
            &format!("{path}.temperature_K"),
            check.temperature_k,
        )?;
        above_zero(source, &format!("{path}.rtol"), check.rtol)?;
    }
    Ok(())
}

/// Checks a pair.
pub(super) fn pair(source: &SourceText<'_>, record: &PairRecord) -> Result<()> {
    source.all_finite("", record)?;
    not_blank(source, "first", &record.first)?;
    not_blank(source, "second", &record.second)?;
    not_blank(source, "source", &record.source)?;
    if record.first == record.second {
        return Err(source.error("second", "a pair has two different components"));
    }
    let reducing = &record.reducing;
    let mut positive = vec![
        ("reducing.beta_t", reducing.beta_t),
        ("reducing.gamma_t", reducing.gamma_t),
        ("reducing.beta_v", reducing.beta_v),
        ("reducing.gamma_v", reducing.gamma_v),
    ];
    if let Some(refit) = &record.refitted {
        positive.push(("refitted.beta_t", refit.beta_t));
        positive.push(("refitted.gamma_t", refit.gamma_t));
    }
    if let Some(measured) = &record.measured {
        positive.push(("measured.points", measured.points as f64));
        positive.push(("measured.papers", measured.papers as f64));
    }
    if let Some(measured) = &record.measured_vapors {
        positive.push(("measured_vapors.points", measured.points as f64));
        positive.push(("measured_vapors.papers", measured.papers as f64));
    }
    for (path, value) in positive {
        above_zero(source, path, value)?;
    }
    if record
        .refitted
        .as_ref()
        .is_some_and(|refit| refit.papers.is_empty())
    {
        return Err(source.error("refitted.papers", "a refit names the papers of its points"));
    }
    match (record.kind, &record.departure) {
        (PairKind::Departure, None) => Err(source.error(
            "kind",
            "a pair of kind departure names its function under 'departure'",
        )),
        (PairKind::Reducing | PairKind::Estimated, Some(_)) => Err(source.error(
            "departure",
            "only a pair of kind departure has a departure function",
        )),
        (PairKind::Departure, Some(_)) if record.departure_factor == 0.0 => Err(source.error(
            "departure_factor",
            "a departure function with the factor 0 does nothing; give its factor",
        )),
        _ => Ok(()),
    }
}

/// Checks a departure function.
pub(super) fn departure(source: &SourceText<'_>, record: &DepartureRecord) -> Result<()> {
    source.all_finite("", record)?;
    not_blank(source, "name", &record.name)?;
    not_blank(source, "source", &record.source)?;
    residual(source, &record.residual)
}

fn ideal_gas(source: &SourceText<'_>, terms: &IdealGasRecord) -> Result<()> {
    if let Some(power) = &terms.power {
        equally_long(
            source,
            "ideal_gas.power",
            &[("n", &power.n), ("t", &power.t)],
        )?;
    }
    if let Some(planck) = &terms.planck_einstein {
        equally_long(
            source,
            "ideal_gas.planck_einstein",
            &[("n", &planck.n), ("theta", &planck.theta)],
        )?;
        if let Some(place) = planck.theta.iter().position(|theta| *theta <= 0.0) {
            let path = format!("ideal_gas.planck_einstein.theta[{place}]");
            return Err(source.error(&path, "theta is not above zero"));
        }
    }
    if let Some(capacity) = &terms.heat_capacity_polynomial {
        equally_long(
            source,
            "ideal_gas.heat_capacity_polynomial",
            &[("n", &capacity.n), ("t", &capacity.t)],
        )?;
    }
    Ok(())
}

fn residual(source: &SourceText<'_>, terms: &ResidualRecord) -> Result<()> {
    let mut shapes = 0;
    let mut block = |name: &str, lists: &[(&str, &Vec<f64>)]| {
        shapes += 1;
        equally_long(source, &format!("residual.{name}"), lists)
    };
    if let Some(b) = &terms.power {
        block("power", &[("n", &b.n), ("t", &b.t), ("d", &b.d)])?;
    }
    if let Some(b) = &terms.exponential {
        let mut lists = vec![("n", &b.n), ("t", &b.t), ("d", &b.d), ("l", &b.l)];
        lists.extend(b.g.as_ref().map(|g| ("g", g)));
        block("exponential", &lists)?;
    }
    for (name, bell) in [
        ("gaussian", &terms.gaussian),
        ("gerg_bell", &terms.gerg_bell),
    ] {
        if let Some(b) = bell {
            let lists = [
                ("n", &b.n),
                ("t", &b.t),
                ("d", &b.d),
                ("eta", &b.eta),
                ("epsilon", &b.epsilon),
                ("beta", &b.beta),
                ("gamma", &b.gamma),
            ];
            block(name, &lists)?;
        }
    }
    if let Some(b) = &terms.gao {
        let lists = [
            ("n", &b.n),
            ("t", &b.t),
            ("d", &b.d),
            ("eta", &b.eta),
            ("epsilon", &b.epsilon),
            ("beta", &b.beta),
            ("gamma", &b.gamma),
            ("b", &b.b),
        ];
        block("gao", &lists)?;
    }
    if let Some(b) = &terms.double_exponential {
        let lists = [
            ("n", &b.n),
            ("t", &b.t),
            ("d", &b.d),
            ("l", &b.l),
            ("m", &b.m),
        ];
        block("double_exponential", &lists)?;
    }
    if let Some(b) = &terms.non_analytic {
        let lists = [
            ("n", &b.n),
            ("a", &b.a),
            ("b", &b.b),
            ("beta", &b.beta),
            ("big_a", &b.big_a),
            ("big_b", &b.big_b),
            ("big_c", &b.big_c),
            ("big_d", &b.big_d),
        ];
        block("non_analytic", &lists)?;
    }
    if shapes == 0 {
        return Err(source.error("residual", "the residual part has no term"));
    }
    Ok(())
}

fn ancillary(source: &SourceText<'_>, record: &AncillaryRecord) -> Result<()> {
    above_zero(source, "ancillary.temperature_K", record.temperature_k)?;
    let series: [(&str, &AncillarySeries); 3] = [
        ("ancillary.pressure", &record.pressure),
        ("ancillary.liquid_density", &record.liquid_density),
        ("ancillary.vapor_density", &record.vapor_density),
    ];
    for (path, series) in series {
        above_zero(source, &format!("{path}.scale"), series.scale)?;
        equally_long(source, path, &[("n", &series.n), ("t", &series.t)])?;
    }
    if record.largest_error.iter().any(|error| *error < 0.0) {
        return Err(source.error("ancillary.largest_error", "an error is below zero"));
    }
    Ok(())
}

/// Every list of a block of terms is as long as its first, and none is empty.
fn equally_long(source: &SourceText<'_>, path: &str, lists: &[(&str, &Vec<f64>)]) -> Result<()> {
    let Some((first, rest)) = lists.split_first() else {
        return Ok(());
    };
    if first.1.is_empty() {
        return Err(source.error(&format!("{path}.{}", first.0), "the list is empty"));
    }
    for (name, list) in rest {
        if list.len() != first.1.len() {
            let problem = format!(
                "{} numbers, where '{}' has {}",
                list.len(),
                first.0,
                first.1.len()
            );
            return Err(source.error(&format!("{path}.{name}"), problem));
        }
    }
    Ok(())
}

fn above_zero(source: &SourceText<'_>, path: &str, value: f64) -> Result<()> {
    if value > 0.0 {
        Ok(())
    } else {
        Err(source.error(path, format!("{value} is not above zero")))
    }
}

/// A name that reads as a composition could not be asked for.
pub(super) fn no_literal(source: &SourceText<'_>, path: &str, text: &str) -> Result<()> {
    if is_literal(text) {
        let problem = format!("'{text}' reads as a composition, not as a name");
        return Err(source.error(path, problem));
    }
    Ok(())
}

pub(super) fn not_blank(source: &SourceText<'_>, path: &str, text: &str) -> Result<()> {
    if text.trim().is_empty() {
        Err(source.error(path, "the text is blank"))
    } else {
        Ok(())
    }
}
