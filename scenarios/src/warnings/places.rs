//! Where each value of a site file stands, by its path: `plot.orchard.pest.0.start`.

use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Paths and their bytes.
pub(crate) struct Places(Vec<(String, Range<usize>)>);

impl Places {
    /// The places of a document.
    pub fn of(document: &DeTable<'_>) -> Self {
        let mut places = Self(Vec::new());
        places.table("", document);
        places
    }

    fn table(&mut self, path: &str, table: &DeTable<'_>) {
        for (name, value) in table {
            let key: &str = name.get_ref();
            let path = if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
            let is_table = matches!(value.get_ref(), DeValue::Table(_));
            self.0.push((path.clone(), if is_table { name.span() } else { value.span() }));
            self.inside(&path, value);
        }
    }

    fn inside(&mut self, path: &str, value: &Spanned<DeValue<'_>>) {
        match value.get_ref() {
            DeValue::Table(table) => self.table(path, table),
            DeValue::Array(list) => {
                for (position, member) in list.iter().enumerate() {
                    let path = format!("{path}.{position}");
                    self.0.push((path.clone(), member.span()));
                    self.inside(&path, member);
                }
            }
            _ => {}
        }
    }

    /// Whether the file has a value at this path.
    pub fn has(&self, path: &str) -> bool {
        self.0.iter().any(|(name, _)| name == path)
    }

    /// The bytes of a path, or of the nearest that holds it where a default was taken.
    pub fn find(&self, path: &str) -> Range<usize> {
        let mut path = path;
        loop {
            if let Some((_, span)) = self.0.iter().find(|(name, _)| name == path) {
                return span.clone();
            }
            match path.rsplit_once('.') {
                Some((before, _)) => path = before,
                None => return 0..0,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_leads_to_its_value_or_to_what_holds_it() {
        let text = "latitude = \"5 deg\"\n[plot.beds]\nweeds = [ { plant = \"x\" }, { plant = \"y\" } ]\n[[plot.beds.crop]]\ncrop = \"leek\"\n";
        let document = DeTable::parse(text).unwrap();
        let places = Places::of(document.get_ref());
        let at = |path: &str| &text[places.find(path)];
        assert_eq!(at("latitude"), "\"5 deg\"");
        assert_eq!(at("plot.beds.weeds.1.plant"), "\"y\"");
        assert_eq!(at("plot.beds.crop.0.crop"), "\"leek\"");
        assert_eq!(at("plot.beds.distance_from_yard"), "beds");
        assert_eq!(at("elevation"), "");
    }
}
