//! A site file with some of its numbers varied: `--vary stay=3..28/1`.
//!
//! The number is put into the text in place of the one the file has, with the unit the
//! file has, and the text is read as any site file: so every check applies to it.

mod leaves;

pub use leaves::Leaf;

use crate::nearest::did_you_mean;
use crate::quantity::convert;
use std::ops::Range;
use toml::de::DeTable;

/// The size of the whole flock: all groups, in the proportions of the file.
pub const FLOCK: &str = "birds";
/// Units as they are written after a number, and as a site file has them.
const LONG_UNITS: [(&str, &str); 5] =
    [("d", "days"), ("day", "days"), ("w", "weeks"), ("wk", "weeks"), ("week", "weeks")];
/// Tables whose numbers change neither weather nor what grows with the birds shut in.
const LIGHT: [&str; 5] = ["strategy.", "limits.", "aims.", "prices.", "compare."];
/// Numbers on which no cell hangs, and what to do instead.
const IDLE: [(&str, &str); 6] = [
    ("run.draws", "Say with --draws how many possible years every cell is tried on."),
    ("compare.sure", "Say it for all cells with --sure."),
    ("compare.worth", "Leave it out: it is asked by hensward compare, with --worth."),
    ("longitude", "Leave it out: the clock of the model is the sun's."),
    ("utc_offset", "Leave it out: the clock of the model is the sun's."),
    ("format", "Leave it out: it says how the file is written."),
];

/// A site file whose numbers can be varied.
#[derive(Clone, Debug)]
pub struct Template {
    text: String,
    leaves: Vec<Leaf>,
    /// Places of the lines of `[unsure]`: name and bytes.
    unsure: Vec<(String, Range<usize>)>,
}

/// Something that can be varied.
#[derive(Clone, Debug, PartialEq)]
pub struct Knob {
    /// As it is called on the command line.
    pub key: String,
    /// Unit of its values, as in the file unless another is asked for; empty if it has none.
    pub unit: String,
    /// Its unit is another than the file's.
    other_unit: bool,
    /// Only whole numbers make sense.
    pub whole: bool,
    /// Neither the weather nor the ground of an unused site hangs on it.
    pub light: bool,
    /// Places in the template's leaves.
    sets: Vec<usize>,
}

impl Knob {
    /// The same with values in another unit: "7d" where the file has weeks.
    ///
    /// # Errors
    /// The file's number has no unit, or one that measures something else.
    pub fn in_unit(self, unit: &str) -> Result<Self, NoKnob> {
        let long = LONG_UNITS.iter().find(|(short, _)| *short == unit).map_or(unit, |(_, long)| long);
        if convert(1.0, long, &self.unit).is_none() {
            let has = if self.unit.is_empty() { "no unit".to_owned() } else { format!("the unit {:?}", self.unit) };
            let remedy = match self.unit.as_str() {
                "" => "Write the values without unit.".to_owned(),
                of => format!("Write them in {of}."),
            };
            return Err(NoKnob { message: format!("{} has {has} in the site file, not {unit:?}", self.key), remedy });
        }
        Ok(Self { other_unit: self.other_unit || long != self.unit, unit: long.to_owned(), ..self })
    }

    /// What bare numbers may mean: those of a time that the file has in weeks or years may be days. The remedy, if they
    /// must be asked for.
    #[must_use]
    pub fn asked(&self, range: &str, ends: (f64, f64)) -> Option<NoKnob> {
        let days = convert(1.0, &self.unit, "days").filter(|days| *days != 1.0)?;
        let (key, unit, (low, high)) = (&self.key, &self.unit, ends);
        let shown = |value: f64| (value * days * 100.0).round() / 100.0;
        let of = if low == high {
            format!("{} days", shown(low))
        } else {
            format!("{} to {} days", shown(low), shown(high))
        };
        Some(NoKnob {
            message: format!("{key} is written in {unit} in the site file, and {range} does not say its unit"),
            remedy: format!("In {unit} it would be {of}. Write {key}=\"{range} days\" or {key}=\"{range} {unit}\"."),
        })
    }

    /// Whether both would set the same number.
    #[must_use]
    pub fn overlaps(&self, other: &Knob) -> bool {
        self.sets.iter().any(|leaf| other.sets.contains(leaf))
    }
}

/// Why something cannot be varied: the fault and the remedy.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}; {remedy}")]
pub struct NoKnob {
    /// The fault.
    pub message: String,
    /// The remedy.
    pub remedy: String,
}

impl Template {
    /// Of a site file that was read without fault.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let (document, _) = DeTable::parse_recoverable(text);
        let leaves = leaves::leaves(document.get_ref(), text);
        let unsure = document.get_ref().get("unsure").and_then(|table| table.get_ref().as_table());
        let line = |(key, value): (&toml::Spanned<std::borrow::Cow<'_, str>>, &toml::Spanned<_>)| {
            (key.get_ref().to_string(), key.span().start..value.span().end)
        };
        let unsure = unsure.map(|table| table.iter().map(line).collect()).unwrap_or_default();
        Self { text: text.to_owned(), leaves, unsure }
    }

    /// What `key` names: [`FLOCK`], a key of strategies (`stay`), or the path of a number.
    ///
    /// # Errors
    /// Nothing of that name is a number, with what is near.
    pub fn knob(&self, key: &str) -> Result<Knob, NoKnob> {
        if let Some((_, remedy)) = IDLE.iter().find(|(idle, _)| *idle == key) {
            let message = format!("all cells would be alike, whatever {key} is");
            return Err(NoKnob { message, remedy: (*remedy).to_owned() });
        }
        let sets = self.sets(key);
        let Some(&first) = sets.first() else { return Err(self.unknown(key)) };
        let unit = self.leaves[first].unit.clone();
        if let Some(other) = sets.iter().find(|&&leaf| self.leaves[leaf].unit != unit) {
            let (one, two) = (&self.leaves[first], &self.leaves[*other]);
            return Err(NoKnob {
                message: format!("{} is in {unit:?} and {} in {:?}", one.path, two.path, two.unit),
                remedy: format!("Write both with the same unit in the site file, or vary one: {}.", one.path),
            });
        }
        let flock = key == FLOCK || (key.starts_with("birds.") && key.ends_with(".number"));
        let light =
            flock || sets.iter().all(|&leaf| LIGHT.iter().any(|table| self.leaves[leaf].path.starts_with(table)));
        // A bare 0 or 1 may be a share.
        let counts = |leaf: &Leaf| leaf.whole && leaf.value > 1.0;
        let whole = flock || last(key) == "birds" || sets.iter().all(|&leaf| counts(&self.leaves[leaf]));
        Ok(Knob { key: key.to_owned(), unit, other_unit: false, whole, light, sets })
    }

    /// Places of the numbers a key stands for.
    fn sets(&self, key: &str) -> Vec<usize> {
        let fits = |leaf: &Leaf| match key {
            FLOCK => leaf.path.starts_with("birds.") && last(&leaf.path) == "number",
            _ if key.contains('.') => leaf.path == key,
            _ => leaf.path == key || (leaf.path.starts_with("strategy.") && last(&leaf.path) == key),
        };
        (0..self.leaves.len()).filter(|&position| fits(&self.leaves[position])).collect()
    }

    fn unknown(&self, key: &str) -> NoKnob {
        let (document, _) = DeTable::parse_recoverable(&self.text);
        if key != FLOCK && at_path(document.get_ref(), key) {
            let remedy = "Only numbers can be varied, alone or with a unit.".to_owned();
            return NoKnob { message: format!("{key} is not a number"), remedy };
        }
        let mut names: Vec<&str> = vec![FLOCK];
        for leaf in &self.leaves {
            let last = last(&leaf.path);
            if leaf.path.starts_with("strategy.") && !names.contains(&last) {
                names.push(last);
            }
        }
        let paths = self.leaves.iter().map(|leaf| leaf.path.as_str());
        names.extend(paths.filter(|path| !IDLE.iter().any(|(idle, _)| idle == path)));
        NoKnob { message: format!("the site file has no number called {key:?}"), remedy: did_you_mean(key, names) }
    }

    /// Birds of the file, all groups together.
    #[must_use]
    pub fn flock(&self) -> f64 {
        self.sets(FLOCK).iter().map(|&leaf| self.leaves[leaf].value).fold(0.0, |sum, number| sum + number)
    }

    /// The text with knobs set to values. A range in `[unsure]` for a varied number gives way
    /// to the default range round the value set.
    #[must_use]
    pub fn text(&self, settings: &[(&Knob, f64)]) -> String {
        let mut changes: Vec<(Range<usize>, String)> = Vec::new();
        for (knob, value) in settings {
            for (leaf, value) in self.shared(knob, *value) {
                changes.push((leaf.span.clone(), value.to_string()));
                if knob.other_unit {
                    changes.push((leaf.unit_span.clone(), format!(" {}", knob.unit)));
                }
                let named = self.unsure.iter().filter(|(name, _)| *name == leaf.path);
                changes.extend(named.map(|(_, span)| (span.clone(), String::new())));
            }
        }
        changes.sort_by_key(|(span, _)| span.start);
        let mut text = String::with_capacity(self.text.len() + 16 * changes.len());
        let mut done = 0;
        for (span, value) in changes.iter().filter(|(span, _)| !span.is_empty()) {
            let Some(between) = self.text.get(done..span.start) else { continue };
            text.push_str(between);
            text.push_str(value);
            done = span.end;
        }
        text.push_str(self.text.get(done..).unwrap_or_default());
        text
    }

    /// The numbers of a knob with their values: a flock is shared out over its groups.
    fn shared(&self, knob: &Knob, value: f64) -> Vec<(&Leaf, f64)> {
        let leaves: Vec<&Leaf> = knob.sets.iter().map(|&leaf| &self.leaves[leaf]).collect();
        if knob.key == FLOCK {
            let numbers: Vec<f64> = leaves.iter().map(|leaf| leaf.value).collect();
            return leaves.into_iter().zip(shares(&numbers, value)).collect();
        }
        leaves.into_iter().map(|leaf| (leaf, value)).collect()
    }
}

/// Shares a flock of `total` over groups in the proportions of `numbers`, in whole birds by
/// the largest remainder (Hamilton's rule); equal remainders go to the group named first.
#[must_use]
pub fn shares(numbers: &[f64], total: f64) -> Vec<f64> {
    let all = numbers.iter().fold(0.0, |sum, number| sum + number);
    // Groups of nought birds: all go to the first.
    let exact = |position: usize| match all > 0.0 {
        true => total * numbers[position] / all,
        false if position == 0 => total,
        false => 0.0,
    };
    let mut given: Vec<f64> = (0..numbers.len()).map(|position| exact(position).floor()).collect();
    let mut order: Vec<usize> = (0..numbers.len()).collect();
    let rest = |position: usize| exact(position) - exact(position).floor();
    order.sort_by(|&a, &b| rest(b).total_cmp(&rest(a)));
    let mut left = total - given.iter().fold(0.0, |sum, number| sum + number);
    for position in order {
        // What is left over is under one bird a group; a part of a bird stays visible as a fault.
        let more = left.min(1.0);
        if more > 1e-9 {
            given[position] += more;
            left -= more;
        }
    }
    given
}

/// The last part of a path.
fn last(path: &str) -> &str {
    path.rsplit('.').next().unwrap_or_default()
}

/// Whether something stands at a path.
fn at_path(table: &DeTable<'_>, path: &str) -> bool {
    table.iter().any(|(key, value)| {
        let key: &str = key.get_ref();
        let Some(rest) = path.strip_prefix(key) else { return false };
        let inner = value.get_ref().as_table();
        rest.is_empty() || rest.strip_prefix('.').is_some_and(|rest| inner.is_some_and(|table| at_path(table, rest)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SITE: &str = "name = \"x\"\n[birds.a]\nclass = \"layer\"\nnumber = 14\n[birds.b]\nnumber = 4\n\
        [plot.one]\narea = \"64 m2\" # say\n[[plot.one.pest]]\nspecies = \"plum sawfly\"\nstart = \"8 per m2\"\n\
        [[plot.one.care]]\ntask = \"weed\"\nevery = \"every 3 weeks\"\nseason = [\"04-05\", \"06-12\"]\n\
        [limits]\nleast_cover = 0.7\n[unsure]\n\"plot.one.pest.plum sawfly.start\" = [1, 2, 3]\n\
        [strategy.t]\nfixed_turn = { order = [\"one\"], stay = \"14 days\" }\n[strategy.o]\nbetween_crops = { stay = \"3 days\" }\n";

    fn with(key: &str, value: f64) -> String {
        let template = Template::new(SITE);
        let knob = template.knob(key).unwrap();
        template.text(&[(&knob, value)])
    }

    #[test]
    fn the_unit_of_the_file_is_kept() {
        assert_eq!(with("plot.one.area", 70.5), SITE.replace("64 m2", "70.5 m2"));
        assert_eq!(with("plot.one.care.weed.every", 5.0), SITE.replace("every 3 weeks", "every 5 weeks"));
        assert_eq!(with("limits.least_cover", 0.8), SITE.replace("0.7", "0.8"));
    }

    #[test]
    fn a_number_outside_of_all_tables_is_varied_too() {
        let template = Template::new("latitude = \"51 deg\"\n[plot.one]\narea = \"20 m2\"\n");
        let knob = template.knob("latitude").unwrap();
        assert!(template.text(&[(&knob, 40.0)]).starts_with("latitude = \"40 deg\"\n"));
    }

    #[test]
    fn a_key_of_strategies_is_set_in_all_that_have_it() {
        assert_eq!(with("stay", 21.0), SITE.replace("14 days", "21 days").replace("\"3 days", "\"21 days"));
        assert_eq!(with("strategy.t.fixed_turn.stay", 9.0), SITE.replace("14 days", "9 days"));
        let template = Template::new(SITE);
        let (all, one) = (template.knob("stay").unwrap(), template.knob("strategy.t.fixed_turn.stay").unwrap());
        assert!(all.overlaps(&one) && !all.overlaps(&template.knob("birds").unwrap()));
    }

    #[test]
    fn a_flock_keeps_its_proportions() {
        assert_eq!(with("birds", 9.0), SITE.replace("= 14", "= 7").replace("= 4", "= 2"));
        assert_eq!(shares(&[14.0, 4.0], 20.0), [16.0, 4.0]);
        assert_eq!(shares(&[1.0, 1.0, 1.0], 2.0), [1.0, 1.0, 0.0]);
        assert_eq!(shares(&[0.0, 0.0], 3.0), [3.0, 0.0]);
        assert_eq!(shares(&[14.0, 4.0], 2.5).iter().sum::<f64>(), 2.5);
        assert_eq!(Template::new(SITE).flock(), 18.0);
    }

    #[test]
    fn a_range_of_unsure_gives_way() {
        let text = with("plot.one.pest.plum sawfly.start", 30.0);
        assert!(text.contains("start = \"30 per m2\"") && text.contains("[unsure]\n\n[strategy.t]"), "{text}");
    }

    #[test]
    fn what_is_no_number_is_refused() {
        let template = Template::new(SITE);
        let why = |key: &str| template.knob(key).unwrap_err().to_string();
        assert!(why("plot.one.aera").contains("Did you mean \"plot.one.area\"?"), "{}", why("plot.one.aera"));
        assert!(why("sty").contains("Did you mean \"stay\"?"));
        assert!(why("birds.a.class").contains("birds.a.class is not a number"));
        assert!(why("name").contains("name is not a number"));
        assert!(why("run.draws").contains("all cells would be alike") && why("run.draws").contains("--draws"));
        let sides = Template::new("[plot.one]\narea = \"4 x 6 m\"\n[plot.two]\narea = \"20 m2\"\n");
        assert!(sides.knob("plot.two.area").is_ok());
        let told = sides.knob("plot.one.area").unwrap_err().to_string();
        assert!(told.contains("plot.one.area is not a number"), "{told}");
    }

    #[test]
    fn what_needs_the_ground_computed_anew_is_known() {
        let template = Template::new(SITE);
        let light = |key: &str| template.knob(key).unwrap().light;
        assert!(light("birds") && light("stay") && light("limits.least_cover") && light("birds.a.number"));
        assert!(!light("plot.one.area") && !light("plot.one.pest.plum sawfly.start"));
    }
}
