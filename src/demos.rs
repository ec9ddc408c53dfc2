//! The demo sites, built into the program, so that they run from any folder.

/// A file of a demo: name and text.
type Text = (&'static str, &'static str);

/// A demo site.
#[derive(Debug)]
pub struct Demo {
    /// Its name as SITE.
    pub name: &'static str,
    /// Its site file.
    pub site: &'static str,
    /// Files the site file names.
    pub companions: &'static [Text],
}

/// All of `scenarios/demos/`, the one to begin with first.
pub const DEMOS: &[Demo] = &[
    Demo {
        name: "sallowmere",
        site: include_str!("../scenarios/demos/sallowmere/site.toml"),
        companions: &[("gates.csv", include_str!("../scenarios/demos/sallowmere/gates.csv"))],
    },
    Demo { name: "emberstair", site: include_str!("../scenarios/demos/emberstair/site.toml"), companions: &[] },
    Demo { name: "puddlecote", site: include_str!("../scenarios/demos/puddlecote/site.toml"), companions: &[] },
];

impl Demo {
    /// The demo of this name.
    pub fn named(name: &str) -> Option<&'static Demo> {
        DEMOS.iter().find(|demo| demo.name == name)
    }

    /// A companion's text, or in words why not.
    pub fn companion(&self, name: &str) -> Result<String, String> {
        let found = self.companions.iter().find(|(of, _)| *of == name);
        found.map(|(_, text)| (*text).to_owned()).ok_or_else(|| "there is no such file in the demo".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_demo_folder_is_built_in_and_reads() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/demos");
        let folders = std::fs::read_dir(folder).unwrap().filter(|entry| entry.as_ref().unwrap().path().is_dir());
        assert_eq!(folders.count(), DEMOS.len());
        let library = scenarios::Library::shipped().unwrap();
        for demo in DEMOS {
            let read = scenarios::site_file::read_text(demo.name, demo.site, &library, &|name| demo.companion(name));
            assert!(read.is_ok(), "{}", read.unwrap_err());
        }
    }
}
