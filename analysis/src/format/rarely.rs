//! Keys that few keepers know of, as comments at the end of a starter: an example of each, and what it is for.

use super::find::everything;
use scenarios::table_format::{KeyFormat, TableFormat};

/// Tables and the keys of each, in the order of a site file.
const KEYS: &[(&str, &[&str])] = &[
    ("[yard]", &["shade", "covered", "netted"]),
    ("[house]", &["mobile"]),
    ("[birds.NAME]", &["arrive", "leave", "isolate", "then_join"]),
    (
        "[plot.NAME]",
        &["drainage", "irrigation", "weeds", "creeping", "slugs", "guards", "nets", "windfalls", "usual_care"],
    ),
    ("[[plot.NAME.crop]]", &["wait", "ends", "cleared"]),
    ("[[plot.NAME.care]]", &["task", "every", "season"]),
    ("[rules]", &["country", "shut_on"]),
    ("[limits]", &["nitrogen", "phosphorus"]),
    ("[prices]", &["hour", "feed"]),
];

const HEAD: &str = "
# Rarely needed: each line goes under the heading above it, without the # in front and with your own words and
# numbers. `hensward format WORD` tells more of every one.
";

/// Columns of an example before what it is for.
const EXAMPLE: usize = 58;

/// The comments.
#[must_use]
pub fn rarely_known() -> String {
    let tables = KEYS.iter().map(|(heading, keys)| {
        let lines: String = keys.iter().filter_map(|key| key_of(heading, key)).map(line).collect();
        format!("#\n# {heading}\n{lines}")
    });
    format!("{HEAD}{}", tables.collect::<String>())
}

fn key_of(heading: &str, key: &str) -> Option<&'static KeyFormat> {
    let table = everything().into_iter().map(|found| found.table).find(|table| table.heading == heading)?;
    table.key(key)
}

fn line(key: &KeyFormat) -> String {
    // What stands under it may be a table of its own: then its example is of that, in one line.
    let example = match key.kind.below().filter(|table| table.is_inline()) {
        Some(table) => TableFormat::whole(table),
        None => key.line(),
    };
    // The first thought is enough here.
    let what = key.what.split([';', ':', '.']).next().unwrap_or(key.what);
    format!("#   {example:<EXAMPLE$}  # {what}\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_declared() {
        for (heading, keys) in KEYS {
            keys.iter().for_each(|key| assert!(key_of(heading, key).is_some(), "{heading} {key}"));
        }
    }
}
