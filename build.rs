//! Indexes the embedded data files, so that a question parses only the files it needs.
//!
//! Written to `OUT_DIR/embedded_index.rs`: sorted tables of where in a shelf each file's text lies,
//! the entries of `fluids/blends.yaml` one by one, and every spelling of every refrigerant. A shelf is
//! the text of a folder, packed; so are the tables that `validate` compares with. As text the facts
//! were four times as long.

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

use flate2::Compression;
use flate2::write::GzEncoder;
use serde_yaml::Value;

#[path = "src/catalogue/normal.rs"]
mod normal;

use normal::{names_in, natural_order, normal};

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=src/catalogue/normal.rs");
    let package = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?);
    let output = PathBuf::from(env::var("OUT_DIR")?);
    pack(&package.join("tests/data"), &output)?;
    let root = package.join("fluids");
    println!("cargo:rerun-if-changed={}", root.display());
    let mut index = Index::default();
    index.pures(&root)?;
    index.pairs(&root)?;
    index.departures(&root)?;
    index.blends(&root)?;
    fs::write(output.join("embedded_index.rs"), index.text(&output)?)?;
    Ok(())
}

/// What `validate` compares with.
const TABLES: [&str; 6] = [
    "published_values.csv",
    "measured_azeotropes.csv",
    "measured_bubble_points.csv",
    "measured_dew_points.csv",
    "measured_ternaries.csv",
    "measured_vapors.csv",
];

fn pack(folder: &Path, output: &Path) -> Outcome<()> {
    for name in TABLES {
        let file = folder.join(name);
        println!("cargo:rerun-if-changed={}", file.display());
        write_packed(&output.join(format!("{name}.gz")), &fs::read(&file)?)?;
    }
    Ok(())
}

fn write_packed(file: &Path, bytes: &[u8]) -> Outcome<()> {
    let mut packed = GzEncoder::new(Vec::new(), Compression::best());
    packed.write_all(bytes)?;
    Ok(fs::write(file, packed.finish()?)?)
}

/// A text of which each part is found again by where it begins and ends.
#[derive(Default)]
struct Shelf(String);

impl Shelf {
    /// Adds a file; an expression that finds it again.
    fn file(&mut self, name: &str, file: &Path) -> Outcome<String> {
        let ending = file
            .file_name()
            .and_then(|name| name.to_str())
            .ok_or("a file name that is not UTF-8")?;
        let folder = file
            .parent()
            .and_then(Path::file_name)
            .and_then(|name| name.to_str())
            .ok_or("a folder name that is not UTF-8")?;
        let text = self.part(name, &fs::read_to_string(file)?);
        let shown = format!("fluids/{folder}/{ending}");
        Ok(format!("File {{ name: {shown:?}, text: {text} }}"))
    }

    /// Adds a text; an expression that finds it again on the shelf of this name.
    fn part(&mut self, name: &str, text: &str) -> String {
        let begin = self.0.len();
        self.0.push_str(text);
        let end = self.0.len();
        format!("Text {{ shelf: &{name}, begin: {begin}, end: {end} }}")
    }

    fn write(self, output: &Path, name: &str) -> Outcome<()> {
        write_packed(&output.join(format!("{name}.gz")), self.0.as_bytes())
    }
}

/// An entry of `blends.yaml`.
struct Entry {
    line: usize,
    text: String,
    refused: bool,
    /// Designations of the components, sorted.
    components: Vec<String>,
}

/// The tables, each sorted by its key.
#[derive(Default)]
struct Index {
    /// Designation -> file.
    pures: BTreeMap<String, PathBuf>,
    /// First and second designation -> file.
    pairs: BTreeMap<(String, String), PathBuf>,
    /// Name -> file.
    departures: BTreeMap<String, PathBuf>,
    /// Designation -> entry.
    blends: BTreeMap<String, Entry>,
    /// Normal form -> designation, whether it is a blend.
    spellings: BTreeMap<String, (String, bool)>,
}

impl Index {
    fn pures(&mut self, root: &Path) -> Outcome<()> {
        for file in yaml_files(&root.join("pure"))? {
            let value = parse(&file)?;
            let designation = text_of(&value, "designation", &file)?;
            let name = text_of(&value, "name", &file)?;
            let mut spellings = vec![designation.clone()];
            spellings.extend(names_in(&name).into_iter().map(str::to_owned));
            if let Some(Value::Sequence(more)) = value.get("spellings") {
                spellings.extend(more.iter().filter_map(Value::as_str).map(str::to_owned));
            }
            for spelling in spellings {
                self.spelling(&spelling, &designation, false)?;
            }
            unique(self.pures.insert(designation, file.clone()), &file)?;
        }
        Ok(())
    }

    fn pairs(&mut self, root: &Path) -> Outcome<()> {
        for file in yaml_files(&root.join("pairs"))? {
            let value = parse(&file)?;
            let first = text_of(&value, "first", &file)?;
            let second = text_of(&value, "second", &file)?;
            if self.pairs.contains_key(&(second.clone(), first.clone())) {
                return Err(format!("{}: the pair has a second file", file.display()).into());
            }
            unique(self.pairs.insert((first, second), file.clone()), &file)?;
        }
        Ok(())
    }

    fn departures(&mut self, root: &Path) -> Outcome<()> {
        for file in yaml_files(&root.join("departures"))? {
            let name = text_of(&parse(&file)?, "name", &file)?;
            unique(self.departures.insert(name, file.clone()), &file)?;
        }
        Ok(())
    }

    /// Cuts the list at each line that begins with `- designation:`.
    fn blends(&mut self, root: &Path) -> Outcome<()> {
        let file = root.join("blends.yaml");
        if !file.exists() {
            return Ok(());
        }
        println!("cargo:rerun-if-changed={}", file.display());
        let text = fs::read_to_string(&file)?;
        let mut entries: Vec<(usize, String)> = Vec::new();
        for (number, line) in text.lines().enumerate() {
            if line.starts_with("- ") {
                entries.push((number + 1, String::new()));
            }
            if let Some((_, entry)) = entries.last_mut() {
                writeln!(entry, "{line}")?;
            }
        }
        for (line, entry) in entries {
            let value: Value = serde_yaml::from_str(&entry)
                .map_err(|error| format!("{}:{line}: {error}", file.display()))?;
            let blend = value.get(0).ok_or("an entry without keys")?;
            let designation = text_of(blend, "designation", &file)?;
            self.spelling(&designation, &designation, true)?;
            let mut components: Vec<String> = blend
                .get("components")
                .and_then(Value::as_sequence)
                .into_iter()
                .flatten()
                .filter_map(|component| component.get("refrigerant")?.as_str())
                .map(str::to_owned)
                .collect();
            components.sort();
            let entry = Entry {
                line,
                refused: blend.get("refused").is_some(),
                text: entry,
                components,
            };
            let doubled = self.blends.insert(designation, entry).map(|_| file.clone());
            unique(doubled, &file)?;
        }
        Ok(())
    }

    /// Enters one spelling, and a designation with inner hyphens also without them.
    fn spelling(&mut self, spelling: &str, designation: &str, blend: bool) -> Outcome<()> {
        let key = normal(spelling).key;
        let mut keys = vec![key.clone()];
        if spelling == designation && key.contains('-') {
            keys.push(key.replace('-', ""));
        }
        for key in keys {
            match self.spellings.get(&key) {
                Some((other, _)) if other != designation => {
                    let problem =
                        format!("the spelling '{spelling}' means both {other} and {designation}");
                    return Err(problem.into());
                }
                Some(_) => {}
                None => {
                    self.spellings.insert(key, (designation.to_owned(), blend));
                }
            }
        }
        Ok(())
    }

    /// The tables as Rust source; their texts go to the shelves.
    fn text(&self, output: &Path) -> Outcome<String> {
        let mut out = String::new();
        let mut shelf = Shelf::default();
        writeln!(out, "pub(super) static PURES: &[(&str, File)] = &[")?;
        for (designation, file) in &self.pures {
            writeln!(out, "({designation:?}, {}),", shelf.file("PURE", file)?)?;
        }
        shelf.write(output, "pure")?;
        let mut shelf = Shelf::default();
        writeln!(
            out,
            "];\npub(super) static PAIRS: &[((&str, &str), File)] = &["
        )?;
        for ((first, second), file) in &self.pairs {
            let file = shelf.file("PAIR", file)?;
            writeln!(out, "(({first:?}, {second:?}), {file}),")?;
        }
        shelf.write(output, "pairs")?;
        let mut shelf = Shelf::default();
        writeln!(
            out,
            "];\npub(super) static DEPARTURES: &[(&str, File)] = &["
        )?;
        for (name, file) in &self.departures {
            writeln!(out, "({name:?}, {}),", shelf.file("DEPARTURE", file)?)?;
        }
        shelf.write(output, "departures")?;
        let mut shelf = Shelf::default();
        writeln!(out, "];\npub(super) static BLENDS: &[(&str, Entry)] = &[")?;
        for (designation, entry) in &self.blends {
            let Entry {
                line,
                text,
                refused,
                components,
            } = entry;
            let text = shelf.part("BLEND", text);
            writeln!(
                out,
                "({designation:?}, Entry {{ line: {line}, text: {text}, refused: {refused}, components: &{components:?} }}),"
            )?;
        }
        shelf.write(output, "blends")?;
        writeln!(out, "];")?;
        writeln!(out, "pub(super) static SPELLINGS: &[(&str, Spelling)] = &[")?;
        let mut sorted: Vec<_> = self.spellings.iter().collect();
        sorted.sort_by_key(|(key, _)| key.as_str());
        for (key, (designation, blend)) in sorted {
            writeln!(
                out,
                "({key:?}, Spelling {{ designation: {designation:?}, blend: {blend} }}),"
            )?;
        }
        writeln!(out, "];")?;
        for (name, blends) in [("PURES_IN_ORDER", false), ("BLENDS_IN_ORDER", true)] {
            let mut listed: Vec<&String> = if blends {
                self.blends.keys().collect()
            } else {
                self.pures.keys().collect()
            };
            listed.sort_by_key(|designation| natural_order(designation));
            writeln!(out, "pub(super) static {name}: &[&str] = &{listed:?};")?;
        }
        Ok(out)
    }
}

/// The YAML files of a folder in order of their names; none where there is no folder.
fn yaml_files(folder: &Path) -> Outcome<Vec<PathBuf>> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

fn parse(file: &Path) -> Outcome<Value> {
    let text = fs::read_to_string(file)?;
    serde_yaml::from_str(&text).map_err(|error| format!("{}: {error}", file.display()).into())
}

fn text_of(value: &Value, key: &str, file: &Path) -> Outcome<String> {
    value
        .get(key)
        .and_then(Value::as_str)
        .map(str::to_owned)
        .ok_or_else(|| format!("{}: no text under '{key}'", file.display()).into())
}

fn unique(before: Option<PathBuf>, file: &Path) -> Outcome<()> {
    match before {
        Some(other) => Err(format!("{} repeats {}", file.display(), other.display()).into()),
        None => Ok(()),
    }
}
