//! Under which heading of a site file a key belongs, for whoever has lost the heading.

/// Keys that stand under one heading only.
const OF_ONE: &[(&str, &[&str])] = &[
    ("[run]", &["years", "draws", "start"]),
    ("[weather]", &["climate", "station", "fill_gaps"]),
    ("[yard]", &["surface", "cleaned_out", "covered", "netted"]),
    ("[house]", &["night_share", "mobile"]),
    ("[rules]", &["country", "waiting_days_touching", "waiting_days_other", "waiting_rule_reason", "shut_on"]),
    ("[limits]", &["least_cover", "bare_days", "space"]),
    ("[compare]", &["against", "sure", "worth", "pest_weights"]),
];

/// The remedy for a key that stands under a wrong heading: its own may be missing above it.
#[must_use]
pub(crate) fn remedy(key: &str) -> Option<String> {
    let (heading, _) = OF_ONE.iter().find(|(_, keys)| keys.contains(&key))?;
    Some(format!("It belongs under {heading}: is that line missing above it?"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Library, site_file};

    /// With the heading every key is read as one of its own; without it the fault of each says which heading is missing.
    #[test]
    fn a_lost_heading_is_named() {
        let library = Library::shipped().unwrap();
        let head = "format = 2\nlatitude = \"52 deg\"\n";
        for (heading, keys) in OF_ONE {
            for key in *keys {
                let read = |above: &str| {
                    let text = format!("{head}{above}\n{key} = 0\n[plot.a]\narea = \"9 m2\"\n");
                    site_file::read_text("a.toml", &text, &library, &|_| Err(String::new())).unwrap_err().into_vec()
                };
                let unknown = format!("has no key {key:?}");
                assert!(read(heading).iter().all(|fault| !fault.message.contains(&unknown)), "{heading} has no {key}");
                let told = |fault: &crate::Fault| fault.remedy.contains(*heading);
                let without: Vec<_> = read("").into_iter().filter(|fault| fault.message.contains(&unknown)).collect();
                assert!(without.iter().any(told), "{key}: {without:?}");
            }
        }
    }
}
