//! Which options were given on the command line.

use std::collections::BTreeMap;

use clap::ArgMatches;
use clap::parser::ValueSource;

/// The options that were given, without their hyphens, each with its texts.
pub(crate) type Given = BTreeMap<String, Vec<String>>;

/// The options that were given on the command line.
pub(crate) fn given(matches: &ArgMatches) -> Given {
    let is_given =
        |id: &&clap::Id| matches.value_source(id.as_str()) == Some(ValueSource::CommandLine);
    let given = matches.ids().filter(is_given).map(|id| {
        let texts = matches.get_raw(id.as_str()).into_iter().flatten();
        let texts = texts.map(|text| text.to_string_lossy().into_owned());
        (id.as_str().replace('_', "-"), texts.collect())
    });
    given.collect()
}
