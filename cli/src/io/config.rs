//! Where a file of own defaults is looked for, and how its values join the arguments.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::Command;

use crate::args::signs::is_given;
use crate::errors::Failure;
use zeotrope::service::defaults::Defaults;

/// The file's name.
pub(crate) const NAME: &str = "zeotrope.yaml";

/// A file of defaults.
#[derive(Debug, Clone)]
pub(crate) struct Config {
    path: PathBuf,
    defaults: Defaults,
}

impl Config {
    /// The file of the current folder, else of the configuration folder, or the one that
    /// `ZEOTROPE_CONFIG` names; `None` where there is none.
    pub(crate) fn find() -> Result<Option<Self>, Failure> {
        let named = std::env::var_os("ZEOTROPE_CONFIG").filter(|name| !name.is_empty());
        let places: Vec<PathBuf> = match &named {
            Some(name) => vec![PathBuf::from(name)],
            None => [Some(PathBuf::from(NAME)), folder().map(|at| at.join(NAME))]
                .into_iter()
                .flatten()
                .collect(),
        };
        let found = places
            .into_iter()
            .find(|path| named.is_some() || path.is_file());
        found.map(|path| Self::read(&path)).transpose()
    }

    fn read(path: &Path) -> Result<Self, Failure> {
        let wrong = |problem: String, hint: &str| {
            Failure::usage(
                format!("{}: {problem}", path.display()),
                format!("{hint}; --no-config leaves the file out"),
            )
        };
        let text = std::fs::read_to_string(path)
            .map_err(|problem| wrong(problem.to_string(), "name a file that can be read"))?;
        let defaults = Defaults::parse(&text).map_err(|error| {
            let hint = error.hint().unwrap_or_default();
            wrong(error.to_string(), &hint)
        })?;
        Ok(Self {
            path: path.to_owned(),
            defaults,
        })
    }

    /// The arguments with the defaults that their command takes and they do not give, and what
    /// was added, a word each.
    pub(crate) fn join(
        &self,
        arguments: Vec<OsString>,
        command: &Command,
    ) -> (Vec<OsString>, Vec<String>) {
        let verb = arguments.get(1).and_then(|word| word.to_str());
        let Some(verb) = verb.and_then(|word| command.find_subcommand(word)) else {
            return (arguments, Vec::new());
        };
        let takes = |option: &str| {
            verb.get_arguments()
                .any(|arg| arg.get_long() == Some(option))
        };
        let is_given = |option: &str| is_given(&arguments, option);
        let is_printed = arguments.iter().any(|word| {
            let word = word.to_string_lossy().to_lowercase();
            ["pdf", "html"].contains(&word.as_str())
                || word.ends_with(".pdf")
                || word.ends_with(".html")
        });
        let asks_help = ["help", "no-config"].iter().any(|word| is_given(word));
        let (mut joined, mut added) = (arguments.clone(), Vec::new());
        if verb.get_name() == "setup" || asks_help {
            return (joined, added);
        }
        let given = |key: &str| is_given(&key.replace('_', "-"));
        for (key, value) in self.defaults.counted(given, is_printed) {
            let option = key.replace('_', "-");
            if !takes(&option) {
                continue;
            }
            let value = match key {
                "kit" | "words" | "logo" => self.path_next_to_file(value),
                _ => value.into(),
            };
            let mut text = OsString::from(format!("--{option}="));
            text.push(&value);
            joined.push(text);
            added.push(format!("{key} {}", value.to_string_lossy()));
        }
        (joined, added)
    }

    /// A file named in the file of defaults is meant from its folder.
    fn path_next_to_file(&self, value: &str) -> OsString {
        match self.path.parent() {
            Some(folder) => folder.join(value).into_os_string(),
            None => value.into(),
        }
    }

    /// What an answer says of the defaults that it used.
    pub(crate) fn told(&self, added: &[String]) -> String {
        format!("{}: {}", self.path.display(), added.join(", "))
    }
}

/// The folder of the system for configurations.
fn folder() -> Option<PathBuf> {
    let of = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty());
    let below = |name: &str, rest: &str| of(name).map(|home| PathBuf::from(home).join(rest));
    let folder = if cfg!(windows) {
        below("APPDATA", "")
    } else if cfg!(target_os = "macos") {
        below("HOME", "Library/Application Support")
    } else {
        below("XDG_CONFIG_HOME", "").or_else(|| below("HOME", ".config"))
    };
    folder.map(|folder| folder.join("zeotrope"))
}
