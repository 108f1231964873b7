//! A chart's recipe: a file that names refrigerants and choices.

use serde_yaml::Value;

use crate::{Error, Result};

/// Choices of rows: where one was made elsewhere, none of a recipe's count.
pub const ROW_CHOICES: &[&str] = &["from", "to", "step", "temperatures", "pressures"];

/// A recipe as written.
#[derive(Debug, Clone, Default, PartialEq)]
#[non_exhaustive]
pub struct Recipe {
    /// Refrigerants as they are named.
    pub refrigerants: Vec<String>,
    /// Choices by name, in their order.
    pub choices: Vec<(String, RecipeChoice)>,
}

/// What is chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RecipeChoice {
    /// To have it or not.
    Switch(bool),
    /// One text, or several.
    Texts(Vec<String>),
}

impl Recipe {
    /// Reads a recipe from a text; `file` names it in errors, `is_known` says which choices there are.
    ///
    /// # Errors
    /// [`Error::File`] where it is no YAML, a choice is not known or has no value.
    ///
    /// # Example
    /// ```
    /// use zeotrope::chart::{Recipe, RecipeChoice};
    /// let text = "refrigerants: [R-32]\nform: wallet";
    /// let found = Recipe::parse("van.yaml", text, |choice| choice == "form")?;
    /// assert_eq!(found.refrigerants, ["R-32"]);
    /// assert_eq!(found.choices[0].1, RecipeChoice::Texts(vec!["wallet".into()]));
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(file: &str, text: &str, is_known: impl Fn(&str) -> bool) -> Result<Self> {
        let recipe: Value =
            serde_yaml::from_str(text).map_err(|problem| broken(file, problem.to_string()))?;
        let Value::Mapping(recipe) = recipe else {
            return Err(broken(file, "holds no choices"));
        };
        let mut found = Self::default();
        for (key, value) in &recipe {
            let key = key
                .as_str()
                .ok_or_else(|| broken(file, "a choice is named by a word"))?;
            let texts =
                texts(value).ok_or_else(|| broken(file, format!("'{key}' has no value")))?;
            if key == "refrigerants" {
                found.refrigerants = texts;
                continue;
            }
            if !is_known(key) {
                return Err(broken(file, format!("'{key}' is not a choice of a recipe")));
            }
            let choice = match value {
                Value::Bool(is_on) => RecipeChoice::Switch(*is_on),
                _ => RecipeChoice::Texts(texts),
            };
            found.choices.push((key.to_owned(), choice));
        }
        Ok(found)
    }
}

/// A recipe that cannot be read.
pub fn broken(file: &str, problem: impl Into<String>) -> Error {
    Error::File {
        file: file.to_owned(),
        problem: problem.into(),
        hint: "a recipe is YAML: 'refrigerants: [R-454B, R-32]', then options of chart without \
               their hyphens, for example 'form: wallet'"
            .into(),
    }
}

/// A value as the texts that would have been typed.
fn texts(value: &Value) -> Option<Vec<String>> {
    match value {
        Value::Bool(_) => Some(Vec::new()),
        Value::Number(number) => Some(vec![number.to_string()]),
        Value::String(text) => Some(vec![text.clone()]),
        Value::Sequence(list) => {
            let each: Option<Vec<Vec<String>>> = list.iter().map(texts).collect();
            Some(each?.concat())
        }
        _ => None,
    }
}
