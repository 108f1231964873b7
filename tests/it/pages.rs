//! Pages: every figure stands for a field of the JSON, hazards follow facts, phrases are whole.

use std::collections::BTreeSet;

use zeotrope::Refrigerant;
use zeotrope::page::words;
use zeotrope::service::hazard::hazards::is_of_high_pressure;
use zeotrope_cli::document;

use crate::program::{answer, json, words as split};
use crate::program_help::VERBS;

/// One question or more for each page.
const QUESTIONS: [&str; 64] = [
    "lookup R-134a --every 4001",
    "lookup R-744 R-407C --every 4001 --arithmetic integer --of dew_temperature,dew_pressure",
    "exercise recipes/exercise_wrong_branch.yaml",
    "exercise recipes/exercise_lens.yaml",
    "pipe R-410A --capacity 3tons --diameter 0.785in --evaporating 45F --condensing 105F --superheat 10F --subcooling 10F",
    "riser R-410A --height 30ft --liquid 95F --pressure 340psig",
    "convert 3tons",
    "reading R-744 --suction-pressure 380psig --suction-line 40F --liquid-pressure 1350psig --liquid-line 95F --ambient 90F",
    "reading R-410A --suction-pressure 80psig --liquid-pressure 340psig --liquid-line 95F --ambient 35F --return-air 70F --supply-air 100F --mode heating --wet-bulb 60F",
    "cycle R-134a --evaporating -10C --condensing 40C --explain",
    "cycle R-404A R-448A R-449A --evaporating -15F --evaporating-at dew --condensing 105F --suction-temperature 40F --liquid 95F --efficiency 70% --discharge-limit 225F --pressure-rating 400psig --capacity 3ton",
    "cycle R-290 --evaporating -5C --condensing 30C..40C --step 5C --capacity 10kW",
    "cycle R-744 --evaporating -8C --gas-cooler-outlet 35C --efficiency 70% --suction-line-effectiveness 50% --explain",
    "cycle R-410A R-454B --evaporating 45F --condensing 115F --compare-at dew,mean,bubble",
    "cycle R-407C --evaporating 0C --condensing 40C --superheat 5K --economizer --capacity 10kW --explain",
    "cycle R-744 R-290 --evaporating -8C --condensing 40C --gas-cooler-outlet 35C --subcooling 3K --efficiency 70%",
    "cycle R-744 R-600a --evaporating -10C --condensing 35C --stages 2",
    "leak R-407C --temperature 75F --lost 10%,30%",
    "draw R-407C --temperature 75F --filled 80%",
    "leak R-407C --temperature 75F --lost 30% --refill R-407C --rounds 2 --tolerance",
    "leak R-407C --temperature 75F --lost 30% --phase circulating --filled 80%",
    "leak R-454B --temperature 75F --lost 30%,60% --blank",
    "show \"R-290/R-134a (50/50)\" --azeotrope --temperature 0C",
    "list A2L",
    "show R-134a",
    "show R-454B --units ip",
    "show \"R-32/R-125 (60/40)\"",
    "convert 70psig",
    "convert -40C --to F",
    "saturation R-134a --temperature 5C",
    "saturation R-407C --pressure 65psig",
    "saturation R-455A --temperature 40F --tolerance",
    "saturation R-407C --temperature 25C --model ideal --explain",
    "state R-134a --temperature 25C --pressure 300kPa",
    "state R-290 --pressure 70psig --quality 0.25",
    "state R-407C --pressure 10bara --enthalpy 300kJ/kg",
    "glide R-455A --pressure 64.7psig --liquid 100F",
    "glide R-407C --pressure 16barg",
    "superheat R-407C --pressure 65psig --line 52F",
    "superheat R-410A --pressure 118psig --line 50F --gauge-accuracy 1%span --gauge-span 500psi --clamp-accuracy 1F --target 10F --band 5F",
    "superheat R-134a --pressure 18.4psig --wanted 10F --elevation 5280ft",
    "subcooling R-410A --pressure 340psig --line 96.5F --target 10F --band 3F",
    "reading R-410A --suction-pressure 118psig --suction-line 50F --liquid-pressure 340psig --liquid-line 96.5F --ambient 95F --gauge-accuracy 1%span --gauge-span 500psi",
    "reading R-410A --suction-pressure 118psig --suction-line 50F --liquid-pressure 340psig --liquid-line 95F --discharge-line 165F --gauge-accuracy 1%span --gauge-span 500psi",
    "cycle R-134a --evaporating -10C --condensing 40C --worksheet",
    "moist-air --dry-bulb 80F --relative-humidity 50%",
    "target-superheat --indoor-wet-bulb 64F --outdoor-dry-bulb 96F --thermometer-accuracy 1F",
    "at-rest R-407C --pressure 145psig --temperature 75F --gauge-accuracy 1psi --thermometer-accuracy 1F",
    "at-rest --pressure 132psig --temperature 75F --gauge-accuracy 3psi --thermometer-accuracy 2F",
    "at-rest R-134a --pressure 88.9psig --temperature 80F --open-reading 1psig --date 2026-11-25 --gauge-accuracy 1.25psi --thermometer-accuracy 1F",
    "pressure-test --start-pressure 500psig --start-temperature 85F --end-pressure 470psig --end-temperature 60F --gauge-accuracy 1psi --thermometer-accuracy 1F",
    "pressure-test --start-pressure 10barg --start-temperature 30C --end-temperature 10C",
    "evacuation --pressure 5000micron --temperature 70F",
    "evacuation --pressure 500micron",
    "cylinder R-134a --water-capacity 27.2L --contents 20kg",
    "chart R-407C R-134a --from 0C --to 10C --step 5C",
    "chart R-455A --pressures 40psig,60psig --tolerance",
    "cylinder R-744 --water-capacity 10L --filling-ratio 0.66",
    "cylinder R-404A --water-capacity 44.1lb --filling-ratio 2.4",
    "exposure R-32 --mass 10kg",
    "exposure R-466A",
    "glide R-32 --pressure 10bara",
    "saturation R-290 R-600a --temperature 5C",
    "superheat R-290 --pressure 3.2barg --line 4C --gauge sealed --zeroed factory --elevation 1600m",
];

#[test]
fn every_figure_of_a_page_stands_for_a_field_of_its_json() {
    let mut seen = 0;
    for question in QUESTIONS {
        let arguments = std::iter::once("zeotrope".to_owned()).chain(split(question));
        let found = document(arguments).unwrap_or_else(|| panic!("{question}: no document"));
        let mut own = 0;
        for figure in found.figures.iter().filter(|one| !one.field.is_empty()) {
            let holds = found.json.holds(&figure.field, &figure.datum);
            assert_eq!(
                holds,
                Some(true),
                "{question}: {} is not {:?}",
                figure.field,
                figure.datum
            );
            own += 1;
        }
        assert!(own > 0, "{question}: no figure stands for a field");
        seen += own;
    }
    assert!(seen > 300, "{seen} figures");
}

/// Refrigerants whose pressures exceed ordinary gauges and hoses, by what is known of them: vapor
/// pressure at 25 °C above 25 bar, or a critical temperature below 50 °C (both looked up by their
/// critical constants in the CRC Handbook, from memory).
#[test]
fn the_word_on_high_pressure_follows_facts() {
    for high in [
        "R-744",
        "R-170",
        "R-744A",
        "R-41",
        "R-13",
        "R-23",
        "R-1150",
        "R-503",
        "R-469A",
        "R-744/R-134a (95/5)",
    ] {
        assert!(
            is_of_high_pressure(&Refrigerant::named(high).unwrap()),
            "{high}"
        );
    }
    for ordinary in ["R-134a", "R-32", "R-410A", "R-125", "R-452B", "R-454B"] {
        assert!(
            !is_of_high_pressure(&Refrigerant::named(ordinary).unwrap()),
            "{ordinary}"
        );
    }
}

#[test]
fn every_answer_about_a_refrigerant_has_its_cautions_in_json() {
    for question in [
        "show R-290",
        "saturation R-290 --temperature 5C",
        "state R-290 --temperature 5C --quality 0.5",
        "glide R-290 --pressure 3barg",
        "chart R-290 --from 0C --to 10C",
        "superheat R-290 --pressure 3.2barg --line 4C",
        "cylinder R-290 --water-capacity 20L",
        "exposure R-290",
    ] {
        let words = split(question);
        let cautions = json(&words.iter().map(String::as_str).collect::<Vec<_>>());
        let cautions = cautions["cautions"].as_array().unwrap().clone();
        let told = |part: &str| {
            cautions
                .iter()
                .any(|one| one.as_str().is_some_and(|text| text.contains(part)))
        };
        assert!(told("R-290 is flammable"), "{question}");
        assert!(told("licensed people decide"), "{question}");
    }
}

#[test]
fn hazards_stand_in_every_format_that_people_read() {
    for format in ["text", "markdown", "html", "svg", "json"] {
        let page = answer(&[
            "chart", "R-290", "--from", "0C", "--to", "10C", "--format", format,
        ]);
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        let page = page.replace("</text> <text", "").replace('\u{a0}', " ");
        assert!(page.contains("R-290 is flammable"), "{format}: {page}");
    }
}

#[test]
fn phrases_have_one_name_each_and_whole_blanks() {
    let all = words::all_phrases();
    let names: BTreeSet<String> = all.iter().map(|phrase| phrase.name()).collect();
    assert_eq!(names.len(), all.len());
    for phrase in all {
        let english = phrase.english();
        assert_eq!(
            english.matches('{').count(),
            english.matches('}').count(),
            "{}",
            phrase.name()
        );
        assert!(
            phrase.blanks().iter().all(|blank| {
                !blank.is_empty() && blank.chars().all(|c| c.is_ascii_lowercase() || c == '_')
            }),
            "{}",
            phrase.name()
        );
    }
}

/// Turns of phrase that readers stumbled over, by the terms that the field uses for them.
const ODD: [&str; 30] = [
    "hangs on",
    "air of the site",
    "counts from",
    "count from",
    "comes on top",
    "are carried",
    "is carried",
    "less dew",
    "less bubble",
    "less expected",
    "is no paper",
    "is no picture",
    "is no form",
    "the maker",
    "maker's",
    "wrong branch",
    "would have read",
    "zero of enthalpy",
    "ReferenceState of enthalpy",
    "parts the liquid",
    "unsure",
    "vapour",
    "no verdict",
    "both sides of a machine",
    "the plate's",
    "a hint, no finding",
    "thinks of a leak",
    "left in place",
    "bubble pressure, taken",
    "Behind it h",
];

#[test]
fn odd_phrases_do_not_come_back() {
    for phrase in words::all_phrases() {
        for odd in ODD {
            assert!(
                !phrase.english().contains(odd),
                "{}: '{odd}'",
                phrase.name()
            );
        }
    }
    let mut pages: Vec<String> = vec![answer(&["--help"])];
    pages.extend(VERBS.iter().map(|verb| answer(&[verb, "--help"])));
    pages.extend(QUESTIONS.iter().map(|question| {
        answer(
            &split(question)
                .iter()
                .map(String::as_str)
                .collect::<Vec<_>>(),
        )
    }));
    for page in pages {
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        for odd in ODD {
            assert!(
                !page.contains(odd),
                "'{odd}' in {}",
                &page[..page.len().min(300)]
            );
        }
    }
}

/// The same answer with less and with more: hazards stay, sources come last. A list has none, and those
/// of a lookup stand in its files.
#[test]
fn brief_keeps_figures_and_hazards_and_sources_adds_every_one() {
    let ask = |question: &str, more: &[&str]| {
        let mut words = split(question);
        words.extend(more.iter().map(|one| (*one).to_owned()));
        answer(&words.iter().map(String::as_str).collect::<Vec<_>>())
    };
    for question in QUESTIONS {
        if ["list", "lookup"]
            .iter()
            .any(|verb| question.starts_with(verb))
        {
            continue;
        }
        let (brief, usual) = (ask(question, &["--brief"]), ask(question, &[]));
        assert!(brief.len() <= usual.len(), "{question}: {brief}");
        let has_end = |page: &str| page.contains("These are calculations");
        assert_eq!(has_end(&brief), has_end(&usual), "{question}: {brief}");
        assert!(!brief.contains("J. Phys. Chem."), "{question}: {brief}");
    }
    let question = "superheat R-448A --pressure 65psig --line 52F";
    let count = |page: &str| page.matches("Equation of R-").count();
    assert_eq!(count(&ask(question, &[])), 0);
    assert_eq!(count(&ask(question, &["--sources"])), 5);
    let both = crate::program::zeotrope(&["show", "R-32", "--brief", "--sources"]);
    assert_eq!(both.code, 2);
}
