//! Help texts, and that every example in them works.

use crate::program::{answer, words, zeotrope};

pub(crate) const VERBS: &[&str] = &[
    "list",
    "show",
    "convert",
    "saturation",
    "glide",
    "state",
    "superheat",
    "subcooling",
    "reading",
    "chart",
    "exercise",
    "moist-air",
    "target-superheat",
    "at-rest",
    "pressure-test",
    "evacuation",
    "cylinder",
    "leak",
    "draw",
    "cycle",
    "pipe",
    "riser",
    "exposure",
    "lookup",
    "validate",
    "setup",
    "words",
    "completions",
    "man",
];

#[test]
fn help_texts() {
    insta::assert_snapshot!("help", answer(&["--help"]));
    for verb in VERBS {
        insta::assert_snapshot!(format!("help_{verb}"), answer(&[verb, "--help"]));
    }
}

#[test]
fn every_example_of_every_help_works() {
    let mut count = 0;
    for verb in VERBS {
        // A long example goes on behind a backslash, as in the shell.
        let help = answer(&[verb, "--help"]).replace("\\\n", " ");
        let examples: Vec<&str> = help
            .lines()
            .skip_while(|line| *line != "Examples:")
            .filter_map(|line| line.trim().strip_prefix("zeotrope "))
            .collect();
        assert!(!examples.is_empty(), "{verb} --help has no example");
        for example in examples {
            // What is written to a file goes to a folder of the test's own.
            let folder = crate::print::Folder::new(&format!("help-{verb}-{count}"));
            let mut words = words(example);
            let target = words
                .iter()
                .position(|word| word == "--output" || word == "--all");
            if let Some(target) = target {
                words[target + 1] = folder.file(&words[target + 1]);
            }
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            let run = zeotrope(&words);
            assert_eq!(run.code, 0, "{example}: {}", run.err);
            let answered = match target {
                Some(_) => !folder.names().is_empty(),
                None => !run.out.is_empty(),
            };
            assert!(answered, "{example}");
            count += 1;
        }
    }
    assert!(count >= 18, "only {count} examples were found");
}

/// Each verb, hidden ones aside, is listed in the general help and tested above.
#[test]
fn the_verbs_are_these() {
    let command = zeotrope_cli::command();
    let shown: Vec<&str> = command
        .get_subcommands()
        .filter(|verb| !verb.is_hide_set())
        .map(|verb| verb.get_name())
        .collect();
    assert_eq!(shown, VERBS);
}

#[test]
fn version_completions_and_manual() {
    assert_eq!(
        answer(&["--version"]),
        format!("zeotrope {}\n", env!("CARGO_PKG_VERSION"))
    );
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        assert!(
            answer(&["completions", shell]).contains("saturation"),
            "{shell}"
        );
    }
    let manual = answer(&["man"]);
    assert!(manual.starts_with(".ie"), "{}", &manual[..40]);
    for verb in VERBS {
        assert!(manual.contains(&format!(".SH VERB {}\n", verb.to_uppercase())));
    }
}
