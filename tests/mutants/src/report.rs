//! The share killed with its interval, and the survivors by name.

use crate::record::Record;
use crate::sample::Mutant;
use crate::settings::Bar;
use crate::trial::Outcome;
use std::collections::BTreeMap;

/// 97.5 % point of the normal distribution (Abramowitz & Stegun 1964, table 26.5).
const Z: f64 = 1.959_963_985;

/// An area's counts.
#[derive(Clone, Copy, Default)]
struct Counts {
    killed: usize,
    timeout: usize,
    survived: usize,
    left: usize,
}

impl Counts {
    fn add(&mut self, outcome: Option<&Outcome>) {
        match outcome {
            Some(Outcome::Killed { .. }) => self.killed += 1,
            Some(Outcome::Timeout { .. }) => self.timeout += 1,
            Some(Outcome::Survived | Outcome::NotBuilt) => self.survived += 1,
            None => self.left += 1,
        }
    }

    /// Noticed, and tried.
    fn shares(self) -> (usize, usize) {
        let noticed = self.killed + self.timeout;
        (noticed, noticed + self.survived)
    }
}

/// How a run stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// All tried, enough killed, every survivor excused.
    Passed,
    /// All tried, but not so.
    Failed,
    /// Some are left to try.
    Unfinished,
}

/// Wilson's score interval for a share (Wilson 1927, JASA 22:209).
#[must_use]
pub fn wilson(of: usize, tried: usize) -> (f64, f64) {
    let (n, share) = (tried as f64, of as f64 / tried as f64);
    let centre = share + Z * Z / (2.0 * n);
    let reach = Z * (share * (1.0 - share) / n + Z * Z / (4.0 * n * n)).sqrt();
    let whole = 1.0 + Z * Z / n;
    ((centre - reach) / whole, (centre + reach) / whole)
}

/// Prints what was found; `drawn` is by area.
#[must_use]
pub fn report(
    drawn: &[(String, Vec<&Mutant>)],
    record: &Record,
    excuses: &BTreeMap<String, String>,
    bar: Bar,
) -> Verdict {
    let mut all = Counts::default();
    println!("\n{:<12}{:>8}{:>9}{:>10}{:>6}", "area", "killed", "timeout", "survived", "left");
    for (area, mutants) in drawn {
        let mut counts = Counts::default();
        for mutant in mutants {
            counts.add(record.of(&mutant.name));
            all.add(record.of(&mutant.name));
        }
        println!("{area:<12}{:>8}{:>9}{:>10}{:>6}", counts.killed, counts.timeout, counts.survived, counts.left);
    }
    let survivors = drawn.iter().flat_map(|(_, mutants)| mutants);
    let survivors: Vec<&Mutant> =
        survivors.copied().filter(|mutant| record.of(&mutant.name) == Some(&Outcome::Survived)).collect();
    let unexcused = name(&survivors, excuses);
    let reached = share(all, bar);
    match (all.left, reached && unexcused == 0) {
        (0, true) => Verdict::Passed,
        (0, false) => Verdict::Failed,
        (left, _) => {
            println!("{left} mutants are left: run it again, it goes on from here");
            Verdict::Unfinished
        }
    }
}

/// Prints the survivors, and counts those without an excuse.
fn name(survivors: &[&Mutant], excuses: &BTreeMap<String, String>) -> usize {
    println!();
    let mut unexcused = 0;
    for mutant in survivors {
        println!("survived  {}", mutant.told());
        match excuses.get(&mutant.name) {
            Some(why) => println!("          may live: {why}"),
            None => unexcused += 1,
        }
    }
    for name in excuses.keys().filter(|name| !survivors.iter().any(|mutant| mutant.name == **name)) {
        println!("in survivors.toml, but no survivor of this run: {name}");
    }
    if unexcused > 0 {
        println!("{unexcused} survivors have no reason in survivors.toml");
    }
    unexcused
}

fn share(all: Counts, bar: Bar) -> bool {
    let (noticed, tried) = all.shares();
    if tried == 0 {
        return false;
    }
    let share = noticed as f64 / tried as f64;
    let (low, high) = wilson(noticed, tried);
    println!(
        "\n{noticed} of {tried} killed: {:.1} %, 95 % interval {:.1} to {:.1} %",
        100.0 * share,
        100.0 * low,
        100.0 * high
    );
    println!("wanted: {:.0} % killed, and a lower end of {:.0} %", 100.0 * bar.share, 100.0 * bar.low);
    share >= bar.share && low >= bar.low
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 of 20: centre 0.5, ends by hand from the formula with z² = 3.8415.
    #[test]
    fn half_of_twenty() {
        let (low, high) = wilson(10, 20);
        assert!((low - 0.299).abs() < 5e-4 && (high - 0.701).abs() < 5e-4, "{low} {high}");
    }
}
