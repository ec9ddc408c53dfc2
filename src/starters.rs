//! The starter sites, built into the program: site files that ask what matters.

/// A starter.
#[derive(Debug)]
pub struct Starter {
    /// Its name for `--like`.
    pub name: &'static str,
    /// Its site file.
    pub site: &'static str,
}

/// How a file names the schema that an editor holds it against.
const SCHEMA_LINE: &str = "#:schema ";

const fn starter(name: &'static str, site: &'static str) -> Starter {
    Starter { name, site }
}

/// All of `scenarios/starters/`, the one taken without `--like` first.
pub const STARTERS: &[Starter] = &[
    starter("orchard", include_str!("../scenarios/starters/orchard.toml")),
    starter("rotation", include_str!("../scenarios/starters/rotation.toml")),
    starter("soft-fruit", include_str!("../scenarios/starters/soft-fruit.toml")),
    starter("small-yard", include_str!("../scenarios/starters/small-yard.toml")),
    starter("southern", include_str!("../scenarios/starters/southern.toml")),
    starter("us-units", include_str!("../scenarios/starters/us-units.toml")),
];

impl Starter {
    /// The starter of this name.
    pub fn named(name: &str) -> Option<&'static Starter> {
        STARTERS.iter().find(|starter| starter.name == name)
    }

    /// For whom it is: the first line of its file below the one that names the schema for editors.
    pub fn about(&self) -> &'static str {
        self.site.lines().find(|line| !line.starts_with(SCHEMA_LINE)).unwrap_or_default().trim_start_matches(['#', ' '])
    }

    /// Whether it is shown in US customary units.
    pub fn us_units(&self) -> bool {
        self.site.lines().any(|line| line.starts_with("units = \"us\""))
    }

    /// How many numbered questions its comments ask.
    pub fn questions(&self) -> usize {
        let number = |line: &&str| {
            let rest = line.strip_prefix("# ").unwrap_or_default();
            let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
            digits > 0 && rest[digits..].starts_with(". ")
        };
        self.site.lines().filter(number).count()
    }
}

/// Every starter on a line of its own, for the help.
pub fn listed() -> String {
    let lines = STARTERS.iter().map(|starter| format!("  {:<11} {}", starter.name, starter.about()));
    format!("Starters:\n{}", lines.collect::<Vec<_>>().join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_starter_file_is_built_in_and_asks() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/starters");
        let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
        let files: Vec<String> = files.collect();
        assert_eq!(files.iter().filter(|name| name.ends_with(".toml")).count(), STARTERS.len());
        for starter in STARTERS {
            let named = starter.site.strip_prefix(SCHEMA_LINE).and_then(|rest| rest.lines().next()).unwrap();
            assert!(files.iter().any(|name| named == format!("./{name}")), "{named}");
            assert!((7..=12).contains(&starter.questions()), "{}: {}", starter.name, starter.questions());
            // The list in the help keeps to one line each.
            assert!((20..=66).contains(&starter.about().len()), "{}", starter.name);
        }
    }
}
