//! The open problem set: twenty invented sites with frozen luck, for anybody's strategy.

use crate::csv_lines::lines;
use crate::diagnose::{Fault, Faults, TextPlace};
use crate::library::Library;
use crate::model::SiteModel;
use crate::site_file::{Companions, read_text};

/// A problem.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Its name.
    pub name: &'static str,
    /// Its site file, without strategies.
    pub site: &'static str,
}

/// What is known about the best answer to a problem.
#[derive(Clone, Debug, PartialEq)]
pub struct Best {
    /// Name of the problem.
    pub problem: String,
    /// Seed of its frozen luck.
    pub seed: u64,
    /// Digest of its weather and of the rank of every unknown.
    pub luck: String,
    /// Strategy of [`PLAIN`] that reached it.
    pub strategy: String,
    /// Mean hours a year over birds shut in.
    pub aim: f64,
}

/// Plain strategies, as a file of strategies.
pub const PLAIN: &str = include_str!("../problems/plain.toml");
const BEST: &str = include_str!("../problems/best.csv");

const SITES: &[(&str, &str)] = &[
    ("bean-rows", include_str!("../problems/bean-rows.toml")),
    ("big-flock", include_str!("../problems/big-flock.toml")),
    ("cherry-hill", include_str!("../problems/cherry-hill.toml")),
    ("citrus-court", include_str!("../problems/citrus-court.toml")),
    ("couch-piece", include_str!("../problems/couch-piece.toml")),
    ("dry-terrace", include_str!("../problems/dry-terrace.toml")),
    ("fly-orchard", include_str!("../problems/fly-orchard.toml")),
    ("garlic-winter", include_str!("../problems/garlic-winter.toml")),
    ("highland-strip", include_str!("../problems/highland-strip.toml")),
    ("hot-beds", include_str!("../problems/hot-beds.toml")),
    ("maggot-row", include_str!("../problems/maggot-row.toml")),
    ("newcomers", include_str!("../problems/newcomers.toml")),
    ("plum-and-bank", include_str!("../problems/plum-and-bank.toml")),
    ("shut-in", include_str!("../problems/shut-in.toml")),
    ("small-lawn", include_str!("../problems/small-lawn.toml")),
    ("southern-apples", include_str!("../problems/southern-apples.toml")),
    ("southern-brassicas", include_str!("../problems/southern-brassicas.toml")),
    ("squash-corner", include_str!("../problems/squash-corner.toml")),
    ("under-nets", include_str!("../problems/under-nets.toml")),
    ("wet-bottom", include_str!("../problems/wet-bottom.toml")),
];

/// All problems, by name.
#[must_use]
pub fn problems() -> Vec<Problem> {
    SITES.iter().map(|&(name, site)| Problem { name, site }).collect()
}

/// The best answers known, one a problem, in the order of [`problems`].
#[must_use]
pub fn best() -> Vec<Best> {
    lines(BEST).into_iter().skip(1).filter_map(|(_, cells)| row(cells)).collect()
}

fn row(cells: Vec<String>) -> Option<Best> {
    let [problem, seed, luck, strategy, aim] = cells.try_into().ok()?;
    Some(Best { problem, seed: seed.parse().ok()?, luck, strategy, aim: aim.parse().ok()? })
}

/// The problem with the strategies of a text; `file` is the text's name, and only it is at fault.
///
/// # Errors
/// All faults of the text, in the order of its lines.
pub fn with_strategies(
    problem: Problem,
    file: &str,
    text: &str,
    library: &Library,
    companions: &Companions<'_>,
) -> Result<SiteModel, Faults> {
    // What is no strategy lands in the table of strategies, and is refused there.
    let before = format!("{}\n[strategy]\n", problem.site.trim_end());
    let lines = before.lines().count();
    let model = read_text(file, &(before + text), library, companions).map_err(|faults| {
        Faults::sorted(faults.into_vec().into_iter().map(|fault| moved_up(fault, file, lines)).collect())
    })?;
    if model.defaults.iter().any(|taken| taken.key == "strategy") {
        let remedy = "Write one into it, for example: [strategy.mine] and below it by_eye = { enter_above = 0.9, leave_below = 0.75 }";
        return Err(Faults::one(Fault::of_file(file, "there is no strategy in the file", remedy)));
    }
    Ok(model)
}

/// The fault with its line counted from the first of the strategies.
fn moved_up(fault: Fault, file: &str, lines: usize) -> Fault {
    if fault.place.file != file || fault.place.line == 0 {
        return fault;
    }
    let line = fault.place.line.saturating_sub(lines);
    if line == 0 {
        Fault { place: TextPlace::whole(file), ..fault }
    } else {
        Fault { place: TextPlace { line, ..fault.place }, ..fault }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_twenty_and_each_reads_without_a_warning() {
        let library = Library::shipped().unwrap();
        assert_eq!(problems().len(), 20);
        for problem in problems() {
            let model = with_strategies(problem, "plain.toml", PLAIN, &library, &|_| Err(String::new()));
            let model = model.unwrap_or_else(|faults| panic!("{}: {faults}", problem.name));
            // What is unusual about a plain strategy is no fault of the site.
            let site = read_text(problem.name, problem.site, &library, &|_| Err(String::new())).unwrap();
            assert_eq!(site.warnings, Vec::new(), "{}", problem.name);
            assert!((3..=6).contains(&model.base.plots.len()) && model.years <= 2, "{}", problem.name);
        }
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/problems");
        let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
        assert_eq!(files.filter(|name| name.ends_with(".toml")).count(), 20 + 1);
    }

    #[test]
    fn there_is_a_best_for_each() {
        let named: Vec<String> = best().into_iter().map(|best| best.problem).collect();
        assert_eq!(named, problems().iter().map(|problem| problem.name).collect::<Vec<_>>());
    }

    #[test]
    fn a_file_without_a_strategy_is_no_strategy() {
        let library = Library::shipped().unwrap();
        for text in ["", "# none yet\n", "\n\n"] {
            let faults = with_strategies(problems()[0], "mine.toml", text, &library, &|_| Err(String::new()));
            let said = faults.unwrap_err().to_string();
            assert!(said.contains("mine.toml: there is no strategy in the file"), "{said}");
        }
    }

    #[test]
    fn faults_are_told_by_the_lines_of_the_strategies() {
        let library = Library::shipped().unwrap();
        let text = "[strategy.a]\nby_eye = { enter_above = 7 }\n";
        let faults = with_strategies(problems()[0], "mine.toml", text, &library, &|_| Err(String::new())).unwrap_err();
        assert!(faults.to_string().contains("mine.toml, line 2"), "{faults}");
        let faults = with_strategies(problems()[0], "mine.toml", "format = 2\n", &library, &|_| Err(String::new()));
        assert!(faults.unwrap_err().to_string().contains("mine.toml, line 1"));
    }
}
