"""Plants faults in the engine and the answers, one at a time, and names those that tests let live.

    python tools/faults.py            # all of them
    python tools/faults.py curve      # those whose file's name holds a word

A fault is an expression changed as a slip would change it. All are planted at once into a copy of
the tree, each behind a number, so that one build serves all of them; for each
fault by itself the tests that should notice run, then the wider ones of its room. What survives is
printed; the exit code says whether any does that is not listed with a reason.
"""

import os
import pathlib
import re
import resource
import signal
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
TREE = ROOT / "target" / "faults" / "tree"

# file, expression as it stands once in it, its part that is changed, what it becomes, tests that
# should notice
FAULTS = [
    # equilibrium
    ("src/equilibrium/at_temperature.rs", "Some(dew) if found.pressure > dew.pressure => {",
     "found.pressure > dew.pressure", "found.pressure < dew.pressure", "random_questions::dew_points"),
    ("src/equilibrium/critical.rs", "1.0 + r.d + r.dd\n        };", "1.0 + r.d + r.dd",
     "1.0 + r.d + r.dd + 1e-4", "saturation"),
    ("src/equilibrium/critical.rs", "(4.0 * slope(ALONG) - slope(2.0 * ALONG)) / 3.0",
     "(4.0 * slope(ALONG) - slope(2.0 * ALONG)) / 3.0", "slope(40.0 * ALONG)", "blends"),
    ("src/equilibrium/trial_phase.rs", "rich.flat_map(|k| RICH.map(", "RICH",
     "[0.5, 0.45]", "blends"),
    ("src/equilibrium/stability.rs", "above / self.scale > EQUAL", "EQUAL", "1e-2", "blends"),
    ("src/equilibrium/stability.rs", "(n / own - 1.0).abs() < width)", "width", "0.5",
     "blends"),
    ("src/equilibrium/stability.rs", "self.target[k].exp() * rt > ALONE * own", "ALONE", "1e9",
     "blends"),
    ("src/equilibrium/stability.rs", "sum < 0.7 * there.reducing_density && !rises_to(&isotherm, sum)",
     "!rises_to(&isotherm, sum)", "false", "blends"),
    ("src/equilibrium/phase_pair.rs", "vapor_density * (1.0 + ONE_PHASE)", "ONE_PHASE", "1e-1", "blends"),
    ("src/equilibrium/phase_pair.rs", "differ && self.liquid_is_heavier(mixture)",
     "self.liquid_is_heavier(mixture)", "false", "random_once_lost"),
    ("src/equilibrium/patient_trial.rs", "depth > BELOW && ", "BELOW", "1e9", "random_once_lost"),
    ("src/equilibrium/at_pressure.rs", "is_lost || self.may_fall(&found),",
     "self.may_fall(&found)", "false", "random_once_lost"),
    ("src/equilibrium/at_pressure.rs", "let is_dew = self.branch == Branch::Dew;",
     "self.branch == Branch::Dew", "true", "random_once_lost"),
    ("src/equilibrium/scan.rs", "density > DENSE * self.blend", "DENSE", "9.0", "random_once_lost"),
    ("src/equilibrium/line.rs", "ends.all(|pair| !pair_is_unstable(mixture, pair))",
     "!pair_is_unstable(mixture, pair)", "true", "random_once_lost"),
    ("src/equilibrium/search.rs", "is_one_branch(a, b) || matches!(along, Along::Isotherm(t) if rises(t))",
     "matches!(along, Along::Isotherm(t) if rises(t))", "false", "random_once_lost"),
    ("src/equilibrium/vapor_over_liquids.rs", "if pressure <= 0.0 || !rises_to(&isotherm, *density) {",
     "pressure <= 0.0 || !rises_to(&isotherm, *density)", "false", "random_once_lost"),
    ("src/equilibrium/vapor_over_liquids.rs", "y - (1.0 - self.share) * a - self.share * b;",
     "y - (1.0 - self.share) * a - self.share * b", "y", "three_phases"),
    ("src/equilibrium/vapor_over_liquids.rs", "row[3 * count] = (1.0 - self.beta) * (b.value - a.value) / scale;",
     "(b.value - a.value)", "(a.value - b.value)", "three_phases"),
    ("src/equilibrium/three_phases.rs", "*content *= rival.excess.exp();", "rival.excess.exp()", "1.0",
     "three_phases"),
    ("src/equilibrium/mod.rs", "(1.0 - share) * property(a) + share * property(b);",
     "(1.0 - share) * property(a) + share * property(b)", "property(a)", "three_phases"),
    ("src/refrigerant/state.rs", "second / (second + (1.0 - share) * a.molar_mass);",
     "second / (second + (1.0 - share) * a.molar_mass)", "share", "three_phases"),
    ("src/equilibrium/line.rs", "let is_frozen = branch == Branch::Dew", "branch == Branch::Dew", "false",
     "random_questions"),
    ("src/equilibrium/search.rs", "let Some(One::Thin(_)) = self.one(along, frost)",
     "self.one(along, frost)", "None::<One>", "random_questions"),
    ("src/equilibrium/state_of_blend/brackets.rs", "let held = held.filter(|held| !held.parted && is_met(held));",
     "!held.parted && is_met(held)", "true", "three_phases"),
    ("src/equilibrium/scan.rs", "if is_end { HALVINGS_TO_AN_END } else", "is_end", "false", "random_once_lost"),
    ("src/equilibrium/scan.rs", "is_some_and(|off| off.abs() < SAME)", "off.abs() < SAME",
     "off.abs() < 0.0", "random_once_lost"),
    ("src/equilibrium/scan.rs", "Err(Error::AboveRange { .. }) => self.keep(Sample::above(temperature)),",
     "self.keep(Sample::above(temperature))", "Sample::none(temperature)", "random_once_lost"),
    ("src/equilibrium/scan.rs", "if there.is_far_above() {", "there.is_far_above()", "true", "random_once_lost"),
    ("src/equilibrium/scan.rs", "nearest > STRAIGHT * bent", "STRAIGHT * bent", "0.0", "random_once_lost"),
    ("src/equilibrium/scan.rs", "let is_new = k < PARTS || self.is_lost;", "k < PARTS || self.is_lost", "true",
     "random_once_lost"),
    ("src/equilibrium/at_pressure.rs", "if !self.is_found_again(&scanned) => Ok(found),",
     "!self.is_found_again(&scanned)", "false", "random_once_lost"),
    ("src/equilibrium/line.rs", "temperature < FAR_FROM_GAS * reducing_temperature(mixture, x)",
     "FAR_FROM_GAS", "9.0", "random_once_lost"),
    ("src/equilibrium/substitution.rs", "!shares.is_split && largest(&steps[1][..count]) < small;",
     "!shares.is_split", "true", "random_once_lost"),
    ("src/equilibrium/substitution.rs", "let all = if part < 1.0 {", "part < 1.0", "false", "random_once_lost"),
    ("src/equilibrium/flash.rs", "sought.repeats > MOST_REPEATS", "MOST_REPEATS", "0", "random_once_lost"),
    ("src/equilibrium/flash.rs", "own == split && are_alike(with, rival);", "are_alike(with, rival)", "true",
     "random_once_lost"),
    ("src/equilibrium/scan.rs", "away > 0.0 && away < FAR_BEFORE", "away < FAR_BEFORE", "true",
     "random_once_lost"),
    ("src/equilibrium/scan.rs", "off.abs() > STRAIGHT * ((off - before) / away).abs()",
     "STRAIGHT * ((off - before) / away).abs()", "0.0", "random_once_lost"),
    ("src/equilibrium/at_pressure.rs", "return (self.is_on_line(&found) == Some(true)).then_some(found);",
     "self.is_on_line(&found) == Some(true)", "true", "random_once_lost"),
    ("src/equilibrium/at_pressure.rs", "match temperature < far_below * self.reducing {",
     "temperature < far_below * self.reducing", "false", "random_once_lost"),
    ("src/equilibrium/state_of_blend/brackets.rs", "(one_of(&found).is_some() && is_met(&found)).then_some(found)",
     "one_of(&found).is_some() && is_met(&found)", "one_of(&found).is_some()", "random_once_lost"),
    ("src/equilibrium/state_of_blend/brackets.rs", ".is_some_and(|one| falls(&one) <= 0.0)",
     "falls(&one) <= 0.0", "true", "random_once_lost"),
    ("src/equilibrium/line.rs", "(Err(none), Some(upper))", "Some(upper)", "None", "random_once_lost"),
    ("src/equilibrium/trails.rs", "(n - other).abs() < BESIDE * sum)", "BESIDE", "0.3", "random_once_lost"),
    ("src/equilibrium/trails.rs", "if trail.all.len() == own {", "trail.all.len() == own", "false",
     "random_once_lost"),
    ("src/equilibrium/one_phase.rs", "if slope > 0.0 && step < SETTLED {", "slope > 0.0", "true",
     "random_once_lost"),
    ("src/helmholtz/reducing.rs", "if beta == 1.0 {", "beta == 1.0", "beta > 0.0", "blends"),
    ("src/equilibrium/at_pressure.rs", "if is_within || !comes_back() {", "!comes_back()", "true",
     "random_once_lost"),
    ("src/equilibrium/near_the_top.rs", "found.pressure > search(mixture, z).highest_pressure =>",
     "found.pressure > search(mixture, z).highest_pressure", "false", "random_once_lost"),
    ("src/equilibrium/line.rs", "Ok((own, found)) if own == branch => within((own, found)),", "own == branch", "false",
     "random_once_lost"),
    ("src/equilibrium/flash.rs", "if is_one(&own) && liquids.iter().all(is_one) {", "is_one(&own)",
     "(is_one(&own) || true)", "random_once_lost"),
    ("src/equilibrium/vapor_over_liquids.rs", "if are_one(vapor, a) ||", "are_one(vapor, a)", "(share > 2.0)",
     "random_once_lost"),
    ("src/equilibrium/vapor_over_liquids.rs", "|| are_one(a, b) {", "are_one(a, b)", "(share > 2.0)", "two_liquids"),
    ("src/equilibrium/mod.rs", "(state.quality() - quality).abs() < QUALITY_MET",
     "(state.quality() - quality).abs() < QUALITY_MET", "true", "random_once_lost"),
    ("src/equilibrium/state_of_blend/by_quality.rs",
     "self.closed(&look, &error, ends, sought).filter(is_met);",
     "self.closed(&look, &error, ends, sought).filter(is_met)",
     "self.closed(&look, &error, ends, sought)", "random_once_lost"),
    ("src/equilibrium/state_of_blend/brackets.rs", "(above.at - below.at).abs() / above",
     "(above.at - below.at).abs()", "(above.at - below.at)", "random_once_lost"),
    ("src/equilibrium/state_of_blend/by_quality.rs", "if off(&nearest) <= 0.0 {", "off(&nearest) <= 0.0",
     "false", "random_once_lost"),
    ("src/equilibrium/bubble_dew.rs", "jump > 0.2 && jump < 3.0", "jump > 0.2 && jump < 3.0", "true",
     "blends"),
    ("src/equilibrium/pure.rs", "pressure: isotherm.pressure(vapor),", "isotherm.pressure(vapor)",
     "isotherm.pressure(liquid)", "saturation"),
    ("src/equilibrium/pure.rs", "1.0 / at.vapor_density - 1.0 / at.liquid_density",
     "1.0 / at.vapor_density - 1.0 / at.liquid_density", "1.0 / at.vapor_density", "saturation"),
    ("src/equilibrium/slope.rs", "terms.pressure_by_log_temperature + along",
     "terms.pressure_by_log_temperature + along", "terms.pressure_by_log_temperature - along", "derived"),
    ("src/equilibrium/at_pressure.rs", "if b.temperature < a.temperature { b }",
     "b.temperature < a.temperature", "b.temperature > a.temperature", "blends"),
    ("src/equilibrium/end_of_line.rs", "Branch::Dew => envelope.critical.pressure,",
     "envelope.critical.pressure", "envelope.cricondenbar.pressure", "saturation"),
    ("src/equilibrium/envelope.rs", ".count() > 1", "1", "9", "blends"),
    ("src/equilibrium/line.rs", "Some(high + MARGIN)", "MARGIN", "-5.0", "curves"),
    ("src/equilibrium/search.rs", "Err(_) if density > gas =>", "density > gas", "false",
     "random_once_lost"),
    ("src/equilibrium/search.rs", ".map(|found| (Branch::Bubble, found))\n", "(Branch::Bubble, found)",
     "(Branch::Dew, found)", "random_once_lost"),
    ("src/equilibrium/stability.rs", "sum > packed || rises_between(&isotherm, sum, packed);",
     "sum > packed || rises_between(&isotherm, sum, packed)", "true", "random_once_lost"),
    ("src/equilibrium/stability.rs", "proof.filter(|proof| self.is_at_pressure(&proof.trial))",
     "self.is_at_pressure(&proof.trial)", "true", "random_once_lost"),
    ("src/equilibrium/stability.rs", "self.may_be_parting = true;", "true", "false",
     "random_once_lost"),
    ("src/equilibrium/scan.rs", "            middle < first.min(last) && 2.0",
     "middle < first.min(last)", "false", "random_once_lost"),
    ("src/equilibrium/one_phase.rs", "if energy(dense) < energy(thin) {", "energy(dense) < energy(thin)",
     "energy(dense) > energy(thin)", "states_of_blends"),
    ("src/equilibrium/flash.rs", "if is_liquid(mixture, &pair.vapor, pair.temperature, pair.vapor_density) {",
     "is_liquid(mixture, &pair.vapor, pair.temperature, pair.vapor_density)", "false", "two_liquids"),
    ("src/equilibrium/flash.rs", "let parted = self.parted(split, rival)?;", "self.parted(split, rival)",
     "None::<Split>", "three_phases"),
    ("src/equilibrium/three_phases.rs", "1.0 / ((1.0 - found.share) / a.1 + found.share / b.1)",
     "1.0 / ((1.0 - found.share) / a.1 + found.share / b.1)", "(1.0 - found.share) * a.1 + found.share * b.1",
     "two_liquids"),
    ("src/equilibrium/vapor_over_liquids.rs", "let slope = at.pressure / (at.temperature * change",
     "at.temperature", "(1.01 * at.temperature)", "two_liquids"),
    ("src/equilibrium/rivals.rs", "liquids.are_all = false;", "false", "true", "two_liquids"),
    ("src/equilibrium/state_of_blend/last_steps.rs", "Found::TwoLiquids(found) if was_told =>", "was_told", "false",
     "two_liquids"),
    ("src/equilibrium/state_of_blend/mod.rs", "share: split.vapor_fraction,", "split.vapor_fraction",
     "1.0 - split.vapor_fraction", "two_liquids"),
    ("src/refrigerant/saturation.rs", "[0, 1].map(|k| (1.0 - share) * a[k] + share * b[k])",
     "(1.0 - share) * a[k] + share * b[k]", "a[k]", "two_liquids"),
    ("src/refrigerant/beside_lines.rs", "edge.map_or(coldest, |edge| coldest.max(edge))",
     "edge.map_or(coldest, |edge| coldest.max(edge))", "edge.map_or(coldest, |_| coldest)", "batch"),
    ("src/equilibrium/split.rs", "let (mv, ml) = (mass(vapor), mass(liquid));", "(mass(vapor), mass(liquid))",
     "(1.0, 1.0)", "states_of_blends"),
    ("src/equilibrium/conditions.rs", "found.value = (energy + terms.pressure_over_temperature) * scale",
     "(energy + terms.pressure_over_temperature)", "energy", "states_of_blends"),
    ("src/refrigerant/saturation.rs", "&& inner.line.begins_lowest(mixture, z, branch)",
     "inner.line.begins_lowest(mixture, z, branch)", "true", "random_once_lost"),
    ("src/equilibrium/line.rs", ".filter(|found| self.is_stable(mixture, z, branch, found))?;",
     "self.is_stable(mixture, z, branch, found)", "found.pressure > 0.0", "random_once_lost"),
    # curve
    ("src/curve/line.rs", "Some(end * (1.0 - END))", "END", "3e-3", "curves"),
    ("src/curve/line.rs", ".map_or(low, |edge| low.max(edge))", "low.max(edge)", "low.min(edge)", "curves"),
    ("src/curve/build.rs", "        ACCURACY\n    }", "ACCURACY", "1e-5", "curves"),
    ("src/curve/build.rs", "let accuracy = SHARE * accuracy(low, self.near_top);", "SHARE", "1e3", "curves"),
    ("src/curve/build.rs", "            liquid.entropy,\n", "liquid.entropy",
     "liquid.entropy * (1.0 + 1e-7)", "curves"),
    ("src/curve/build.rs", "if *temperature < near * (1.0 - ACCURACY_NEAR_TOP) {",
     "*temperature < near * (1.0 - ACCURACY_NEAR_TOP)", "false", "curves"),
    ("src/curve/build.rs", "1.0 => self.end(high)?,", "self.end(high)?", "self.read(&piece, temperature)",
     "random_once_lost"),
    ("src/curve/mod.rs", "*x = of(OTHER + k).max(0.0);", "of(OTHER + k)", "of(OTHER + k) + 1e-8", "curves"),
    # process
    ("src/process/shift/tilt.rs", "-self.epsilon * liquid[self.first]", "-self.epsilon",
     "self.epsilon", "shift_measured"),
    ("src/process/shift/book.rs", "1.0 - moles(&moment.amounts) / moles(start)",
     "1.0 - moles(&moment.amounts) / moles(start)", "moles(&moment.amounts) / moles(start)", "shift"),
    ("src/process/shift/refill.rs", "*n += lost * added;", "lost * added", "*added", "shift"),
    ("src/process/shift/tolerance.rs", "percent >= -below - ROUNDING && percent <= above + ROUNDING",
     "-below - ROUNDING", "-above - ROUNDING", "shift"),
    ("src/process/shift/uncertainty.rs", "if whole > 0.0 { left / whole } else { 0.0 }",
     "left / whole", "1.0 - left / whole", "shift_measured"),
    ("src/process/shift/vessel.rs", "(density - pair.vapor_density) / (",
     "density - pair.vapor_density", "pair.liquid_density - density", "shift"),
    ("src/process/coil.rs", "effective_glide: dew.temperature - entering.temperature",
     "entering.temperature", "ends.bubble.temperature", "coil"),
    ("src/process/coil.rs", "k if k % 2 == 1 => 4.0 * value,", "4.0", "3.0", "coil"),
    ("src/process/azeotrope.rs", "Ok(self.bubble(&[x, 1.0 - x], Some(near))?.vapor[0] - x)",
     "self.bubble(&[x, 1.0 - x], Some(near))?.vapor[0] - x",
     "self.bubble(&[x, 1.0 - x], Some(near))?.vapor[0] - x - 1e-3",
     "picture_azeotropes"),
    ("src/process/cycle/comparison.rs", "mass_flow: first.effect / one.effect",
     "first.effect / one.effect", "one.effect / first.effect", "cycle"),
    ("src/process/cycle/single.rs", "(ideal.enthalpy - from.enthalpy) / self.efficiency",
     "(ideal.enthalpy - from.enthalpy) / self.efficiency",
     "(ideal.enthalpy - from.enthalpy) * self.efficiency", "cycle"),
    ("src/process/cycle/two_stage.rs", "(h3 - eight.enthalpy) / (nine.enthalpy - h3)",
     "h3 - eight.enthalpy", "two.enthalpy - eight.enthalpy", "cycle"),
    ("src/process/cycle/best.rs", "if one.1 > best.1 { one }", "one.1 > best.1", "one.1 < best.1", "cycle"),
    ("src/process/cycle/running.rs", "squares * slopes[place].powi(2) / 3.0)", "3.0", "2.0",
     "running_cycle"),
    ("src/process/pipe.rs", "asked.diameter.powi(2) / 4.0", "4.0", "2.0", "pipes"),
    ("src/process/riser.rs", "pressure.in_pascal() - head)", "pressure.in_pascal() - head",
     "pressure.in_pascal() + head", "pipes"),
    # service
    ("src/service/vessel/rise.rs", "if last > 0.7 * first", "0.7", "0.9", "nitrogen_and_vacuum"),
    ("src/service/vessel/rise.rs", "total < STEPS * step", "STEPS", "3.0", "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "vacuum.pressure.in_pascal() / water.pressure.in_pascal()",
     "vacuum.pressure.in_pascal() / water.pressure.in_pascal()",
     "water.pressure.in_pascal() / vacuum.pressure.in_pascal()", "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "if pressure >= TRIPLE_PRESSURE {", "pressure >= TRIPLE_PRESSURE",
     "pressure > TRIPLE_PRESSURE", "nitrogen_and_vacuum"),
    ("src/service/vessel/cylinder.rs", "by_liquid(FILLED_AT, LIQUID_SHARE)", "LIQUID_SHARE", "0.85", "vessels"),
    ("src/service/vessel/pressure_test.rs", "start.pressure.in_pascal() * at.in_kelvin() / start.temperature.in_kelvin()",
     "at.in_kelvin() / start.temperature.in_kelvin()", "start.temperature.in_kelvin() / at.in_kelvin()",
     "nitrogen_and_vacuum"),
    ("src/service/vessel/at_rest.rs", "} else if dew.excess < 0.0 {", "dew.excess", "bubble.excess", "vessels"),
    ("src/service/vessel/gauge_check.rs", "span_factor: expected / (read - open),", "(read - open)", "read",
     "vessels_kit"),
    ("src/service/measurement/gauge.rs", "self.span_factor * (shown - self.zero_offset)",
     "shown - self.zero_offset", "shown + self.zero_offset", "vessels_kit"),
    ("src/service/measurement/uncertainty.rs", "side.min(2.0 * standard)", "side.min(2.0 * standard)",
     "2.0 * standard", "readings_unsure"),
    ("src/service/measurement/significance.rs", "if difference.abs() > self.worst {",
     "self.worst", "self.usual", "vessels"),
    ("src/service/measurement/decision.rs", "error - below >= -band && error + above <= band",
     "error - below >= -band", "error + below >= -band", "readings_unsure"),
    ("src/service/reading/log/statistics.rs", "drift.abs() > (8.0 * rest).sqrt()", "8.0", "2.0",
     "logger"),
    ("src/service/reading/log/statistics.rs", "value > self.lowest.1 + self.threshold",
     "self.threshold", "2.0 * self.threshold", "logger"),
    ("src/service/reading/log/columns.rs", "if suction.is_none() && liquid.is_none() {",
     "suction.is_none() && liquid.is_none()", "suction.is_none() || liquid.is_none()", "readings_log"),
    ("src/service/reading/both_sides/machine.rs", "((liquid / high).powi(2) + (suction / low).powi(2)) / 3.0",
     "3.0", "2.0", "readings_unsure"),
    ("src/service/air/moist_air.rs", "ratio * p / (MASS_RATIO + ratio)", "MASS_RATIO + ratio", "MASS_RATIO",
     "moist_air"),
    ("src/service/air/target_superheat.rs", "top + y * (bottom - top)", "y", "x", "target_superheat"),
    ("src/service/hazard/gwp.rs", "component.mass_fraction * one.value", "component.mass_fraction",
     "1.0", "trust"),
    ("src/service/hazard/exposure.rs", "Self(share * molar_mass / MOLAR_VOLUME)",
     "molar_mass / MOLAR_VOLUME", "MOLAR_VOLUME / molar_mass", "vessels"),
    ("src/service/hazard/hazards.rs", "Ok(pressure) if pressure <= ORDINARY_PRESSURE => {",
     "pressure <= ORDINARY_PRESSURE", "pressure >= ORDINARY_PRESSURE", "pages"),
]

# Who is asked next about a fault that its own tests do not notice.
WIDER = {
    "src/equilibrium/": "saturation states_of_pures derived random_questions::dew_points "
                        "random_questions::phases random_questions::a_dew_point states_of_blends blends "
                        "published_values tolerance random_questions::answers_about_refrigerants "
                        "random_questions::answers_with_water_or_a_gas_withstand_the_judge_again",
    "src/helmholtz/": "saturation derived published_values states_of_blends",
    "src/curve/": "batch saturation published_values",
    "src/refrigerant/": "two_liquids three_phases saturation batch states_of_blends published_values",
    "src/process/": "coil cycle cycle_program pages picture_numbers pipes running_cycle shift shift_measured "
                    "program_answers",
    "src/service/": "logger pages program_answers readings readings_log readings_unsure service_questions "
                    "short_answers technician trust vessels vessels_kit",
}

# Faults that live, by file and what they put there, and why no test is wanted.
LIVE = {
    ("src/equilibrium/vapor_over_liquids.rs", "(a.value - b.value)"):
        "a wrong slope costs steps, or brackets lead there: slower, and the same",
    ("src/equilibrium/stability.rs", "0.5"):
        "only where the energy is convex, and there a trial half as far comes to the same phase",
    ("src/equilibrium/stability.rs", "false"):
        "of refrigerants no trial comes to rest behind a loop; the guard is for the oldest equations",
    ("src/equilibrium/stability.rs", "1e9"):
        "no question of the judge with water or a gas, of two seeds, depends on it",
    ("src/equilibrium/trial_phase.rs", "[0.5, 0.45]"):
        "among refrigerants a liquid half of a component finds the same second liquids",
    ("src/equilibrium/line.rs", "-5.0"):
        "pieces over a kink do not hold and are left to the solver: slower, and the same",
    ("src/equilibrium/line.rs", "found.pressure > 0.0"):
        "of 7,000 random questions through curves none depends on it: where bubble points part no curve is made",
    ("src/equilibrium/near_the_top.rs", "false"):
        "below nine tenths of the reducing temperature a question depends on the same; above it none is known",
    ("src/equilibrium/vapor_over_liquids.rs", "(share > 2.0)"):
        "a vapor that settles as one of the liquids is found unstable or not the line's",
    ("src/equilibrium/flash.rs", "(is_one(&own) || true)"):
        "a whole flash says the same, and takes longer where no rival is a gas",
    ("src/equilibrium/scan.rs", "0.0"):
        "no question of the tests has a line that bends to the pressure and back between two looks",
    ("src/equilibrium/scan.rs", "true"):
        "the end of a scan is a point that was found but for 1e-7 of its temperature: nearly the same answer",
    ("src/equilibrium/trails.rs", "false"):
        "what stops others without a density is mostly the patient trail, which is forgotten before",
    ("src/equilibrium/substitution.rs", "true"):
        "what creeps along a direction and is given up other rivals lead to, in all questions of the tests",
    ("src/equilibrium/substitution.rs", "false"):
        "how far ln K is led on costs attempts of Newton's method: slower, and the same",
    ("src/equilibrium/flash.rs", "0"):
        "a stable split shows before an unstable one is found again, in all questions of the tests",
    ("src/equilibrium/flash.rs", "true"):
        "a rival leads to three phases where another rival of the same split does",
    ("src/equilibrium/state_of_blend/brackets.rs", "one_of(&found).is_some()"):
        "what does not meet the property is refused once more at the end",
    ("src/equilibrium/state_of_blend/brackets.rs", "true"):
        "where too much was passed over all isotherms are looked at: slower, and the same",
    ("src/equilibrium/scan.rs", "off.abs() < 0.0"):
        "at the end itself rounding decides whether the signs differ, and then a crossing is found",
    ("src/equilibrium/bubble_dew.rs", "1e-1"):
        "phases as near as that lie next to a critical point, where the traced envelope answers",
    ("src/equilibrium/bubble_dew.rs", "true"):
        "a step that jumps to another solution is found out by its stability",
    ("src/curve/line.rs", "3e-3"): "where a curve ends earlier the solver answers: slower, and the same",
    ("src/curve/line.rs", "low.min(edge)"):
        "pieces over a kink do not hold and are left to the solver: slower, and the same",
    ("src/curve/build.rs", "false"): "what jumps between two temperatures is no smooth piece, and does not hold",
    ("src/process/shift/vessel.rs", "pair.liquid_density - density"):
        "a start and no more: the solver comes to the same contents",
    ("src/service/vessel/evacuation.rs", "pressure > TRIPLE_PRESSURE"):
        "at the triple point itself ice and water have one pressure",
}

# Which fault is on, by a variable, read once.
SWITCH = """
/// Whether a planted fault is on.
pub(crate) fn fault(number: u32) -> bool {
    static ON: std::sync::OnceLock<u32> = std::sync::OnceLock::new();
    let read = || std::env::var("FAULT").ok().and_then(|text| text.parse().ok());
    *ON.get_or_init(|| read().unwrap_or(0)) == number
}
"""


def changed(path, text):
    """Writes a file where it says something else: what is as it was is not compiled again."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.is_file() or path.read_bytes() != text:
        path.write_bytes(text)


def plant():
    """A copy of the tree with every fault in it."""
    files = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    there = [name for name in files.stdout.splitlines() if (ROOT / name).is_file()]
    planted = {}
    for number, (file, place, old, new, _) in enumerate(FAULTS, 1):
        text = planted.get(file) or (ROOT / file).read_text()
        if text.count(place) != 1 or place.count(old) != 1:
            raise SystemExit(f"{file}: '{place}' stands there {text.count(place)} times")
        switched = f"(if crate::fault({number}) {{ {new} }} else {{ {old} }})"
        planted[file] = text.replace(place, place.replace(old, switched))
    planted["src/lib.rs"] = (ROOT / "src/lib.rs").read_text() + SWITCH
    # what asks for a switch is no constant any more
    exposure = "src/service/hazard/exposure.rs"
    planted[exposure] = planted[exposure].replace("pub const fn of_volume", "pub fn of_volume")
    for name in there:
        text = planted.get(name)
        changed(TREE / name, text.encode() if text else (ROOT / name).read_bytes())


def build():
    """The tests of that copy."""
    env = dict(os.environ, CARGO_TARGET_DIR=str(ROOT / "target" / "faults"))
    command = ["cargo", "test", "--test", "it", "--no-run", "--message-format=short"]
    found = subprocess.run(command, cwd=TREE, env=env, capture_output=True, text=True)
    where = re.search(r"Executable .*\((.*)\)", found.stderr)
    if not where:
        raise SystemExit(found.stderr[-3000:])
    return TREE / where.group(1)


def failed(tests, number, subject, most_seconds=None):
    """The first test of a subject that fails with a fault on, or that it does not end.

    A test does not end where it takes more than so many seconds of the processor: a busy machine
    makes no test fail.
    """
    env = dict(os.environ, FAULT=str(number), CARGO_MANIFEST_DIR=str(TREE))
    # the subject's own tests alone: 'shift' is also a part of other names
    command = [tests, subject if "::" in subject else f"{subject}::"]

    def limited():
        if most_seconds:
            resource.setrlimit(resource.RLIMIT_CPU, (int(most_seconds), int(most_seconds) + 5))

    found = subprocess.run(command, cwd=TREE, env=env, capture_output=True, text=True, preexec_fn=limited)
    if " 0 passed; 0 failed" in found.stdout:
        raise SystemExit(f"no test is named '{subject}'")
    if found.returncode == 0:
        return None
    if found.returncode == -signal.SIGXCPU:
        return f"{subject} does not end"
    names = re.findall(r"^test (\S+) \.\.\. FAILED", found.stdout, re.M)
    return names[0] if names else f"{subject} ends"


def of_processor():
    """Seconds that what was run took of the processor."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main():
    words = sys.argv[1:]
    plant()
    tests = build()
    chosen = [(number, fault) for number, fault in enumerate(FAULTS, 1)
              if not words or any(word in fault[0] for word in words)]
    usual = {}

    def dies(number, subject):
        if subject not in usual:
            before = of_processor()
            if name := failed(tests, 0, subject):
                raise SystemExit(f"{name} fails without a fault")
            usual[subject] = of_processor() - before
        return failed(tests, number, subject, 10 + 4 * usual[subject])

    survivors = 0
    for number, (file, _, _, new, subject) in chosen:
        name = dies(number, subject)
        wider = next(wide for room, wide in WIDER.items() if file.startswith(room)).split()
        for other in wider:
            if name is None and other != subject and (file, new) not in LIVE:
                name = dies(number, other)
        if name:
            print(f"found     {file}: {new}  by {name}", flush=True)
            continue
        reason = LIVE.get((file, new))
        survivors += reason is None
        print(f"{'listed' if reason else 'SURVIVES':9} {file}: {new}  {reason or ''}", flush=True)
    print(f"{len(chosen)} faults, {survivors} survive without a reason; {time.monotonic() - BEGUN:.0f} s")
    sys.exit(survivors > 0)


BEGUN = time.monotonic()

if __name__ == "__main__":
    main()
