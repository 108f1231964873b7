//! The lesson of `recipes/lesson.md`: every command prints its page, and sheets are solved with themselves.
//! What is compared stands on the same print: tests of consistency.

use crate::print::{Folder, lines, placed_words};
use crate::program::{answer, words, zeotrope};

/// The commands of the plan.
fn commands() -> Vec<Vec<String>> {
    let plan = std::fs::read_to_string("recipes/lesson.md").unwrap();
    let commands = plan
        .lines()
        .filter_map(|line| line.strip_prefix("zeotrope "));
    commands.map(words).collect()
}

#[test]
fn every_page_is_printed() {
    let folder = Folder::new("lesson");
    let commands = commands();
    assert_eq!(commands.len(), 8);
    for mut command in commands {
        let name = command.pop().unwrap();
        let file = folder.file(&name);
        command.push(file.clone());
        let asked: Vec<&str> = command.iter().map(String::as_str).collect();
        let run = zeotrope(&asked);
        assert_eq!(run.code, 0, "{command:?}: {}", run.err);
        let found = std::fs::read(&file).unwrap();
        let begins: &[u8] = if name.ends_with(".svg") {
            b"<svg "
        } else {
            b"%PDF"
        };
        assert!(found.starts_with(begins), "{name}");
    }
}

/// A task stands whole on its page: its title, its question and its picture, and each title of a key with
/// its table.
#[test]
fn titles_stay_with_what_they_head() {
    let folder = Folder::new("lesson-titles");
    let file = folder.file("sheet.pdf");
    let asked = ["exercise", "recipes/exercise_lesson.yaml", "--paper", "a4"];
    answer(&[&asked[..], &["--output", &file]].concat());
    let (_, placed) = placed_words(&std::fs::read(&file).unwrap());
    let page_of = |text: &str| placed.iter().find(|word| word.text == text).unwrap().page;
    // Components stand in the question, then in the title of the picture.
    let shown: Vec<usize> = ["+"]
        .into_iter()
        .flat_map(|text| {
            placed
                .iter()
                .filter(move |word| word.text == text)
                .map(|word| word.page)
        })
        .collect();
    assert_eq!(shown[0], page_of("R-454C"));
    assert_eq!(shown[1], page_of("R-507A"));
    let leak = folder.file("leak.pdf");
    answer(&[
        "leak",
        "R-407C",
        "--temperature",
        "20C",
        "--blank",
        "--output",
        &leak,
    ]);
    let told = lines(&std::fs::read(&leak).unwrap()).join("\n");
    let heading =
        "Standard uncertainty from the measured deviation of the pairs' vapors, % by mass";
    let after = told.split(heading).nth(1).unwrap();
    let next = after.trim_start().lines().next().unwrap();
    assert!(next.contains("lost"), "{next}");
}

fn shares(cell: &str) -> Vec<f64> {
    cell.split('/').map(|one| one.parse().unwrap()).collect()
}

/// Rows of a table whose header ends with a word, up to the first empty line.
fn rows(page: &str, header: &str) -> Vec<Vec<String>> {
    let mut lines = page
        .lines()
        .skip_while(|line| !line.trim_end().ends_with(header));
    lines.next();
    let is_row =
        |line: &&str| line.starts_with(|first: char| first.is_ascii_digit() || first == '-');
    lines
        .take_while(is_row)
        .filter(|line| !line.starts_with('-'))
        .map(|line| line.split_whitespace().map(str::to_owned).collect())
        .collect()
}

/// A leak, by the method of its sheet and the figures of its sheet: every step that is asked leads to the
/// key's own figure, and near what the key calculates without steps.
#[test]
fn a_leak_by_the_figures_of_its_sheet() {
    for name in ["R-407C", "R-454B", "R-455A", "R-417A"] {
        let page = answer(&["leak", name, "--temperature", "20C", "--blank"]);
        let (asked, key) = page.split_once("\nKey").unwrap();
        assert!(asked.contains("100 kg"), "{asked}");
        let asked_rows = rows(asked, "up or down");
        let by_hand = rows(key, "4. topped up");
        assert!(
            asked_rows.len() == by_hand.len() && asked_rows.len() > 4,
            "{page}"
        );
        let start = asked.split("at the start ").nth(1).unwrap();
        let listed = shares(start.split_whitespace().next().unwrap());
        let mut masses = listed.clone();
        for (at, row) in asked_rows.iter().enumerate() {
            let lost: f64 = row[0].parse().unwrap();
            if let Some(before) = at.checked_sub(1).map(|before| &asked_rows[before]) {
                let step = lost - before[0].parse::<f64>().unwrap();
                let [from, to] = [&before[1], &row[1]].map(|cell| shares(cell));
                for (mass, (from, to)) in masses.iter_mut().zip(from.iter().zip(&to)) {
                    *mass -= step * (from + to) / 200.0;
                }
            }
            let left: f64 = masses.iter().sum();
            let [found, topped] = [&by_hand[at][1], &by_hand[at][2]].map(|cell| shares(cell));
            for (component, mass) in masses.iter().enumerate() {
                let share = 100.0 * mass / left;
                assert!((share - found[component]).abs() < 0.011, "{name} at {lost}");
                let full = mass + lost * listed[component] / 100.0;
                assert!((full - topped[component]).abs() < 0.011, "{name} at {lost}");
            }
        }
    }
}

/// Where a line of a lens lies level, as at an azeotrope, a composition is accepted more widely than where it
/// is steep: the same reading of the temperature leaves more of it open.
#[test]
fn a_composition_is_accepted_as_far_as_its_line_is_level() {
    let page = answer(&["exercise", "recipes/exercise_azeotrope.yaml"]);
    let key = page.split("Answer key").nth(1).unwrap();
    let accepted: Vec<f64> = key
        .lines()
        .filter(|line| line.starts_with("first vapor"))
        .map(|line| line.split('±').nth(1).unwrap().trim().parse().unwrap())
        .collect();
    let [level, steep] = accepted[..] else {
        panic!("{key}")
    };
    assert!(level > 3.0 && steep < 3.0, "{accepted:?}");
}
