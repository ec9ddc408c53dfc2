//! How a table of a file is declared: its keys, what each means, what it may be and what is taken where it is left out.
//!
//! A table that is declared is read by its declaration: a reader that asks it for another key is a fault of the program.
//! The declaration stands beside the code that reads the table; what a keeper can look up, the page of the format, what an
//! editor checks and the examples in faults are all made from it.

use crate::library::EntryKind;
use crate::quantity::Bound;
use crate::quantity::kinds::Measured;

/// A table: its heading, its keys.
#[derive(Clone, Copy, Debug)]
pub struct TableFormat {
    /// As people speak of it: `[plot.NAME]`, `[plot.NAME] guards`.
    pub heading: &'static str,
    /// How it begins in an example: a heading, `[plot.orchard]`, or a line with `…` for its keys, `guards = [{ … }]`.
    pub written: &'static str,
    /// What it is for, in a sentence.
    pub what: &'static str,
    /// Its keys.
    pub keys: &'static [KeyFormat],
    /// Keys that are names of something else: of measures, of plots.
    pub rest: Option<&'static RestFormat>,
    /// Whole examples, where all keys cannot stand together; else none, and the example is made of those of the keys.
    pub examples: &'static [&'static str],
}

/// A key.
#[derive(Clone, Copy, Debug)]
pub struct KeyFormat {
    /// The key.
    pub key: &'static str,
    /// What it means.
    pub what: &'static str,
    /// What it may be.
    pub kind: Kind,
    /// What is taken where it is left out.
    pub taken: Taken,
    /// A value as it is written.
    pub example: &'static str,
}

/// Keys that are names.
#[derive(Clone, Copy, Debug)]
pub struct RestFormat {
    /// What stands for the key where it is spoken of: `MEASURE`.
    pub name: &'static str,
    /// What each means.
    pub what: &'static str,
    /// All there may be, where the program knows them.
    pub known: Option<fn() -> Vec<&'static str>>,
    /// What each may be.
    pub kind: Kind,
    /// A line as it is written.
    pub example: &'static str,
}

/// What is taken where a key is left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Taken {
    /// It must be there.
    Required,
    /// This, in words.
    Words(&'static str),
    /// A number.
    Number(f64),
    /// A number of a unit.
    Quantity(f64, &'static str),
}

/// What a value may be.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A number with its unit, in quotes.
    Quantity(&'static Measured, &'static Bound),
    /// A number without a unit.
    Number(&'static Bound),
    /// A whole number.
    Whole(&'static Bound),
    /// `true` or `false`.
    Flag,
    /// Text in quotes.
    Text,
    /// Text of a form, said in words.
    Form(&'static str),
    /// One of some words.
    Choice(fn() -> Vec<&'static str>),
    /// An entry of the library.
    Entry(EntryKind),
    /// A climate of the library.
    Climate,
    /// Something of the site by its name: a plot, a strategy.
    Named(&'static str),
    /// A file beside the site file.
    File(&'static str),
    /// A date with its year.
    Date,
    /// A date, or a day of every year.
    Day,
    /// A first and a last day.
    Window,
    /// The number of the format.
    FormatNumber(u32),
    /// A table.
    Table(&'static TableFormat),
    /// Tables by names of one's own.
    Tables(&'static Kind),
    /// A list.
    List(&'static Kind),
    /// A table whose keys are declared elsewhere.
    Elsewhere(&'static TableFormat),
    /// The one or the other.
    Either(&'static [Kind]),
}

impl KeyFormat {
    /// The key as a line.
    #[must_use]
    pub fn line(&self) -> String {
        format!("{} = {}", self.key, self.example)
    }

    /// A whole example of what stands under the key: that of its tables, else its line.
    #[must_use]
    pub fn whole(&self) -> String {
        self.kind.below().map_or_else(|| self.line(), TableFormat::whole)
    }
}

impl TableFormat {
    /// What is declared of a key.
    #[must_use]
    pub fn key(&self, key: &str) -> Option<&'static KeyFormat> {
        self.keys.iter().find(|declared| declared.key == key)
    }

    /// Whether it is written within a line.
    #[must_use]
    pub fn is_inline(&self) -> bool {
        self.written.contains('…')
    }

    /// Its first whole example.
    #[must_use]
    pub fn whole(&self) -> String {
        self.wholes().into_iter().next().unwrap_or_default()
    }

    /// Whole examples: together they have all its keys.
    #[must_use]
    pub fn wholes(&self) -> Vec<String> {
        if !self.examples.is_empty() {
            return self.examples.iter().map(|example| (*example).to_owned()).collect();
        }
        let plain = self.keys.iter().filter(|key| key.kind.below().is_none_or(Self::is_inline));
        let mut lines: Vec<String> = plain.map(KeyFormat::line).collect();
        lines.extend(self.rest.map(|rest| rest.example.to_owned()));
        if self.is_inline() {
            return vec![self.written.replace('…', &lines.join(", "))];
        }
        lines.insert(0, self.written.to_owned());
        vec![lines.join("\n")]
    }

    /// The tables below, at any depth, in the order of their keys.
    #[must_use]
    pub fn below(&'static self) -> Vec<&'static TableFormat> {
        let kinds = self.keys.iter().map(|key| &key.kind).chain(self.rest.map(|rest| &rest.kind));
        kinds.filter_map(Kind::below).flat_map(|table| std::iter::once(table).chain(table.below())).collect()
    }
}

impl Kind {
    /// The table of this value, or of the members of this list, if there is one.
    #[must_use]
    pub fn below(&self) -> Option<&'static TableFormat> {
        match self {
            Kind::Table(table) | Kind::Elsewhere(table) => Some(table),
            Kind::Tables(inner) | Kind::List(inner) => inner.below(),
            Kind::Either(kinds) => kinds.iter().find_map(Kind::below),
            _ => None,
        }
    }

    /// What a table under this kind is read by.
    #[must_use]
    pub(crate) fn as_table(&'static self) -> Inside {
        match self {
            Kind::Table(table) => Inside::Keys(table),
            Kind::Tables(inner) => Inside::Named(inner),
            Kind::Either(kinds) => {
                let inside = kinds.iter().map(Kind::as_table);
                inside.into_iter().find(|inside| !matches!(inside, Inside::Unknown)).unwrap_or(Inside::Unknown)
            }
            _ => Inside::Unknown,
        }
    }

    /// What the members of a list under this kind are.
    #[must_use]
    pub(crate) fn as_list(&'static self) -> Option<&'static Kind> {
        match self {
            Kind::List(inner) => Some(inner),
            Kind::Window => Some(&Kind::Day),
            Kind::Either(kinds) => kinds.iter().find_map(Kind::as_list),
            _ => None,
        }
    }

    /// What it may be, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let sentence = |bound: &Bound| bound.wording.trim_end_matches('.').to_owned();
        match self {
            Kind::Quantity(what, bound) => {
                format!("{} with its unit ({}). {}", what.plain, what.units, sentence(bound))
            }
            Kind::Number(bound) => format!("a number. {}", sentence(bound)),
            Kind::Whole(bound) => format!("a whole number. {}", sentence(bound)),
            Kind::Flag => "true or false".to_owned(),
            Kind::Text => "text".to_owned(),
            Kind::Form(form) => (*form).to_owned(),
            Kind::Choice(words) => listed(&words()),
            Kind::Entry(kind) => format!("a {} of the library or of the site's own", kind.plain()),
            Kind::Climate => "a climate of the library or of the site's own".to_owned(),
            Kind::Named(what) => format!("the name of a {what}"),
            Kind::File(what) => format!("a {what} beside the site file"),
            Kind::Date => "a date with its year, 2027-03-01".to_owned(),
            Kind::Day => "a date, 2027-03-01, or a day of every year, \"03-01\"".to_owned(),
            Kind::Window => "a first and a last day, both with a year or both of every year".to_owned(),
            Kind::FormatNumber(number) => number.to_string(),
            Kind::Table(table) | Kind::Elsewhere(table) => format!("a table: {}", table.heading),
            Kind::Tables(inner) => match inner.below() {
                Some(table) => format!("tables by name: {}", table.heading),
                None => "a table".to_owned(),
            },
            Kind::List(inner) => match inner {
                Kind::Table(table) => format!("a list of tables: {}", table.heading),
                inner => format!("a list, each {}", inner.words()),
            },
            Kind::Either(kinds) => kinds.iter().map(Kind::words).collect::<Vec<_>>().join("; or "),
        }
    }
}

impl Taken {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Taken::Required => "must be there".to_owned(),
            Taken::Words(words) => (*words).to_owned(),
            Taken::Number(number) => number.to_string(),
            Taken::Quantity(number, unit) => format!("\"{number} {unit}\""),
        }
    }
}

/// "a, b or c", each in quotes.
fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
        None => String::new(),
    }
}

/// What is declared of the inside of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Inside {
    /// Nothing: what it has is declared elsewhere.
    Unknown,
    /// Its keys.
    Keys(&'static TableFormat),
    /// Its keys are names; what stands under each.
    Named(&'static Kind),
}

/// The words of a table of words and what they stand for.
pub(crate) fn words<T>(table: &[(&'static str, T)]) -> Vec<&'static str> {
    table.iter().map(|(word, _)| *word).collect()
}

/// A key that must be there.
pub(crate) const fn required(key: &'static str, kind: Kind, example: &'static str, what: &'static str) -> KeyFormat {
    KeyFormat { key, what, kind, taken: Taken::Required, example }
}

/// A key that may be left out, and what then is taken.
pub(crate) const fn left_out(
    key: &'static str,
    kind: Kind,
    taken: Taken,
    example: &'static str,
    what: &'static str,
) -> KeyFormat {
    KeyFormat { key, what, kind, taken, example }
}
