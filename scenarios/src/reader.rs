//! Reads tables of a TOML file key by key, remembers which keys were asked for,
//! and notes every fault with its place; reading goes on after each.
//!
//! A value that is wrong reads as `None`: the caller puts a default in its place
//! and goes on, since a file with a fault is never used.

use crate::diagnose::{FaultPage, Severity};
use crate::nearest::did_you_mean;
use crate::quantity::kinds::Measured;
use crate::quantity::{Bound, number_meant, parse};
use crate::shown_text::{is_plain, shows_nothing};
use crate::table_format::{Inside, KeyFormat, Kind, TableFormat};
use sim_engine::domain::Domain;
use std::cell::RefCell;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use unicode_general_category::{GeneralCategory as Mark, get_general_category};

/// Characters a name may have.
const LONGEST_NAME: usize = 40;

/// Most members of a list, and most tables under one heading.
pub const MOST_MEMBERS: usize = 1000;

/// Unknown keys of a table that are told one by one; of more only the number is.
const MOST_UNKNOWN: usize = 100;

/// A table being read.
#[derive(Debug)]
pub struct Reader<'r> {
    /// Where it is read from.
    pub page: FaultPage<'r>,
    /// What it is, for messages: `[plot.long-beds]`.
    pub what: String,
    /// Bytes of its header.
    pub span: Range<usize>,
    table: &'r DeTable<'r>,
    inside: Inside,
    asked: RefCell<Vec<&'static str>>,
}

/// A value being read, with the key it stands under.
#[derive(Clone, Debug)]
pub struct Item<'r> {
    /// Where it is read from.
    pub page: FaultPage<'r>,
    /// Its key, or its place in a list.
    pub key: String,
    /// Bytes of the key.
    pub key_span: Range<usize>,
    value: &'r Spanned<DeValue<'r>>,
    declared: Option<Declared>,
}

/// What is declared of a value.
#[derive(Clone, Copy, Debug)]
struct Declared {
    kind: &'static Kind,
    /// The declared key it stands under, be it a member or entry of that.
    key: Option<&'static KeyFormat>,
}

impl<'r> Reader<'r> {
    /// A table under the name it is spoken of, without a declaration.
    #[must_use]
    pub fn new(page: FaultPage<'r>, what: impl Into<String>, table: &'r DeTable<'r>, span: Range<usize>) -> Self {
        Self { page, what: what.into(), span, table, inside: Inside::Unknown, asked: RefCell::new(Vec::new()) }
    }

    /// The same as its declaration has it, and every table below by its own.
    #[must_use]
    pub fn declared(self, format: &'static TableFormat) -> Self {
        Self { inside: Inside::Keys(format), ..self }
    }

    /// What is declared of a key. A declared table is asked for no other.
    fn declared_key(&self, key: &'static str) -> Option<Declared> {
        let Inside::Keys(format) = self.inside else { return None };
        let declared = format.key(key);
        debug_assert!(declared.is_some(), "{} is asked for {key:?}, which is not declared", format.heading);
        #[cfg(test)]
        asked_for::note(format.heading, key);
        declared.map(|key| Declared { kind: &key.kind, key: Some(key) })
    }

    /// What is declared of an entry whose key is a name.
    fn declared_entry(&self, key: &str) -> Option<Declared> {
        match self.inside {
            Inside::Unknown => None,
            Inside::Named(kind) => Some(Declared { kind, key: None }),
            Inside::Keys(format) => match format.key(key) {
                Some(key) => Some(Declared { kind: &key.kind, key: Some(key) }),
                None => format.rest.map(|rest| Declared { kind: &rest.kind, key: None }),
            },
        }
    }

    /// The table itself.
    #[must_use]
    pub fn document(&self) -> &'r DeTable<'r> {
        self.table
    }

    /// The value of a key, if it is there.
    pub fn get(&self, key: &'static str) -> Option<Item<'r>> {
        self.asked.borrow_mut().push(key);
        let declared = self.declared_key(key);
        let (name, value) = self.table.get_key_value(key)?;
        Some(Item { page: self.page, key: key.to_owned(), key_span: name.span(), value, declared })
    }

    /// The value of a declared key that must be there; a fault shows its example, of a table within a line the whole.
    pub fn needed(&self, key: &'static str) -> Option<Item<'r>> {
        let example = match self.inside {
            Inside::Keys(format) => format.key(key).map_or("…", |key| key.example),
            _ => "…",
        };
        self.need(key, example)
    }

    /// The value of a key that must be there; `example` shows what to write.
    pub fn need(&self, key: &'static str, example: &str) -> Option<Item<'r>> {
        let item = self.get(key);
        if item.is_none() {
            let remedy = match self.inside {
                Inside::Keys(format) if format.is_inline() => {
                    format!("Write it whole, for example: {}", format.whole())
                }
                _ => format!("Add a line, for example: {key} = {example}"),
            };
            self.page.error(self.span.clone(), format!("{} has no {key:?}", self.what), remedy);
        }
        item
    }

    /// A table under a key, if it is there.
    pub fn table(&self, key: &'static str) -> Option<Reader<'r>> {
        self.get(key).and_then(|item| item.table(format!("[{key}]")))
    }

    /// All entries, in the order of the file; every key counts as asked for. Of more than there may be the first, and a fault.
    pub fn entries(&self) -> Vec<Item<'r>> {
        let mut all = self.all_entries();
        if let Some(beyond) = all.get(MOST_MEMBERS) {
            let message = format!("{} has {} entries", self.what, all.len());
            self.page.error(beyond.key_span.clone(), message, format!("It may have {MOST_MEMBERS} at most."));
            all.truncate(MOST_MEMBERS);
        }
        all
    }

    /// All entries, however many, in the order of the file.
    pub fn all_entries(&self) -> Vec<Item<'r>> {
        let entry = |(name, value): (&'r Spanned<_>, &'r Spanned<DeValue<'r>>)| {
            let key = AsRef::<str>::as_ref(Spanned::<std::borrow::Cow<'r, str>>::get_ref(name)).to_owned();
            let declared = self.declared_entry(&key);
            Item { page: self.page, key, key_span: name.span(), value, declared }
        };
        let mut all: Vec<Item<'r>> = self.table.iter().map(entry).collect();
        all.sort_by_key(|item| item.key_span.start);
        all
    }

    /// Notes each key nobody asked for.
    pub fn finish(self) {
        let asked = self.asked.into_inner();
        let unknown: Vec<_> =
            self.table.iter().filter(|(name, _)| !asked.contains(&AsRef::<str>::as_ref(name.get_ref()))).collect();
        for (number, (name, _)) in unknown.iter().take(MOST_UNKNOWN + 1).enumerate() {
            let key: &str = name.get_ref();
            if number == MOST_UNKNOWN {
                let message = format!("{} has {} keys that it should not have", self.what, unknown.len());
                self.page.error(name.span(), message, "Is this the file you mean? Correct the keys above first.");
                break;
            }
            let message = format!("{} has no key {key:?}", self.what);
            let remedy = crate::gone_keys::remedy(&self.what, key)
                .map(str::to_owned)
                .or_else(|| crate::headings::remedy(key))
                .unwrap_or_else(|| did_you_mean(key, asked.iter().copied()));
            self.page.error(name.span(), message, remedy);
        }
    }

    /// Notes a fault of the table as a whole.
    pub fn fault(&self, message: impl Into<String>, remedy: impl Into<String>) {
        self.page.error(self.span.clone(), message, remedy);
    }
}

impl<'r> Item<'r> {
    /// Bytes of the value.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.value.span()
    }

    /// The value as the file has it.
    #[must_use]
    pub fn value(&self) -> &'r DeValue<'r> {
        self.value.get_ref()
    }

    /// Notes a fault of the value.
    pub fn fault(&self, message: impl Into<String>, remedy: impl Into<String>) {
        self.page.error(self.span(), message, remedy);
    }

    /// Notes something unusual about the value.
    pub fn unusual(&self, message: impl Into<String>, remedy: impl Into<String>) {
        self.page.note(Severity::Unusual, self.page.source.place(self.span()), message, remedy);
    }

    fn wrong_type(&self, wanted: &str, example: &str) {
        let found = match self.value() {
            DeValue::String(_) => "text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        // A heading with its lines begins on a line of its own.
        let gap = if example.contains('\n') { "\n" } else { " " };
        self.fault(format!("{} is {found}, and should be {wanted}", self.key), format!("For example:{gap}{example}"));
    }

    /// The same where a table or a list is wanted: the whole of what is meant, for whoever mistakes its shape has seen none.
    fn wrong_shape(&self, wanted: &str, example: &str) {
        let below = |declared: Declared| Some(declared.kind.below()?.whole());
        let whole = self.declared.and_then(|declared| declared.key.map(KeyFormat::whole).or_else(|| below(declared)));
        self.wrong_type(wanted, &whole.unwrap_or_else(|| example.to_owned()));
    }

    /// Whether the key may be a name: it stands in CSV files, on sheets and in commands.
    pub fn key_is_name(&self, kind: &str) -> bool {
        let key = &self.key;
        let good = is_name(key);
        if !good {
            let fault = format!("{key:?} cannot be the name of a {kind}");
            self.page.error(self.key_span.clone(), fault, name_remedy());
        }
        good
    }

    /// Text, in quotes.
    pub fn text(&self) -> Option<&'r str> {
        let text = self.value().as_str();
        if text.is_none() {
            self.wrong_type("text in quotes", &format!("{} = \"…\"", self.key));
        }
        if text.is_some_and(|text| !is_plain(text)) {
            let remedy = "Write it anew without control characters and marks of direction.";
            self.fault(format!("{} has characters that are not seen", self.key), remedy);
            return None;
        }
        text
    }

    /// Text that is a name, as [`Self::key_is_name`] has it.
    pub fn name(&self, kind: &str) -> Option<&'r str> {
        if let Some(text) = self.value().as_str().filter(|text| !is_name(text)) {
            self.fault(format!("{text:?} cannot be the name of a {kind}"), name_remedy());
            return None;
        }
        self.text()
    }

    /// `true` or `false`.
    pub fn flag(&self) -> Option<bool> {
        let flag = self.value().as_bool();
        if flag.is_none() {
            self.wrong_type("true or false", &format!("{} = true", self.key));
        }
        flag
    }

    /// A bare number, whole or not, if it is one; no fault if it is something else.
    #[must_use]
    pub fn bare(&self) -> Option<f64> {
        match self.value() {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok().map(|n| n as f64),
            DeValue::Float(number) => number.as_str().parse().ok(),
            _ => None,
        }
    }

    /// A number without unit within its bound.
    pub fn number(&self, bound: &Bound) -> Option<f64> {
        match self.bare() {
            Some(value) => self.within(value, bound),
            None => {
                self.wrong_type("a number", &format!("{} = {}", self.key, self.as_number().unwrap_or(bound.low)));
                None
            }
        }
    }

    /// A bare number of a domain; its unit stands elsewhere.
    pub fn number_of(&self, domain: Domain, unit: &str) -> Option<f64> {
        if let Some(value) = self.bare() {
            return self.of_domain(value, domain, unit);
        }
        let example = self.as_number().filter(|meant| domain.contains(*meant)).unwrap_or(domain.high());
        self.wrong_type("a number", &format!("{} = {example}", self.key));
        None
    }

    /// The value if it is of the domain, else a fault that says the domain.
    pub fn of_domain(&self, value: f64, domain: Domain, unit: &str) -> Option<f64> {
        if domain.contains(value) {
            return Some(value);
        }
        let written = self.page.source.text().get(self.span()).unwrap_or_default().trim_matches('"');
        let message = match domain {
            _ if !value.is_finite() => format!("{} is not a finite number", self.key),
            Domain::DayOfYear => format!("{}: {written} is no day of the year", self.key),
            _ if value < domain.low() => format!("{}: {written} is below {}", self.key, domain.low()),
            _ => format!("{}: {written} is above {}", self.key, domain.high()),
        };
        // A share written in points of a hundred.
        let percent = domain == Domain::Share && (1.0..=100.0).contains(&value);
        let meant = if percent { format!(" Did you mean {}?", value / 100.0) } else { String::new() };
        self.fault(message, format!("{}.{meant}", capital(&domain.words(unit))));
        None
    }

    /// The number a text most likely means: "60%" is 0.6.
    fn as_number(&self) -> Option<f64> {
        let text = self.value().as_str()?.trim();
        match text.strip_suffix('%') {
            Some(percent) => percent.trim().parse::<f64>().ok().map(|percent| percent / 100.0),
            None => text.parse().ok().or_else(|| number_meant(text)),
        }
        .filter(|number| number.is_finite())
    }

    /// A whole number within its bound.
    pub fn whole(&self, bound: &Bound) -> Option<u32> {
        let value = self.number(bound)?;
        if value.fract() != 0.0 {
            self.fault(format!("{} is {value}, and should be a whole number", self.key), bound.wording);
            return None;
        }
        Some(value as u32)
    }

    /// A quantity with its unit, within its bound.
    pub fn quantity(&self, what: &Measured, bound: &Bound) -> Option<f64> {
        if let Some(bare) = self.bare() {
            if !bare.is_finite() {
                return self.within(bare, bound);
            }
            let remedy = format!("Write it in quotes with its unit. {}", what.would_do());
            self.fault(format!("{} is {bare} without a unit", self.key), remedy);
            return None;
        }
        let Some(text) = self.value().as_str() else {
            self.wrong_type(
                &format!("{} with its unit, in quotes", what.plain),
                &format!("{} = \"{}\"", self.key, what.example),
            );
            return None;
        };
        match parse(text, what) {
            Ok(value) => self.within(value, bound),
            Err(error) => {
                self.fault(format!("{}: {}", self.key, error.message), error.remedy);
                None
            }
        }
    }

    /// The value if it is finite and within its bound, else a fault with the bound's wording.
    pub fn within(&self, value: f64, bound: &Bound) -> Option<f64> {
        if !value.is_finite() {
            self.fault(format!("{} is not a finite number", self.key), bound.wording);
        } else if value < bound.low || value > bound.high {
            let written = self.page.source.text().get(self.span()).unwrap_or_default().trim_matches('"');
            let message = format!("{} is {written}, which is out of range", self.key);
            // A share written in points of a hundred.
            let percent = (bound.low, bound.high) == (0.0, 1.0) && (1.0..=100.0).contains(&value);
            let meant = if percent { format!(" Did you mean {}?", value / 100.0) } else { String::new() };
            self.fault(message, format!("{}{meant}", bound.wording));
        } else {
            return Some(value);
        }
        None
    }

    /// One of some words.
    pub fn choice<T: Copy>(&self, words: &[(&'static str, T)]) -> Option<T> {
        let text = self.text()?;
        let found = words.iter().find(|(word, _)| *word == text);
        if found.is_none() {
            let remedy = did_you_mean(text, words.iter().map(|(word, _)| *word));
            self.fault(format!("{} cannot be {text:?}", self.key), remedy);
        }
        found.map(|(_, value)| *value)
    }

    /// The place of a name among names; `kind` says what it should be, for example "plot".
    pub fn name_in<'n>(&self, kind: &str, names: impl IntoIterator<Item = &'n str>) -> Option<usize> {
        let text = self.text()?;
        let names: Vec<&str> = names.into_iter().collect();
        let found = names.iter().position(|name| *name == text);
        if found.is_none() {
            self.fault(format!("there is no {kind} {text:?}"), did_you_mean(text, names));
        }
        found
    }

    /// The place of the key among names.
    pub fn key_in<'n>(&self, kind: &str, names: impl IntoIterator<Item = &'n str>) -> Option<usize> {
        let names: Vec<&str> = names.into_iter().collect();
        let found = names.iter().position(|name| *name == self.key);
        if found.is_none() {
            let message = format!("there is no {kind} {:?}", self.key);
            self.page.error(self.key_span.clone(), message, did_you_mean(&self.key, names));
        }
        found
    }

    /// A table, under the name it is spoken of.
    pub fn table(&self, what: impl Into<String>) -> Option<Reader<'r>> {
        let table = self.value().as_table();
        if table.is_none() {
            self.wrong_shape("a table", &format!("{} = {{ … }}", self.key));
        }
        let inside = self.declared.map_or(Inside::Unknown, |declared| declared.kind.as_table());
        table.map(|table| Reader { inside, ..Reader::new(self.page, what, table, self.span()) })
    }

    /// The members of a list; each is called by the list's key.
    pub fn list(&self) -> Option<Vec<Item<'r>>> {
        let Some(array) = self.value().as_array() else {
            self.wrong_shape("a list", &format!("{} = [ … ]", self.key));
            return None;
        };
        if array.len() > MOST_MEMBERS {
            self.fault(
                format!("{} has {} members", self.key, array.len()),
                format!("It may have {MOST_MEMBERS} at most."),
            );
        }
        let declared = self.declared.and_then(|list| Some(Declared { kind: list.kind.as_list()?, key: list.key }));
        let member =
            |value| Item { page: self.page, key: self.key.clone(), key_span: self.key_span.clone(), value, declared };
        Some(array.iter().take(MOST_MEMBERS).map(member).collect())
    }
}

fn name_remedy() -> String {
    format!(
        "A name has 1 to {LONGEST_NAME} characters: letters of any script, digits, spaces and - ' . & ( ) _, the first a letter \
         or a digit."
    )
}

/// A text made a name: what may not stand in one becomes a hyphen.
#[must_use]
pub fn as_name(text: &str) -> String {
    let begun = text.chars().skip_while(|c| !c.is_alphanumeric() || shows_nothing(*c));
    let name: String = begun.map(|c| if may_stand(c) { c } else { '-' }).take(LONGEST_NAME).collect();
    let name = name.trim_end().to_owned();
    if name.is_empty() { "unnamed".to_owned() } else { name }
}

/// Whether a character may stand in a name. Marks that letters of some scripts are written with are letters too.
fn may_stand(c: char) -> bool {
    let mark = || matches!(get_general_category(c), Mark::NonspacingMark | Mark::SpacingMark);
    !shows_nothing(c) && (c.is_alphanumeric() || " -'’.&()_".contains(c) || mark())
}

/// Whether a text may be a name: it stands in CSV files, in pictures and pages, on sheets and in commands.
#[must_use]
pub fn is_name(text: &str) -> bool {
    let fits = text.chars().count() <= LONGEST_NAME && !text.ends_with(' ');
    fits && text.chars().next().is_some_and(char::is_alphanumeric) && text.chars().all(may_stand)
}

/// A sentence begins with a capital.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Which declared keys were asked for, for the test that holds the declarations to what is read.
#[cfg(test)]
pub(crate) mod asked_for {
    use std::cell::RefCell;
    use std::collections::BTreeSet;

    thread_local! {
        static ASKED: RefCell<BTreeSet<(&'static str, &'static str)>> = const { RefCell::new(BTreeSet::new()) };
    }

    pub fn note(heading: &'static str, key: &'static str) {
        ASKED.with_borrow_mut(|asked| asked.insert((heading, key)));
    }

    /// Heading and key of all that this thread asked for.
    pub fn all() -> BTreeSet<(&'static str, &'static str)> {
        ASKED.with_borrow(Clone::clone)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_of_letters_of_any_script() {
        for name in [
            "long-beds",
            "Gran's plot (low)",
            "L’île",
            "菜園 2",
            "बगीचा",
            "Kraut & Rüben",
            "no. 3",
            "a",
            "ОГОРОД",
            "plot_1",
        ] {
            assert!(is_name(name), "{name}");
        }
        let forty = "x".repeat(LONGEST_NAME);
        assert!(is_name(&forty) && !is_name(&format!("{forty}x")));
        let refused = [
            "",
            " ",
            " a",
            "a ",
            "=1+1",
            "+1",
            "-1",
            "@a",
            "a,b",
            "a;b",
            "a/b",
            "a\"b",
            "<b>",
            "%s",
            "a\nb",
            "a\tb",
            "\u{1b}[2Jx",
            "a\0",
            "a\u{202e}b",
            "a\u{2028}b",
            "a\u{200d}b",
            ".",
            "..",
            "'a'",
            "(a)",
            "\u{3164}",
            "a\u{fe0f}",
        ];
        for name in refused {
            assert!(is_name(&as_name(name)), "{name:?}: {:?}", as_name(name));
            assert!(!is_name(name), "{name:?}");
        }
    }
}
